package schedule

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// doses is what the plan gives of nutrient in all, and what has been given.
type doses struct {
	unknown   string // why there are none
	need      nutrient.Need
	volume    measure.Volume
	plan      nutrient.Doses
	part      map[int]int // step → its dose in the plan
	assumed   string
	given     nutrient.Given
	guessed   int // doses of unknown amount among them
	lastGiven time.Time
	units     measure.System
}

// mergedDoses is how much of one dose is given where two are due at once
// (common practice, no source).
const mergedDoses = 1.5

func (p *planner) plannedDoses() doses {
	d := doses{part: map[int]int{}, lastGiven: p.c.Nitrogen.Last, units: p.units()}
	if !p.c.Original.IsKnown() {
		d.unknown = p.c.Original.Unknown
		return d
	}
	if !p.c.Volume.IsKnown() {
		d.unknown = p.c.Volume.Unknown
		return d
	}
	if err := p.workOut(&d); err != nil {
		d.unknown = err.Error()
	}
	return d
}

func (p *planner) workOut(d *doses) (err error) {
	f := p.c.Ferment
	must := nutrient.Must{Demand: nutrient.Demand(f.Yeast.Demand), Own: f.Nutrient.Own, Target: f.Nutrient.Target}
	if must.Sugar, err = gravity.ToBrix(p.c.Original.Value); err != nil {
		return err
	}
	if d.need, err = nutrient.NeedOf(must); err != nil {
		return err
	}
	d.volume, d.assumed = p.c.Volume.Value, strings.Join(d.need.Assumed, "; ")
	var parts []nutrient.Part
	for i, s := range p.steps {
		if s.Do == string(ferment.Nutrient) && s.Share > 0 && !s.Option {
			d.part[i] = len(parts)
			parts = append(parts, nutrient.Part{Share: measure.Share(100 * s.Share), Of: p.nutrientOf(s)})
		}
	}
	if d.plan, err = nutrient.Plan(d.need.Add, d.volume, parts); err != nil {
		return err
	}
	d.given = nutrient.Given{Nitrogen: p.c.Nitrogen.Given, Ammonium: p.c.Nitrogen.Salt}
	d.guessed = p.c.Nitrogen.Guessed
	if n := len(parts); n > 0 {
		d.given.Nitrogen += measure.Content(d.guessed) * d.plan.Possible / measure.Content(n)
	}
	return nil
}

// nutrientOf is what a step gives: what it names, what the ferment names, else
// ammonium phosphate.
func (p *planner) nutrientOf(s ferment.Step) nutrient.Nutrient {
	if wantsOrganic(s) {
		if n, ok := p.organic(); ok {
			return n
		}
		if len(p.c.Settings.Nutrients) == 0 {
			return nutrient.YeastDerived
		}
	}
	for _, name := range []string{s.Of, s.Kind, p.c.Ferment.Nutrient.Kind} {
		if n, ok := p.nutrientNamed(name); ok {
			return n
		}
	}
	if n, ok := p.nutrientNamed(nutrient.AmmoniumPhosphate.Name); ok {
		return n
	}
	return nutrient.AmmoniumPhosphate
}

func wantsOrganic(s ferment.Step) bool {
	return strings.Contains(s.Kind, "organic") || strings.Contains(s.Kind, "yeast-derived")
}

func (p *planner) nutrientNamed(name string) (nutrient.Nutrient, bool) {
	for _, k := range p.c.Settings.Nutrients {
		if name != "" && strings.EqualFold(k.Name, name) {
			return ofKind(k), true
		}
	}
	if strings.EqualFold(name, nutrient.YeastDerived.Name) {
		return nutrient.YeastDerived, true
	}
	return nutrient.Nutrient{}, false
}

// organic is the yeast-derived nutrient at hand.
func (p *planner) organic() (nutrient.Nutrient, bool) {
	for _, k := range p.c.Settings.Nutrients {
		if k.Organic() {
			return ofKind(k), true
		}
	}
	return nutrient.Nutrient{}, false
}

func ofKind(k ferment.NutrientKind) nutrient.Nutrient {
	if k.Organic() {
		return nutrient.Nutrient{Name: k.Name, Kind: nutrient.Organic, Nitrogen: k.Nitrogen.Or(nutrient.YeastDerived.Nitrogen)}
	}
	return nutrient.Nutrient{Name: k.Name, Kind: nutrient.Ammonium, Nitrogen: k.Nitrogen.Or(nutrient.AmmoniumPhosphate.Nitrogen)}
}

// allGiven tells whether the nitrogen that is wanted has gone in, to a
// hundredth.
func (d doses) allGiven() bool {
	return d.unknown == "" && d.need.Add > 0 && d.given.Nitrogen >= 0.99*d.need.Add
}

func (d doses) givenWords() string {
	return fmt.Sprintf("%.0f of the %.0f mg/L wanted are given", d.given.Nitrogen.MilligramsPerLitre(), d.need.Add.MilligramsPerLitre())
}

// amount is so many doses of a step, as much as the caps leave room for.
func (d doses) amount(step int, times float64, weighs measure.Mass) *Amount {
	i, planned := d.part[step]
	if d.unknown != "" || !planned {
		return &Amount{Unknown: d.unknown}
	}
	one := d.plan.Each[i]
	share := float64(one.Wanted / d.need.Add)
	a := d.of(one.Of, measure.Mass(times)*one.Mass, weighs)
	a.How = fmt.Sprintf("%s of %.0f mg/L in %s", part(share), d.need.Add.MilligramsPerLitre(), d.volume.In(d.units))
	if times != 1 {
		a.How = "one and a half doses: the one before was missed; a dose is " + a.How
	}
	if cut := d.plan.Explain(); cut != "" {
		a.How += "; " + cut
	}
	return a
}

// of is an amount of a nutrient, held under the caps.
func (d doses) of(n nutrient.Nutrient, dose, weighs measure.Mass) *Amount {
	room, _, err := nutrient.Room(d.need.Add, d.given, n, d.volume)
	if err != nil {
		return &Amount{Of: n.Name, Unknown: err.Error()}
	}
	dose = min(dose, room)
	a := &Amount{Known: true, Number: dose.Grams(), Unit: "g", Of: n.Name, Assumed: d.assumed, Before: d.given.Nitrogen, Wanted: d.need.Add}
	if after, err := d.given.With(dose, n, d.volume); err == nil {
		a.Reached = after.Nitrogen
	}
	if d.guessed > 0 {
		a.Assumed = strings.TrimPrefix(a.Assumed+"; "+fmt.Sprintf("%d of unknown amount counted as one planned dose each", d.guessed), "; ")
	}
	a.Stock = stockOf(dose, weighs)
	return a
}

// stockOf is a dose as a stock solution, where the scale is too coarse for it.
func stockOf(dose, weighs measure.Mass) *Stock {
	if dose <= 0 || weighs <= 0 || !nutrient.TooSmall(dose, weighs) {
		return nil
	}
	s, err := nutrient.StockFor(dose, weighs)
	if err != nil {
		return nil
	}
	return &Stock{Volume: s.Give, Percent: 10}
}

// bufferSpacing is how long a dose and a buffer stand apart: both foam (common
// practice, no source).
const bufferSpacing = 6 * time.Hour

// tooSoon is why a dose or a buffer may not follow what went in last.
func (p *planner) tooSoon(do string) (hold, bool) {
	switch ferment.Act(do) {
	case ferment.Nutrient:
		if h, soon := p.apart(ferment.Nutrient, p.c.Limits.Spacing, "doses stand %s apart"); soon {
			return h, true
		}
		return p.apart(ferment.Buffer, bufferSpacing, "a dose and a buffer stand %s apart")
	case ferment.Buffer:
		return p.apart(ferment.Nutrient, bufferSpacing, "a dose and a buffer stand %s apart")
	}
	return hold{}, false
}

func (p *planner) apart(act ferment.Act, spacing time.Duration, rule string) (hold, bool) {
	last, ok := p.c.Last(act)
	if !ok {
		return hold{}, false
	}
	again := last.At.Latest().Add(spacing)
	if p.passed(again) {
		return hold{}, false
	}
	went := string(act)
	if last.Amount.Known() {
		went = last.Amount.Text
	}
	why := fmt.Sprintf("%s went in at %s; "+rule+": not before %s", went, p.clock(last.At.Time), span(spacing), p.clock(again))
	return hold{name: "spacing", verdict: "too soon", reason: why}, true
}

// mergeDoses lets a missed dose go over to the next where both are due now, and
// lets the next wait for the first where they are not.
func (p *planner) mergeDoses() {
	z := p.nutrient.zone
	if z != open && z != grace {
		return
	}
	// Pairs in the order of due time: a dose that is taken over may take its own
	// predecessor with it, because each pair is looked at once, the earlier first.
	due := p.dosesInList()
	for i := 1; i < len(due); i++ {
		missed, next := due[i-1], due[i]
		at := mergesAt(missed, next)
		if p.passed(at) {
			p.merged[missed.slot], p.mergedAt[missed.slot] = next.slot, at
		} else {
			p.delayed[next.slot] = at
		}
	}
}

// dosesInList are the planned doses that are not given yet and may be within
// the day's list, by due time.
func (p *planner) dosesInList() []occurrence {
	var due []occurrence
	for _, o := range p.unsettledOf(string(ferment.Nutrient), p.dayEnd) {
		if s := p.steps[o.step]; !s.Option && !p.anyHolds(s.Unless) {
			due = append(due, o)
		}
	}
	return due
}

// takesOver tells whether an occurrence has taken over a missed dose that is
// not given yet.
func (p *planner) takesOver(o occurrence) bool {
	for missed, next := range p.merged {
		if next == o.slot && !p.isSettled(occurrence{slot: missed}) {
			return true
		}
	}
	return false
}

// LateNutrient is the step of the one dose of yeast-derived nutrient that may
// be chosen between the two breaks, where a planned dose has lapsed.
const LateNutrient = "nutrient-late"

// lateNutrient offers that dose, once.
func (p *planner) lateNutrient(tasks []Task) []Task {
	n, atHand := p.organic()
	if !atHand || p.nutrient.zone != late || p.lateGiven() {
		return nil
	}
	step, lapsed := p.lapsedDose(tasks)
	if !lapsed {
		return nil
	}
	t := Task{Subject: p.c.Ferment.ID, Step: LateNutrient, Occurrence: 1, Do: string(ferment.Nutrient), State: Due, Open: true,
		Opens: p.nutrient.past.At, Due: p.nutrient.past.At, Option: true, Routine: true, Also: []ferment.Act{ferment.Degas},
		Until: p.limitAt(p.nutrient.last), Caution: p.caution(bareSteps.nutrient), Amount: p.doseOf(step, n),
		Reason: "yeast-derived, once, down to " + p.nutrient.last.String() + ", the " + p.c.Limits.OrganicUntil.Sign() + " break"}
	if h, held := p.lateHold(); held {
		t.State, t.Reason, t.Frees, t.hold = Held, h.reason, h.frees, &h
	}
	return []Task{t}
}

// lateGiven tells whether nutrient has gone in since the planned doses lapsed.
func (p *planner) lateGiven() bool {
	for _, e := range p.entries {
		if e.Step == LateNutrient || e.Skipped == LateNutrient ||
			e.Did == ferment.Nutrient && p.momentOf(e).After(p.nutrient.past.At) {
			return true
		}
	}
	return false
}

// lapsedDose is the last planned dose that gravity has closed.
func (p *planner) lapsedDose(tasks []Task) (step int, ok bool) {
	for _, t := range tasks {
		if i, is := p.index[t.Step]; is && t.State == Lapsed && t.Do == string(ferment.Nutrient) && p.steps[i].Share > 0 {
			step, ok = i, true
		}
	}
	return step, ok
}

// doseOf is the nitrogen of one planned dose in another nutrient.
func (p *planner) doseOf(step int, n nutrient.Nutrient) *Amount {
	d := p.doses
	i, planned := d.part[step]
	if d.unknown != "" || !planned {
		return &Amount{Of: n.Name, Unknown: d.unknown}
	}
	one, err := nutrient.Plan(d.plan.Each[i].Nitrogen, d.volume, []nutrient.Part{{Share: 100, Of: n}})
	if err != nil {
		return &Amount{Of: n.Name, Unknown: err.Error()}
	}
	a := d.of(n, one.Total, p.c.Settings.Weighs)
	a.How = "the nitrogen of " + p.label(p.steps[step])
	return a
}

// lateHold is why the late dose may not be given at the moment.
func (p *planner) lateHold() (hold, bool) {
	if h, soon := p.tooSoon(string(ferment.Nutrient)); soon {
		return h, true
	}
	return p.stale()
}
