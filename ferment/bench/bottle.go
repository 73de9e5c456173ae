package bench

import (
	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
)

// bottleFigures are about bottles and what is found in them.
func bottleFigures() []Figure {
	return []Figure{
		{
			Name: "bottles", Use: "bottles that a vessel fills",
			Ways: []Way{{Keys: []Key{
				{"volume", "in the vessel", "3.05L", false}, {"size", "of a bottle", "330mL", false}, {"lees", "left behind", "150mL", true}, {"samples", "taken before", "100mL", true},
			}, work: bottles}},
			Equation: "whole bottles of what is left", Source: "definition", Range: "0.01 to 2000 L", Within: "exact", Uncertainty: "that of the volume",
		},
		{
			Name: "triangle", Use: "whether tasters can tell two meads apart",
			Ways:     []Way{{Keys: []Key{{"tastings", "made", "12", false}, {"correct", "odd glass found", "8", true}}, work: triangle}},
			Equation: "binomial tail, p = 1/3", Source: "as in ISO 4120", Range: "3 to 500 tastings", Within: "exact", Uncertainty: "none but chance, 5 %",
		},
		{
			Name: "paired", Use: "whether tasters prefer one of two meads",
			Ways:     []Way{{Keys: []Key{{"tastings", "made", "12", false}, {"preferred", "the favourite", "10", true}}, work: paired}},
			Equation: "two-sided binomial tail, p = 1/2", Source: "as in ISO 5495", Range: "6 to 500 tastings", Within: "exact", Uncertainty: "none but chance, 5 %",
		},
		{
			Name: "cost", Use: "what a bottle cost",
			Ways: []Way{{Keys: []Key{
				{"honey", "used", "1.1kg", false}, {"price", "of a kilogram of it", "12", false}, {"bottles", "that came of it", "8", false},
				{"yeast", "money", "2", true}, {"nutrient", "money", "0.6", true}, {"caps", "money", "0.8", true}, {"other", "money", "2", true},
			}, work: cost}},
			Equation: "(honey × price + the others) / bottles", Source: "definition", Range: "any money", Within: "exact", Uncertainty: "none",
		},
	}
}

func bottles(f *form) {
	volume, size := want(f, "volume", measure.ParseVolume), want(f, "size", measure.ParseVolume)
	lees := may(f, "lees", measure.ParseVolume, 0, "no lees left behind")
	samples := may(f, "samples", measure.ParseVolume, 0, "no samples taken")
	if f.err != nil {
		return
	}
	b, err := finishing.Fill(volume, size, lees, samples)
	f.fail(err)
	f.give("count", float64(b.Count), "bottles", 0)
	f.give("left", b.Left.Millilitres(), "mL", 0)
}

func triangle(f *form) {
	n := want(f, "tastings", whole("tastings", 1, 500, "12"))
	f.panel(n, "correct", finishing.TriangleNeeded, finishing.TriangleChance)
}

func paired(f *form) {
	n := want(f, "tastings", whole("tastings", 1, 500, "12"))
	f.panel(n, "preferred", finishing.PairedNeeded, finishing.PairedChance)
}

// panel gives how many of n tastings are needed, and the chance of what came
// out, or of just the number needed.
func (f *form) panel(n int, key string, needed func(int) (int, error), chance func(n, k int) (float64, error)) {
	if f.err != nil {
		return
	}
	least, err := needed(n)
	f.fail(err)
	if f.err != nil {
		return
	}
	got := may(f, key, whole(key, 0, n, "8"), least, "the chance is that of the number needed")
	p, err := chance(n, got)
	f.fail(err)
	f.give("needed", float64(least), "tastings", 0)
	f.give("chance", p, "", 4)
}

func cost(f *form) {
	money := number("money", 0, 1e7, "12")
	c := finishing.Cost{
		Honey: want(f, "honey", measure.ParseMass), Price: want(f, "price", money), Bottles: want(f, "bottles", whole("bottles", 1, 100000, "8")),
	}
	for _, key := range []string{"yeast", "nutrient", "caps", "other"} {
		if f.given(key) {
			c.Others = append(c.Others, want(f, key, money))
		}
	}
	if f.err != nil {
		return
	}
	s, err := finishing.CostOf(c)
	f.fail(err)
	f.give("each", s.Each, "", 2)
	f.give("total", s.Total, "", 2)
	f.give("each_own_honey", s.HoneyFree, "", 2)
}
