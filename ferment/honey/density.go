package honey

import (
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// densities are the specific gravity 20/20 °C of honey with 13, 14 … 21 % water:
// White 1975, in Crane, Honey: a comprehensive survey, reprinted in Krell, FAO
// Agricultural Services Bulletin 124, table 2.2; from memory, one point of it
// confirmed by a trade specification. It joins two sets of data and is no smooth
// line: it is interpolated.
var densities = []measure.Gravity{1.4457, 1.4404, 1.4350, 1.4295, 1.4237, 1.4171, 1.4101, 1.4027, 1.3950}

const firstDensity = 13 // % water

// Gravity is the specific gravity of honey at 20/20 °C by its water, linear
// between the points of White's table. Range: 13 to 21 % water; outside an
// error. Uncertainty: 0.001. Honey is 0.011 to 0.017 less dense than sucrose in
// water of the same solids.
func Gravity(water measure.Share) (measure.Gravity, error) {
	last := measure.Share(firstDensity + len(densities) - 1)
	if err := measure.InRange("water in honey", water, firstDensity, last, "%"); err != nil {
		return 0, err
	}
	at := float64(water) - firstDensity
	i := min(int(at), len(densities)-2)
	share := measure.Gravity(at - float64(i))
	return densities[i] + share*(densities[i+1]-densities[i]), nil
}

// Density is Gravity in kg/m³ at 20 °C.
func Density(water measure.Share) (gravity.Density, error) {
	g, err := Gravity(water)
	if err != nil {
		return 0, err
	}
	return gravity.Of(g)
}
