package forecast

import "math"

// normal is what is believed of a number before anything is read.
type normal struct{ mean, sd float64 }

// miss is how many deviations a number lies off.
func (n normal) miss(v float64) float64 { return (v - n.mean) / n.sd }

// basis is what is known of a ferment before its readings: where the curve
// begins, where it is expected to end, how warm it stands and whose yeast it
// is.
type basis struct {
	original    float64 // gravity, with all that was fed
	origin      float64 // gravity at which the curve begins: the same, or that after the last feeding
	finish      float64 // gravity
	dry         float64 // gravity at which the sugar is gone: the same, or below the finish
	measured    bool    // a forced test showed where it ends
	untold      bool    // nobody told the yeast's tolerance
	byYeast     bool    // the yeast's tolerance may end it before the sugar is gone
	fed         bool    // nutrient was added
	temperature float64 // °C, NaN where none is recorded
	wild        bool
}

// fall is the fall of the curve that is expected, whole that with what fell
// before it began.
func (b basis) fall() float64  { return b.origin - b.finish }
func (b basis) whole() float64 { return b.original - b.finish }

// form is a shape with what is believed of its numbers.
type form struct {
	curve            func(pace) curve
	rate, lag, shape normal
}

// forms are the two shapes. The rate says dry in about eleven days at 20 °C
// from a fall of 0.095, twice as fast for 10 °C more; a fall of that size in
// about two weeks with growth factors is reported for honey (Steinkraus and
// Morse 1966). The public logs of honey are too few to say: these are
// assumptions.
func (b basis) forms() [2]form {
	rate := normal{math.Log(0.19) + math.Log(0.095/b.whole()), 1.0}
	if !math.IsNaN(b.temperature) {
		rate = normal{rate.mean + 0.069*(b.temperature-20), 0.75}
	}
	lag := normal{-1.3, 0.8}
	return [2]form{
		{newRichards, rate, lag, normal{0, 0.7}},
		{newDecline, normal{rate.mean + 0.37, rate.sd}, normal{lag.mean + 0.5, lag.sd}, normal{0.65, 0.35}},
	}
}

// end is a place where a ferment may end, and how likely that is.
type end struct {
	gravity normal
	weight  float64
}

// toleranceSpread is how far a ferment ends from where its tolerance puts it: a
// maker's word is good to about 1.5 % vol (an assumption, no source). Nobody's
// word is good to 2.
const (
	toleranceSpread = 0.012
	untoldSpread    = 0.016
	testSpread      = 0.002
	outlives        = 0.25 // chance that a yeast goes on past its label until dry
)

// ends are dry, a little sweet, and stuck (assumptions, no source; the spread of
// the first was tuned on the series of the tests). Where the yeast's tolerance
// is reached before dry, they are there, dry all the same, and stuck.
func (b basis) ends() [3]end {
	stuck := b.mayStick()
	out := [3]end{
		{normal{b.finish, 0.0055}, 1 - 1.6*stuck},
		{normal{b.finish + 0.010, 0.006}, 0.6 * stuck},
		{normal{b.finish + 0.40*b.fall(), 0.20 * b.fall()}, stuck},
	}
	if b.byYeast {
		out[0] = end{normal{b.finish, b.spread()}, 1 - stuck - outlives}
		out[1] = end{normal{b.dry, 0.0055}, outlives}
	}
	if b.measured {
		out[0] = end{normal{b.finish, testSpread}, 0.98}
		out[1].weight, out[2].weight = 0.01, 0.01
	}
	return out
}

// spread is how far it may end from the yeast's tolerance.
func (b basis) spread() float64 {
	if b.untold {
		return untoldSpread
	}
	return toleranceSpread
}

// above is the gravity over which a rest may be a stall.
func (b basis) above() float64 {
	if b.byYeast {
		return b.finish + wellAbove + b.spread()
	}
	return b.finish + wellAbove
}

// mayStick is how likely the yeast gives up with much left, before anything is
// read (assumptions, no source: of home meads that were let rest about a third
// ended sweet, of wine fewer).
func (b basis) mayStick() float64 {
	switch {
	case b.wild:
		return 0.12
	case b.fed:
		return 0.05
	}
	return 0.08
}

// suddenStop is the chance that a ferment with all of its fall to come stops on
// the way (an assumption, no source).
func (b basis) suddenStop() float64 {
	if b.wild {
		return 0.08
	}
	return 0.04
}
