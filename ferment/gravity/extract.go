package gravity

import (
	"cmp"

	"cellar/jugkeeper/ferment/measure"
)

// Extract is the gravity that a liquid would have with water in the place of its
// alcohol, that of the sugar alone:
//
//	SG' = SG − SG_alcohol + 1
//
// with SG_alcohol that of ethanol and water of the same strength by OIML R 22
// (1975). Range: 0.980 to 1.4485, 0 to 25 % vol; outside an error. Source:
// Tabarié's rule, as in OIV-MA-AS2-03B (from memory). Uncertainty: 0.0005.
func Extract(g measure.Gravity, strength measure.Strength) (measure.Gravity, error) {
	err := cmp.Or(check(g), measure.InRange("alcohol", strength, 0, 25, "% vol"))
	if err != nil {
		return 0, err
	}
	return checked(g - specific(lightness(ethanolShare(strength), 20)))
}
