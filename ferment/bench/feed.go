package bench

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

func feedFigures() []Figure {
	return []Figure{
		{
			Name: "yeast", Axis: Axis{"gravity", "original gravity", 1.040, 1.160, "", of("dry")}, Use: "yeast for a must",
			Ways:     []Way{{Keys: []Key{{"volume", "must", "3.6L", false}, {"gravity", "original gravity", "1.090", false}}, work: yeast}},
			Equation: "0.25 g/L for 5e6 cells/mL, rising from 1.100 to twice that at 1.120", Source: "AWRI rehydration figures",
			Range: "0.01 to 2000 L", Within: "exact", Uncertainty: "±20 %: packets differ",
		},
		{
			Name: "nutrient", Axis: Axis{"gravity", "original gravity", 1.040, 1.160, "", of("each")}, Use: "nitrogen wanted, and the doses",
			Ways: []Way{{Keys: []Key{
				{"volume", "must", "3.6L", false}, {"gravity", "original gravity", "1.090", false}, {"demand", "of the yeast: low, medium, high", "medium", false},
				{"target", "nitrogen wanted in all", "200mg/L", true}, {"own", "nitrogen of the must itself", "20mg/L", true},
				{"kind", "ammonium phosphate, or yeast-derived", "ammonium phosphate", true}, {"steps", "how many equal doses", "2", true},
			}, work: nitrogen}},
			Equation: "200 mg/L or the sugar curve, times demand; need × volume / nitrogen per gram", Source: "Bisson and Butzke 2000, from memory; atomic weights",
			Range: "120 to 350 mg/L before the demand", Within: "0.1 % of stoichiometry", Uncertainty: "published doses for mead differ: 85 to 267 mg/L",
			Cautions: []Caution{{"warn", "powder makes a gassy must foam over: degas it until it is quiet, stir the powder into {20 to 50 mL} of must first, and put a tray under it"}},
		},
	}
}

func yeast(f *form) {
	volume, original := want(f, "volume", measure.ParseVolume), want(f, "gravity", gravity.Parse)
	p, err := nutrient.PitchFor(volume, original)
	f.fail(err)
	if p.Strong() {
		f.assume(fmt.Sprintf("%.2f g/L: over the usual 0.25 for a must above 1.100", float64(p.Rate)))
	}
	f.give("dry", p.Dry.Grams(), "g", 2)
	f.give("cells", p.Cells, "cells", 0)
	f.give("starter", p.Starter.Millilitres(), "mL", 0)
}

func nitrogen(f *form) {
	volume, original := want(f, "volume", measure.ParseVolume), want(f, "gravity", gravity.Parse)
	must := nutrient.Must{
		Demand: nutrient.Demand(want(f, "demand", word("low", "medium", "high"))),
		Target: read(f, "target", measure.ParseContent), Own: read(f, "own", measure.ParseContent),
	}
	of := may(f, "kind", nutrientNamed, nutrient.AmmoniumPhosphate, "ammonium phosphate, 212 mg of nitrogen in a gram")
	steps := may(f, "steps", whole("steps", 1, 12, "2"), 2, "two equal doses")
	var err error
	must.Sugar, err = gravity.ToBrix(original)
	f.fail(err)
	need, err := nutrient.NeedOf(must)
	f.fail(err)
	f.assume(need.Assumed...)
	parts := make([]nutrient.Part, steps)
	for i := range parts {
		parts[i] = nutrient.Part{Share: measure.Share(100 / float64(steps)), Of: of}
	}
	doses, err := nutrient.Plan(need.Add, volume, parts)
	f.fail(err)
	if f.err != nil {
		return
	}
	if said := doses.Explain(); said != "" {
		f.assume(said)
	}
	f.give("need", need.Add.MilligramsPerLitre(), "mg/L", 0)
	f.give("each", doses.Each[0].Mass.Grams(), "g", 2)
	f.give("total", doses.Total.Grams(), "g", 2)
	f.give("reached", doses.Possible.MilligramsPerLitre(), "mg/L", 0)
	advice := Table{Head: []string{"who", "says", "mg/L"}} // published advice differs, and a person should see it
	for _, a := range nutrient.Published() {
		advice.Rows = append(advice.Rows, []string{a.Who, a.Says, fmt.Sprintf("%.0f to %.0f", a.Low.MilligramsPerLitre(), a.High.MilligramsPerLitre())})
	}
	f.answer.Table = advice
}

func nutrientNamed(text string) (measure.Given[nutrient.Nutrient], error) {
	w, err := word("ammonium phosphate", "ammonium", "yeast-derived", "yeast-derived nutrient", "organic")(text)
	if strings.HasPrefix(w.Value, "ammonium") {
		return measure.Give(nutrient.AmmoniumPhosphate, text), err
	}
	return measure.Give(nutrient.YeastDerived, text), err
}

func keepFigures() []Figure {
	return []Figure{
		{
			Name: "sulphite", Axis: Axis{"ph", "pH", 2.8, 4.5, "", of("salt")}, Use: "metabisulphite for a free sulphur dioxide",
			Ways: []Way{{Keys: []Key{
				{"ph", "of the mead", "3.4", false}, {"volume", "of the mead", "3.3L", false}, {"alcohol", "its strength, for an exact pK", "12%", true},
				{"at", "the temperature it will be kept at", "20C", true}, {"pk", "if you know a better value", "1.81", true}, {"molecular", "wanted, mg/L", "0.8", true},
				{"present", "free sulphur dioxide there already", "10mg/L", true}, {"bound", "share that does not stay free", "30%", true},
			}, work: sulphite}},
			Equation: "free = molecular (1 + 10^(pH − pK)); metabisulphite 0.576 of its mass", Source: "OIV table of mixed pK by strength and temperature, from memory; printed table at 1.81",
			Range: "pH 2.8 to 4.5, 20 to 40 °C", Within: "1 mg/L; 0.02 in pK", Uncertainty: "as accurate as the pH reading",
			Cautions: []Caution{
				{"warn", "some people, most of them asthmatic, react to sulphites: say so on the label"},
				{"note", "powder and stock give off fumes: open a window, do not sniff it, never mix it with acid in a closed jar; do not bottle-condition after it"},
			},
		},
		{
			Name: "sorbate", Axis: Axis{"alcohol", "strength", 0, 20, "%", of("salt")}, Use: "potassium sorbate, with sulphite",
			Ways:     []Way{{Keys: []Key{{"volume", "of the mead", "3.3L", false}, {"alcohol", "its strength", "12%", false}}, work: sorbate}},
			Equation: "200 mg/L of sorbic acid to 10 % vol, 25 less for each 1 % vol, 75 from 15 % on; salt × 1/0.7464", Source: "after older texts, from memory; OIV limit 200 mg/L; stoichiometry",
			Range: "0 to 20 % vol", Within: "0.1 % of stoichiometry", Uncertainty: "a rule of practice",
			Cautions: []Caution{
				{"warn", "it works under pH 3.5; above 3.8 no dose is reliable. Always add sulphite with it. Never add it where bacteria have worked (it then smells of geranium) or before bottle-conditioning"},
				{"note", "it keeps yeast from starting again and kills none: use it on clear, cold mead"},
			},
		},
		{
			Name: "acid", Axis: Axis{"to", "acidity wanted", 0, 12, "g/L", of("salt")}, Use: "acid to a titratable acidity",
			Ways: []Way{{Keys: []Key{
				{"from", "acidity now, as tartaric", "4.5g/L", false}, {"to", "acidity wanted", "5.5g/L", false}, {"volume", "of the mead", "3.3L", false},
				{"kind", "tartaric, citric, malic or lactic", "citric", false},
			}, work: acid}},
			Equation: "(to − from) × volume × equivalent weight", Source: "molar masses", Range: "0 to 20 g/L", Within: "1 %", Uncertainty: "taste first: add 0.25 to 0.5 g/L at a time",
		},
		{
			Name: "buffer", Axis: Axis{"to", "acidity wanted", 0, 12, "g/L", of("salt")}, Use: "potassium bicarbonate against sourness",
			Ways: []Way{{Keys: []Key{
				{"from", "acidity now, as tartaric", "7g/L", false}, {"to", "acidity wanted", "6g/L", false}, {"volume", "of the mead", "3.3L", false},
			}, work: buffer}},
			Equation: "1.33 g/L for each 1 g/L of acid", Source: "stoichiometry: mead has no tartrate to fall out", Range: "0 to 20 g/L", Within: "1 %", Uncertainty: "pH cannot be predicted: measure it",
			Cautions: []Caution{{"warn", "it foams: degas first, add it in small parts, put a tray under it"}},
		},
	}
}

func sulphite(f *form) {
	s := finishing.Sulphite{
		PH: want(f, "ph", measure.ParsePH), Volume: want(f, "volume", measure.ParseVolume),
		Molecular: read(f, "molecular", milligrams).Else(f.settings.Limits.Molecular), PK: read(f, "pk", number("pK", 1, 3, "1.81")).Else(f.settings.Limits.PK),
		Alcohol: read(f, "alcohol", measure.ParseStrength), At: read(f, "at", measure.ParseTemperature).Else(f.settings.Limits.StoredAt),
		Present: read(f, "present", milligrams).Value, Bound: read(f, "bound", measure.ParseShare).Else(f.settings.Limits.Bound),
	}
	d, err := finishing.SulphiteFor(s)
	f.fail(err)
	f.assume(d.Assumed...)
	if d.Warning != "" {
		f.caution("warn", d.Warning)
	}
	f.give("free", d.Free.MilligramsPerLitre(), "mg/L", 1)
	f.give("salt", d.Salt.Grams(), "g", 3)
	f.give("stock", d.Stock.Millilitres(), "mL of 10 %", 2)
	f.give("pk", d.PK, "", 3)
}

func sorbate(f *form) {
	volume, strength := want(f, "volume", measure.ParseVolume), want(f, "alcohol", measure.ParseStrength)
	d, err := finishing.SorbateFor(volume, strength)
	f.fail(err)
	f.give("sorbic", d.Sorbic.MilligramsPerLitre(), "mg/L", 0)
	f.give("salt", d.Salt.Grams(), "g", 3)
}

func acid(f *form) {
	from, to := want(f, "from", measure.ParseContent), want(f, "to", measure.ParseContent)
	volume := want(f, "volume", measure.ParseVolume)
	kind := want(f, "kind", word("tartaric", "citric", "malic", "lactic"))
	m, err := finishing.AcidFor(finishing.Acid(kind), from, to, volume)
	f.fail(err)
	f.give("salt", m.Grams(), "g", 2)
}

func buffer(f *form) {
	from, to := want(f, "from", measure.ParseContent), want(f, "to", measure.ParseContent)
	volume := want(f, "volume", measure.ParseVolume)
	b, err := finishing.BufferFor(from, to, volume)
	f.fail(err)
	if b.Warning != "" {
		f.caution("warn", b.Warning)
	}
	f.give("salt", b.Salt.Grams(), "g", 2)
}
