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

// Strengths are the gravities for which the must of a lot is calculated: a light mead, a usual and a strong one.
var Strengths = []measure.Gravity{1.045, 1.080, 1.100}

// Made is the must of one gravity that the rest of a lot makes.
type Made struct {
	Gravity measure.Gravity
	Volume  measure.Volume
	Vessels int // full vessels, each with 15 % left free
}

// Makes returns the must that the rest of the lot makes at each of Strengths, in vessels of
// a size. If the water in the honey is not known, the mean of all honeys is used.
func (a Account) Makes(vessel measure.Volume) ([]Made, error) {
	switch {
	case !a.Left.Weighed:
		return nil, errors.New("it was not weighed")
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
		out = append(out, Made{g, r.Volume, int(math.Floor(float64(r.Volume/MustIn(vessel)) + 1e-9))})
	}
	return out, nil
}

// free is the share of a vessel above the must: 10 to 20 % (common practice, no source).
const free = 0.15

// MustIn returns the volume of must for a vessel.
func MustIn(vessel measure.Volume) measure.Volume { return vessel * (1 - free) }

// aJug is the brimful volume of the most common small glass jug.
const aJug measure.Volume = 4.1

// UsualVessel returns the most common brimful volume of the ferments, the smaller of two
// equally common ones; without any, that of a small jug.
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

// Water is the water in a lot and how it is known.
type Water struct {
	Share   measure.Share
	From    WaterSource
	At      measure.Temperature // of the refractometer
	Assumed bool                // the temperature of the refractometer is not known
	Unknown string              // why there is no figure; empty if there is one
}

// WaterSource is how the water in a lot was found.
type WaterSource string

// The sources, the most reliable first.
const (
	Measured     WaterSource = "measured"
	ByRefraction WaterSource = "by its refractive index"
)

// room is the temperature at which a refractometer is assumed to be read.
const room measure.Temperature = 20

// WaterOf returns the water in a lot: as measured, else by its refractive index.
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

// Or returns the water, or fallback if it is not known.
func (w Water) Or(fallback measure.Share) measure.Share {
	if w.Known() {
		return w.Share
	}
	return fallback
}

// Urgency is how soon a lot must be used.
type Urgency int

// The urgencies, the most urgent first.
const (
	Wash       Urgency = iota // cappings wash: within a day or two
	AtOnce                    // it ferments by itself
	First                     // it probably ferments
	ThisYear                  // it may ferment
	Unmeasured                // its water is not known
	CanWait
	Asked // of a treated hive: ask about the treatment first
	Gone
)

// washKeeps is how long cappings wash may be kept (common practice, no source).
const washKeeps = 48 * time.Hour

// CappingsWash is the state of a lot that was washed off its cappings.
const CappingsWash = "cappings-wash"

// IsWash reports whether the lot is cappings wash, which ferments by itself.
func (a Account) IsWash() bool { return a.Lot.State == CappingsWash }

// WashTooOld reports whether cappings wash was kept for too long.
func (a Account) WashTooOld() bool { return a.IsWash() && a.Age > washKeeps }

// Treated reports whether the lot says that the hive was treated.
func (a Account) Treated() bool {
	t := strings.TrimSpace(a.Lot.Treated)
	return t != "" && !strings.EqualFold(t, "none")
}

// Urgency returns how soon the lot must be used.
func (a Account) Urgency() Urgency {
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

// ByUrgency sorts accounts in the order in which the lots should be used: the most urgent
// first, of those the oldest; used-up lots last.
func ByUrgency(as []Account) []Account {
	out := slices.Clone(as)
	slices.SortStableFunc(out, func(a, b Account) int {
		return cmp.Or(cmp.Compare(a.Urgency(), b.Urgency()), cmp.Compare(b.Age, a.Age))
	})
	return out
}
