package bench

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

var (
	honeyWater  = Key{"water", "in the honey", "17.2%", false}
	hotCautions = []Caution{
		{"warn", "never pour hot liquid into cold glass: dissolve the honey in a pan, cool it, then pour it into the jug; a full jug is heavy and slippery"},
		{"note", "give no honey to children under twelve months, and use none that was taken during a hive treatment"},
	}
)

func mustFigures() []Figure {
	return []Figure{
		{
			Name: "must", Axis: Axis{"gravity", "gravity wanted", 1.020, 1.160, "", of("honey")}, Use: "honey and water for a must",
			Ways: []Way{
				{Keys: []Key{{"gravity", "wanted", "1.084", false}, {"volume", "wanted", "3.6L", false}, honeyWater}, work: recipe("gravity", gravity.Parse, "volume", honey.ForGravity)},
				{Keys: []Key{{"honey", "weighed", "980g", false}, {"volume", "volume wanted in the end", "3.6L", false}, honeyWater}, work: recipe("honey", measure.ParseMass, "volume", honey.FromMass)},
				{Keys: []Key{{"honey", "weighed", "980g", false}, {"into", "water to dissolve it in", "2.9L", false}, honeyWater}, work: recipe("honey", measure.ParseMass, "into", honey.IntoWater)},
			},
			Equation: "mass balance of solids, ICUMSA SPS-4 density", Source: "derived; an extension leaflet's 3 to 3.5 lb in a US gallon", Range: "1.001 to 1.200",
			Within: "0.3 % of worked values; 3.25 lb in a gallon within 0.004", Uncertainty: "±1 %: the water in the honey", Cautions: hotCautions,
		},
		{
			Name: "correct", Axis: Axis{"to", "gravity wanted", 1.040, 1.160, "", of("honey")}, Use: "honey or water to another gravity",
			Ways: []Way{{Keys: []Key{
				{"volume", "of the must", "3.6L", false}, {"gravity", "now", "1.092", false}, {"to", "wanted", "1.100", false}, {"water", "in the honey", "17.2%", true},
			}, work: correct}},
			Equation: "mass and volume balance", Source: "derived", Range: "1.001 to 1.200", Within: "0.5 % of worked values", Uncertainty: "±2 %",
		},
		{
			Name: "honey", Axis: Axis{"refractive-index", "refractive index", 1.480, 1.504, "", of("water")}, Use: "water and density of honey",
			Ways: []Way{
				{Keys: []Key{{"refractive-index", "read", "1.4966", false}, {"sample", "temperature it was read at", "20C", true}}, work: honeyByIndex},
				{Keys: []Key{{"brix", "on a sugar refractometer", "81", false}}, work: honeyByBrix},
				{Keys: []Key{{"water", "in the honey", "17.2%", false}}, work: honeyByWater},
			},
			Equation: "w = (−0.26810 − log10(n − 1))/0.002243; White's density, interpolated", Source: "Wedmore 1955, AOAC 969.38; White 1975, from memory",
			Range: "12 to 26 % water; density 13 to 21 %", Within: "0.03 % water; 0.0005 SG", Uncertainty: "±0.1 % water, ±0.001 SG",
			Cautions: []Caution{
				{"warn", "give no honey to children under twelve months"},
				{"note", "do not use honey from supers that were on during a treatment: the label of the treatment is the law"},
			},
		},
		{
			Name: "sweeten", Axis: Axis{"to", "gravity wanted", 0.990, 1.050, "", of("honey")}, Use: "honey to sweeten a mead that is stabilised",
			Ways: []Way{{Keys: []Key{
				{"volume", "of the mead", "3.05L", false}, {"gravity", "now", "0.997", false}, {"to", "wanted", "1.012", false}, {"alcohol", "of the mead", "11.5%", false}, honeyWater,
			}, work: sweeten}},
			Equation: "mass and volume balance", Source: "derived", Range: "0.980 to 1.200", Within: "0.5 % of worked values", Uncertainty: "±2 %",
			Cautions: []Caution{{"warn", "honey ferments if yeast is alive in the mead: stabilise it first, and watch it for four weeks before bottling"}},
		},
		{
			Name: "blend", Use: "what several meads make together, or in which parts",
			Ways: []Way{
				{Keys: []Key{{"a", "volume,gravity,alcohol", "{3.4L},1.046,5%", false}, {"b", "volume,gravity,alcohol", "{1.0L},0.997,12%", false}, {"c", "volume,gravity,alcohol", "{0.5L},1.000,0%", true}}, work: blend},
				{Keys: []Key{{"a", "strength of the first", "14%", false}, {"b", "strength of the second", "9%", false}, {"to", "strength wanted", "12%", false}}, work: parts},
			},
			Equation: "means by volume; the rectangle", Source: "definition", Range: "0.980 to 1.200, 0 to 25 % vol", Within: "0.5 % of worked values", Uncertainty: "0.2 % of the volume",
		},
	}
}

// recipe calculates a must from a gravity or a mass, a volume, and the water in the honey.
func recipe[T any](key string, parse func(string) (measure.Given[T], error), volume string, of func(T, measure.Volume, measure.Share) (honey.Recipe, error)) func(*form) {
	return func(f *form) {
		x, v, w := want(f, key, parse), want(f, volume, measure.ParseVolume), want(f, "water", measure.ParseShare)
		if f.err != nil {
			return
		}
		r, err := of(x, v, w)
		f.fail(err)
		f.give("honey", r.Honey.Grams(), "g", 0)
		f.give("water", r.Water.Millilitres(), "mL", 0)
		f.give("gravity", float64(r.Gravity), "SG", 4)
		f.give("volume", float64(r.Volume), "L", 2)
	}
}

func correct(f *form) {
	v, from, to := want(f, "volume", measure.ParseVolume), want(f, "gravity", gravity.Parse), want(f, "to", gravity.Parse)
	w := honey.Typical
	if to >= from {
		w = may(f, "water", measure.ParseShare, honey.Typical, "17.2 % water in the honey")
	}
	r, err := honey.Correct(v, from, to, w)
	f.fail(err)
	if to < from {
		f.give("water", r.Water.Millilitres(), "mL", 0)
	} else {
		f.give("honey", r.Honey.Grams(), "g", 1)
	}
	f.give("volume", float64(r.Volume), "L", 2)
}

func honeyByIndex(f *form) {
	n := want(f, "refractive-index", number("refractive index", 1.40, 1.60, "1.4966"))
	at := may(f, "sample", measure.ParseTemperature, 20, "read at {20 °C}")
	if f.err == nil {
		w, err := honey.Water(gravity.Index(n), at)
		f.fail(err)
		f.honeyOf(w)
	}
}

func honeyByBrix(f *form) {
	b := want(f, "brix", honey.ParseBrix)
	if f.err == nil {
		w, err := honey.WaterByBrix(b)
		f.fail(err)
		f.assume("an instrument that corrects for temperature itself")
		f.honeyOf(w)
	}
}

func honeyByWater(f *form) {
	if w := want(f, "water", measure.ParseShare); f.err == nil {
		f.honeyOf(w)
	}
}

// honeyOf gives everything that follows from the water in honey; the density only within its table.
func (f *form) honeyOf(w measure.Share) {
	f.give("water", float64(w), "%", 2)
	g, err := honey.Gravity(w)
	var out *measure.OutOfRange
	if errors.As(err, &out) {
		f.assume(fmt.Sprintf("no density is tabled for %s: %v", w, err))
	} else {
		density, err := gravity.DensityOf(g)
		f.fail(err)
		f.give("density", float64(density), "kg/m³", 0)
		f.give("sg", float64(g), "SG", 4)
	}
	b, err := honey.BrixOf(w)
	f.fail(err)
	f.give("brix", float64(b), "°Bx", 1)
}

func sweeten(f *form) {
	v, from, to := want(f, "volume", measure.ParseVolume), want(f, "gravity", gravity.Parse), want(f, "to", gravity.Parse)
	strength, w := want(f, "alcohol", measure.ParseStrength), want(f, "water", measure.ParseShare)
	dry := honey.Mead{Volume: v, Gravity: from, Alcohol: strength}
	added, err := honey.Sweeten(dry, to, w)
	f.fail(err)
	in, err := honey.Dissolved(added, w)
	f.fail(err)
	sweet, err := honey.Blend(dry, in)
	f.fail(err)
	f.give("honey", added.Grams(), "g", 1)
	f.give("volume", float64(sweet.Volume), "L", 2)
	f.give("alcohol", float64(sweet.Alcohol), "% vol", 1)
	f.give("added", honey.Solids(added, w).Grams()/float64(sweet.Volume), "g/L", 1)
}

func blend(f *form) {
	meads := []honey.Mead{want(f, "a", parseMead), want(f, "b", parseMead)}
	if f.given("c") {
		meads = append(meads, want(f, "c", parseMead))
	}
	b, err := honey.Blend(meads...)
	f.fail(err)
	f.give("volume", float64(b.Volume), "L", 2)
	f.give("gravity", float64(b.Gravity), "SG", 4)
	f.give("alcohol", float64(b.Alcohol), "% vol", 2)
}

// parseMead reads volume, gravity and strength separated by commas; decimals need a point.
func parseMead(text string) (measure.Given[honey.Mead], error) {
	fields := strings.Split(text, ",")
	if len(fields) != 3 {
		return measure.Given[honey.Mead]{}, fmt.Errorf("%q is not a volume, a gravity and a strength with commas between (decimals with a point, e.g. 3.4L,1.046,5%%)", text)
	}
	v, noVolume := measure.ParseVolume(fields[0])
	g, noGravity := gravity.Parse(fields[1])
	s, noStrength := measure.ParseStrength(fields[2])
	return measure.Give(honey.Mead{Volume: v.Value, Gravity: g.Value, Alcohol: s.Value}, text), cmp.Or(noVolume, noGravity, noStrength)
}

// parts works out in which parts two meads make a strength.
func parts(f *form) {
	a, b, to := want(f, "a", measure.ParseStrength), want(f, "b", measure.ParseStrength), want(f, "to", measure.ParseStrength)
	x, y, err := honey.Parts(a, b, to)
	f.fail(err)
	f.give("parts_a", x, "parts", 2)
	f.give("parts_b", y, "parts", 2)
}
