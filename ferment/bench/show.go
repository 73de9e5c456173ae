package bench

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// In is the result as it is shown in a system of units: number and unit.
func (r Result) In(s measure.System) (number, unit string) {
	if s == measure.US {
		switch r.Unit {
		case "g":
			return measure.Grams(r.Value).Parts(s)
		case "mL":
			return measure.Millilitres(r.Value).Parts(s)
		case "L":
			return measure.Volume(r.Value).Parts(s)
		case "bar":
			number, unit, _ = strings.Cut(measure.Pressure(r.Value).In(s), " ")
			return number, unit
		}
	}
	return measure.Decimal(r.Value, r.Places), r.Unit
}

// Label is the result's name as words.
func (r Result) Label() string { return strings.ReplaceAll(r.Name, "_", " ") }

// Entry is what a result comes to in a ferment's log, in the grammar of the
// entry line, for the figures whose result is something that is done.
func (a Answer) Entry() (line string, ok bool) {
	act, known := acts[a.Figure.Name]
	if !known {
		return "", false
	}
	for _, name := range act.results {
		for _, r := range a.Results {
			if r.Name == name && r.Value > 0 {
				return strings.TrimSpace(act.act[name] + " " + strings.ReplaceAll(measure.Decimal(r.Value, r.Places), "−", "-") + r.Unit + a.of()), true
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
