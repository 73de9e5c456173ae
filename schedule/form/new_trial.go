package form

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// The differences that a trial can declare; each has a field of its own.
const (
	byYeast       = "yeast"
	byHoney       = "honey"
	byNutrient    = "nutrient"
	byTemperature = "temperature"
	byProtocol    = "protocol"
	byVessel      = "vessel"
	byElse        = "something else"
)

// trial parts the must into as many vessels as are wanted, with one difference
// between them and all else the same by the litre.
func (n newFerment) trial(p *asking, f ferment.Ferment, b batch) []ferment.Ferment {
	count := p.choose(Field{Key: "vessels", Label: "vessels", Value: "1", Words: []string{"1", "2", "3", "4"}})
	if count == "1" {
		f.Must, f.Trial = n.share(b, b.volume), n.oneOf(p)
		return []ferment.Ferment{f}
	}
	if !b.volume.Known() && len(p.wrong) == 0 {
		p.fail("volume", "give the volume that is parted, "+n.eg(7.2))
	}
	differs := n.declared(p, &f)
	letters := "bcd"[:count[0]-'1']
	fs := []ferment.Ferment{f}
	rest := b.volume.Value
	for i, letter := range letters {
		suffix := "-" + string(letter)
		g := f
		g.ID = n.askFile(p, suffix, fs[i].ID, fs...)
		if g.Name == f.ID {
			g.Name = g.ID
		}
		g.Tag = n.askTag(p, suffix, g.ID, fs...)
		own := n.ownVolume(p, suffix, b, len(letters)+1, &rest)
		g.Must = n.share(b, own)
		n.differ(p, suffix, differs, &g, f, b)
		fs = append(fs, g)
	}
	fs[0].Must = n.share(b, n.shown(rest))
	return fs
}

// oneOf asks for the trial that a single ferment belongs to, if to any.
func (n newFerment) oneOf(p *asking) ferment.Trial {
	var had ferment.Trial
	if !n.model.Past {
		had = n.model.Trial
	}
	t := ferment.Trial{Name: p.ask(Field{Key: "trial", Label: "trial", Value: had.Name, From: "that it belongs to; leave it for none"})}
	if t.Name != "" {
		t.Differs = p.ask(Field{Key: "differs", Label: "differs in", Value: orFirst([]string{byYeast, had.Differs}, had.Differs), From: "e.g. yeast"})
	}
	return t
}

// declared asks what the trial is called and in what its ferments differ.
func (n newFerment) declared(p *asking, f *ferment.Ferment) string {
	stem := f.ID
	if i := strings.LastIndex(stem, "-"); i > 0 && i == len(stem)-2 {
		stem = stem[:i]
	}
	f.Trial.Name = p.ask(Field{Key: "trial", Label: "trial", Value: stem, From: "what the vessels are together, e.g. lime"})
	if f.Trial.Name == "" {
		p.fail("trial", "give the trial a name, e.g. lime")
	}
	differs := p.choose(Field{Key: "differs", Label: "differs in", Value: byYeast,
		Words: []string{byYeast, byHoney, byNutrient, byTemperature, byProtocol, byVessel, byElse}})
	f.Trial.Differs = differs
	if differs == byElse {
		if f.Trial.Differs = p.ask(Field{Key: "difference", Label: "namely", From: "e.g. kitchen or cellar"}); f.Trial.Differs == "" {
			p.fail("difference", "say in what they differ, e.g. place")
		}
	}
	return differs
}

// ownVolume asks how much goes into one of the further vessels: an even part
// where nothing else is typed. The first keeps the rest.
func (n newFerment) ownVolume(p *asking, suffix string, b batch, vessels int, rest *measure.Volume) measure.Given[measure.Volume] {
	even := n.shown(b.volume.Value / measure.Volume(vessels)).Text
	if !b.volume.Known() {
		even = ""
	}
	key := "volume" + suffix
	v := want(p, Field{Key: key, Label: lettered("volume", suffix), Value: even, From: "of the must; the first vessel keeps the rest"}, measure.ParseVolume, "give its part of the must, "+n.eg(3.6))
	*rest -= v.Value
	if b.volume.Known() && v.Known() && (v.Value <= 0 || *rest <= 0) {
		p.fail(key, fmt.Sprintf("%s leave nothing for the others of %s, e.g. %s", v.Text, b.volume.Text, n.shown(b.volume.Value/measure.Volume(vessels)).Text))
	}
	return v
}

// differ asks for the value of what differs in one of the further vessels.
func (n newFerment) differ(p *asking, suffix, differs string, g *ferment.Ferment, first ferment.Ferment, b batch) {
	same := false
	switch differs {
	case byYeast:
		g.Yeast = n.yeast(p, suffix, ferment.Yeast{Temperature: first.Yeast.Temperature})
		if g.Yeast.IsWild() != first.Yeast.IsWild() {
			g.Protocol = n.protocol(p, suffix, planFor(g.Yeast))
		}
		same = g.Yeast == first.Yeast || g.Yeast.Name == "" && g.Yeast.Culture == ""
	case byHoney:
		same = n.otherHoney(p, suffix, g, b)
	case byNutrient:
		g.Nutrient = n.nutrient(p, suffix, first.Nutrient)
		same = g.Nutrient == first.Nutrient
	case byTemperature:
		g.Yeast.Temperature = want(p, n.temperature(suffix, ferment.Yeast{}), measure.ParseTemperatures, p.fill("give the temperature it works at, e.g. {15 °C} to {18 °C}"))
		same = g.Yeast.Temperature == first.Yeast.Temperature
	case byProtocol:
		g.Protocol = n.protocol(p, suffix, planFor(first.Yeast))
		same = g.Protocol == first.Protocol
	case byVessel:
		g.Vessel = n.glass(p, suffix, ferment.Vessel{})
		same = g.Vessel == first.Vessel || !g.Vessel.Declared
	}
	if same {
		key := differs
		if differs == byHoney {
			key = "lot"
		}
		p.fail(key+suffix, fmt.Sprintf("the %s is to be another than in the first vessel, e.g. %s", differs, examples[differs]))
	}
}

// examples are what a trial may differ in.
var examples = map[string]string{
	byYeast: "white-wine yeast, slow", byHoney: "lime-26", byNutrient: "yeast-derived nutrient",
	byTemperature: "15 °C to 18 °C", byProtocol: "by-thirds", byVessel: "stoneware jar",
}

// otherHoney asks for honey of another lot, as much of it as results in the same
// gravity. It reports whether it is the same after all.
func (n newFerment) otherHoney(p *asking, suffix string, g *ferment.Ferment, b batch) (same bool) {
	ids := append([]string{none}, lotIDs(n.s.Cellar.Lots)...)
	had := none
	if len(b.honey) > 0 {
		had = orFirst(ids, b.honey[0].Lot)
	}
	h := ferment.HoneyPart{Lot: p.chooseAny(Field{Key: "lot" + suffix, Label: lettered("honey lot", suffix), Value: had, Words: ids})}
	f := Field{Key: "honey-water" + suffix, Label: lettered("water in it", suffix), From: honey.Typical.String() + " where nobody measured it"}
	if l, is := n.lot(h.Lot); is && waterIn(l) != "" {
		f.Value, f.From = waterIn(l), "measured of "+l.ID
	}
	h.Water = may(p, f, readHoneyWater)
	same = len(b.honey) == 1 && b.honey[0].Lot == h.Lot && b.honey[0].Water.Value == h.Water.Value
	if whole, err := honey.ForGravity(b.gravity, g.Must.Volume.Value, h.Water.Or(honey.Typical)); err == nil {
		h.Mass, g.Must.Water, g.Must.Gravity = n.weighed(whole.Honey), n.shown(whole.Water), measure.Given[measure.Gravity]{}
		g.Must.Honey = []ferment.HoneyPart{h}
	}
	return same
}

func (n newFerment) askFile(p *asking, suffix, after string, beside ...ferment.Ferment) string {
	who := n.names(beside...)
	return p.askName(Field{Key: "file" + suffix, Label: lettered("file", suffix), Value: free(after, who), From: "what commands call it, e.g. lime-a"}, who)
}

func (n newFerment) askTag(p *asking, suffix, id string, beside ...ferment.Ferment) string {
	return p.askTag(Field{Key: "tag" + suffix, Label: lettered("tag", suffix), From: "on the glass, e.g. LIME-A"}, id, n.names(beside...))
}

// lettered is a label of one vessel of several: "B file".
func lettered(label, suffix string) string {
	if suffix == "" {
		return label
	}
	return strings.ToUpper(suffix[1:]) + " " + label
}
