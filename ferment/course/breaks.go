package course

import "cellar/jugkeeper/ferment/measure"

// Break is the gravity at which a share of the expected fall is done, by the
// original as the honey fed since has made it.
func (c Course) Break(fraction float64) Figure[measure.Gravity] {
	return Unknown[measure.Gravity]("the original gravity is unknown")
}
