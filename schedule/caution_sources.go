package schedule

import (
	"maps"
	"slices"

	"cellar/jugkeeper/ferment/measure"
)

// Practice marks what the trade does without a source for it.
const Practice = "common practice, no source"

// sources say where each caution comes from.
var sources = map[string]string{
	"powder":             Practice,
	"bottle-pressure":    "pressures by the method of Commission Regulation (EEC) 2676/90; CETIE bottling guide 1 on what a still bottle holds",
	"alcohol":            Practice,
	"crate":              Practice,
	"in-the-cold":        Practice,
	"overpressure-drill": Practice + "; that the cold takes nearly half of the pressure follows from Commission Regulation (EEC) 2676/90",
	"spirit-and-flame":   Practice,
	"do-not-taste":       "Viveros-Lizondo et al., Fermentation 10:389 (2024), on what was found in apiaries",
	"first-taste":        "21 CFR 114.3 for the acidity; the rest is " + Practice,
	"sealed-jar":         Practice,
	"mould":              "Ohio State University Extension HYG-5592",
	"drawn-in-air":       "worked out with the gas laws; jugkeeper work gas",
	"sulphite-asthma":    "27 CFR 4.32(e): declared in trade from 10 mg/L",
	"sorbate":            "OIV International Code of Oenological Practices II.3.4.5; University of Minnesota enology notes",
	"label-sulphites":    "27 CFR 4.32(e)",
	"fruit-stones":       "from memory; " + Practice,
	"must-sulphite":      Practice,
	"glass":              Practice,
	"wet-glass":          Practice,
	"racking-air":        Practice,
	"room-gas":           "NIOSH criteria document on carbon dioxide, 1976",
	"wet-honey":          "USDA Agriculture Handbook 335; Codex CXS 12-1981",
	"cappings-wash":      Practice,
	"toxic-nectar":       "Jansen et al., Cardiovascular Toxicology 12 (2012); the Bad Bug Book of the US Food and Drug Administration",
	"hive-treatment":     "from memory: the label of the treatment is the law",
	"closed-lid":         Practice + "; the pressure follows from the gas laws",
	"cleaning":           "extension sanitation notes; " + Practice,
	"discard":            "Ohio State University Extension HYG-5592 on mould; the rest is " + Practice,
	"open-cool":          Practice + "; the pressure by the method of Commission Regulation (EEC) 2676/90",
	"own-law":            "27 CFR 24.75, for one country",
	"infants":            "Institut national de santé publique du Québec",
}

// Said is a caution by its name, with where it comes from.
type Said struct{ Name, Text, Source string }

// Cautions are all that the plans warn of, by name, as a book prints them: in metric units.
func Cautions() []Said {
	var all []Said
	for _, name := range slices.Sorted(maps.Keys(cautions)) {
		all = append(all, Said{name, cautionText(name, measure.Metric), sources[name]})
	}
	return all
}
