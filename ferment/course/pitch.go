package course

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// startFall is the fall of gravity that shows a start (common practice, no source).
const startFall = 0.003

// assumePitch takes the first entry as the pitch if gravity fell and no pitch is recorded.
func (c *Course) assumePitch() {
	if c.Pitch.Known || !c.Original.IsKnown() || len(c.Entries) == 0 {
		return
	}
	if slices.ContainsFunc(c.Readings, func(r Reading) bool { return r.Trusted() && c.Original.Value-r.Gravity >= startFall-tiny }) {
		c.Pitch = Event{At: c.Entries[0].At.Time, Known: true, Assumed: true}
		c.Readings = append([]Reading{c.mustReading()}, c.Readings...)
	}
}

// started returns when fermentation started: recorded, or seen after the pitch, else at the first fall of 0.003, else
// assumed one day after the pitch, used only to place windows.
func (c *Course) started() Event {
	seen := func(e *ferment.Entry) bool {
		return e.Did == ferment.Started || c.Pitch.Known && e.At.Time.After(c.Pitch.At) && e.AnswersTo(ferment.Started)
	}
	if e, is := ferment.FirstWhere(c.Entries, seen); is {
		return Event{At: e.At.Time, Known: true}
	}
	if c.Original.IsKnown() {
		if at, ok := c.crossed(constant(c.Original.Value - startFall)); ok {
			return Event{At: at, Known: true}
		}
	}
	if c.Pitch.Known {
		return Event{At: c.Pitch.At.Add(24 * time.Hour), Known: true, Assumed: true}
	}
	return Event{}
}

// stabilised returns when the ferment was stabilised: sulphite and sorbate with amounts, both while it was steady, at
// most two days apart, and no yeast, and no other mead that is not stabilised, went in since.
func (c *Course) stabilised() (time.Time, bool) { return c.stabilisedUpTo(c.Now) }

func (c *Course) stabilisedBy(at time.Time) bool {
	_, ok := c.stabilisedUpTo(at)
	return ok
}

func (c *Course) stabilisedUpTo(at time.Time) (time.Time, bool) {
	var sulphite, sorbate, both time.Time
	for _, e := range c.Entries {
		if e.At.Time.After(at) {
			break
		}
		switch {
		case e.Did == ferment.Pitch, e.Did == ferment.Starter, c.Ferment.Pours(e) && !(e.Poured != nil && e.Poured.Stabilised):
			sulphite, sorbate, both = time.Time{}, time.Time{}, time.Time{}
		case e.Did != ferment.Sulphite && e.Did != ferment.Sorbate, !e.Amount.Known(), !c.rested(e.At.Time):
		case e.Did == ferment.Sulphite:
			sulphite = e.At.Time
		case e.Did == ferment.Sorbate:
			sorbate = e.At.Time
		}
		if both.IsZero() && !sulphite.IsZero() && !sorbate.IsZero() && sulphite.Sub(sorbate).Abs() <= 48*time.Hour {
			both = ferment.Later(sulphite, sorbate)
		}
	}
	return both, !both.IsZero()
}

// rested reports whether it had been steady by a time: also since what went in last, unless that was on the day before,
// when nothing works yet (common practice, no source).
func (c *Course) rested(at time.Time) bool {
	met := c.Steady.Met
	if met.IsZero() || at.Before(met) {
		return false
	}
	if !c.disturbedBy(at.AddDate(0, 0, -1)).After(met) {
		return true
	}
	before := at.Add(-1) // an earlier time, since what a steady time is asks for what was stabilised
	n := len(ferment.Where(c.Readings, func(r Reading) bool { return !r.At.After(before) }))
	return c.steadyAt(before, n, c.steadyDays(), c.Limits.SteadyTemperature).Open
}

// nitrogen returns the nitrogen wanted and given, and how many doses have an unknown amount.
func (c *Course) nitrogen() Nitrogen {
	n := Nitrogen{Wanted: c.wantedNitrogen()}
	volume := MustVolume(c.Ferment.Must)
	var given nutrient.Given
	for _, e := range c.Entries {
		if e.Did != ferment.Nutrient {
			continue
		}
		n.Doses++
		n.Last = e.At.Latest()
		mass, ok := e.Mass()
		more, err := given.With(mass, c.Nutrient(e.Of, c.Ferment.Nutrient.Kind), volume.Value)
		if !ok || !volume.IsKnown() || volume.Value <= 0 || err != nil {
			n.Guessed++
			continue
		}
		given = more
	}
	n.Given, n.Salt = given.Nitrogen, given.Ammonium
	return n
}

func (c *Course) wantedNitrogen() Figure[measure.Content] {
	must := nutrient.Must{
		Demand: nutrient.Demand(c.Ferment.Yeast.Demand),
		Own:    c.Ferment.Nutrient.Own,
		Target: c.Ferment.Nutrient.Target,
	}
	if c.Original.IsKnown() {
		b, err := gravity.ToBrix(c.Original.Value)
		if err != nil {
			return Unknown[measure.Content](err.Error())
		}
		must.Sugar = b
	} else if !must.Target.Known() {
		return Unknown[measure.Content](c.Original.Unknown)
	}
	need, err := nutrient.NeedOf(must)
	if err != nil {
		return Unknown[measure.Content](err.Error())
	}
	f := Known(need.Add)
	f.Assumed = strings.Join(need.Assumed, "; ")
	return f
}

// Nutrient returns the first nutrient that one of the names means: one of the settings, or a built-in one. For none it is
// ammonium phosphate.
func (c *Course) Nutrient(names ...string) nutrient.Nutrient {
	for _, name := range names {
		called := func(k ferment.NutrientKind) bool { return name != "" && strings.EqualFold(k.Name, name) }
		if k, has := ferment.FirstWhere(c.Settings.Nutrients, called); has {
			return NutrientOf(k)
		}
		switch {
		case strings.EqualFold(nutrient.AmmoniumPhosphate.Name, name):
			return nutrient.AmmoniumPhosphate
		case strings.EqualFold(nutrient.YeastDerived.Name, name), strings.Contains(name, "yeast"), strings.Contains(name, "organic"):
			return nutrient.YeastDerived
		}
	}
	return nutrient.AmmoniumPhosphate
}

// NutrientOf returns a nutrient of the settings, with the usual nitrogen of its kind where none is given.
func NutrientOf(k ferment.NutrientKind) nutrient.Nutrient {
	n := nutrient.AmmoniumPhosphate
	if k.Organic() {
		n = nutrient.YeastDerived
	}
	return nutrient.Nutrient{Name: k.Name, Kind: n.Kind, Nitrogen: k.Nitrogen.Or(n.Nitrogen)}
}
