package gravity

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// Break is the gravity at which a fraction k of the expected fall is behind:
//
//	break = OG − k (OG − finish)
//
// Range: both gravities 0.980 to 1.4485, the finish not over the original, k
// from 0 to 1; outside an error. By definition; counted by sugar instead of
// gravity the breaks lie up to 0.0003 lower. It is as sure as the finish is.
func Break(original, finish measure.Gravity, fraction float64) (measure.Gravity, error) {
	err := cmp.Or(
		measure.InRange("original gravity", original, Lowest, Highest, ""),
		measure.InRange("expected finish", finish, Lowest, Highest, ""),
		measure.InRange("fraction of the fall", fraction, 0, 1, ""),
	)
	if err != nil {
		return 0, err
	}
	if finish > original {
		return 0, fmt.Errorf("the finish %v lies above the original gravity %v", finish, original)
	}
	return original - measure.Gravity(fraction)*(original-finish), nil
}
