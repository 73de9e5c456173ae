package bench

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// In is the result as it is shown in a system of units: number and unit. A dose
// too small for ounces stays in grams, and a density in kg/m³.
func (r Result) In(s measure.System) (number, unit string) {
	number, unit = measure.Decimal(r.Value, r.Places), r.Unit
	if s != measure.US {
		return number, unit
	}
	of, rest, _ := strings.Cut(r.Unit, " ")
	switch of {
	case "g":
		if n, u := measure.Grams(r.Value).Parts(s); u != "g" {
			number, of = n, u
		}
	case "mL":
		number, of = measure.Millilitres(r.Value).Parts(s)
	case "L":
		number, of = measure.Volume(r.Value).Parts(s)
	case "bar":
		number, of, _ = strings.Cut(measure.Pressure(r.Value).In(s), " ")
	}
	return number, strings.TrimSpace(of + " " + rest)
}

// ExampleIn is the example of a key in a system of units.
func (k Key) ExampleIn(s measure.System) string {
	return measure.Turned(measure.Fill(k.Example, s), s)
}

// Label is the result's name as words.
func (r Result) Label() string { return strings.ReplaceAll(r.Name, "_", " ") }

// Entry is what a result comes to in a ferment's log, in the grammar of the
// entry line and a system of units, for the figures whose result is something that is done.
func (a Answer) Entry(s measure.System) (line string, ok bool) {
	act, known := acts[a.Figure.Name]
	if !known {
		return "", false
	}
	for _, name := range act.results {
		for _, r := range a.Results {
			if r.Name == name && r.Value > 0 {
				number, unit := r.In(s)
				return strings.TrimSpace(act.act[name] + " " + number + strings.ReplaceAll(unit, " ", "") + a.of()), true
			}
		}
	}
	return "", false
}

// acts are the figures whose result goes into a log, by which of their results
// and as which act.
var acts = map[string]struct {
	results []string
	act     map[string]string
}{
	"yeast":    {[]string{"dry"}, map[string]string{"dry": "pitch"}},
	"nutrient": {[]string{"each"}, map[string]string{"each": "nutrient"}},
	"prime":    {[]string{"batch"}, map[string]string{"batch": "prime"}},
	"sweeten":  {[]string{"honey"}, map[string]string{"honey": "honey"}},
	"correct":  {[]string{"honey", "water"}, map[string]string{"honey": "honey", "water": "water"}},
	"sulphite": {[]string{"salt"}, map[string]string{"salt": "sulphite"}},
	"sorbate":  {[]string{"salt"}, map[string]string{"salt": "sorbate"}},
	"acid":     {[]string{"salt"}, map[string]string{"salt": "acid"}},
	"buffer":   {[]string{"salt"}, map[string]string{"salt": "buffer"}},
}

// of is what the amount is of, where the inputs say so.
func (a Answer) of() string {
	for _, i := range a.Inputs {
		if i.Key == "kind" || i.Key == "sugar" {
			return ` of="` + i.Text + `"`
		}
	}
	return ""
}
