// Package bench describes the figures as forms: the keys that each needs, its results and its source. The command line
// and the bench screen share it.
package bench

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Figure is something that can be calculated.
type Figure struct {
	Name        string
	Use         string // what for, in one line
	Axis        Axis   // the input whose range is drawn; none where no one input is the natural one
	Ways        []Way  // alternative sets of keys
	Equation    string // its name or formula
	Source      string
	Range       string
	Within      string // tolerance of the tests
	Uncertainty string // what to expect in practice
	Cautions    []Caution
}

// Way is one set of keys and the function for it.
type Way struct {
	Keys []Key
	work func(*form)
}

// Key is one value that a figure needs.
type Key struct {
	Name     string
	Does     string
	Example  string // a quantity in it is in braces
	Optional bool
}

// Caution warns of what can happen with the result.
type Caution struct{ Loud, Text string }

// Input is a value as typed.
type Input struct{ Key, Text string }

// Result is one calculated number.
type Result struct {
	Name   string
	Value  float64
	Unit   string
	Places int // decimals to show
}

// Answer is the outcome of a figure.
type Answer struct {
	Figure   Figure
	Inputs   []Input
	Results  []Result
	Assumed  []string
	Table    Table
	Cautions []Caution
}

// Table is an optional table of an answer.
type Table struct {
	Head []string
	Rows [][]string
}

// Example returns a complete set of values for the first way of a figure.
func (f Figure) Example() string { return f.Ways[0].example(f.Name) }

// example returns a command that works the figure out by these keys.
func (w Way) example(name string) string {
	parts := []string{name}
	for _, k := range w.Keys {
		if !k.Optional {
			parts = append(parts, k.Name+"="+k.quoted())
		}
	}
	return strings.Join(parts, " ")
}

func (k Key) quoted() string {
	text := k.ExampleIn(measure.Metric)
	if strings.Contains(text, " ") {
		return "'" + text + "'"
	}
	return text
}

// Figures lists all figures, in the order of making mead.
func Figures() []Figure {
	return slices.Concat(glassFigures(), alcoholFigures(), mustFigures(), feedFigures(), fizzFigures(), keepFigures(), bottleFigures())
}

// Find returns the figure of a name.
func Find(name string) (Figure, error) {
	all := Figures()
	i := slices.IndexFunc(all, func(f Figure) bool { return strings.EqualFold(f.Name, name) })
	if i >= 0 {
		return all[i], nil
	}
	return Figure{}, fmt.Errorf("no figure is called %q%s", name, ferment.Meant(name, ferment.Map(all, func(f Figure) string { return f.Name })))
}

// Work calculates the figure with a cellar's settings and units. An error says which value is missing or wrong, with a
// right example.
func (f Figure) Work(values map[string]string, s ferment.Settings) (Answer, error) {
	way, err := f.way(values)
	if err != nil {
		return Answer{}, err
	}
	form := &form{way: way, values: values, settings: s, answer: Answer{Figure: f}}
	for _, k := range way.Keys {
		if text, given := values[k.Name]; given {
			form.answer.Inputs = append(form.answer.Inputs, Input{k.Name, text})
		}
	}
	way.work(form)
	if form.err != nil {
		return Answer{}, form.err
	}
	for _, c := range f.Cautions {
		form.caution(c.Loud, measure.Fill(c.Text, s.Units))
	}
	return form.answer, nil
}

// way returns the set of keys that fits best: it has all given keys, and the fewest are missing.
func (f Figure) way(values map[string]string) (Way, error) {
	best, lacks := -1, []Key(nil)
	for i, w := range f.Ways {
		var missing []Key
		used := 0
		for _, k := range w.Keys {
			if _, given := values[k.Name]; given {
				used++
			} else if !k.Optional {
				missing = append(missing, k)
			}
		}
		if used == len(values) && (best < 0 || len(missing) < len(lacks)) {
			best, lacks = i, missing
		}
	}
	if best < 0 {
		return Way{}, f.unknownKey(values)
	}
	w := f.Ways[best]
	if len(lacks) > 0 {
		return w, fmt.Errorf("%s needs %s: %s, e.g. %s", f.Name, lacks[0].Name, lacks[0].Does, w.example(f.Name))
	}
	return w, nil
}

func (f Figure) unknownKey(values map[string]string) error {
	var known, ways []string
	for _, w := range f.Ways {
		ways = append(ways, w.example(f.Name))
		for _, k := range w.Keys {
			if !slices.Contains(known, k.Name) {
				known = append(known, k.Name)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		if !slices.Contains(known, name) {
			return fmt.Errorf("%s has no key %q%s, e.g. %s", f.Name, name, ferment.Meant(name, known), f.Example())
		}
	}
	return fmt.Errorf("%s takes one of %s", f.Name, strings.Join(ways, " | "))
}

// In returns number and unit of the result in a system of units. A dose too small for ounces stays in grams, and a
// density in kg/m³.
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

// ExampleIn returns the example of a key in a system of units.
func (k Key) ExampleIn(s measure.System) string {
	return measure.Converted(measure.Fill(k.Example, s), s)
}

// Label returns the result's name as words.
func (r Result) Label() string {
	return cmp.Or(labels[r.Name+", "+r.Unit], strings.ReplaceAll(r.Name, "_", " "))
}

var labels = map[string]string{"mass, % mass": "alcohol", "left, g/L": "gas left", "left, mL": "left over", "per_litre, g/L": "sugar a litre",
	"per_bottle, g": "sugar a bottle", "batch, g": "sugar for all"}

// Entry returns the result as an entry line in a system of units, for figures whose result is an act.
func (a Answer) Entry(s measure.System) (line string, ok bool) {
	of := ""
	for _, i := range a.Inputs {
		if i.Key == "kind" || i.Key == "sugar" {
			of = ` of="` + i.Text + `"`
		}
	}
	for _, act := range acts[a.Figure.Name] {
		for _, r := range a.Results {
			if r.Name == act.result && r.Value > 0 {
				number, unit := r.In(s)
				return strings.TrimSpace(act.act + " " + number + strings.ReplaceAll(unit, " ", "") + of), true
			}
		}
	}
	return "", false
}

// acts are the figures whose result can be logged: which results, and as which act.
var acts = map[string][]struct{ result, act string }{
	"yeast":    {{"dry", "pitch"}},
	"nutrient": {{"each", "nutrient"}},
	"prime":    {{"batch", "prime"}},
	"sweeten":  {{"honey", "honey"}},
	"correct":  {{"honey", "honey"}, {"water", "water"}},
	"sulphite": {{"salt", "sulphite"}},
	"sorbate":  {{"salt", "sorbate"}},
	"acid":     {{"salt", "acid"}},
	"buffer":   {{"salt", "buffer"}},
}
