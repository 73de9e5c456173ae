package nutrient

import "cellar/jugkeeper/ferment/measure"

// Advice is what one publication says a must should hold of nitrogen.
type Advice struct {
	Who       string
	Says      string          // of what, and what came of it
	Low, High measure.Content // equal where it gives one number
	Memory    bool            // the number is only remembered
}

// Published is how far published targets for nitrogen lie apart, lowest first.
// They are shown beside a need, because none of them is settled; those for
// grapes count on the vitamins and minerals that grapes bring.
func Published() []Advice {
	mg := measure.MilligramsPerLitre
	return []Advice{
		{"Sroka and Tuszyński 2007", "mead with 0.4 g/L of ammonium phosphate fermented", mg(85), mg(85), false},
		{"Schreiner, Osborne and Skinkis 2018", "least for a red grape must; poorer ones were slower, all went dry", mg(100), mg(100), false},
		{"Watson and others, Oregon State", "range of the advice for grape musts", mg(140), mg(500), false},
		{"a response-surface study of mead", "best together with potassium and vitamins", mg(150), mg(150), false},
		{"Bisson and Butzke 2000", "grape musts of 21 to 27 °Bx", mg(200), mg(350), true},
		{"Mendes-Ferreira and others 2010", "mead finished sooner; finishing was not sure", mg(267), mg(267), true},
	}
}
