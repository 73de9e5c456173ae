package bench

import (
	"fmt"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// feedFigures are about yeast and what it lives on.
func feedFigures() []Figure {
	return []Figure{
		{
			Name: "yeast", Use: "yeast for a must",
			Ways:     []Way{{Keys: []Key{{"volume", "must", "3.6L", false}, {"gravity", "original gravity", "1.090", false}}, work: yeast}},
			Equation: "0.25 g/L for 5e6 cells/mL, doubled above 1.110", Source: "AWRI rehydration figures",
			Range: "0.01 to 2000 L", Within: "exact", Uncertainty: "a fifth: packets differ",
		},
		{
			Name: "nutrient", Use: "nitrogen wanted, and the doses",
			Ways: []Way{{Keys: []Key{
				{"volume", "must", "3.6L", false}, {"gravity", "original gravity", "1.090", false}, {"demand", "of the yeast: low, medium, high", "medium", false},
				{"target", "nitrogen wanted in all", "200mg/L", true}, {"own", "nitrogen of the must itself", "20mg/L", true},
				{"kind", "ammonium phosphate, or yeast-derived", "ammonium phosphate", true}, {"steps", "equal doses", "2", true},
			}, work: nitrogen}},
			Equation: "200 mg/L or the sugar curve, times demand; need × volume / nitrogen per gram", Source: "Bisson and Butzke 2000, from memory; atomic weights",
			Range: "120 to 350 mg/L before the demand", Within: "0.1 % of stoichiometry", Uncertainty: "papers on mead disagree: 85 to 267 mg/L worked",
			Cautions: []Caution{{"warn", "powder into a gassy must foams over: degas until quiet, stir it into {20 to 50 mL} first, tray under"}},
		},
	}
}

func yeast(f *form) {
	volume, original := want(f, "volume", measure.ParseVolume), want(f, "gravity", gravity.Parse)
	if f.err != nil {
		return
	}
	p, err := nutrient.PitchFor(volume, original)
	f.fail(err)
	if p.Doubled {
		f.assume("doubled, for a must above 1.110")
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
	if f.err != nil {
		return
	}
	var err error
	must.Sugar, err = gravity.ToBrix(original)
	f.fail(err)
	need, err := nutrient.NeedOf(must)
	f.fail(err)
	if f.err != nil {
		return
	}
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
	f.answer.Table = adviceTable()
}

func nutrientNamed(text string) (measure.Given[nutrient.Nutrient], error) {
	w, err := word("ammonium phosphate", "ammonium", "yeast-derived", "yeast-derived nutrient", "organic")(text)
	if err != nil {
		return measure.Given[nutrient.Nutrient]{}, err
	}
	if w.Value == "ammonium phosphate" || w.Value == "ammonium" {
		return measure.Give(nutrient.AmmoniumPhosphate, text), nil
	}
	return measure.Give(nutrient.YeastDerived, text), nil
}

// adviceTable is what others say is wanted: they disagree, and a person should
// see it.
func adviceTable() Table {
	t := Table{Head: []string{"who", "says", "mg/L"}}
	for _, a := range nutrient.Published() {
		t.Rows = append(t.Rows, []string{a.Who, a.Says, fmt.Sprintf("%.0f to %.0f", a.Low.MilligramsPerLitre(), a.High.MilligramsPerLitre())})
	}
	return t
}
