package course

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// finishes calculates the expected finish; none for an unproved culture.
func (c *Course) finishes() {
	unknown := func(why string) {
		c.Finish, c.FinishAlcohol = Unknown[measure.Gravity](why), Unknown[measure.Strength](why)
	}
	defer func() { c.foreseen = c.Finish }()
	if !c.Effective.IsKnown() {
		unknown(c.Effective.Unknown)
		c.DryFinish = c.Finish
		return
	}
	tolerance, told := c.tolerance()
	end, err := alcohol.FinishOf(c.Effective.Value, measure.Give(max(1, tolerance-c.brought), tolerance.String()), c.fermentable())
	if err != nil {
		unknown(err.Error())
		c.DryFinish = c.Finish
		return
	}
	c.DryFinish = Known(end.Dry)
	if c.unproved() {
		unknown("a wild culture: nobody knows how dry it gets")
		return
	}
	c.Finish, c.FinishAlcohol, c.AtTolerance = Known(end.Gravity), Known(end.Alcohol+c.brought), end.AtTolerance
	switch {
	case !end.AtTolerance:
		c.Finish.Assumed = fmt.Sprintf("%.0f %% of the solids ferment", float64(c.fermentable()))
	case told:
		c.Finish.Assumed = "the yeast stops at its tolerance, " + tolerance.String()
	default:
		c.Finish.Assumed = fmt.Sprintf("its yeast has no tolerance given: %.0f ± 2 %% vol is assumed", float64(tolerance))
	}
}

// tolerance returns the yeast's tolerance, else the usual one, and whether it was given.
func (c *Course) tolerance() (tolerance measure.Strength, told bool) {
	t := c.Ferment.Yeast.Tolerance
	return t.Or(alcohol.UsualTolerance), t.Known()
}

// BeyondYeast says if the must is over alcohol.StrongMust, or has more sugar than its yeast tolerates; "" if neither.
func (c *Course) BeyondYeast() string {
	if !c.Effective.IsKnown() || !c.DryFinish.IsKnown() {
		return ""
	}
	var says []string
	if c.Effective.Value.Rounded(4) > alcohol.StrongMust+tiny {
		says = append(says, "over 1.130 many yeasts stop early or never start well: begin lower and feed honey as it falls")
	}
	tolerance, told := c.tolerance()
	if could, err := alcohol.FromGravities(c.Effective.Value, c.DryFinish.Value); err == nil && !c.unproved() && could+c.brought > tolerance+nearTolerance {
		by := tolerance.String()
		if !told {
			by += " (assumed)"
		}
		says = append(says, fmt.Sprintf("the sugar could make %s, and the yeast is said to reach %s: it will end sweet. For a dry mead use less honey or a stronger yeast", could+c.brought, by))
	}
	return strings.Join(says, "; ")
}

func (c *Course) fermentable() measure.Share {
	return c.Ferment.Must.Fermentable.Or(c.Limits.Fermentable)
}

// proveFinish makes the result of a passed forced test the finish.
func (c *Course) proveFinish() {
	if !c.Test.Passed {
		return
	}
	c.Finish, c.AtTolerance = Known(min(c.Gravity.Value.Gravity, c.Test.Result.Gravity)), false
	c.Finish.Assumed = "a forced test ended here"
	if c.Effective.IsKnown() {
		if a, err := alcohol.FromGravities(c.Effective.Value, c.Finish.Value); err == nil {
			c.FinishAlcohol = Known(a + c.brought)
		}
	}
}

// acceptedAfter is the days of rest after which a person may accept a finish without a test (common practice, no
// source).
const acceptedAfter = 90

// acceptFinish makes the gravity the finish if a person accepted it after a forced test or ninety days of rest, until
// something is added or it falls.
func (c *Course) acceptFinish() {
	e, ok := c.Last(ferment.Accept)
	if !ok || !c.Gravity.IsKnown() || c.disturbedBy(c.Now).After(e.At.Time) || !c.MayAccept(e.At.Time) {
		return
	}
	at, _ := ferment.LastWhere(c.Readings, func(r Reading) bool { return r.Trusted() && r.From != FromStart && !r.At.After(e.At.Time) })
	if at.Gravity-c.Gravity.Value.Gravity >= moves-tiny {
		return
	}
	c.Accepted = e.At.Time
	if !c.Test.Passed {
		c.Finish, c.AtTolerance = Known(c.Gravity.Value.Gravity), false
		c.Finish.Assumed = "accepted on " + c.day(e.At.Time)
		c.FinishAlcohol = c.Alcohol
	}
}

// MayAccept reports whether a finish may be accepted at a time: a forced test had passed, or it had rested for ninety
// days.
func (c *Course) MayAccept(at time.Time) bool {
	if c.Test.Passed && !c.Test.Result.At.After(at) {
		return true
	}
	n := 0
	for n < len(c.Readings) && !c.Readings[n].At.After(at) {
		n++
	}
	l := c.level(n, at, longestRun)
	if l.n < steadyReadings || c.span(l) < acceptedAfter {
		return false
	}
	fall, err := l.fall()
	return fall+sureAt*err <= c.steadyFall(at)
}

// unproved reports whether the yeast's tolerance is not known.
func (c *Course) unproved() bool { return c.Ferment.Yeast.IsWild() }

// latest takes over the latest gravity, temperature and pH.
func (c *Course) latest() {
	c.Gravity = Unknown[Reading]("no reading yet")
	if r, read := ferment.LastWhere(c.Readings, func(r Reading) bool { return r.Trusted() && r.From != FromStart }); read {
		c.Gravity = Known(r)
	}
	c.Temperature = Unknown[measure.Span[measure.Temperature]]("no temperature recorded")
	c.PH = Unknown[measure.PH]("no pH recorded")
	for _, e := range c.Entries {
		if e.Did.ApartFromCourse() {
			continue
		}
		if e.Temperature.Known() {
			c.Temperature, c.TemperatureAt = Known(e.Temperature.Value), e.At.Time
		}
		if e.PH.Known() {
			c.PH, c.PHAt = Known(e.PH.Value), e.At.Time
		}
	}
	if !c.PH.IsKnown() && c.Ferment.Must.PH.Known() {
		c.PH, c.PHAt = Known(c.Ferment.Must.PH.Value), c.Pitch.At
	}
}

// strength works out alcohol, sugar and gravity of now from the latest reading and what went in since.
func (c *Course) strength() {
	c.Alcohol, c.SugarGone = Unknown[measure.Strength]("no reading yet"), Unknown[Gone]("no reading yet")
	if c.Present = Unknown[measure.Gravity]("no reading yet"); !c.Gravity.IsKnown() {
		return
	}
	now, err := c.mixedSince(c.Gravity.Value, c.Now)
	c.Present = Known(now.Gravity)
	if !c.Effective.IsKnown() {
		c.Alcohol, c.SugarGone = Unknown[measure.Strength](c.Effective.Unknown), Unknown[Gone](c.Effective.Unknown)
		return
	}
	if err != nil {
		c.Alcohol = Unknown[measure.Strength](err.Error())
	} else {
		c.Alcohol = Known(now.Alcohol)
		if c.empty() {
			c.Alcohol.Value += c.primed
		}
		if doubt, by := c.guessed(); by != "" {
			c.Alcohol.Assumed = fmt.Sprintf("%s: ±%s", by, doubt)
		}
	}
	c.SugarGone = c.gone()
}

// gone is the share of the fall that is done: to the end of a passed forced test, else to the dry finish, which may be
// lower by alcohol.DrySpread.
func (c *Course) gone() Figure[Gone] {
	end := c.DryFinish
	if c.Test.Passed {
		end = c.Finish
	}
	if !end.IsKnown() || end.Value >= c.Effective.Value {
		return Unknown[Gone]("where it ends is unknown")
	}
	whole, fell := float64(c.Effective.Value-end.Value), float64(c.Effective.Value-c.Present.Value)
	least := max(whole, fell) / (whole + alcohol.DrySpread)
	if fell/whole > least && !c.Test.Passed {
		return Known(Gone{min(1, least), least < 0.995})
	}
	return Known(Gone{Share: max(0, min(1, fell/whole))})
}

// SugarLeft returns how far the mead was over its dry finish at a time, by the reading before it and what went in
// since; not ok within its spread, and for one that was stabilised, tested or accepted.
func (c *Course) SugarLeft(at time.Time) (over measure.Gravity, is bool) {
	r, read := ferment.LastWhere(c.Readings, func(r Reading) bool { return r.Trusted() && r.IsMeasured() && !r.At.After(at) })
	if !read || !c.DryFinish.IsKnown() {
		return 0, false
	}
	then, _ := c.mixedSince(r, at)
	over = then.Gravity - c.DryFinish.Value
	return over, over > alcohol.DrySpread && !c.Test.Passed && c.Accepted.IsZero() && !c.stabilisedBy(at)
}

// mixedSince returns a reading mixed with the additions from then to a time, by mass and volume.
func (c *Course) mixedSince(r Reading, to time.Time) (honey.Mead, error) {
	var since []mixing
	if i := slices.IndexFunc(c.mixed, func(m mixing) bool { return m.at.After(r.At) }); i >= 0 {
		since = c.mixed[i:]
	}
	brought := c.brought
	if len(since) > 0 {
		brought = since[0].brought // alcohol from outside, before the first of them
	}
	a, err := alcohol.FromGravities(c.effectiveAt(r.At).Value, r.Gravity)
	now := honey.Mead{Gravity: r.Gravity, Alcohol: a + brought}
	for _, m := range since {
		if m.known && m.in.Volume > 0 && !m.at.After(to) {
			now.Volume = m.before
			mixed, wrong := honey.Blend(now, m.in)
			if err = cmp.Or(err, wrong); wrong == nil {
				now = mixed
			}
		}
	}
	return now, err
}

// Reaches returns when the gravity should reach g: by a forecast with a date, else by the pace of the latest readings,
// not before them, only between start and finish, and within three weeks. Its uncertainty is a quarter of the time, at
// least four hours (common practice, no source).
func (c *Course) Reaches(g measure.Gravity) (Expected, bool) {
	if !c.Gravity.IsKnown() || !c.Pace.IsKnown() || c.Started.Assumed || !c.Started.Known || c.Stage == Bottled {
		return Expected{}, false
	}
	now := c.Gravity.Value
	if now.Gravity <= g || c.Pace.Value < slowest || c.Finish.IsKnown() && g < c.Finish.Value {
		return Expected{}, false
	}
	if c.Ahead != nil {
		if e, ok := c.Ahead(g); ok {
			return e, true
		}
	}
	days := float64(now.Gravity-g) * 1000 / c.Pace.Value
	if days > 21 {
		return Expected{}, false
	}
	way := time.Duration(days * 24 * float64(time.Hour))
	return Expected{At: now.At.Add(way).Round(time.Minute), Within: max(4*time.Hour, (way / 4).Round(time.Hour))}, true
}

// slowest is the least pace, in points a day, from which a time is calculated.
const slowest = 0.3

// Break returns the gravity at which a share of the expected fall is done, including honey fed since. For an unproved
// culture the fall is that to the dry finish.
func (c *Course) Break(fraction float64) Figure[measure.Gravity] {
	return c.breakAt(fraction, c.Now)
}

// breakAt returns the gravity of a break as it was counted at a time: sugar that went in later changes it.
func (c *Course) breakAt(fraction float64, at time.Time) Figure[measure.Gravity] {
	original, finish := c.Effective, c.foreseen
	if c.unproved() {
		finish = c.DryFinish
	}
	if len(c.mixed) > 0 && at.Before(c.Now) {
		past := *c
		past.Effective = c.effectiveAt(at)
		past.finishes()
		original, finish = past.Effective, past.foreseen
		if c.unproved() {
			finish = past.DryFinish
		}
	}
	switch {
	case !original.IsKnown():
		return Unknown[measure.Gravity](original.Unknown)
	case !finish.IsKnown():
		return Unknown[measure.Gravity](finish.Unknown)
	}
	g, err := gravity.Break(original.Value, finish.Value, fraction)
	if err != nil {
		return Unknown[measure.Gravity](err.Error())
	}
	f := Known(g)
	if c.unproved() {
		f.Assumed = "counted to the dry finish: the culture is not tested in a must"
	}
	return f
}

// target is a gravity that may change with time.
type target func(at time.Time) (measure.Gravity, bool)

func constant(g measure.Gravity) target {
	return func(time.Time) (measure.Gravity, bool) { return g, true }
}

// crossed returns when trusted readings first came down to a target, interpolated, to four decimals.
func (c *Course) crossed(to target) (time.Time, bool) {
	var before *Reading
	for i := range c.Readings {
		r := &c.Readings[i]
		if !r.Trusted() {
			continue
		}
		g, ok := to(r.At)
		if !ok || r.Gravity.Rounded(4) > g.Rounded(4)+tiny {
			before = r
			continue
		}
		if before == nil || before.Gravity <= g {
			return r.At, true
		}
		share := float64((before.Gravity - g) / (before.Gravity - r.Gravity))
		return before.At.Add(time.Duration(min(1, share) * float64(r.At.Sub(before.At)))).Truncate(time.Second), true
	}
	return time.Time{}, false
}

// original returns the gravity before fermentation: measured, else by the masses, else the first reading within a day
// of the pitch.
func (c *Course) original() Original {
	o := Original{Masses: gravityOfMasses(c.Ferment.Must), First: c.firstReading()}
	read, wasRead := c.mustRead()
	switch m := c.Ferment.Must.Gravity; {
	case m.Known():
		o.Figure, o.Source = Known(m.Value), Measured
	case wasRead:
		o.Figure, o.Source = Known(read), Measured
	case o.Masses.IsKnown():
		o.Figure, o.Source = o.Masses, FromMasses
	case o.First.IsKnown():
		o.Figure, o.Source = o.First, FirstReading
	default:
		o.Figure = Unknown[measure.Gravity]("the original gravity is unknown: write the must's gravity or its honey into the file")
	}
	return o
}

// masses returns the mass of all honey and of its solids; not ok if one was not weighed.
func masses(m ferment.Must) (total, solids measure.Mass, ok bool) {
	for _, h := range m.Honey {
		if !h.Mass.Known() {
			return 0, 0, false
		}
		total += h.Mass.Value
		solids += honey.Solids(h.Mass.Value, h.Water.Or(honey.Typical))
	}
	for _, f := range m.Fruit {
		if !f.Mass.Known() {
			return 0, 0, false
		}
		kind, _ := ferment.FruitOf(f.Name)
		kind = kind.With(f.Sugar, f.Water)
		total += f.Mass.Value * measure.Mass(float64(kind.Sugar+kind.Water)/100)
		solids += f.Mass.Value * measure.Mass(float64(kind.Sugar)/100)
	}
	if m.Water.Known() {
		total += measure.Mass(float64(m.Water.Value) * 0.9982)
	}
	return total, solids, len(m.Honey) > 0 && solids > 0
}

// gravityOfMasses returns the gravity of honey and water, by the must's volume, else by the water.
func gravityOfMasses(m ferment.Must) Figure[measure.Gravity] {
	total, solids, ok := masses(m)
	var g measure.Gravity
	var err error
	switch {
	case !ok:
		return Unknown[measure.Gravity]("the mass of the honey is unknown")
	case m.Volume.Known() && m.Volume.Value > 0:
		g, err = gravity.FromSolids(measure.Content(solids.Grams() / float64(m.Volume.Value)))
	case m.Water.Known():
		g, err = gravity.FromBrix(measure.Brix(100 * float64(solids/total)))
	default:
		return Unknown[measure.Gravity]("neither the volume of the must nor its water is given")
	}
	if err != nil {
		return Unknown[measure.Gravity](err.Error())
	}
	f := Known(g)
	if slices.ContainsFunc(m.Honey, func(h ferment.HoneyPart) bool { return !h.Water.Known() }) {
		f.Assumed = "honey with 17.2 % water"
	}
	return f
}

// firstReading returns the very first reading, if the pitch is at most a day before it.
func (c *Course) firstReading() Figure[measure.Gravity] {
	for _, e := range c.Entries {
		if e.Did.ApartFromCourse() || e.Doubt == ferment.Doubtful {
			continue
		}
		g, ok := c.unfermented(e)
		if !ok || e.Refractometer.Known() && (!c.Pitch.Known || e.At.Time.After(c.Pitch.At)) {
			continue
		}
		if c.Pitch.Known && e.At.Earliest().Sub(c.Pitch.At) > 24*time.Hour {
			return Unknown[measure.Gravity]("the first reading is more than a day after the pitch")
		}
		f := Known(g)
		f.Assumed = "the first reading is taken as the original"
		return f
	}
	return Unknown[measure.Gravity]("there is no reading")
}

// likeTheMust is by how much a must may differ from the gravity of its honey (common practice, no source): unmeasured
// water in honey makes some points.
const likeTheMust measure.Gravity = 0.010

// mustRead returns the last corrected reading of the must before the pitch. Without a recorded pitch it is one within a
// day of the mixing, or of the first entry if near the gravity of the honey.
func (c *Course) mustRead() (g measure.Gravity, ok bool) {
	yeast, like := c.Pitch.At, false
	if mix, mixed := c.First(ferment.Mix); !c.Pitch.Known || c.Pitch.Assumed {
		switch {
		case mixed:
			yeast = mix.At.Time.Add(24 * time.Hour)
		case len(c.Entries) > 0:
			yeast, like = c.Entries[0].At.Time.Add(24*time.Hour), true
		}
	}
	for _, e := range c.Entries {
		if e.Did.ApartFromCourse() || e.Doubt == ferment.Doubtful || e.At.DayOnly || !e.At.Time.Before(yeast) {
			continue
		}
		if read, is := c.unfermented(e); is {
			g, ok = read, true
		}
	}
	if honey := gravityOfMasses(c.Ferment.Must); like && ok {
		ok = honey.IsKnown() && math.Abs(float64(g-honey.Value)) <= float64(likeTheMust)
	}
	return g, ok
}

// unfermented returns the corrected gravity of an entry for a must without alcohol, in which a refractometer's Brix is
// the sugar.
func (c *Course) unfermented(e *ferment.Entry) (measure.Gravity, bool) {
	if _, g, ok := density(e); ok {
		g, why := c.corrected(g, e)
		return g, why == ""
	}
	if !e.Refractometer.Known() {
		return 0, false
	}
	g, err := gravity.FromBrix(e.Refractometer.Value)
	return g, err == nil
}

// effectiveAt returns the original as if everything fed until then had been there from the start.
func (c *Course) effectiveAt(at time.Time) Figure[measure.Gravity] {
	if !c.Original.IsKnown() {
		return c.Original.Figure
	}
	f := c.Original.Figure
	for _, m := range c.mixed {
		if m.at.After(at) {
			break
		}
		if !m.known {
			return Unknown[measure.Gravity]("how much " + string(m.act) + " went in is unknown")
		}
		g, err := alcohol.Effective(f.Value, m.before, m.solids, m.after)
		if err != nil {
			return Unknown[measure.Gravity](err.Error())
		}
		f.Value = g
		if m.guess != "" {
			f.Assumed = strings.TrimPrefix(f.Assumed+"; "+m.guess, "; ")
		}
	}
	return f
}

// guessed returns the uncertainty of the strength from fruit whose sugar was guessed, and the reason: that of its
// sugar, at 16.8 g/L for 1 % vol (Balling's yield), in the volume of the vessel. Uncertainties of several fruit add up.
func (c *Course) guessed() (doubt measure.Strength, by string) {
	var all []string
	for _, m := range c.mixed {
		if m.guess != "" && m.known && m.after > 0 {
			doubt += measure.Strength(m.doubt.Grams() / float64(m.after) / sugarForStrength)
			all = append(all, m.guess)
		}
	}
	return doubt, strings.Join(all, "; ")
}

const sugarForStrength = 16.8 // g/L of sugar for 1 % vol
