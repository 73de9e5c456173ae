package form

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/lineage"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// leesOf takes a culture back from what sank in a jug that it was pitched into.
const leesOf = "lees of "

// wildPlan is the default plan of a culture.
const wildPlan = "wild-culture"

// cultureKind is the form for a culture that was collected, or made from another.
func cultureKind(s app.Snapshot, subject string, given Values) (Form, bool) {
	if v, is := s.Find(subject); is && v.Culture != nil {
		given = given.With("parent", subject)
	}
	r := record{s}
	return r.form(Form{Name: "culture", Title: "new culture"}, given, r.begin), true
}

// begin asks for a new culture and its first medium.
func (r record) begin(p *asking) func(*Outcome) {
	k := ferment.Culture{Verdict: "trying"}
	k.Name = p.ask(Field{Key: "name", Label: "name", From: "e.g. hawthorn blossom"})
	from := ""
	pitched := ferment.Where(r.s.Vessels, func(v app.Vessel) bool { return v.Ferment.Yeast.Culture != "" && v.Course.Pitch.Known })
	lees := ferment.Map(pitched, func(v app.Vessel) string { return leesOf + v.ID() })
	if ids := append(r.alive(), lees...); len(ids) > 0 {
		from = p.chooseAny(Field{Key: "parent", Label: "made from", Value: none, Words: append([]string{none}, ids...), More: true})
	}
	if v, lees := r.s.Find(strings.TrimPrefix(from, leesOf)); lees && v.Culture == nil {
		k.From = v.Ferment.Yeast.Culture
	} else {
		k.From, from = from, r.culture(from).Source
	}
	likely := stem(k.Name, "wild") + "-1"
	if k.From != "" {
		likely = next(k.From)
	}
	k.ID = p.askName(Field{Key: "id", Label: "id", Value: free(likely, r.names()), From: "its name in files and commands", More: true}, r.names())
	k.Source = p.ask(Field{Key: "source", Label: "source", Value: from, From: "where it is from, e.g. blossom, lane hedge"})
	plans := append(r.plans(), none)
	k.Protocol = p.chooseAny(Field{Key: "protocol", Label: "plan", Value: orFirst(append([]string{none}, plans...), wildPlan), Words: plans, More: true})
	e := ferment.Entry{Did: ferment.Collect}
	if mass := may(p, Field{Key: "mass", Label: "mass", From: p.fill("of what was collected, e.g. {20 g}; or empty"), More: true}, measure.ParseMass); mass.Known() {
		amount, _ := measure.ParseQuantity(mass.Text) // it was read as a mass
		e.Amount, e.Of = ferment.Amount{Quantity: amount}, k.Source
	}
	var m medium
	if step, has := r.firstPassage(k.Protocol); has && p.choose(Field{Key: "start", Label: "started", Value: "now", Words: []string{"now", "later"}, From: "in its first medium, within a day"}) == "now" {
		m = passage{jug{record: r}}.askMedium(p, step)
	}
	e.At, e.Note = p.when(r.s.At), p.note()
	k.Log = []ferment.Entry{e}
	return func(o *Outcome) { r.begun(o, k, m, p.values[Because]) }
}

// firstPassage returns the first step of a plan that gives a culture a new medium.
func (r record) firstPassage(plan string) (ferment.Step, bool) {
	open, is := r.s.Cellar.Protocols[plan]
	if !is {
		return ferment.Step{}, false
	}
	return ferment.FirstWhere(open().Steps, func(s ferment.Step) bool { return s.Culture && s.Do == string(ferment.Passage) })
}

func (r record) plans() []string {
	return ferment.Where(slices.Sorted(maps.Keys(r.s.Cellar.Protocols)), func(name string) bool {
		return slices.ContainsFunc(r.s.Cellar.Protocols[name]().Steps, func(s ferment.Step) bool { return s.Culture })
	})
}

// begun makes the new culture, with what its first medium comes to.
func (r record) begun(o *Outcome, k ferment.Culture, m medium, because string) {
	if m.entry.Medium.Known() {
		g := passage{jug{record: r}}
		g.acid(o, m.entry.PH)
		e := m.entry
		if m.spirit > 0 {
			e = g.withSpirit(o, e, m.spirit)
		}
		g.recipe(o, m)
		e.At, e.Did, e.Step = k.Log[0].At, ferment.Passage, m.step.Name
		if o.Closed != "" {
			e.Overrode, e.Because = o.Closed, strings.TrimSpace(because)
		}
		k.Log = append(k.Log, e)
	}
	o.Change.Cultures = []ferment.Culture{k}
	v := app.PlanCulture(k, r.s.Cellar, r.s.At)
	if n := lineage.Generation(k, r.s.Cellar.Cultures); n == 1 {
		o.answer("generation 1, not grown from another")
	} else {
		o.answer(fmt.Sprintf("generation %d, made from %s", n, k.From))
	}
	for _, t := range v.Day.Tasks {
		if t.State != schedule.Due && t.State != schedule.Late {
			continue
		}
		l := words.LineOf(t, v, r.s.At)
		o.answer(words.Join(" ", l.Act, l.Amount.String(), l.Until))
		o.say(l.Word, words.Join("; ", l.Act, t.Say))
		if t.Caution != nil {
			o.warn(*t.Caution)
		}
	}
	if k.Protocol == "" {
		o.say(words.Note, "without a plan nothing is asked for")
	}
	if c := schedule.Warning("do-not-taste"); !o.said(c.Text) {
		o.warn(c)
	}
}

// passageKind is the form for a culture's next medium, or for the must that tests it.
func passageKind(s app.Snapshot, subject string, given Values) (Form, bool) {
	v, is := s.Find(subject)
	if !is || v.Culture == nil {
		return Form{}, false
	}
	g := passage{jug{record{s}, v}}
	return g.form(Form{Name: "passage", Title: "transfer " + v.Label(), Subject: subject}, given, g.ask), true
}

type passage struct{ jug }

type medium struct {
	step   ferment.Step // zero for a passage outside the plan
	entry  ferment.Entry
	spirit measure.Strength
}

func (g passage) ask(p *asking) func(*Outcome) {
	m := g.askMedium(p, g.askStep(p))
	m.entry.At, m.entry.Note = p.when(g.s.At), p.note()
	return func(o *Outcome) { g.work(o, m, p.values) }
}

func (g passage) askMedium(p *asking, step ferment.Step) medium {
	m := medium{step: step}
	e := &m.entry
	e.Medium = want(p, Field{Key: "medium", Label: "medium", Value: lastVolume(m.step.Amount), From: p.fill("with the spirit in it, e.g. {100 mL}")}, measure.ParseVolume, p.fill("say how much it is, e.g. {100 mL}"))
	if step.Do == string(ferment.Passage) {
		e.Of = p.choose(Field{Key: "made", Label: "made of", Value: "malt", Words: []string{"malt", "honey"}, From: "malt extract, or honey, in water"})
	}
	gravity, strength := figureOf(m.step.Medium, "gravity"), figureOf(m.step.Medium, "alcohol")
	e.Gravity = may(p, Field{Key: "gravity", Label: "gravity", Value: gravity, From: "of the medium, e.g. 1.036", More: gravity != ""}, measure.ParseGravity)
	e.Alcohol = may(p, Field{Key: "alcohol", Label: "alcohol", Value: strength, From: "so that only yeast grows, e.g. 5 %; or empty", More: strength != ""}, measure.ParseStrength)
	if e.Alcohol.Value <= 0 {
		e.Alcohol = measure.Given[measure.Strength]{}
	} else {
		m.spirit = want(p, Field{Key: "spirit", Label: "spirit", Value: "40 %", From: "its strength: pure, no flavour, never rubbing alcohol", More: true}, measure.ParseStrength, "say how strong the spirit is, e.g. 40 %").Value
		if m.spirit > 0 && m.spirit <= e.Alcohol.Value {
			p.fail("spirit", "it must be stronger than the medium, e.g. 40 %")
		}
	}
	e.PH = may(p, Field{Key: "ph", Label: "pH", From: "4.2 or less, e.g. 4.1"}, measure.ParsePH)
	return m
}

// recipe says how to acidify and feed the medium.
func (g passage) recipe(o *Outcome, m medium) {
	e := m.entry
	own, is := nutrient.CultureMediums[e.Of]
	if !is {
		return
	}
	in := func(c measure.Content) string { return measure.Decimal(float64(c)*float64(e.Medium.Value), 2) + " g" }
	if !e.PH.Known() {
		o.sayf(words.Note, "%s is near pH %v by itself: about %s of citric acid brings it to 4.2, give or take half; read the pH", e.Of, own.PH, in(own.Acid))
	}
	if own.Nutrient > 0 {
		o.say(words.Note, e.Of+" has too little nitrogen for yeast: add "+in(own.Nutrient)+" of nutrient")
	}
	o.say(words.Note, "once a day: loosen the lid, swirl it, look and smell")
}

// askStep asks which passage of the plan it is, by its title, proposed by what is due.
func (g passage) askStep(p *asking) ferment.Step {
	steps := map[string]ferment.Step{}
	var titles []string
	for _, s := range g.v.Plan.Steps {
		if act := ferment.Act(s.Do); s.Culture && (act == ferment.Passage || act == ferment.Prove) {
			title := words.ActLabel(schedule.Task{Step: s.Name, Do: s.Do, Title: s.Title})
			steps[title], titles = s, append(titles, title)
		}
	}
	t, _ := ferment.FirstWhere(g.v.Day.Tasks, func(t schedule.Task) bool { return isOpen(t) && steps[words.ActLabel(t)].Name == t.Step })
	return steps[p.choose(Field{Key: "step", Label: "step", Value: cmp.Or(words.ActLabel(t), none), Words: append(titles, none)})]
}

func isOpen(t schedule.Task) bool {
	return t.State == schedule.Due || t.State == schedule.Late || t.State == schedule.Held
}

func lastVolume(text string) string {
	words := strings.Fields(text)
	for i := len(words) - 2; i >= 0; i-- {
		if v, err := measure.ParseVolume(words[i] + " " + words[i+1]); err == nil {
			return v.Text
		}
	}
	return ""
}

// figureOf returns a figure in a plan's medium: "gravity 1.035, alcohol 5 %".
func figureOf(medium, name string) string {
	for _, part := range strings.Split(medium, ",") {
		if value, is := strings.CutPrefix(strings.TrimSpace(part), name+" "); is && !strings.HasPrefix(value, "at most") {
			return value
		}
	}
	return ""
}

// work says what a new medium comes to, and its entry.
func (g passage) work(o *Outcome, m medium, values Values) {
	e := m.entry
	g.acid(o, e.PH)
	if m.spirit > 0 {
		e = g.withSpirit(o, e, m.spirit)
	}
	g.recipe(o, m)
	entries := []ferment.Entry{e}
	if m.step.Name != "" {
		entries = g.settle(o, app.Wish{Step: m.step.Name, Entry: e})
	} else { // a passage outside the plan
		entries[0].Did = ferment.Passage
		o.refuseForbidden(schedule.Task{Do: string(ferment.Passage)}, g.v)
	}
	g.write(o, values, entries...)
	if n := len(entries); n > 0 && entries[n-1].Volume.Known() {
		o.say(words.Note, "with the sediment it is "+entries[n-1].Volume.Value.Small(g.units())+" in the jar")
	}
	if len(o.Answer) == 0 {
		o.answer(words.Join(" ", "into", measure.AsTyped(e.Medium, g.units()), e.Gravity.Text))
	}
	if c := schedule.CautionOfStep(m.step, g.units()); c.Text != "" && c.Name != "spirit-and-flame" {
		o.warn(c)
	}
	if m.step.Say != "" {
		o.say(words.Note, m.step.Say)
	}
	o.warn(schedule.CautionOf("do-not-taste", g.units()))
}

// withSpirit adds the spirit to the medium and reduces the rest by it.
func (g passage) withSpirit(o *Outcome, e ferment.Entry, spirit measure.Strength) ferment.Entry {
	plain := e.Medium.Value * measure.Volume(1-e.Alcohol.Value/spirit)
	d, err := alcohol.Spirit(plain, e.Alcohol.Value, spirit)
	if err != nil {
		o.Wrong = append(o.Wrong, Wrong{"spirit", measure.ErrorIn(err, g.units())})
		return e
	}
	o.answer(plain.Small(g.units()) + " of medium and " + d.Spirit.Small(g.units()) + " of spirit of " + percent(spirit))
	o.say("", "they make "+e.Medium.Value.Small(g.units())+" of "+e.Alcohol.Value.String()+"; boil the medium ten minutes and cool it first")
	o.warn(schedule.Warning("spirit-and-flame"))
	number := measure.Decimal(d.Spirit.Millilitres(), 1)
	if q, err := measure.ParseQuantity(number + " mL"); err == nil {
		e.Amount, e.Of = ferment.Amount{Quantity: q}, strings.TrimSuffix("spirit "+percent(spirit)+" in "+e.Of, " in ")
	}
	return e
}

// acid says what the pH of the medium means; a high one closes the form.
func (g passage) acid(o *Outcome, ph measure.Given[measure.PH]) {
	if !ph.Known() {
		o.say(words.Note, "its pH was not measured: 4.2 or less keeps other things from growing")
		return
	}
	if c := schedule.AcidCaution(ph.Value); c != nil {
		o.warn(*c)
		if c.Loud == schedule.Stop {
			o.close(c.Name)
		}
	}
}
