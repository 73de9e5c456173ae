package form

import (
	"cmp"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// The ways to define a new must, by what is given.
const (
	fromTarget = "target" // a gravity and a volume
	fromMasses = "masses" // honey, made up to a volume
	fromWater  = "water"  // honey, into so much water
	fromLike   = "like"   // another ferment, by its actual numbers
)

// newFerment is the form for a new ferment, or for several of one must.
type newFerment struct {
	record
	all   []ferment.Ferment // open and closed, as in their files
	model model             // the one it is like
}

// newKind is the form for a new ferment, which may be like its subject.
func newKind(s app.Snapshot, subject string, given Values) (Form, bool) {
	if v, is := s.Find(subject); is && v.Culture == nil {
		given = given.With("like", subject)
	}
	if given["from"] == fromLike {
		given = ofStore(s, given)
	}
	return New(s, given), true
}

// ofStore proposes the lot to use first for what is made again, where its own is used up.
func ofStore(s app.Snapshot, given Values) Values {
	all := s.Cellar.OpenAndPast()
	lots := slices.DeleteFunc(larder.ByUrgency(larder.All(s.Cellar.Lots, all, s.At)), func(a larder.Account) bool { return a.Left.Gone() })
	had, _ := ferment.FirstWhere(ferment.Parted(all), func(f ferment.Ferment) bool { return f.ID == given["like"] })
	own := func(a larder.Account) bool {
		return slices.ContainsFunc(had.Must.Honey, func(h ferment.HoneyPart) bool { return h.Lot == a.Lot.ID })
	}
	if len(lots) == 0 || len(had.Must.Honey) == 0 || slices.ContainsFunc(lots, own) {
		return given
	}
	return given.With("lot", lots[0].Lot.ID)
}

// New returns the form for a new ferment: from a target, from masses, into a fixed amount of water, or like another;
// also a trial of several. given has values for fields. The snapshot must have closed ferments and protocols.
func New(s app.Snapshot, given Values) Form {
	n := newFerment{record: record{s}, all: s.Cellar.OpenAndPast()}
	return n.form(Form{Name: "new", Title: "new ferment"}, given, n.ask)
}

// ask asks for everything: the required fields, and the rest folded.
func (n newFerment) ask(p *asking) func(*Outcome) {
	p.early = true
	ways := []string{fromTarget, fromMasses, fromWater, fromLike}
	if len(n.all) == 0 {
		ways = ways[:3]
	}
	way := p.choose(Field{Key: "from", Label: "worked from", Value: fromTarget, Words: ways, From: "what you want, or what you weighed", More: true})
	if way == fromLike {
		n.model = n.chosenModel(p)
	}
	count := p.choose(Field{Key: "vessels", Label: "how many jugs", Value: "1", Words: []string{"1", "2", "3", "4"}, From: "two to four of one must make a trial", More: true})
	f := ferment.Ferment{Name: p.ask(Field{Key: "name", Label: "name", From: "any words, e.g. Lime blossom"})}
	f.Vessel = n.glass(p, "", n.model.Vessel)
	b := n.must(p, way, f.Vessel)
	f.Yeast = n.yeast(p, "", n.model.Yeast)
	f.Protocol = n.protocol(p, "", cmp.Or(n.model.Protocol, planFor(f.Yeast, b.fruit.Name != "")))
	f.Endings, f.Nutrient = n.endings(p), n.nutrient(p, "", n.model.Nutrient)
	b.measured = may(p, Field{Key: "measured", Label: "measured", From: "its gravity once it is mixed, e.g. 1.083", More: true}, readGravity)
	if _, err := measure.ParseGravity(b.measured.Text); err != nil && b.measured.Known() { // files have gravities only
		b.measured = made(measure.ParseGravity, b.measured.Value.String())
	}
	b.ph = may(p, Field{Key: "ph", Label: "pH", From: "once it is mixed, e.g. 3.9", More: true}, measure.ParsePH)
	f.Log = n.mixed(p, b)
	n.named(p, &f)
	fs := n.trial(p, f, b, count)
	ask := n.fermentable(b.honey...)
	ask.Value = n.model.Must.Fermentable.Text
	fermentable := may(p, ask, readFermentable)
	for i := range fs {
		fs[i].Must.Fermentable = fermentable
	}
	return func(o *Outcome) {
		o.Change.Ferments = fs
		n.tell(o, b, fs)
	}
}

func (n newFerment) mixed(p *asking, b batch) []ferment.Entry {
	const notYet = "not yet"
	likely := "now"
	if b.planned() && !b.measured.Known() { // calculated amounts are not weighed yet
		likely = notYet
	}
	when := p.ask(Field{Key: "when", Label: "mixed", Value: likely, From: "now, -2h, yesterday 20:00; or not yet", More: true})
	if when == notYet {
		return nil
	}
	e := ferment.Entry{At: p.moment("when", when, n.s.At), Did: ferment.Mix}
	if b.planned() && b.gravity > 0 {
		e.Note = "planned for " + b.gravity.String()
	}
	return []ferment.Entry{e}
}

// shown rounds a volume for writing: to 10 mL, in US units to 4 mL.
func (n newFerment) shown(v measure.Volume) measure.Given[measure.Volume] {
	text := v.In(n.units())
	if gallon := made(measure.ParseVolume, "1 gal").Value; n.units() == measure.US && v >= gallon/4 {
		text = measure.Decimal(float64(v/gallon), 3) + " gal"
	}
	return made(measure.ParseVolume, text)
}

func (n newFerment) weighed(m measure.Mass) measure.Given[measure.Mass] {
	return made(measure.ParseMass, m.In(n.units()))
}

// made returns a calculated value with its text.
func made[T any](parse func(string) (measure.Given[T], error), text string) measure.Given[T] {
	v, err := parse(text)
	if err != nil {
		return measure.Given[T]{}
	}
	return v
}

type model struct {
	ferment.Ferment
	gravity string                        // the original; empty if unknown
	volume  measure.Given[measure.Volume] // of its must
	honey   []ferment.HoneyPart           // as available in store
}

// chosenModel asks which earlier ferment to make again.
func (n newFerment) chosenModel(p *asking) model {
	names := ferment.Map(n.all, func(f ferment.Ferment) string { return f.ID })
	id := p.choose(Field{Key: "like", Label: "same as", Value: names[0], Words: names})
	// A split ferment has the must of its parent.
	f, _ := ferment.FirstWhere(ferment.Parted(n.all), func(f ferment.Ferment) bool { return f.ID == id })
	original := f.Must.Gravity.Text
	if !f.Must.Gravity.Known() {
		original = shown(app.Plan(f, n.s.Cellar, n.s.At).Course.Original.Figure, measure.Gravity.String)
	}
	return model{f, original, n.volumeOf(f.Must), n.honeyOf(f.Must)}
}

// volumeOf returns the volume of a must: as given, else that of honey and water.
func (n newFerment) volumeOf(m ferment.Must) measure.Given[measure.Volume] {
	if m.Volume.Known() || !m.Water.Known() || !allWeighed(m.Honey) {
		return m.Volume
	}
	whole, err := honey.Made(0, m.Water.Value, portions(m.Honey)...)
	if err != nil {
		return measure.Given[measure.Volume]{}
	}
	return n.shown(whole.Volume)
}

// honeyOf returns the honey of a must by lot; as one portion if a lot is not in store.
func (n newFerment) honeyOf(m ferment.Must) []ferment.HoneyPart {
	gone := func(h ferment.HoneyPart) bool { _, is := n.lot(h.Lot); return !is }
	if len(m.Honey) == 0 || len(m.Honey) <= len(lotLabels) && !slices.ContainsFunc(m.Honey, gone) {
		return m.Honey
	}
	var one ferment.HoneyPart
	all := honey.Together(portions(m.Honey)...)
	if allWeighed(m.Honey) {
		one.Mass, one.Water = n.weighed(all.Mass), made(measure.ParseShare, all.Water.String())
	}
	return []ferment.HoneyPart{one}
}

// scaled scales a mass of the model's honey to another volume, if both are known.
func (n newFerment) scaled(h ferment.HoneyPart, to measure.Given[measure.Volume]) measure.Given[measure.Mass] {
	had := n.model.volume.Value
	switch {
	case had <= 0 || !to.Known() || !h.Mass.Known():
		return measure.Given[measure.Mass]{}
	case to.Value == had:
		return h.Mass
	}
	return n.weighed(h.Mass.Value * measure.Mass(to.Value/had))
}

// asModel proposes the first lot's honey by the litre of the model, unless the recipe was changed.
func (n newFerment) asModel(b batch, aim measure.Given[measure.Gravity]) (first measure.Given[measure.Mass], as bool) {
	if aim.Text != n.model.gravity || len(b.honey) != len(n.model.honey) {
		return first, false
	}
	for i, had := range n.model.honey {
		mass := n.scaled(had, b.volume)
		if !mass.Known() || had.Water.Or(honey.Typical) != b.honey[i].Water.Or(honey.Typical) || i > 0 && mass != b.honey[i].Mass {
			return first, false
		}
	}
	return n.scaled(n.model.honey[0], b.volume), true
}
