// Package honey has the figures of honey and of what is made with it: its water and
// density, musts of a gravity and a volume, sweetening, and blends.
package honey

import (
	"math"
	"strings"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// densities are the specific gravity 20/20 °C of honey with 13, 14 … 21 % water: White 1975, in Crane, Honey: a
// comprehensive survey, reprinted in Krell, FAO Agricultural Services Bulletin 124, table 2.2; from memory, one point
// of it confirmed by a trade specification. The table joins two sets of data and is not smooth, so it is interpolated.
var densities = []measure.Gravity{1.4457, 1.4404, 1.4350, 1.4295, 1.4237, 1.4171, 1.4101, 1.4027, 1.3950}

const firstDensity = 13 // % water

// Gravity returns the specific gravity of honey at 20/20 °C by its water, linear between the points of White's table.
// Range: 13 to 21 % water; outside an error. Uncertainty: 0.001. Honey is 0.011 to 0.017 less dense than sucrose in
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

// Density returns the density of honey in kg/m³ at 20 °C, by Gravity.
func Density(water measure.Share) (gravity.Density, error) {
	g, err := Gravity(water)
	if err != nil {
		return 0, err
	}
	return gravity.DensityOf(g)
}

// Typical is the water in honey where nobody measured it: the mean of 490 American honeys (White et al. 1962, USDA
// Technical Bulletin 1261), which ran from 13.4 to 22.9 %.
const Typical measure.Share = 17.2

// Water returns the water in honey by its refractive index:
//
//	w = (−0.26810 − log10(n − 1))/0.002243
//
// in % by mass, with n corrected to 20 °C by 0.00023 a kelvin (IHC Harmonised Methods 2009, from memory). Books print
// the constant as 1.73190, which is a logarithm in bar notation and means −0.26810. Range: 12 to 26 % water, read at 10
// to 40 °C; outside an error. Source: Wedmore 1955, as in AOAC 969.38 and the IHC methods of 2009. Uncertainty: 0.1 %.
func Water(n gravity.Index, at measure.Temperature) (measure.Share, error) {
	if err := measure.InRange("temperature of the refractometer", at, 10, 40, "°C"); err != nil {
		return 0, err
	}
	n20 := float64(n) + 0.00023*float64(at-20)
	if err := measure.InRange("refractive index of honey", n20, 1.46, 1.52, ""); err != nil {
		return 0, err
	}
	w := measure.Share((-0.26810 - math.Log10(n20-1)) / 0.002243)
	if err := inHoney(w); err != nil {
		return 0, err
	}
	return w, nil
}

// Index returns the refractive index of honey at 20 °C by its water, the inverse of Water.
func Index(water measure.Share) (gravity.Index, error) {
	if err := inHoney(water); err != nil {
		return 0, err
	}
	return gravity.Index(1 + math.Pow(10, -0.26810-0.002243*float64(water))), nil
}

// ParseBrix reads a sugar refractometer's reading of honey, 60 to 85 °Bx: "80.2", "80.2 bx".
func ParseBrix(text string) (measure.Given[measure.Brix], error) {
	s := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(strings.TrimSpace(text)), "bx"))
	return measure.ParseScale[measure.Brix](s, "sugar refractometer's reading", 60, 85, "81")
}

// WaterByBrix returns the water in honey by a sugar refractometer that reads up to honey. Its scale is that of
// sucrose, and honey of the same refraction has a little more water than 100 less the reading. So the reading is
// converted to a refractive index, and that to water. Range as Water. Uncertainty: 0.2 %.
func WaterByBrix(reads measure.Brix) (measure.Share, error) {
	n, err := gravity.RefractiveIndex(reads)
	if err != nil {
		return 0, err
	}
	return Water(n, 20)
}

// BrixOf returns the reading of a sugar refractometer for honey with so much water.
func BrixOf(water measure.Share) (measure.Brix, error) {
	n, err := Index(water)
	if err != nil {
		return 0, err
	}
	return gravity.BrixOf(n)
}

// Keeping is how long honey can be stored before it may ferment by itself.
type Keeping int

// How long honey keeps, by its water.
const (
	Keeps      Keeping = iota // however much yeast is in it
	KeepsClean                // with few yeasts: under a thousand a gram
	ThisYear                  // only with hardly any yeast: under ten a gram
	First                     // use it first: it will probably ferment
	AtOnce                    // use it at once: it will ferment
)

// KeepingOf returns how long honey keeps by its water, to 0.1 %. Sources: under 17.1 % no yeast grows, to 18.0 % few
// yeasts do no harm (USDA Agriculture Handbook 335); 18.6 % is the most that the United States Standards for Grades
// of Extracted Honey (1985) allow for grades A and B, 20 % the most that Codex Stan 12-1981 allows for any but
// heather honey; what follows from them for a mead maker is common practice, no source. No range: what is drier
// keeps. Uncertainty: that of the water, 0.1 to 0.2 %.
func KeepingOf(water measure.Share) Keeping {
	switch w := measure.Share(math.Round(float64(water)*10) / 10); {
	case w > 20:
		return AtOnce
	case w > 18.6:
		return First
	case w > 18:
		return ThisYear
	case w > 17:
		return KeepsClean
	}
	return Keeps
}
