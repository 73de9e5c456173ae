package larder

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// Strengths are the gravities that a lot's must is worked out for: a light
// mead, a usual and a strong one.
var Strengths = []measure.Gravity{1.045, 1.080, 1.100}

// Made is the must that what is left of a lot makes at one gravity.
type Made struct {
	Gravity measure.Gravity
	Volume  measure.Volume
	Vessels int // so many full ones, 15 % of each left free
}

// Makes is what the lot can still make at each of the strengths, in vessels of
// a size. Honey whose water nobody measured counts with the mean of all honeys.
func (a Account) Makes(vessel measure.Volume) ([]Made, error) {
	switch {
	case !a.Left.Weighed:
		return nil, errors.New("nobody weighed it")
	case a.IsWash() && !a.Water.Known():
		return nil, errors.New("cappings wash: read its gravity, and measure its volume")
	case a.Left.Gone():
		return nil, nil
	}
	return MakesOf(a.Left.Mass, a.Water.Or(honey.Typical), vessel)
}

// MakesOf is what a mass of honey makes at each of the strengths.
func MakesOf(mass measure.Mass, water measure.Share, vessel measure.Volume) ([]Made, error) {
	var out []Made
	for _, g := range Strengths {
		r, err := honey.Makes(mass, water, g)
		if err != nil {
			return nil, fmt.Errorf("what it makes cannot be worked out: %w", err)
		}
		out = append(out, Made{g, r.Volume, int(math.Floor(float64(r.Volume/Must(vessel)) + 1e-9))})
	}
	return out, nil
}

// free is the share of a vessel that stays empty above the must: 10 to 20 %
// (common practice, no source).
const free = 0.15

// Must is how much must goes into a vessel.
func Must(vessel measure.Volume) measure.Volume { return vessel * (1 - free) }

// aJug is the brimful of the commonest small glass jug.
const aJug measure.Volume = 4.1

// UsualVessel is the brimful that most of the ferments have, the smaller of two
// that are as common, else that of a small jug.
func UsualVessel(fs []ferment.Ferment) measure.Volume {
	var sizes []measure.Volume
	for _, f := range fs {
		if b := f.Vessel.Brimful; b.Known() && b.Value > 0 {
			sizes = append(sizes, b.Value)
		}
	}
	slices.Sort(sizes)
	usual, most, run := aJug, 0, 0
	for i, s := range sizes {
		if i == 0 || s != sizes[i-1] {
			run = 0
		}
		if run++; run > most {
			usual, most = s, run
		}
	}
	return usual
}
