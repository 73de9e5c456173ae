package course

import (
	"cmp"
	"fmt"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// mixing is an addition that changed the gravity: solids, and the volume before and after.
type mixing struct {
	at            time.Time
	act           ferment.Act
	before, after measure.Volume
	solids        measure.Mass
	in            honey.Mead       // what was added, to be mixed by mass and volume
	brought       measure.Strength // alcohol from starters and other meads before it
	known         bool             // everything about it is known
	doubt         measure.Mass     // uncertainty of the solids, if they are guessed
	guess         string           // what was guessed: "500 g bramble with 5 % sugar, ±2 %"
}

// keepLedger adds up volume and additions along the log. An unknown amount makes the volume unknown until it is
// measured again.
func (c *Course) keepLedger() {
	// Additions are counted before removals, since an entry may have both; a measured volume comes last and replaces
	// the sum.
	c.Volume = MustVolume(c.Ferment.Must)
	for _, e := range c.Entries {
		c.mixIn(e)
		c.drawOff(e)
		if e.Volume.Known() && !e.Did.ApartFromCourse() {
			c.Volume = Known(e.Volume.Value)
		}
		if e.Left.Known() {
			c.Volume = Known(e.Left.Value)
		}
	}
}

// MustVolume returns the volume of a must at the start: as given, else that of honey and water.
func MustVolume(m ferment.Must) Figure[measure.Volume] {
	if m.Volume.Known() {
		return Known(m.Volume.Value)
	}
	total, solids, ok := masses(m)
	if !ok || !m.Water.Known() {
		return Unknown[measure.Volume]("no volume of the must is given: write it into the file, or an entry with volume")
	}
	g, err := gravity.FromBrix(measure.Brix(100 * float64(solids/total)))
	if err != nil {
		return Unknown[measure.Volume](err.Error())
	}
	density, err := gravity.DensityOf(g)
	if err != nil {
		return Unknown[measure.Volume](err.Error())
	}
	v := Known(measure.Volume(float64(total) / float64(density) * 1000))
	v.Assumed = "worked out from honey and water"
	return v
}

// move changes the volume, and notes the movement in the ledger.
func (c *Course) move(e *ferment.Entry, v measure.Volume, known bool, what string) {
	c.Ledger = append(c.Ledger, Movement{At: e.At.Time, Volume: v, Known: known, What: what})
	switch {
	case !known:
		c.Volume = Unknown[measure.Volume]("how much " + what + " is unknown: measure the volume in the vessel")
	case c.Volume.IsKnown():
		before := c.Volume.Value
		c.Volume.Value = max(0, before+v)
		if v > 0 {
			c.bring(e, before, v)
		}
	}
}

// bring thins brought-in alcohol, and adds what comes with the volume that goes in: of a mead with a record what that
// had taken in, for the rest is counted with its must.
func (c *Course) bring(e *ferment.Entry, before, in measure.Volume) {
	comes := e.Alcohol.Value
	if c.Ferment.IsOwnMead(e) {
		return
	} else if e.Poured != nil {
		comes = e.Poured.Brought
	}
	c.brought = (c.brought*measure.Strength(before) + comes*measure.Strength(in)) / measure.Strength(before+in)
}

// mixIn adds what an entry put into the vessel.
func (c *Course) mixIn(e *ferment.Entry) {
	volume, isVolume := e.Amount.Volume()
	mass, isMass := e.Amount.Mass()
	switch e.Did {
	case ferment.Honey:
		water := e.Water.Or(honey.Typical)
		in, err := honey.Dissolved(mass, water)
		c.mix(e, honey.Solids(mass, water), in, err == nil && isMass && !e.Amount.Unknown, "honey")
	case ferment.Water:
		c.mix(e, 0, honey.Mead{Volume: volume, Gravity: 1}, isVolume && !e.Amount.Unknown, "water")
	case ferment.TopUp, ferment.Blend:
		if e.Poured != nil && !e.Amount.Given() {
			volume, isVolume = e.Poured.Volume, e.Poured.Volume > 0
		}
		c.pourIn(e, volume, isVolume && !e.Amount.Unknown)
	case ferment.FruitIn:
		c.fruitIn(e, mass, isMass && !e.Amount.Unknown)
	case ferment.Passage, ferment.Prove: // a passage has a medium of its own
		c.mixed = append(c.mixed, mixing{at: e.At.Time, act: e.Did})
	case ferment.Prime:
		if e.Medium.Known() {
			c.mix(e, 0, honey.Mead{Volume: e.Medium.Value, Gravity: 1}, true, "water of the syrup")
		}
		if sugar, known := e.Mass(); known && c.Volume.IsKnown() && c.Volume.Value > 0 {
			c.prime(cmp.Or(carbonation.Sugar(e.Of), carbonation.Honey), e.Water, sugar, c.Volume.Value)
		}
	case ferment.Pitch, ferment.Starter:
		if isVolume && !e.Stock.Known() && !(e.Did == ferment.Starter && c.pitchedByVolume()) {
			c.move(e, volume, true, "starter")
		}
	}
}

// prime adds the alcohol of sugar that ferments in the bottles.
func (c *Course) prime(of carbonation.Sugar, water measure.Given[measure.Share], sugar measure.Mass, volume measure.Volume) {
	if yield, err := carbonation.PrimingYield(of, water.Or(honey.Typical)); err == nil {
		c.primed = carbonation.StrengthWith(measure.Content(yield * sugar.Grams() / float64(volume)))
	}
}

// InBottles returns the strength of bottles filled with sugar, once it has fermented; that of the vessel if no sugar is
// recorded.
func (c *Course) InBottles() Figure[measure.Strength] {
	s := c.Alcohol
	if s.IsKnown() && !c.empty() {
		s.Value += c.primed
	}
	return s
}

// pitchedByVolume reports whether the pitch has a volume, so that its starter is not counted twice.
func (c *Course) pitchedByVolume() bool {
	e, ok := c.First(ferment.Pitch)
	if !ok {
		return false
	}
	_, is := e.Amount.Volume()
	return is && !e.Stock.Known()
}

// fruitIn adds the juice of fruit: its sugar and water, by the table of common fruit if they were not given. Pulp is
// not counted.
func (c *Course) fruitIn(e *ferment.Entry, mass measure.Mass, known bool) {
	f, _ := ferment.FruitOf(e.Of)
	f = f.With(e.Sugar, e.Water)
	juice := measure.Mass(float64(mass) * float64(f.Sugar+f.Water) / 100)
	sugar := measure.Mass(float64(mass) * float64(f.Sugar) / 100)
	takes := honey.Juice(sugar, juice-sugar)
	in := honey.Mead{Volume: takes, Gravity: measure.Gravity(float64(juice) / float64(takes) / 0.9982)}
	c.mix(e, sugar, in, known, cmp.Or(e.Of, "fruit"))
	m := &c.mixed[len(c.mixed)-1]
	m.doubt = measure.Mass(float64(mass) * float64(f.Spread) / 100)
	m.guess = fmt.Sprintf("%s of %s with %s sugar, ±%s", e.Amount.Text, cmp.Or(e.Of, "fruit"), f.Sugar, f.Spread)
}

// pourIn takes account of water or another mead. One with a record is mixed by it, its must as if both had been one.
// Another, of which only the alcohol is written, counts as water that brings alcohol, 0.1 % vol out where a twentieth is a
// mead of 1.015; without the alcohol the original gravity is unknown. Its own mead changes nothing but the volume.
func (c *Course) pourIn(e *ferment.Entry, volume measure.Volume, known bool) {
	what := cmp.Or(map[ferment.Act]string{ferment.Blend: "blend"}[e.Did], e.Of, "water")
	in, solids := honey.Mead{Volume: volume, Gravity: 1}, measure.Mass(0)
	switch p := e.Poured; {
	case c.Ferment.IsOwnMead(e):
		c.move(e, volume, known, what)
		return
	case p != nil:
		in.Gravity, in.Alcohol = p.Gravity, p.Alcohol
		content, _ := gravity.Solids(p.Original)
		solids = measure.Grams(float64(content) * float64(volume))
	case !c.Ferment.Alike(e):
		in.Gravity, in.Alcohol = dryMead, e.Alcohol.Value
	}
	c.mix(e, solids, in, known, what)
	if in.Gravity == dryMead && e.Poured == nil && !e.Alcohol.Known() {
		c.mixed[len(c.mixed)-1].known = false
	}
}

// dryMead is the assumed gravity of a mead of which only the alcohol is known (common practice, no source).
const dryMead measure.Gravity = 0.997

// mix notes an addition by its mixture, and moves the volume.
func (c *Course) mix(e *ferment.Entry, solids measure.Mass, in honey.Mead, known bool, what string) {
	m := mixing{at: e.At.Time, act: e.Did, solids: solids, in: in, brought: c.brought, known: known && c.Volume.IsKnown()}
	if m.known {
		m.before, m.after = c.Volume.Value, c.Volume.Value+in.Volume
	}
	c.mixed = append(c.mixed, m)
	c.move(e, in.Volume, known, what)
}

// drawOff takes out what an entry lost, sampled, bottled or threw away.
func (c *Course) drawOff(e *ferment.Entry) {
	if e.Lost.Known() && !e.Did.ApartFromCourse() {
		c.move(e, -e.Lost.Value, true, cmp.Or(string(e.Did), "lost"))
	}
	switch e.Did {
	case ferment.Sample, ferment.ForcedTest:
		if v, ok := e.Amount.Volume(); ok {
			c.move(e, -v, true, "sample")
		}
	case ferment.Dump:
		if e.Bottle == "" {
			c.Volume = Known(measure.Volume(0))
		}
	case ferment.Bottle:
		c.fill(e)
	}
}

// fill takes the bottles out of the vessel, and all of it unless some is left.
func (c *Course) fill(e *ferment.Entry) {
	var filled measure.Volume
	for _, b := range e.Bottles {
		filled += b.Size.Value * measure.Volume(b.Count)
		if b.Honey.Known() && b.Size.Value > 0 {
			c.prime(carbonation.Honey, measure.Given[measure.Share]{}, b.Honey.Value, b.Size.Value)
		}
	}
	c.move(e, -filled, true, "bottles")
	if !e.Left.Known() {
		c.Volume = Known(measure.Volume(0))
	}
}

// empty reports whether everything was bottled or dumped.
func (c *Course) empty() bool {
	e, ok := c.Last(ferment.Bottle)
	return ok && (!e.Left.Known() || e.Left.Value <= 0 || c.Volume.IsKnown() && c.Volume.Value <= 0)
}
