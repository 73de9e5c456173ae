package bench

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// The cautions about closed bottles under pressure.
var bottleCautions = []Caution{
	{"warn", "a bottle under pressure can burst: use bottles made for it, without chips, keep them in a closed crate, and fill one soft bottle of the same batch"},
	{"note", "use the temperature of the hottest place they will be in, and two points of unfinished sugar; the maker's limit counts, not the built-in one"},
}

func fizzFigures() []Figure {
	return []Figure{
		{
			Name: "prime", Axis: Axis{"hottest", "temperature", 0, 40, "°C", of("pressure", "two_points_left", "made_for")}, Use: "sugar for bottle-conditioning",
			Ways: []Way{{Keys: []Key{
				{"volume", "after the last racking", "3.05L", false}, {"alcohol", "of the mead", "11.5%", false},
				{"warmest", "since the bubbling ended", "19C", false}, {"target", "carbon dioxide aimed at", "5g/L", false},
				{"bottle", "kind, size, or both", "crown beer bottle {330mL}", false}, {"sugar", "honey, sucrose, glucose (monohydrate)", "honey", true},
				{"water", "in the honey", "18.1%", true}, {"left", "carbon dioxide still in it, if you know", "1.2g/L", true}, {"hottest", "the warmest they get", "30C", true},
				{"filled", "temperature at filling", "20C", true}, {"dissolved", "boiled water for the sugar", "150mL", true},
			}, work: prime}},
			Equation: "0.4886 g CO₂ per g of hexose, 0.5144 of sucrose; honey 92 % of its solids", Source: "atomic weights; EU wine method for what is left",
			Range: "0 to 40 °C", Within: "1 % of worked values", Uncertainty: "dose ±3 %, pressure ±8 %", Cautions: bottleCautions,
		},
		{
			Name: "pressure", Axis: Axis{"at", "temperature", 0, 40, "°C", of("gauge")}, Use: "pressure in a closed bottle",
			Ways: []Way{{Keys: []Key{
				{"co2", "carbon dioxide in the bottle", "5g/L", false}, {"alcohol", "of the mead", "12%", false}, {"at", "temperature of the bottle", "30C", false},
				{"sugar", "sweetness", "0g/L", true}, {"points", "of gravity not yet fermented", "0", true},
				{"filled", "temperature at filling", "20C", true}, {"headspace", "air under the cap; 0 for the gas alone", "3%", true},
				{"bottle", "kind, to compare with its limit", "crown beer bottle", true},
			}, work: pressure}},
			Equation: "g/L = 1.951 p (0.86 − 0.01 A)(1 − 0.00144 S) at 20 °C, blended with Weiss away from it; plus the nitrogen of the air capped in",
			Source:   "Regulation (EEC) 2676/90; Weiss 1974; OIML R 22 for the liquid's expansion",
			Range:    "0 to 40 °C", Within: "3 % of NIST and Weiss water; 6 to 8 % of the Champagne points; a mole balance", Uncertainty: "±8 % of the gas, a quarter of the air", Cautions: bottleCautions,
		},
		{
			Name: "gas", Axis: Axis{"to", "temperature after", 0, 40, "°C", of("drawn_in")}, Use: "gas drawn in as a vessel cools",
			Ways: []Way{{Keys: []Key{
				{"cools-from", "temperature before", "20C", false}, {"to", "temperature after", "4C", false}, {"volume", "in the vessel", "3.5L", false}, {"alcohol", "of the mead", "12%", false},
			}, work: gas}},
			Equation: "V (k(to) − k(from)) × 1.013 bar", Source: "as pressure", Range: "0 to 40 °C", Within: "5 % of worked values", Uncertainty: "±10 %",
			Cautions: []Caution{{"note", "the liquid of the airlock is drawn in: swap it for a closure that lets nothing in, or fill it with spirit"}},
		},
		{
			Name: "room", Axis: Axis{"fall", "points fallen", 0, 120, "", of("share")}, Use: "carbon dioxide in a room with working jugs",
			Ways: []Way{{Keys: []Key{
				{"jugs", "that ferment", "6", false}, {"volume", "of each", "4L", false}, {"fall", "points of gravity", "10", false}, {"room", "its volume", "20m3", false},
			}, work: room}},
			Equation: "1.05 g/L of CO₂ a point", Source: "mass balance; NIOSH 1976 for the limits", Range: "100 L and more", Within: "5 %", Uncertainty: "no room is completely closed",
			Cautions: []Caution{{"warn", "open the door before you go in. At a headache or quick breath leave at once. The limits: 0.5 % for a working day, 3 % for minutes; 4 % is dangerous"}},
		},
	}
}

func prime(f *form) {
	p := carbonation.Priming{
		Volume: want(f, "volume", measure.ParseVolume), Liquid: carbonation.Liquid{Alcohol: want(f, "alcohol", measure.ParseStrength)},
		Warmest: want(f, "warmest", measure.ParseTemperature), Target: want(f, "target", measure.ParseCarbonation),
		Water: read(f, "water", measure.ParseShare), Left: read(f, "left", measure.ParseCarbonation).Else(f.settings.Limits.GasLeft),
		Dissolved: read(f, "dissolved", measure.ParseVolume),
	}
	p.Sugar = carbonation.Sugar(may(f, "sugar", word("honey", "sucrose", "glucose", "glucose monohydrate"), "honey", "primed with honey"))
	b := want(f, "bottle", f.parseBottle)
	p.Bottle, p.Size = b.Bottle, b.size
	f.assume(b.assumed...)
	d, err := carbonation.Prime(p)
	f.fail(err)
	f.assume(d.Assumed...)
	f.give("left", float64(d.Left), "g/L", 2)
	f.give("per_litre", float64(d.PerLitre), "g/L", 2)
	f.give("per_bottle", d.PerBottle.Grams(), "g", 2)
	f.give("batch", d.Batch.Grams(), "g", 1)
	f.give("added_alcohol", float64(d.Alcohol), "% vol", 2)
	f.primed(p, d, may(f, "hottest", measure.ParseTemperature, f.settings.Hottest, fmt.Sprintf("hottest place of the bottles: %s", f.settings.Hottest.In(f.settings.Units))))
}

// primed adds the pressure of the primed batch, with two points unfinished against the bottle's limit.
func (f *form) primed(p carbonation.Priming, d carbonation.Dose, hottest measure.Temperature) {
	after := p.Liquid
	after.Alcohol = d.Strength
	filling := f.filled(carbonation.Usual.Headspace)
	f.pressures(filling, p.Target, after, hottest)
	if worst, err := p.Bottle.Strain(filling, p.Target, after, hottest, 2); err == nil {
		dry, _ := p.Bottle.Strain(filling, p.Target, after, hottest, 0) // known as that with two points is
		f.give("pressure", float64(dry.Compared()), "bar", 1)
		f.give("two_points_left", float64(worst.Compared()), "bar", 1)
		f.give("made_for", float64(worst.Limit), "bar", 1)
		if !p.Bottle.Rated.Known() {
			f.assume("pressure, and that with two points left, is of CO₂ alone, as is what the bottle is made for")
		}
	}
	f.strained(p.Bottle, filling, p.Target, after, hottest, 2)
}

// strained warns if the pressure with so many points unfinished is near the bottle's limit, or over it.
func (f *form) strained(b carbonation.Bottle, filling carbonation.Filling, co2 measure.Content, l carbonation.Liquid, hottest measure.Temperature, points float64) {
	worst, err := b.Strain(filling, co2, l, hottest, points)
	if err != nil {
		return
	}
	u := f.settings.Units
	switch worst.Load() {
	case carbonation.Over:
		f.caution("stop", worst.In(u)+": aim lower, or take a stronger bottle")
	case carbonation.Watch:
		f.caution("warn", worst.In(u)+": over 80 % of that")
	}
}

// pressures adds a table of gauge pressures by temperature and unfinished sugar.
func (f *form) pressures(filling carbonation.Filling, co2 measure.Content, l carbonation.Liquid, hottest measure.Temperature) {
	rows, err := filling.Table(co2, l, hottest)
	f.fail(err)
	s, unit := f.settings.Units, "bar"
	if s == measure.US {
		unit = "psi"
	}
	t := Table{Head: []string{"pressure, " + unit, "no sugar left", "1 point left", "2 points", "3 points"}}
	for _, r := range rows {
		row := []string{r.At.In(s)}
		row = append(row, ferment.Map(r.ByPoints, func(p carbonation.Pressure) string { return strings.TrimSuffix(p.Gauge.In(s), " "+unit) })...)
		t.Rows = append(t.Rows, row)
	}
	f.answer.Table = t
}

func pressure(f *form) {
	co2, at := want(f, "co2", measure.ParseCarbonation), want(f, "at", measure.ParseTemperature)
	l := carbonation.Liquid{
		Alcohol: want(f, "alcohol", measure.ParseStrength),
		Sugar:   may(f, "sugar", measure.ParseContent, 0, "dry"),
	}
	points := may(f, "points", number("points", 0, 20, "0"), 0, "nothing left to ferment")
	filling := f.filled(may(f, "headspace", parseHeadspace, carbonation.Usual.Headspace, fmt.Sprintf("air in %s of the bottle", carbonation.Usual.Headspace)))
	p, err := filling.InBottle(co2, l, at, points)
	f.fail(err)
	f.give("gauge", float64(p.Gauge), "bar", 2)
	f.give("absolute", float64(p.Absolute), "bar", 2)
	f.give("co2", float64(p.Gas), "bar", 2)
	f.give("air", float64(p.Air), "bar", 2)
	f.give("volumes", carbonation.Volumes(p.CO2), "volumes", 2)
	f.pressures(filling, co2, l, max(at, f.settings.Hottest))
	if f.given("bottle") {
		f.strained(want(f, "bottle", f.parseBottle).Bottle, filling, co2, l, max(at, f.settings.Hottest), max(points, 2))
	}
}

func (f *form) filled(headspace measure.Share) carbonation.Filling {
	usual := carbonation.Usual.At
	return carbonation.Filling{Headspace: headspace,
		At: may(f, "filled", measure.ParseTemperature, usual, fmt.Sprintf("filled at %s", usual.In(f.settings.Units)))}
}

// parseHeadspace reads a share; none needs no unit.
func parseHeadspace(text string) (measure.Given[measure.Share], error) {
	if strings.TrimSpace(text) == "0" {
		return measure.Give[measure.Share](0, text), nil
	}
	return measure.ParseShare(text)
}

func gas(f *form) {
	from, to := want(f, "cools-from", measure.ParseTemperature), want(f, "to", measure.ParseTemperature)
	volume, strength := want(f, "volume", measure.ParseVolume), want(f, "alcohol", measure.ParseStrength)
	v, err := carbonation.DrawnIn(volume, carbonation.Liquid{Alcohol: strength}, from, to)
	f.fail(err)
	f.assume("the liquid is saturated with carbon dioxide, and no sugar is left")
	f.give("drawn_in", float64(v), "L", 1)
}

func room(f *form) {
	jugs, volume := want(f, "jugs", whole("jugs", 1, 1000, "6")), want(f, "volume", measure.ParseVolume)
	fall, space := want(f, "fall", number("fall", 0, 200, "10")), want(f, "room", parseRoom)
	air, err := carbonation.InRoom(jugs, volume, fall, space)
	f.fail(err)
	f.assume("the door stays closed")
	f.give("co2", air.CO2.Grams(), "g", 0)
	f.give("share", float64(air.Share), "%", 2)
}

// parseRoom reads the volume of a room in m³, or in litres.
func parseRoom(text string) (measure.Given[measure.Volume], error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, mark := range []string{"m³", "m3"} {
		if n, is := strings.CutSuffix(s, mark); is {
			v, err := measure.ParseNumber(strings.TrimSpace(n))
			return measure.Give(measure.Volume(v*1000), text), err
		}
	}
	return measure.ParseVolume(text)
}

type sizedBottle struct {
	carbonation.Bottle
	size    measure.Volume
	assumed []string
}

// parseBottle reads a kind of bottle, a size, or both: "crown beer bottle 330mL". The cellar's own kinds take
// precedence.
func (f *form) parseBottle(text string) (measure.Given[sizedBottle], error) {
	kind, size := strings.TrimSpace(text), ""
	if i := strings.IndexAny(text, "0123456789"); i >= 0 {
		kind, size = strings.Trim(text[:i], " ,"), text[i:]
	}
	var b sizedBottle
	own := slices.IndexFunc(f.settings.Bottles, func(b ferment.BottleKind) bool { return strings.EqualFold(b.Kind, kind) && b.Size.Known() })
	switch {
	case size != "":
		v, err := measure.ParseVolume(size)
		if err != nil {
			return measure.Given[sizedBottle]{}, err
		}
		b.size = v.Value
	case own >= 0:
		b.size = f.settings.Bottles[own].Size.Value
	default:
		b.size, b.assumed = measure.Millilitres(330), []string{"a bottle of {330 mL}"}
	}
	if kind == "" {
		kind = "crown beer bottle"
		b.assumed = append(b.assumed, "a "+kind)
	}
	var known bool
	if b.Bottle, known = shelf.KindOf(f.settings, kind); !known {
		kinds := ferment.Map(shelf.AllKinds(f.settings), func(b carbonation.Bottle) string { return b.Kind })
		return measure.Given[sizedBottle]{}, fmt.Errorf("no bottle is called %q: there is %s", kind, strings.Join(kinds, ", "))
	}
	return measure.Give(b, text), nil
}

func bottleFigures() []Figure {
	return []Figure{
		{
			Name: "bottles", Axis: Axis{"volume", "volume", 0, 20, "L", of("count")}, Use: "bottles that a vessel fills",
			Ways: []Way{{Keys: []Key{
				{"volume", "after the last racking", "3.05L", false}, {"size", "of a bottle", "330mL", false}, {"lees", "left behind", "150mL", true}, {"samples", "taken before", "100mL", true},
			}, work: bottles}},
			Equation: "whole bottles of what is left", Source: "definition", Range: "0.01 to 2000 L", Within: "exact", Uncertainty: "that of the volume",
		},
		{
			Name: "triangle", Axis: Axis{"tastings", "tastings", 5, 45, "", of("needed")}, Use: "whether tasters can tell two meads apart",
			Ways:     []Way{{Keys: []Key{{"tastings", "made", "12", false}, {"correct", "odd glass found", "8", true}}, work: panel("correct", finishing.Triangle)}},
			Equation: "binomial tail, p = 1/3", Source: "as in ISO 4120", Range: "3 to 500 tastings", Within: "exact", Uncertainty: "none but chance, 5 %",
		},
		{
			Name: "paired", Axis: Axis{"tastings", "tastings", 6, 46, "", of("needed")}, Use: "whether tasters prefer one of two meads",
			Ways:     []Way{{Keys: []Key{{"tastings", "made", "12", false}, {"preferred", "the favourite", "10", true}}, work: panel("preferred", finishing.Paired)}},
			Equation: "two-sided binomial tail, p = 1/2", Source: "as in ISO 5495", Range: "6 to 500 tastings", Within: "exact", Uncertainty: "none but chance, 5 %",
		},
		{
			Name: "cost", Axis: Axis{"bottles", "bottles", 1, 41, "", of("each")}, Use: "what a bottle cost",
			Ways: []Way{{Keys: []Key{
				{"honey", "used", "1.1kg", false}, {"price", "of a kilogram of it", "12", false}, {"bottles", "bottles it filled", "8", false},
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
	b, err := finishing.Fill(volume, size, lees, samples)
	f.fail(err)
	f.give("count", float64(b.Count), "bottles", 0)
	f.give("left", b.Left.Millilitres(), "mL", 0)
}

// panel calculates how many of n tastings are needed, and the chance of an outcome.
func panel(key string, test finishing.Trial) func(*form) {
	return func(f *form) {
		n := want(f, "tastings", whole("tastings", 1, 500, "12"))
		least, err := test.Needed(n)
		f.fail(err)
		got := may(f, key, whole(key, 0, n, "8"), least, "the chance is that of the number needed")
		p, err := test.Chance(n, got)
		f.fail(err)
		f.give("needed", float64(least), "tastings", 0)
		f.give("chance", p, "", 4)
	}
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
	s, err := finishing.CostOf(c)
	f.fail(err)
	f.give("each", s.Each, "", 2)
	f.give("total", s.Total, "", 2)
	f.give("each_own_honey", s.HoneyFree, "", 2)
}
