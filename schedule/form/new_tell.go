package form

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// tell says what the must comes to, with cautions and assumptions.
func (n newFerment) tell(o *Outcome, b batch, fs []ferment.Ferment) {
	if b.gravity == 0 && b.way != fromMasses {
		return
	}
	if made := n.made(b, fs); made != "" {
		o.answer(made)
	}
	said := map[string]bool{}
	for _, f := range n.s.Cellar.Joined(fs) {
		v := app.Plan(f, n.s.Cellar, n.s.At)
		whose, several := "", ""
		if len(fs) > 1 {
			several = f.Label() + ": "
		}
		if len(fs) > 1 && f.Yeast != fs[0].Yeast || said[n.ends(v)] {
			whose = several
		}
		room := n.headspace(o, f, several)
		if ends := n.ends(v); ends != "" && !said[ends] {
			said[ends] = true
			if several == "" {
				ends = words.Join("; ", ends, room)
			}
			o.answer(whose + ends)
		}
		if several != "" && room != "" {
			o.say("", several+room)
		}
		n.figures(o, v, several)
		n.tolerance(o, v, whose)
	}
	for _, h := range b.honey {
		if says := n.s.SuggestedShare(h.Lot); says != "" && !fs[0].Must.Fermentable.Known() {
			o.answer(h.Lot + ": " + says + "; give it as fermentable to use it")
		}
	}
	if again, why := n.model.Again(); again != "" {
		o.say("", n.model.ID+", tasted: "+words.Join(", ", again, why))
	}
	if b.asModel {
		had, text := n.model.Must.Gravity, "as much honey by the litre as in "+n.model.ID
		if off := had.Value - b.gravity; had.Known() && math.Abs(float64(off)) >= 0.002 {
			text += ", which measured " + had.Text + ": read this one once it is mixed"
		}
		o.say("", text)
	}
	n.store(o, fs)
	n.bottles(o, fs)
	n.cautions(o, b, fs)
	if len(fs) > 1 {
		o.say(words.Note, "toss a coin for which vessel gets which, so that shape or place does not decide the result")
	}
}

// made says how much must there is, and at which gravity.
func (n newFerment) made(b batch, fs []ferment.Ferment) string {
	switch {
	case !b.volume.Known():
		return ""
	case b.gravity == 0 && b.measured.Known():
		return fmt.Sprintf("%s at %s, measured", measure.AsTyped(b.volume, n.units()), b.measured.Text)
	case b.gravity == 0:
		return ""
	}
	parts := ferment.Map(b.honey, func(h ferment.HoneyPart) string {
		return measure.AsTyped(h.Mass, n.units()) + " of " + cmp.Or(h.Lot, "honey")
	})
	if b.fruit.Name != "" {
		parts = append(parts, measure.AsTyped(b.fruit.Mass, n.units())+" of "+b.fruit.Name)
	}
	makes := fmt.Sprintf("%s and %s of water make %s at %s", strings.Join(parts, ", "), measure.AsTyped(b.water, n.units()), measure.AsTyped(b.volume, n.units()), n.scale(b.gravity))
	if len(fs) > 1 {
		vessels := ferment.Map(fs, func(f ferment.Ferment) string { return measure.AsTyped(f.Must.Volume, n.units()) + " " + f.Label() })
		makes += ": " + strings.Join(vessels, ", ")
	}
	return makes
}

// scale writes a gravity in the cellar's scale, with its unit.
func (n newFerment) scale(g measure.Gravity) string {
	text := words.Exact(g, n.s.Cellar.Settings)
	if n.s.Cellar.Settings.Scale == "brix" {
		return text + " °Bx"
	}
	return text
}

// ends says where the ferment should end, "" if the original gravity is not known.
func (n newFerment) ends(v app.Vessel) string {
	c := v.Course
	switch {
	case !c.Original.IsKnown():
		return ""
	case !c.Finish.IsKnown():
		return c.Finish.Unknown
	case c.AtTolerance:
		return fmt.Sprintf("it stops sweet near %s with about %s, the limit of its yeast", n.scale(c.Finish.Value), c.FinishAlcohol.Value)
	}
	return fmt.Sprintf("dry near %s with about %s", n.scale(c.Finish.Value), c.FinishAlcohol.Value)
}

// figures answer how much yeast and nutrient the plan needs; for further vessels below.
func (n newFerment) figures(o *Outcome, v app.Vessel, whose string) {
	if !v.Course.Original.IsKnown() {
		o.say(words.Warn, whose+v.Course.Original.Unknown)
		return
	}
	var parts []string
	if pitch, err := nutrient.PitchFor(v.Ferment.Must.Volume.Value, v.Course.Original.Value); err == nil {
		parts = append(parts, n.dose(v.Ferment.Yeast, pitch))
	}
	if wanted := v.Course.Nitrogen.Wanted; wanted.IsKnown() {
		parts = append(parts, fmt.Sprintf("nitrogen: %s to add%s", wanted.Value, n.doses(v)))
	}
	switch text := strings.Join(parts, "; "); {
	case text == "":
	case whose == "":
		o.answer(text)
	default:
		o.say("", whose+text)
	}
}

// dose says how much yeast the must needs: a starter of a culture, else dry yeast.
func (n newFerment) dose(y ferment.Yeast, p nutrient.Pitch) string {
	strong := ""
	if p.Strong() {
		strong = ", more than usual for a strong must"
	}
	if y.Kind != "" && y.Kind != ferment.Bought {
		return "starter: " + measure.Fill(fmt.Sprintf("{%.0f mL}", p.Starter.Millilitres()), n.units()) + ", fully grown" + strong
	}
	return fmt.Sprintf("yeast: %s g, dry%s", measure.Decimal(p.Dry.Grams(), 1), strong)
}

// doses says how much nutrient the plan needs in all.
func (n newFerment) doses(v app.Vessel) string {
	f := v.Ferment
	f.Log = append(f.Log[:len(f.Log):len(f.Log)], ferment.Entry{At: ferment.At(n.s.At), Did: ferment.Pitch})
	var names []string
	sums, times, gives := map[string]float64{}, map[string]int{}, measure.Content(0)
	for _, t := range app.Plan(f, n.s.Cellar, n.s.At).Day.Tasks {
		if a := t.Amount; t.Do == string(ferment.Nutrient) && a != nil && a.Known && !t.Option {
			if times[a.Of]++; times[a.Of] == 1 {
				names = append(names, a.Of)
			}
			sums[a.Of] += app.AsShown(a).Number
			gives += a.Reached - a.Before
		}
	}
	if len(names) == 0 {
		return ""
	}
	says := ": " + strings.Join(ferment.Map(names, func(name string) string {
		return fmt.Sprintf("%s of %s in %s", measure.Grams(sums[name]).In(n.units()), name, words.Plural(times[name], "dose"))
	}), ", ")
	if wanted := v.Course.Nitrogen.Wanted.Value; gives < 0.95*wanted {
		says += fmt.Sprintf(", which gives %s", gives)
	}
	return says
}

// tolerance warns if the must is too strong for its yeast, or within 1 % vol of it, where yeast slows down (common
// practice, no source).
func (n newFerment) tolerance(o *Outcome, v app.Vessel, whose string) {
	c, most := v.Course, v.Ferment.Yeast.Tolerance
	if too := c.BeyondYeast(); too != "" {
		o.say(words.Warn, whose+too)
		return
	}
	could, err := alcohol.FromGravities(c.Original.Value, c.DryFinish.Value)
	if err == nil && most.Known() && c.Finish.IsKnown() && could > most.Value-1 {
		o.sayf(words.Note, "%sthe sugar could make %s, close to the %s that the yeast is said to reach: it will be slow at the end and may stop", whose, could, most.Value)
	}
}

// What a must loses on the way to the bottle: a share for lees, and a fixed volume for samples and a racking (common
// practice, no source).
const (
	leesShare   = 1.0 / 12
	samplesTake = measure.Volume(0.2)
	rackTakes   = measure.Volume(0.15)
)

// bottles says how many bottles it will fill, by the cellar's own kinds.
func (n newFerment) bottles(o *Outcome, fs []ferment.Ferment) {
	var left measure.Volume
	for _, f := range fs {
		v := f.Must.Volume
		each, err := finishing.Expect(v.Value, v.Value*leesShare, samplesTake, rackTakes)
		if !v.Known() || err != nil {
			return
		}
		left += each
	}
	var parts []string
	sizes := slices.DeleteFunc(slices.Clone(n.s.Cellar.Settings.Bottles), func(b ferment.BottleKind) bool { return !b.Size.Known() })
	if len(sizes) == 0 { // the two most common sizes
		sizes = []ferment.BottleKind{{Size: made(measure.ParseVolume, "330 mL")}, {Size: made(measure.ParseVolume, "750 mL")}}
	}
	for _, size := range sizes {
		if fill, err := finishing.Fill(left, size.Size.Value); err == nil && fill.Count > 0 {
			parts = append(parts, strings.TrimSpace(fmt.Sprintf("%d × %s %s", fill.Count, measure.AsTyped(size.Size, n.units()), size.Kind)))
		}
	}
	if len(parts) > 0 {
		o.sayf("", "bottles wanted: %s, for %s once lees, samples and a racking are taken off", strings.Join(parts, ", or "), left.In(n.units()))
	}
	fizz := n.s.Cellar.Settings.Fizz
	if fs[0].EndsAs(ferment.BottleConditioned) &&
		!slices.ContainsFunc(shelf.Kinds(n.s.Cellar.Settings), func(b carbonation.Bottle) bool { return b.CheckFizz(fizz) == nil }) {
		o.sayf(words.Warn, "no bottle of cellar.yaml may be filled to %s: list a stronger one, or aim at less", fizz)
	}
}

// The share of a vessel above a must: at least that for foam, and at most that because of air (common practice, no
// source).
const (
	leastFree = 0.10
	mostFree  = 0.20
)

// headspace warns if there is too little room for foam; else it returns the room.
func (n newFerment) headspace(o *Outcome, f ferment.Ferment, whose string) string {
	v, brimful := f.Must.Volume, f.Vessel.Brimful
	if !v.Known() || !brimful.Known() || brimful.Value <= 0 {
		return ""
	}
	free := 1 - float64(v.Value/brimful.Value)
	most := brimful.Value * (1 - leastFree)
	switch {
	case free < leastFree-1e-9:
		jugs := math.Ceil(float64(v.Value/most) - 1e-9)
		says := fmt.Sprintf("only %.0f %% stays free; foam needs 10 to 20", free*100)
		if free < 0 {
			says = "it is too small"
		}
		o.sayf(words.Warn, "%s%s into %s: %s; %s at most, %s over, or %.0f such vessels of %s",
			whose, measure.AsTyped(v, n.units()), measure.AsTyped(brimful, n.units()), says, n.shown(most).Text, n.shown(v.Value-most).Text, jugs, n.shown(v.Value/measure.Volume(jugs)).Text)
	case free > mostFree+1e-9:
		o.sayf(words.Note, "%s%s into %s: %.0f %% stays free, 10 to 20 is enough; rack it into a smaller one once it has worked",
			whose, measure.AsTyped(v, n.units()), measure.AsTyped(brimful, n.units()), free*100)
	default:
		return fmt.Sprintf("%s (%.0f %%) of room for foam", n.shown(brimful.Value-v.Value).Text, free*100)
	}
	return ""
}

// store warns about lots that have less honey than is used.
func (n newFerment) store(o *Outcome, fs []ferment.Ferment) {
	for _, l := range n.s.Cellar.Lots {
		var wanted measure.Mass
		for _, f := range fs {
			for _, h := range f.Must.Honey {
				if h.Lot == l.ID {
					wanted += h.Mass.Value
				}
			}
		}
		if wanted > 0 {
			n.draws(o, l, wanted)
		}
	}
}

// cautions adds those about this honey, this vessel, this room: three fermenting vessels fill a small closed room with
// gas (common practice, no source).
func (n newFerment) cautions(o *Outcome, b batch, fs []ferment.Ferment) {
	used := slices.DeleteFunc(slices.Clone(n.s.Cellar.Lots), func(l ferment.Lot) bool {
		return !slices.ContainsFunc(fs, func(f ferment.Ferment) bool {
			return slices.ContainsFunc(f.Must.Honey, func(h ferment.HoneyPart) bool { return h.Lot == l.ID })
		})
	})
	working := len(fs)
	for _, v := range n.s.Vessels {
		if slices.Contains([]course.Stage{course.Lag, course.Working, course.Slowing}, v.Course.Stage) {
			working++
		}
	}
	if working >= 3 {
		o.sayf(words.Warn, "%d vessels will be working: %s", working, schedule.CautionOf("room-gas", n.units()).Text)
	}
	if len(b.honey) > 0 {
		o.say(words.Warn, schedule.CautionOf("glass", n.units()).Text)
	}
	said := map[string]bool{}
	for _, l := range used {
		for _, c := range schedule.LotCautions(n.account(l)) {
			switch {
			case c.Loud == schedule.Warn:
				o.sayf(words.Warn, "%s: %s", l.ID, c.Text)
			case !said[c.Text]:
				o.say(words.Note, c.Text)
			}
			said[c.Text] = true
		}
	}
	if len(used) == 0 && len(b.honey) > 0 {
		o.say(words.Note, schedule.CautionOf("infants", n.units()).Text)
	}
}
