package larder

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// Strengths are the gravities that a lot's must is worked out for: light, usual, strong.
var Strengths = []measure.Gravity{1.045, 1.080, 1.100}

// Made is the must that what is left of a lot makes at one gravity.
type Made struct {
	Gravity measure.Gravity
	Volume  measure.Volume
	Vessels int // so many full ones, 15 % of each left free
}

// Makes returns what the lot can still make at each of the strengths, in vessels of
// a size. Honey whose water nobody measured counts with the mean of all honeys.
func (a Account) Makes(vessel measure.Volume) ([]Made, error) {
	switch {
	case !a.Left.Weighed:
		return nil, errors.New("it was never weighed")
	case a.IsWash() && !a.Water.Known():
		return nil, errors.New("cappings wash: read its gravity, and measure its volume")
	case a.Left.Gone():
		return nil, nil
	}
	var out []Made
	for _, g := range Strengths {
		r, err := honey.Makes(a.Left.Mass, a.Water.Or(honey.Typical), g)
		if err != nil {
			return nil, fmt.Errorf("what it makes cannot be worked out: %w", err)
		}
		out = append(out, Made{g, r.Volume, int(math.Floor(float64(r.Volume/Must(vessel)) + 1e-9))})
	}
	return out, nil
}

// free is the share of a vessel above the must: 10 to 20 % (common practice, no source).
const free = 0.15

// Must returns how much must goes into a vessel.
func Must(vessel measure.Volume) measure.Volume { return vessel * (1 - free) }

// aJug is the brimful of the commonest small glass jug.
const aJug measure.Volume = 4.1

// UsualVessel returns the most common brimful, the smaller of two, else that of a small jug.
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

// Water is the water in a lot and where that is known from.
type Water struct {
	Share   measure.Share
	From    WaterSource
	At      measure.Temperature // of the refractometer
	Assumed bool                // nobody wrote down how warm the refractometer was
	Unknown string              // why there is none; empty where there is one
}

// WaterSource is how the water in a lot was found.
type WaterSource string

// The sources, the better one first.
const (
	Measured     WaterSource = "measured"
	ByRefraction WaterSource = "by its refractive index"
)

// room is what a refractometer is taken to be read at where nobody wrote it down.
const room measure.Temperature = 20

// WaterOf returns the water in a lot: measured, else by its refractive index.
func WaterOf(l ferment.Lot) Water {
	switch {
	case l.Water.Known():
		return Water{Share: l.Water.Value, From: Measured}
	case !l.RefractiveIndex.Known():
		return Water{Unknown: "it was never measured"}
	}
	at := l.ReadAt.Or(room)
	w, err := honey.Water(gravity.Index(l.RefractiveIndex.Value), at)
	if err != nil {
		return Water{Unknown: err.Error()}
	}
	return Water{Share: w, From: ByRefraction, At: at, Assumed: !l.ReadAt.Known()}
}

// Known reports whether there is a figure.
func (w Water) Known() bool { return w.Unknown == "" }

// Or returns the water, else what is taken for it.
func (w Water) Or(fallback measure.Share) measure.Share {
	if w.Known() {
		return w.Share
	}
	return fallback
}

// Press is how much a lot presses to be used.
type Press int

// How much a lot presses, the most first.
const (
	Wash       Press = iota // cappings wash: within a day or two
	AtOnce                  // it ferments by itself
	First                   // it likely does
	ThisYear                // it may
	Unmeasured              // nobody knows
	CanWait
	Asked // of a treated hive: only once that is answered
	Gone
)

// washKeeps is how long cappings wash may be kept (common practice, no source).
const washKeeps = 48 * time.Hour

// CappingsWash is the state of a lot that was washed off its cappings.
const CappingsWash = "cappings-wash"

// IsWash reports whether the lot is thin already, and ferments by itself.
func (a Account) IsWash() bool { return a.Lot.State == CappingsWash }

// WashOver reports whether cappings wash has stood for longer than it may.
func (a Account) WashOver() bool { return a.IsWash() && a.Age > washKeeps }

// Treated reports whether the hive was treated, as far as the lot says.
func (a Account) Treated() bool {
	t := strings.TrimSpace(a.Lot.Treated)
	return t != "" && !strings.EqualFold(t, "none")
}

// Presses returns how much the lot presses.
func (a Account) Presses() Press {
	switch {
	case a.Left.Gone():
		return Gone
	case a.Treated():
		return Asked
	case a.IsWash():
		return Wash
	case !a.Water.Known():
		return Unmeasured
	}
	switch honey.KeepingOf(a.Water.Share) {
	case honey.AtOnce:
		return AtOnce
	case honey.First:
		return First
	case honey.ThisYear:
		return ThisYear
	}
	return CanWait
}

// ByPress puts accounts in the order in which the lots are to be used: what
// presses most, of those the oldest; what is used up last.
func ByPress(as []Account) []Account {
	out := slices.Clone(as)
	slices.SortStableFunc(out, func(a, b Account) int {
		return cmp.Or(cmp.Compare(a.Presses(), b.Presses()), cmp.Compare(b.Age, a.Age))
	})
	return out
}
