package alcohol

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// The volumes that a figure takes, from a drop to a tank.
const (
	leastVolume measure.Volume = 0.0001
	mostVolume  measure.Volume = 2000
)

// Diluted is the strength of a liquid once it is part of a larger volume,
//
//	A' = A V/V'
//
// be it a ferment that was topped up with water, or a starter of V litres within
// the V' litres of the ferment. Range: 0 to 100 % vol, 0.1 mL to 2000 L, V' not
// under V; outside an error. By definition; contraction below 20 % vol stays
// under 0.2 % of the volume.
func Diluted(s measure.Strength, before, after measure.Volume) (measure.Strength, error) {
	if err := cmp.Or(measure.InRange("alcohol", s, 0, 100, "% vol"), grows(before, after)); err != nil {
		return 0, err
	}
	return s * measure.Strength(before/after), nil
}

// Effective is the original gravity as if all the honey had been in the must
// from the beginning:
//
//	s' = (s V + solids)/V'
//
// with s the solids of the original gravity, V the volume then, V' the volume
// now, and solids the honey fed since, less its water. Range: original 1.000 to
// 1.250, 0.1 mL to 2000 L, V' not under V, solids 0 to 1000 kg, result to 1.250;
// outside an error. Mass balance, within 0.5 % of the solids.
func Effective(original measure.Gravity, volume measure.Volume, solids measure.Mass, after measure.Volume) (measure.Gravity, error) {
	err := cmp.Or(
		measure.InRange("original gravity", original, 1, measure.HighestGravity, ""),
		measure.InRange("solids fed", solids, 0, 1000, "kg"),
		grows(volume, after),
	)
	if err != nil {
		return 0, err
	}
	s, err := gravity.Solids(original)
	if err != nil {
		return 0, err
	}
	total := float64(s)*float64(volume) + solids.Grams()
	g, err := gravity.FromSolids(measure.Content(total / float64(after)))
	if err != nil {
		return 0, err
	}
	if err := measure.InRange("effective original gravity", g, 1, measure.HighestGravity, ""); err != nil {
		return 0, err
	}
	return g, nil
}

func grows(before, after measure.Volume) error {
	err := cmp.Or(inVolume(before), inVolume(after))
	if err == nil && after < before {
		err = fmt.Errorf("the volume after, %v, is less than the %v before", after, before)
	}
	return err
}

func inVolume(v measure.Volume) error {
	return measure.InRange("volume", v, leastVolume, mostVolume, "L")
}
