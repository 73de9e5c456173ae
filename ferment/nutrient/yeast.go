package nutrient

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Pitch is how much yeast a must wants.
type Pitch struct {
	Dry     measure.Mass   // bought, dry
	Cells   float64        // alive
	Starter measure.Volume // of a fully grown starter with as many cells
	Doubled bool           // the must is strong
}

// StrongMust is the gravity above which twice the yeast is pitched.
const StrongMust measure.Gravity = 1.110

const (
	dryPerLitre    = 0.25 // g/L
	cellsPerGram   = 2e10
	cellsPerLitre  = 1e11 // in a starter fully grown in a rich medium: 1e8 in a mL
	largestStep    = 10   // a starter grows to at most ten times its volume at once
	lowestGravity  = 1.000
	highestGravity = 1.250
)

// PitchFor is the yeast for a must:
//
//	dry = 0.25 g/L × volume, twice that above 1.110
//	cells = dry × 2e10 in a gram (5e6 in a mL of must)
//	starter = cells / 1e8 in a mL
//
// Range: 0.01 to 2000 L, gravity 1.000 to 1.250; outside an error. Source:
// Australian Wine Research Institute, rehydration of dry yeast (0.25 g/L, 2e10
// cells/g, at least 5e6 cells/mL, up to twice for high sugar); the starter's
// 1e8 cells/mL are common practice, no source, and 5e7 in a poor medium.
func PitchFor(volume measure.Volume, original measure.Gravity) (Pitch, error) {
	if err := measure.InRange("volume", volume, 0.01, 2000, "L"); err != nil {
		return Pitch{}, err
	}
	if err := measure.InRange("original gravity", original, lowestGravity, highestGravity, ""); err != nil {
		return Pitch{}, err
	}
	dry, doubled := dryPerLitre*float64(volume), original > StrongMust
	if doubled {
		dry *= 2
	}
	cells := dry * cellsPerGram
	return Pitch{measure.Grams(dry), cells, measure.Volume(cells / cellsPerLitre), doubled}, nil
}

// Growth is how often cells must double to become more, and how long that
// takes once they have begun: log₂(to/from) doublings. A doubling takes 2 to
// 4 h at 20 to 25 °C, wild yeast 3 to 8, after a rest of 4 to 24 h (from
// memory). Range: 1 to 1e18 cells, growing, 1 min to 7 d a doubling; outside
// an error.
func Growth(from, to float64, doubling time.Duration) (doublings float64, takes time.Duration, err error) {
	if err := measure.InRange("cells to begin with", from, 1, 1e18, ""); err != nil {
		return 0, 0, err
	}
	if err := measure.InRange("cells wanted", to, from, 1e18, ""); err != nil {
		return 0, 0, err
	}
	if err := measure.InRange("doubling time", doubling.Hours(), 1.0/60, 7*24, "h"); err != nil {
		return 0, 0, err
	}
	doublings = math.Log2(to / from)
	return doublings, time.Duration(doublings * float64(doubling)), nil
}

// Steps are the volumes that a culture grows through, each at most ten times
// the one before it (common practice, no source) and all in one ratio; the
// last is the volume wanted. Range: 1 mL to 2000 L, growing; outside an error.
func Steps(from, to measure.Volume) ([]measure.Volume, error) {
	if err := measure.InRange("volume to begin with", from, 0.001, 2000, "L"); err != nil {
		return nil, err
	}
	if err := measure.InRange("volume wanted", to, from, 2000, "L"); err != nil {
		return nil, err
	}
	ratio := float64(to / from)
	n := math.Ceil(math.Log(ratio)/math.Log(largestStep) - 1e-9)
	var steps []measure.Volume
	for i := 1.0; i < n; i++ {
		steps = append(steps, from*measure.Volume(math.Pow(ratio, i/n)))
	}
	return append(steps, to), nil
}
