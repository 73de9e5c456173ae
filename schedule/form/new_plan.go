package form

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// glass asks for a vessel; if left empty none is written.
func (n newFerment) glass(p *asking, suffix string, had ferment.Vessel) ferment.Vessel {
	brimful := had.Brimful.Text
	if sized := slices.ContainsFunc(n.all, func(f ferment.Ferment) bool { return f.Vessel.Brimful.Known() }); sized && brimful == "" && suffix == "" {
		brimful = n.shown(larder.UsualVessel(n.all)).Text
	}
	return p.vessel(Field{Key: "vessel" + suffix, Label: lettered("vessel", suffix), Value: had.Kind, From: "e.g. glass jug", More: true},
		Field{Key: "brimful" + suffix, Label: lettered("jug", suffix), Value: brimful})
}

// yeast asks for the yeast. Usual values are not written.
func (n newFerment) yeast(p *asking, suffix string, had ferment.Yeast) ferment.Yeast {
	var y ferment.Yeast
	label := func(l string) string { return lettered(l, suffix) }
	kinds := []string{string(ferment.Bought), string(ferment.Wild), string(ferment.Slurry)}
	if kind := p.choose(Field{Key: "kind" + suffix, Label: label("yeast kind"), Value: orFirst(kinds, string(had.Kind)), Words: kinds, From: "slurry: lees of another mead", More: true}); kind != kinds[0] {
		y.Kind = ferment.YeastKind(kind)
		y.Culture = n.culture(p, suffix, had.Culture)
	}
	name := cmp.Or(had.Name, n.record.culture(y.Culture).Name)
	y.Name = p.ask(Field{Key: "yeast" + suffix, Label: label("yeast"), Value: name, From: "e.g. white-wine yeast, dry"})
	demands := []string{string(ferment.Medium), string(ferment.Low), string(ferment.High)}
	if d := p.choose(Field{Key: "demand" + suffix, Label: label("demand"), Value: orFirst(demands, string(had.Demand)), Words: demands, From: "of the yeast, for nitrogen", More: true}); d != demands[0] {
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
	ids := append([]string{none}, n.alive()...)
	if len(ids) == 1 {
		return ""
	}
	return p.chooseAny(Field{Key: "culture" + suffix, Label: lettered("culture", suffix), Value: orFirst(ids, had), Words: ids})
}

// orFirst returns word if it is one of words, else the first of them.
func orFirst(words []string, word string) string {
	if slices.Contains(words, word) {
		return word
	}
	return words[0]
}

// protocol asks for the plan, one that is not a fragment for an ending.
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
	had, all := undecided, ferment.Texts(ferment.Endings())
	words := slices.Concat([]string{undecided}, all, []string{either})
	switch len(n.model.Endings) {
	case 0:
	case 1:
		had = string(n.model.Endings[0])
	default:
		had = either
	}
	chosen, _ := ferment.ParseEndings(p.choose(Field{Key: "ending", Label: "ending", Value: had, Words: words, From: "how it is to end", More: true}))
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
	"is more nitrogen than any must needs", "up to 1000 mg/L, e.g. 200 mg/L")

// differences are what a trial can declare, with an example; all but the last have fields.
var differences = [][2]string{{"yeast", "white-wine yeast, slow"}, {"honey", "lime-26"}, {"nutrient", "yeast-derived nutrient"},
	{"temperature", "15 °C to 18 °C"}, {"protocol", "by-thirds"}, {"vessel", "stoneware jar"}, {byElse, "place"}}

const byElse = "something else"

// trial divides the must into vessels that differ in one thing, with the rest in proportion.
func (n newFerment) trial(p *asking, f ferment.Ferment, b batch, count string) []ferment.Ferment {
	if count == "1" {
		f.Trial.Name = p.ask(Field{Key: "trial", Label: "trial", From: "the trial it belongs to, or empty", More: true})
		if f.Trial.Name != "" {
			f.Trial.Differs = p.ask(Field{Key: "differs", Label: "differs in", Value: "yeast", From: "e.g. yeast"})
		}
		f.Must = n.share(b, b.volume)
		return []ferment.Ferment{f}
	}
	if !b.volume.Known() && len(p.wrong) == 0 {
		p.fail("volume", p.fill("give the volume that is divided, e.g. {7.2 L}"))
	}
	differs := n.declared(p, &f)
	letters := "bcd"[:count[0]-'1']
	fs := []ferment.Ferment{f}
	rest := b.volume.Value
	for i, letter := range letters {
		suffix := "-" + string(letter)
		g := f
		n.askNames(p, suffix, fs[i].ID, &g, fs...)
		if g.Name == f.ID {
			g.Name = g.ID
		}
		own := n.ownVolume(p, suffix, b, len(letters)+1, &rest)
		g.Must = n.share(b, own)
		n.differ(p, suffix, differs, &g, f, b)
		fs = append(fs, g)
	}
	fs[0].Must = n.share(b, n.shown(rest))
	return fs
}

// declared asks what the vessels of a trial differ in.
func (n newFerment) declared(p *asking, f *ferment.Ferment) string {
	stem := f.ID
	if i := strings.LastIndex(stem, "-"); i > 0 && i == len(stem)-2 {
		stem = stem[:i]
	}
	f.Trial.Name = p.ask(Field{Key: "trial", Label: "trial", Value: stem, From: "one name for these vessels together, e.g. lime", More: true})
	if f.Trial.Name == "" {
		p.fail("trial", "give the trial a name, e.g. lime")
	}
	differs := p.choose(Field{Key: "differs", Label: "differs in", Value: "yeast", Words: ferment.Map(differences, func(d [2]string) string { return d[0] })})
	f.Trial.Differs = differs
	if differs == byElse {
		if f.Trial.Differs = p.ask(Field{Key: "difference", Label: "namely", From: "e.g. kitchen or cellar"}); f.Trial.Differs == "" {
			p.fail("difference", "say in what they differ, e.g. place")
		}
	}
	return differs
}

// ownVolume asks how much goes into a further vessel, an equal part by default.
func (n newFerment) ownVolume(p *asking, suffix string, b batch, vessels int, rest *measure.Volume) measure.Given[measure.Volume] {
	even := n.shown(b.volume.Value / measure.Volume(vessels)).Text
	if !b.volume.Known() {
		even = ""
	}
	key := "volume" + suffix
	v := want(p, Field{Key: key, Label: lettered("volume", suffix), Value: even, From: "of the must; the first vessel keeps the rest", More: true}, measure.ParseVolume, p.fill("give its part of the must, e.g. {3.6 L}"))
	*rest -= v.Value
	if b.volume.Known() && v.Known() && (v.Value <= 0 || *rest <= 0) {
		p.fail(key, fmt.Sprintf("%s leaves nothing of %s for the others, e.g. %s", v.Text, b.volume.Text, n.shown(b.volume.Value/measure.Volume(vessels)).Text))
	}
	return v
}

// differ asks for the one thing in which the other vessel differs.
func (n newFerment) differ(p *asking, suffix, differs string, g *ferment.Ferment, a ferment.Ferment, b batch) {
	same := false
	switch differs {
	case "yeast":
		g.Yeast = n.yeast(p, suffix, ferment.Yeast{Temperature: a.Yeast.Temperature})
		if g.Yeast.IsWild() != a.Yeast.IsWild() {
			g.Protocol = n.protocol(p, suffix, planFor(g.Yeast, b.fruit.Name != ""))
		}
		same = g.Yeast == a.Yeast || g.Yeast.Name == "" && g.Yeast.Culture == ""
	case "honey":
		same = n.otherHoney(p, suffix, g, b)
	case "nutrient":
		g.Nutrient = n.nutrient(p, suffix, a.Nutrient)
		same = g.Nutrient == a.Nutrient
	case "temperature":
		g.Yeast.Temperature = want(p, n.temperature(suffix, ferment.Yeast{}), measure.ParseTemperatures, p.fill("give the temperature it works at, e.g. {15 °C} to {18 °C}"))
		same = g.Yeast.Temperature == a.Yeast.Temperature
	case "protocol":
		g.Protocol = n.protocol(p, suffix, planFor(a.Yeast, b.fruit.Name != ""))
		same = g.Protocol == a.Protocol
	case "vessel":
		g.Vessel = n.glass(p, suffix, ferment.Vessel{})
		same = g.Vessel == a.Vessel || !g.Vessel.Declared
	}
	if same {
		d, _ := ferment.FirstWhere(differences, func(d [2]string) bool { return d[0] == differs })
		key := strings.Replace(differs, "honey", "lot", 1)
		p.fail(key+suffix, fmt.Sprintf("the %s must differ from that of the first vessel, e.g. %s", differs, d[1]))
	}
}

// otherHoney asks for another lot for the same gravity, and reports whether it is the same lot.
func (n newFerment) otherHoney(p *asking, suffix string, g *ferment.Ferment, b batch) (same bool) {
	ids := append([]string{none}, lotIDs(n.s.Cellar.Lots)...)
	had := none
	if len(b.honey) > 0 {
		had = orFirst(ids, b.honey[0].Lot)
	}
	h := ferment.HoneyPart{Lot: p.chooseAny(Field{Key: "lot" + suffix, Label: lettered("honey lot", suffix), Value: had, Words: ids})}
	h.Water = may(p, n.lotWater("honey-water"+suffix, lettered("honey water", suffix), h.Lot), readHoneyWater)
	same = len(b.honey) == 1 && b.honey[0].Lot == h.Lot && b.honey[0].Water.Value == h.Water.Value
	if whole, err := honey.ForGravity(b.gravity, g.Must.Volume.Value, h.Water.Or(honey.Typical)); err == nil {
		h.Mass, g.Must.Water, g.Must.Gravity = n.weighed(whole.Honey), n.shown(whole.Water), measure.Given[measure.Gravity]{}
		g.Must.Honey = []ferment.HoneyPart{h}
	}
	return same
}

// named asks for file name and tag, proposed from the name.
func (n newFerment) named(p *asking, f *ferment.Ferment) {
	likely := n.model.ID
	if f.Name != "" {
		likely = stem(f.Name, "mead")
	}
	if cmp.Or(p.values["file"], p.given["file"], likely) == "" {
		p.fail("name", "give it a name, e.g. Lime blossom")
		return
	}
	n.askNames(p, "", likely, f)
	for i := range p.fields {
		if p.fields[i].Key == "name" && f.ID != "" {
			p.fields[i].Does = fmt.Sprintf("tag %s · kept in %s.yaml", f.Tag, f.ID)
		}
	}
}

func (n newFerment) askNames(p *asking, suffix, after string, f *ferment.Ferment, beside ...ferment.Ferment) {
	who := n.names(beside...)
	f.ID = p.askName(Field{Key: "file" + suffix, Label: lettered("file", suffix), Value: free(after, who), From: "what commands call it, e.g. lime-a", More: true}, who)
	f.Tag = p.askTag(Field{Key: "tag" + suffix, Label: lettered("tag", suffix), From: "on the glass, e.g. LIME-A", More: true}, f.ID, who)
}

// lettered returns the label for one vessel of several: "B file".
func lettered(label, suffix string) string {
	if suffix == "" {
		return label
	}
	return strings.ToUpper(suffix[1:]) + " " + label
}
