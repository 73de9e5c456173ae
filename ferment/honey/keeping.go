package honey

import (
	"math"

	"cellar/jugkeeper/ferment/measure"
)

// Keeping is how long honey may wait before it ferments by itself.
type Keeping int

// How long honey keeps by its water.
const (
	Keeps    Keeping = iota
	ThisYear         // it may ferment
	AtOnce           // it will
)

// The water over which honey keeps no longer.
const (
	gradeWater measure.Share = 18.6
	tableWater measure.Share = 20
)

// KeepingOf is how long honey keeps by its water, to 0.1 %: over 18.6 % for the
// year, over 20 % not at all. Sources: 18.6 % is the most that the United States
// Standards for Grades of Extracted Honey (1985) allow for grades A and B, 20 %
// the most that Codex Stan 12-1981 allows for any but heather honey; what
// follows from them for a mead maker is common practice, no source. No range:
// what is drier keeps. Uncertainty: that of the water, 0.1 to 0.2 %.
func KeepingOf(water measure.Share) Keeping {
	switch w := measure.Share(math.Round(float64(water)*10) / 10); {
	case w > tableWater:
		return AtOnce
	case w > gradeWater:
		return ThisYear
	}
	return Keeps
}
