package form

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// The ways to measure the water of a lot.
const (
	byShare = "%"
	byIndex = "refractive index"
	byBrix  = "°Bx"
)

func lotKind(s app.Snapshot, _ string, given Values) (Form, bool) {
	r := record{s}
	return r.form(Form{Name: "lot", Title: "honey harvested"}, given, r.takeOff), true
}

// takeOff asks for a harvest of honey.
func (r record) takeOff(p *asking) func(*Outcome) {
	l := ferment.Lot{Name: p.ask(Field{Key: "name", Label: "name", From: "flowers and hive, e.g. bell heather, east hive"})}
	l.Taken = p.moment("taken", p.ask(Field{Key: "taken", Label: "taken", Value: r.s.At.Format("2006-01-02"), From: "the day, e.g. 2026-08-20, yesterday"}), r.s.At)
	lots := among(lotIDs(r.s.Cellar.Lots), "a lot")
	year := l.Taken.Time.Format("-06")
	likely := free(stem(l.Name, "honey"), func(name string) string { return lots(name + year) }) + year
	l.ID = p.askName(Field{Key: "id", Label: "id", Value: likely, From: "its name in files and commands", More: true}, lots)
	l.Mass = may(p, Field{Key: "mass", Label: "mass", From: p.fill("weighed, e.g. {8.2 kg}")}, readHoney)
	r.water(p, &l)
	l.State = p.choose(Field{Key: "state", Label: "state", Value: ferment.LotStates[0], Words: ferment.LotStates, More: true})
	l.Treated = p.ask(Field{Key: "treated", Label: "hive treated", Value: "none", From: "with what and when, e.g. thymol, 2026-08-02"})
	l.Fermentable = may(p, r.fermentable(), readFermentable)
	note := p.note()
	l.Note = strings.TrimPrefix(strings.TrimSuffix(l.Note+"; "+note, "; "), "; ")
	return func(o *Outcome) { r.harvest(o, l) }
}

// fermentable returns the field for the fermentable share. What past ferments suggest is said, never filled in.
func (r record) fermentable(honey ...ferment.HoneyPart) Field {
	f := Field{Key: "fermentable", Label: "fermentable", From: fmt.Sprintf("%.0f %% of its solids if left out; honeydew e.g. 80 %%", r.s.Cellar.Settings.Limits.Fermentable), More: true}
	for _, h := range honey {
		if l, _ := r.lot(h.Lot); l.Fermentable.Known() {
			f.From = l.Fermentable.Text + " by honey.yaml if left out"
		} else if says := r.s.SuggestedShare(h.Lot); says != "" {
			f.From = says
		}
	}
	return f
}

var readFermentable = within(measure.ParseShare, func(s measure.Share) bool { return s >= 50 && s <= 100 }, "is no fermentable share", "50 to 100 %, e.g. 80 %")

func (r record) water(p *asking, l *ferment.Lot) {
	switch p.choose(Field{Key: "measured", Label: "water by", Value: byShare, Words: []string{byShare, byIndex, byBrix, none}}) {
	case byShare:
		l.Water = may(p, Field{Key: "water", Label: "water", From: "e.g. 18.1 %; empty where nobody measured it"}, measure.ParseShare)
	case byIndex:
		index := func(text string) (measure.Given[float64], error) {
			return measure.ParseScale(text, "refractive index", 1.3, 1.6, "1.4912")
		}
		l.RefractiveIndex = want(p, Field{Key: "index", Label: "reads", From: "e.g. 1.4912"}, index, "write what the refractometer reads, e.g. 1.4912")
		l.ReadAt = want(p, Field{Key: "read-at", Label: "read at", Value: measure.Temperature(20).In(r.s.Cellar.Settings.Units), From: "its temperature"}, measure.ParseTemperature, p.fill("write how warm it was, e.g. {20 °C}"))
		if w := larder.WaterOf(*l); l.RefractiveIndex.Known() && l.ReadAt.Known() && !w.Known() {
			p.fail("index", w.Unknown)
		}
	case byBrix:
		reads := want(p, Field{Key: "brix", Label: "reads", From: "on a sugar refractometer, e.g. 80.2"}, honey.ParseBrix, "write what the refractometer reads, e.g. 80.2")
		if !reads.Known() {
			return
		}
		w, err := honey.WaterByBrix(reads.Value)
		if err != nil {
			p.fail("brix", measure.ErrorIn(err, p.units))
			return
		}
		l.Water = measure.Give(w, w.String())
		l.Note = "water from " + reads.Value.String()
	}
}

// harvest makes the new lot, with what its water asks for.
func (r record) harvest(o *Outcome, l ferment.Lot) {
	o.Change.Lots = []ferment.Lot{l}
	a := larder.Of(l, nil, r.s.At)
	switch {
	case a.IsWash():
		o.answer("cappings wash: use it within a day or two")
	case a.Water.Known():
		o.answer(a.Water.Share.String() + " water, " + words.KeepingWords(a.Water.Share))
	default:
		o.answer("water not measured: measure it before you store it")
	}
	r.makes(o, a)
	for _, c := range schedule.LotCautions(a) {
		if len(r.s.Cellar.Lots) == 0 {
			c.Loud = schedule.Warn // shown once, with the first lot
		}
		o.warn(c)
	}
}

// makes says how much must the lot makes; the usual strength is in the answer.
func (r record) makes(o *Outcome, a larder.Account) {
	settings := r.s.Cellar.Settings
	made, err := a.Makes(larder.UsualVessel(r.s.Cellar.Ferments))
	if err != nil {
		o.say("", "what it makes: "+measure.ErrorIn(err, settings.Units))
		return
	}
	for i, m := range made {
		text := m.Volume.In(settings.Units) + " at " + words.Glass(m.Gravity, settings)
		if i == 1 {
			o.answer("it makes " + text)
		} else {
			o.say("", "or "+text)
		}
	}
}

func useKind(s app.Snapshot, subject string, given Values) (Form, bool) {
	if len(s.Cellar.Lots) == 0 {
		return Form{}, false
	}
	r := record{s}
	f := Form{Name: "use", Title: "honey used elsewhere", Subject: subject}
	return r.form(f, given, func(p *asking) func(*Outcome) { return r.use(p, subject) }), true
}

// use asks for honey that goes elsewhere.
func (r record) use(p *asking, subject string) func(*Outcome) {
	ids := lotIDs(r.s.Cellar.Lots)
	id := p.choose(Field{Key: "lot", Label: "of", Value: orFirst(ids, subject), Words: ids})
	mass := want(p, Field{Key: "mass", Label: "mass", From: p.fill("e.g. {500 g}")}, readHoney, p.fill("say how much, e.g. {500 g}"))
	why := p.ask(Field{Key: "for", Label: "for", Value: "table", From: "any words: table, a friend, the bees"})
	at := p.when(r.s.At)
	return func(o *Outcome) {
		u := ferment.Use{At: at, Mass: mass, For: why}
		o.Change.Uses = []ferment.LotUse{{Lot: id, Use: u}}
		lot, _ := r.lot(id)
		lot.Used = append(slices.Clone(lot.Used), u)
		left := larder.Of(lot, r.s.Cellar.OpenAndPast(), r.s.At).Left
		switch {
		case !left.Weighed:
			o.answer("nobody weighed " + id + ": what is left of it is not known")
		case left.Overdrawn():
			o.answer("more than there is of " + id)
			o.say(words.Warn, "it is "+(-left.Mass).In(r.units())+" more than is left by the record: one of the masses is wrong")
		default:
			o.answer(max(left.Mass, 0).In(r.units()) + " is left of " + id)
		}
	}
}
