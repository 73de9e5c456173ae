package nutrient

import (
	"cmp"

	"cellar/jugkeeper/ferment/measure"
)

// Pitch is how much yeast a must needs.
type Pitch struct {
	Dry     measure.Mass    // bought, dry
	Rate    measure.Content // of it in a litre
	Cells   float64         // alive
	Starter measure.Volume  // of a fully grown starter with as many cells
}

// Strong reports whether the must needs more than the usual rate.
func (p Pitch) Strong() bool { return p.Rate > usualPitch }

const usualPitch measure.Content = 0.25 // g/L

const (
	cellsPerGram  = 2e10
	cellsPerLitre = 1e11 // in a starter fully grown in a rich medium: 1e8 in a mL
)

// PitchFor returns the yeast for a must:
//
//	dry = rate × volume, rate = 0.25 g/L up to 1.100, 0.50 g/L from 1.120 on, linear between
//	cells = dry × 2e10 in a gram (5e6 in a mL of must)
//	starter = cells / 1e8 in a mL
//
// Range: 0.01 to 2000 L, gravity 1.000 to 1.250; outside an error. Source:
// Australian Wine Research Institute, rehydration of dry yeast (0.25 g/L, 2e10
// cells/g, at least 5e6 cells/mL, up to twice for high sugar); from where to
// where it rises, and the starter's 1e8 cells/mL (5e7 in a poor medium), are
// common practice, no source.
func PitchFor(volume measure.Volume, original measure.Gravity) (Pitch, error) {
	err := cmp.Or(
		measure.InRange("volume", volume, 0.01, 2000, "L"),
		measure.InRange("original gravity", original, 1, measure.HighestGravity, ""),
	)
	if err != nil {
		return Pitch{}, err
	}
	rise := min(max(float64(original-1.100)/0.020, 0), 1)
	rate := usualPitch * measure.Content(1+rise)
	dry := float64(rate) * float64(volume)
	cells := dry * cellsPerGram
	return Pitch{measure.Grams(dry), rate, cells, measure.Volume(cells / cellsPerLitre)}, nil
}
