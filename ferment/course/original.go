package course

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// original is the gravity before anything was fermented: measured, in the must's
// own line or as a reading before the pitch, else from the masses, else the
// first reading if it is within a day of the pitch.
func (c Course) original() Original {
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
		o.Figure = Unknown[measure.Gravity]("the original gravity is unknown: give must.gravity or the honey")
	}
	return o
}

// masses are the mass of a must and of the solids in it.
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

// gravityOfMasses is the gravity that honey and water come to: by the volume
// of the must, else by the water that the honey went into.
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
	f.Assumed = assumedOfHoney(m)
	return f
}

func assumedOfHoney(m ferment.Must) string {
	for _, h := range m.Honey {
		if !h.Water.Known() {
			return "honey with 17.2 % water"
		}
	}
	return ""
}

// firstReading is the first reading of all, if the pitch is no more than a day
// before it.
func (c Course) firstReading() Figure[measure.Gravity] {
	for _, e := range c.Entries {
		if e.Did.ApartFromCourse() || e.Doubt == ferment.Doubtful {
			continue
		}
		_, g, ok := density(e)
		if !ok && e.Refractometer.Known() && c.Pitch.Known && !e.At.Time.After(c.Pitch.At) {
			if sg, err := gravity.FromBrix(e.Refractometer.Value); err == nil {
				g, ok = sg, true
			}
		}
		if !ok {
			continue
		}
		if c.Pitch.Known && e.At.Earliest().Sub(c.Pitch.At) > 24*time.Hour {
			return Unknown[measure.Gravity]("the first reading is more than a day after the pitch")
		}
		f := Known(c.corrected(g, e))
		f.Assumed = "the first reading stands for the original"
		return f
	}
	return Unknown[measure.Gravity]("there is no reading")
}

// mustRead is the last reading of the must before the yeast went in, corrected.
func (c Course) mustRead() (g measure.Gravity, ok bool) {
	if !c.Pitch.Known || c.Pitch.Assumed {
		return 0, false
	}
	for _, e := range c.Entries {
		if e.Did.ApartFromCourse() || e.Doubt == ferment.Doubtful || e.At.DayOnly || !e.At.Time.Before(c.Pitch.At) {
			continue
		}
		if _, read, is := density(e); is && c.outOfRange(e) == "" {
			g, ok = c.corrected(read, e), true
		} else if e.Refractometer.Known() {
			if read, err := gravity.FromBrix(e.Refractometer.Value); err == nil {
				g, ok = read, true
			}
		}
	}
	return g, ok
}

// effective is the original as if everything fed before the gravity was steady
// had been in it from the start.
func (c Course) effective() Figure[measure.Gravity] { return c.effectiveAt(c.Now) }

func (c Course) effectiveAt(at time.Time) Figure[measure.Gravity] {
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

// guessed is how much of the strength hangs on fruit whose sugar was guessed, and
// by what: a doubt of its sugar, at 16.8 g/L for 1 % vol (Balling's yield), in all
// that is in the vessel. The doubts of several fruit add up.
func (c Course) guessed() (doubt measure.Strength, by string) {
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
