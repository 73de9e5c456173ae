package form

import (
	"maps"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// The ways to a new must, by what a person begins with.
const (
	fromTarget = "target" // a gravity and a volume
	fromMasses = "masses" // honey, made up to a volume
	fromWater  = "water"  // honey, into so much water
	fromLike   = "like"   // another ferment, by its real numbers
)

// newFerment is the form for a new ferment, or for several of one must.
type newFerment struct {
	s     app.Snapshot
	all   []ferment.Ferment // open and closed, as their files have them
	model model             // what it is like
}

// newKind is the form for a new ferment, which may be like its subject.
func newKind(s app.Snapshot, subject string, given Values) (Form, bool) {
	if v, is := s.Find(subject); is && v.Culture == nil {
		given = maps.Clone(given)
		if given == nil {
			given = Values{}
		}
		given["like"] = subject
	}
	return New(s, given), true
}

// New is the form for a new ferment: from a target, from masses, into a fixed
// amount of water, or like another, closed ones among them. One must may be
// parted into a trial. What is given stands in the fields until something else
// is typed. What is shown is in the cellar's units, and any are taken. The closed
// ferments and the protocols to choose among are those of the snapshot.
func New(s app.Snapshot, given Values) Form {
	n := newFerment{s: s, all: s.Cellar.OpenAndPast()}
	return Form{
		Name: "new", Title: "new ferment",
		Fields: func(v Values) []Field {
			p := &page{values: v, given: given}
			n.lay(p)
			return p.fields
		},
		// What can be worked out is told while something is still missing.
		Work: func(v Values) Outcome {
			p := &page{values: v, given: given}
			o := n.lay(p)()
			if o.Wrong = p.wrong; len(o.Wrong) > 0 {
				o.Deed = ferment.Deed{}
			}
			return o
		},
	}
}

// lay asks for everything in its order.
func (n newFerment) lay(p *page) func() Outcome {
	ways := []string{fromTarget, fromMasses, fromWater, fromLike}
	if len(n.all) == 0 {
		ways = ways[:3]
	}
	way := p.choose(Field{Key: "from", Label: "from", Value: fromTarget, Words: ways})
	if way == fromLike {
		n.model = n.chosenModel(p)
	}
	b := n.must(p, way)
	f := n.named(p)
	f.Vessel, f.Yeast = n.glass(p, "", n.model.Vessel), n.yeast(p, "", n.model.Yeast)
	f.Protocol, f.Endings, f.Nutrient = n.protocol(p, "", f.Yeast), n.endings(p), n.nutrient(p, "", n.model.Nutrient)
	b.measured = n.asFile(may(p, Field{Key: "measured", Label: "measured", From: "its gravity once it is mixed, e.g. 1.083"}, readGravity))
	b.ph = may(p, Field{Key: "ph", Label: "pH", From: "once it is mixed, e.g. 3.9"}, measure.ParsePH)
	f.Log = n.mixed(p, b)
	fs := n.trial(p, f, b)
	return func() Outcome {
		o := Outcome{Deed: ferment.Deed{Ferments: fs}}
		n.tell(&o, b, fs)
		return o
	}
}

// notYet is the word for a must that is still to be mixed.
const notYet = "not yet"

// mixed is the entry that the must was mixed, and what was aimed at.
func (n newFerment) mixed(p *page, b batch) []ferment.Entry {
	when := p.ask(Field{Key: "when", Label: "mixed", Value: "now", From: "now, -2h, yesterday 20:00; or not yet"})
	if when == notYet {
		return nil
	}
	e := ferment.Entry{At: p.moment("when", when, n.s.At), Did: ferment.Mix}
	if b.planned() && b.gravity > 0 {
		e.Note = "planned for " + b.gravity.String()
	}
	return []ferment.Entry{e}
}

func (n newFerment) units() measure.System { return n.s.Cellar.Settings.Units }

// shown is a volume as it is written down: to 10 mL, in US units to 4 mL.
func (n newFerment) shown(v measure.Volume) measure.Given[measure.Volume] {
	text := v.In(n.units())
	if gallon := made(measure.ParseVolume, "1 gal").Value; n.units() == measure.US && v >= gallon/4 {
		text = measure.Decimal(float64(v/gallon), 3) + " gal"
	}
	return made(measure.ParseVolume, text)
}

// weighed is a mass as it is written down.
func (n newFerment) weighed(m measure.Mass) measure.Given[measure.Mass] {
	return made(measure.ParseMass, m.In(n.units()))
}

// made is a value that the program writes, with its text.
func made[T any](parse func(string) (measure.Given[T], error), text string) measure.Given[T] {
	v, err := parse(text)
	if err != nil {
		return measure.Given[T]{}
	}
	return v
}

// eg is an example of a volume in the units of the cellar.
func (n newFerment) eg(v measure.Volume) string { return "e.g. " + n.shown(v).Text }

// egMass is an example of a mass in the units of the cellar.
func (n newFerment) egMass(grams float64) string {
	return "e.g. " + n.weighed(measure.Grams(grams)).Text
}
