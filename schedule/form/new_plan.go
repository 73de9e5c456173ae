package form

import (
	"cmp"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// glass asks for a vessel; an empty answer writes none.
func (n newFerment) glass(p *asking, suffix string, had ferment.Vessel) ferment.Vessel {
	v := ferment.Vessel{Kind: p.ask(Field{Key: "vessel" + suffix, Label: lettered("vessel", suffix), Value: had.Kind, From: "e.g. glass jug", More: true})}
	brimful := had.Brimful.Text
	if sized := slices.ContainsFunc(n.all, func(f ferment.Ferment) bool { return f.Vessel.Brimful.Known() }); sized && brimful == "" && suffix == "" {
		brimful = n.shown(larder.UsualVessel(n.all)).Text
	}
	v.Brimful = may(p, Field{Key: "brimful" + suffix, Label: lettered("jug", suffix), Value: brimful, From: p.fill("filled to the brim, e.g. {4.1 L}")}, measure.ParseVolume)
	if v.Brimful.Known() && v.Brimful.Value <= 0 {
		p.fail("brimful"+suffix, v.Brimful.Text+p.fill(" is no volume: fill it to the brim and measure, e.g. {4.1 L}"))
	}
	v.Declared = v.Kind != "" || v.Brimful.Known()
	return v
}

// yeast asks for the yeast. What is usual is not written.
func (n newFerment) yeast(p *asking, suffix string, had ferment.Yeast) ferment.Yeast {
	var y ferment.Yeast
	label := func(l string) string { return lettered(l, suffix) }
	kinds := []string{string(ferment.Bought), string(ferment.Wild), string(ferment.Slurry)}
	if kind := p.choose(Field{Key: "kind" + suffix, Label: label("yeast is"), Value: orFirst(kinds, string(had.Kind)), Words: kinds, More: true}); kind != kinds[0] {
		y.Kind = ferment.YeastKind(kind)
		y.Culture = n.culture(p, suffix, had.Culture)
	}
	name := cmp.Or(had.Name, n.record.culture(y.Culture).Name)
	y.Name = p.ask(Field{Key: "yeast" + suffix, Label: label("yeast"), Value: name, From: "e.g. white-wine yeast, dry"})
	demands := []string{string(ferment.Medium), string(ferment.Low), string(ferment.High)}
	if d := p.choose(Field{Key: "demand" + suffix, Label: label("demand"), Value: orFirst(demands, string(had.Demand)), Words: demands, More: true}); d != demands[0] {
		y.Demand = ferment.Demand(d)
	}
	y.Tolerance = may(p, Field{Key: "tolerance" + suffix, Label: label("tolerance"), Value: had.Tolerance.Text, From: "alcohol it reaches, e.g. 14 %", More: true}, readTolerance)
	y.Temperature = may(p, n.temperature(suffix, had), measure.ParseTemperatures)
	return y
}

func (n newFerment) temperature(suffix string, had ferment.Yeast) Field {
	return Field{Key: "temperature" + suffix, Label: lettered("temperature", suffix), Value: had.Temperature.Text, From: measure.Fill("that it works at, e.g. {15 °C} to {22 °C}", n.units()), More: true}
}

var readTolerance = within(measure.ParseStrength, func(s measure.Strength) bool { return measure.InRange("tolerance", s, 1, 25, "% vol") == nil },
	"is no tolerance of a yeast", "1 to 25 % vol, e.g. 14 %")

func (n newFerment) culture(p *asking, suffix, had string) string {
	ids := []string{none}
	for _, k := range n.s.Cellar.Cultures {
		if k.Verdict != "discarded" {
			ids = append(ids, k.ID)
		}
	}
	if len(ids) == 1 {
		return ""
	}
	return p.chooseAny(Field{Key: "culture" + suffix, Label: lettered("culture", suffix), Value: orFirst(ids, had), Words: ids})
}

// orFirst returns a word if it is one of several, else the first of them.
func orFirst(words []string, word string) string {
	if slices.Contains(words, word) {
		return word
	}
	return words[0]
}

// protocol asks for the plan: one that is whole, no fragment for an ending.
func (n newFerment) protocol(p *asking, suffix, likely string) string {
	names := []string{none}
	for name, plan := range n.s.Cellar.Protocols {
		if plan().Ending == "" {
			names = append(names, name)
		}
	}
	slices.Sort(names[1:])
	return p.chooseAny(Field{Key: "protocol" + suffix, Label: lettered("plan", suffix), Value: orFirst(names, likely), Words: names, More: true})
}

// planFor returns the plan of a yeast where nobody names another.
func planFor(y ferment.Yeast, fruit bool) string {
	switch {
	case y.IsWild():
		return wildPlan
	case fruit:
		return "fruit"
	}
	return "small-jug"
}

func (n newFerment) endings(p *asking) []ferment.Ending {
	const either = "still, bottle-conditioned"
	had, all := undecided, ferment.Map(ferment.Endings(), func(e ferment.Ending) string { return string(e) })
	words := slices.Concat([]string{undecided}, all, []string{either})
	switch len(n.model.Endings) {
	case 0:
	case 1:
		had = string(n.model.Endings[0])
	default:
		had = either
	}
	chosen, _ := ferment.ParseEndings(p.choose(Field{Key: "ending", Label: "ending", Value: had, Words: words, More: true}))
	return chosen
}

func (n newFerment) nutrient(p *asking, suffix string, had ferment.NutrientPlan) ferment.NutrientPlan {
	names := []string{nutrient.AmmoniumPhosphate.Name, nutrient.YeastDerived.Name}
	for _, k := range n.s.Cellar.Settings.Nutrients {
		if !slices.ContainsFunc(names, func(have string) bool { return strings.EqualFold(have, k.Name) }) {
			names = append(names, k.Name)
		}
	}
	plan := ferment.NutrientPlan{Own: had.Own}
	if name := p.choose(Field{Key: "nutrient" + suffix, Label: lettered("nutrient", suffix), Value: orFirst(names, had.Kind), Words: names, More: true}); name != names[0] {
		plan.Kind = name
	}
	plan.Target = may(p, Field{Key: "nitrogen" + suffix, Label: lettered("nitrogen", suffix), Value: had.Target.Text, From: "wanted in all, e.g. 200 mg/L", More: true}, readTarget)
	return plan
}

var readTarget = within(measure.ParseContent, func(c measure.Content) bool { return c <= 1 },
	"is more nitrogen than any must wants", "up to 1000 mg/L, e.g. 200 mg/L")
