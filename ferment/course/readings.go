package course

import (
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

// Standard errors of a reading, in gravity (common practice, no source): a good hydrometer, one in a sample with gas, a
// refractometer in a ferment.
const (
	hydrometerError    = 0.001
	undegassedError    = 0.002
	refractometerError = 0.003
)

// tiny is less than any reading can show, so that sums of decimals compare as written.
const tiny = 1e-9

// Trusted reports whether a reading may be used.
func (r Reading) Trusted() bool { return r.Doubt == "" && !r.Replaced }

// read returns the corrected readings, including that of the must at the pitch, and a start as 0.003 below it.
func (c *Course) read() []Reading {
	rs := make([]Reading, 0, len(c.Entries)+1)
	for _, e := range c.Entries {
		if e.Did == ferment.Pitch && e.At.Time.Equal(c.Pitch.At) && c.Original.IsKnown() {
			rs = append(rs, c.mustReading())
		}
		if e.Did.ApartFromCourse() {
			continue
		}
		if r, ok := c.reading(e); ok {
			rs = append(rs, r)
		} else if e.Did == ferment.Started && c.Original.IsKnown() {
			rs = append(rs, Reading{At: e.At.Time, Moment: e.At, Gravity: c.Original.Value - startFall,
				Typed: "started", Error: refractometerError, From: FromStart, Estimated: true, Line: e.Line})
		}
	}
	return rs
}

// ReadingOf returns the reading of an entry: corrected, and perhaps in doubt. It is not ok for an entry without a
// gravity of the vessel.
func (c *Course) ReadingOf(e *ferment.Entry) (Reading, bool) {
	if !e.HasDensity() || e.Did.ApartFromCourse() {
		return Reading{}, false
	}
	return ferment.LastWhere(c.Readings, func(r Reading) bool { return r.IsMeasured() && r.Line == e.Line && r.At.Equal(e.At.Time) })
}

// IsMeasured reports whether the reading was measured.
func (r Reading) IsMeasured() bool { return r.From != FromMust && r.From != FromStart }

// mustReading returns the original gravity as a reading at the pitch.
func (c *Course) mustReading() Reading {
	r := Reading{At: c.Pitch.At, Moment: ferment.At(c.Pitch.At), Gravity: c.Original.Value,
		Typed: c.Original.Value.Places(4), Error: hydrometerError, From: FromMust}
	if c.Original.Source == FromMasses {
		r.Typed, r.Estimated = "", true
	}
	return r
}

// reading returns the corrected reading of an entry, if it measured a density.
func (c *Course) reading(e *ferment.Entry) (Reading, bool) {
	r := Reading{At: e.At.Time, Moment: e.At, Sample: e.Sample, Line: e.Line, From: Hydrometer, Error: hydrometerError}
	if e.Undegassed {
		r.Error = undegassedError
	}
	switch e.Doubt {
	case ferment.Doubtful:
		r.Doubt = "marked doubtful"
	case ferment.Confirmed:
		r.confirmed = true
	}
	if e.Refractometer.Known() {
		return c.refracted(r, e)
	}
	typed, g, ok := density(e)
	if !ok {
		return r, false
	}
	r.Typed = typed
	var why string
	if r.Gravity, why = c.corrected(g, e); why != "" {
		r.Doubt, r.uncorrected = why, true
	}
	return r, true
}

func density(e *ferment.Entry) (typed string, g measure.Gravity, ok bool) {
	var err error
	switch {
	case e.Gravity.Known():
		return e.Gravity.Text, e.Gravity.Value, true
	case e.Brix.Known():
		typed = e.Brix.Text + " °Bx"
		g, err = gravity.FromBrix(e.Brix.Value)
	case e.Plato.Known():
		typed = e.Plato.Text + " °P"
		g, err = gravity.FromBrix(e.Plato.Value)
	case e.Oechsle.Known():
		typed = e.Oechsle.Text + " °Oe"
		g, err = gravity.FromOechsle(gravity.Oechsle(e.Oechsle.Value))
	default:
		return "", 0, false
	}
	return typed, g, err == nil
}

// corrected corrects a hydrometer's reading for the instrument's error and the sample's temperature; if that is
// impossible, the reading stays and why says so.
func (c *Course) corrected(typed measure.Gravity, e *ferment.Entry) (g measure.Gravity, why string) {
	h, u := hydrometerOf(c.Settings, e.With), c.Settings.Units
	g = typed - measure.Gravity(h.Error)
	at, out, err := e.Sample.Or(h.Calibrated), g, error(nil)
	switch {
	case at < 0 || at > 40:
		return g, fmt.Sprintf("the sample was at %s, outside %s: cool it and read again", at.In(u), measure.Fill("{0 to 40 °C}", u))
	case at == h.Calibrated:
		err = measure.InRange("gravity", g, gravity.Lowest, gravity.Highest, "")
	case c.Original.IsKnown() && c.Original.Value > 1.002 && typed <= c.Original.Value:
		out, err = alcohol.Corrected(h, typed, at, c.Original.Value)
	default:
		out, err = h.Correct(typed, at, 0)
	}
	if err != nil {
		return g, measure.ErrorIn(err, u)
	}
	return out, ""
}

// hydrometerOf returns the hydrometer of a name, else the cellar's first, else one for 20 °C.
func hydrometerOf(s ferment.Settings, name string) gravity.Hydrometer {
	h := gravity.Hydrometer{Calibrated: 20}
	i, ok := instrument(s, name, "hydrometer")
	if !ok {
		return h
	}
	h.Calibrated = i.Calibrated.Or(20)
	if i.Water.Known() {
		h.Error = float64(i.Water.Value) - 1
	}
	return h
}

// instrument returns the instrument of a name, else the first of its kind.
func instrument(s ferment.Settings, name, kind string) (ferment.Instrument, bool) {
	n := slices.IndexFunc(s.Instruments, func(i ferment.Instrument) bool { return i.Kind == kind && strings.EqualFold(i.Name, name) })
	if n < 0 {
		n = slices.IndexFunc(s.Instruments, func(i ferment.Instrument) bool { return i.Kind == kind })
	}
	if n < 0 {
		return ferment.Instrument{}, false
	}
	return s.Instruments[n], true
}

// refracted returns the gravity for a refractometer's reading, corrected for alcohol.
func (c *Course) refracted(r Reading, e *ferment.Entry) (Reading, bool) {
	r.Typed, r.From, r.Error = e.Refractometer.Text+" on the refractometer", Refractometer, refractometerError
	if !c.Original.IsKnown() {
		return r, false
	}
	reads := e.Refractometer.Value
	if i, ok := instrument(c.Settings, e.With, "refractometer"); ok && !i.Compensated && e.Sample.Known() {
		b, err := alcohol.Compensated(reads, e.Sample.Value)
		if err == nil {
			reads = b
		} else {
			r.uncorrected = true
			r.Doubt = fmt.Sprintf("the sample was at %s, outside %s: let it come to the room's and read again",
				e.Sample.Value.In(c.Settings.Units), measure.Fill("{5 to 30 °C}", c.Settings.Units))
		}
	}
	original, err := gravity.ToBrix(c.Original.Value)
	if err != nil {
		return r, false
	}
	if r.Gravity, err = alcohol.Refractometer(original, reads); err != nil {
		r.Doubt, r.uncorrected = measure.ErrorIn(err, c.Settings.Units), true
		r.Gravity, err = gravity.FromBrix(reads)
	}
	return r, err == nil
}

// When a reading is doubtful, and what confirms it: gravity only falls, so one that is higher than expected needs a
// second reading (common practice, no source).
const (
	doubtRise     = 0.003
	confirmWithin = 0.002
	confirmIn     = 48 * time.Hour
)

// trust marks the readings that may not be used. A confirmed rise replaces the older readings below it: the honey had
// not dissolved.
func (c *Course) trust(rs []Reading) []Reading {
	// Each reading is compared with the last trusted one, carried through additions since. One that is too high waits
	// as doubted; if the next agrees with it, both are trusted and lower ones before them are replaced. A person's
	// question mark is a doubt that only a second reading removes.
	last, doubted := -1, -1
	for i := range rs {
		r := &rs[i]
		if r.From == FromStart {
			continue // it only limits the lag
		}
		seconded := doubted > last && r.Doubt == "" && !rs[doubted].uncorrected &&
			math.Abs(float64(r.Gravity-rs[doubted].Gravity)) <= confirmWithin+tiny && r.At.Sub(rs[doubted].At) <= confirmIn
		rise, high := 0.0, false
		if last >= 0 {
			rise, high = c.higher(rs[last], *r)
		}
		if high && !seconded && doubted > last && r.Doubt == "" && strings.HasPrefix(rs[doubted].Doubt, rose) {
			seconded = onALine(rs[doubted], *r)
		}
		switch {
		case r.Doubt != "":
			doubted = i
			continue
		case seconded:
			rs[doubted].Doubt = ""
		case high && !r.confirmed:
			r.Doubt = fmt.Sprintf(rose+"%.4f", rise)
			doubted = i
			continue
		}
		if high {
			c.replaceUnder(rs[:i], *r)
		}
		last = i
	}
	return rs
}

// replaceUnder marks earlier readings below a confirmed rise, back to the last addition.
func (c *Course) replaceUnder(before []Reading, r Reading) {
	for j := len(before) - 1; j >= 0; j-- {
		b := &before[j]
		if c.mixedBetween(b.At, r.At) {
			return
		}
		b.Replaced = b.Replaced || b.Doubt == "" && b.Gravity < r.Gravity-confirmWithin-tiny
	}
}

// rose begins the doubt about a reading that is too high.
const rose = "rose by "

// steepest is the fastest fermentation of a jug, in gravity a day (common practice, no source).
const steepest = 0.030

// onALine reports whether two readings that are too high continue like a ferment: the second is lower by a possible
// fall. Then the reading before both was the slip.
func onALine(first, second Reading) bool {
	fall, days := float64(first.Gravity-second.Gravity), second.At.Sub(first.At).Hours()/24
	return days <= 4 && fall >= -confirmWithin-tiny && fall <= steepest*math.Max(days, 1.0/24)+tiny
}

// higher reports whether a reading is above the expected one after the reading before, and by how much; after an
// unknown amount nothing is expected.
func (c *Course) higher(before, r Reading) (rise float64, high bool) {
	expected, ok := c.carried(before, r.At)
	if !ok {
		return 0, false
	}
	rise = float64(r.Gravity) - float64(expected)
	limit := math.Max(doubtRise, 2*math.Hypot(before.Error, r.Error))
	return rise, rise > limit+tiny
}

// carried returns a reading carried through additions since; not ok after an unknown amount.
func (c *Course) carried(r Reading, to time.Time) (measure.Gravity, bool) {
	g := r.Gravity
	for _, m := range c.mixed {
		if m.at.Before(r.At) || m.at.After(to) {
			continue
		}
		if !m.known {
			return 0, false
		}
		var err error
		now := honey.Mead{Volume: m.before, Gravity: g}
		if now, err = honey.Blend(now, m.in); err != nil {
			return 0, false
		}
		g = now.Gravity
	}
	return g, true
}
