package honey

import (
	"math"

	"cellar/jugkeeper/ferment/measure"
)

// Keeping is how long honey may wait before it ferments by itself.
type Keeping int

// How long honey keeps by its water.
const (
	Keeps      Keeping = iota // whatever yeast is in it
	KeepsClean                // with few yeasts in it: under a thousand in a gram
	ThisYear                  // only with hardly any: under ten in a gram
	First                     // it likely ferments
	AtOnce                    // it will, and it is no table honey
)

// The water up to which honey belongs to each of them.
const (
	dryWater   measure.Share = 17
	cleanWater measure.Share = 18
	gradeWater measure.Share = 18.6
	tableWater measure.Share = 20
)

// KeepingOf is how long honey keeps by its water, to 0.1 %. Sources: under 17.1 %
// no yeast grows, to 18.0 % few yeasts do no harm (USDA Agriculture Handbook
// 335); 18.6 % is the most that the United States Standards for Grades of
// Extracted Honey (1985) allow for grades A and B, 20 % the most that Codex Stan
// 12-1981 allows for any but heather honey; what follows from them for a mead
// maker is common practice, no source. No range: what is drier keeps.
// Uncertainty: that of the water, 0.1 to 0.2 %.
func KeepingOf(water measure.Share) Keeping {
	switch w := measure.Share(math.Round(float64(water)*10) / 10); {
	case w > tableWater:
		return AtOnce
	case w > gradeWater:
		return First
	case w > cleanWater:
		return ThisYear
	case w > dryWater:
		return KeepsClean
	}
	return Keeps
}
