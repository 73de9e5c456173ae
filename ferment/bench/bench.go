// Package bench holds the figures as forms: the keys that each wants, what it
// gives, and where it comes from. The command line and the bench screen both
// work from it.
package bench

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Figure is one thing that can be worked out.
type Figure struct {
	Name        string
	Use         string // what for, in one line
	Ways        []Way  // one, or several sets of keys of which one is given
	Equation    string // its name or its form
	Source      string
	Range       string
	Within      string // what the checks hold it to
	Uncertainty string // what a person should count with
	Cautions    []Caution
}

// Way is one set of keys with what is worked out from them.
type Way struct {
	Keys []Key
	work func(*form)
}

// Key is one value that a figure wants.
type Key struct {
	Name     string
	Does     string
	Example  string // a quantity among words in braces
	Optional bool
}

// Caution is what can happen with what was worked out.
type Caution struct{ Loud, Text string }

// Input is a value as it was given.
type Input struct{ Key, Text string }

// Result is a number that was worked out.
type Result struct {
	Name   string
	Value  float64
	Unit   string
	Places int // that are worth showing
}

// Answer is what a figure gave.
type Answer struct {
	Figure   Figure
	Inputs   []Input
	Results  []Result
	Assumed  []string
	Table    Table
	Cautions []Caution
}

// Table is a small table that belongs to an answer; empty for most.
type Table struct {
	Head []string
	Rows [][]string
}

// Example is a whole set of values for the first way of a figure.
func (f Figure) Example() string { return f.Ways[0].example(f.Name) }

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

// Figures lists every figure, in the order of the work.
func Figures() []Figure {
	return slices.Concat(glassFigures(), alcoholFigures(), mustFigures(), feedFigures(), fizzFigures(), keepFigures(), bottleFigures())
}

// Find is the figure of a name.
func Find(name string) (Figure, error) {
	all := Figures()
	i := slices.IndexFunc(all, func(f Figure) bool { return strings.EqualFold(f.Name, name) })
	if i >= 0 {
		return all[i], nil
	}
	names := make([]string, len(all))
	for i, f := range all {
		names[i] = f.Name
	}
	return Figure{}, fmt.Errorf("no figure is called %q%s", name, ferment.Meant(name, names))
}

// Work works the figure out with the settings of a cellar, and says it in their
// units. An error says which
// value is missing, or cannot be, with a right example.
func (f Figure) Work(values map[string]string, s ferment.Settings) (Answer, error) {
	way, err := f.way(values)
	if err != nil {
		return Answer{}, err
	}
	form := newForm(f, way, values, s)
	way.work(form)
	if form.err != nil {
		return Answer{}, form.err
	}
	for _, c := range f.Cautions {
		form.caution(c.Loud, measure.Fill(c.Text, s.Units))
	}
	return form.answer, nil
}

// way is the set of keys that the values fit best: all of its keys known, and
// the fewest of them missing.
func (f Figure) way(values map[string]string) (Way, error) {
	best, fewest := -1, 0
	for i, w := range f.Ways {
		if unknown(w, values) == "" {
			if m := len(missing(w, values)); best < 0 || m < fewest {
				best, fewest = i, m
			}
		}
	}
	if best < 0 {
		return Way{}, f.unknownKey(values)
	}
	w := f.Ways[best]
	if lack := missing(w, values); len(lack) > 0 {
		return w, fmt.Errorf("%s wants %s: %s, e.g. %s", f.Name, lack[0].Name, lack[0].Does, w.example(f.Name))
	}
	return w, nil
}

func unknown(w Way, values map[string]string) string {
	for _, name := range sortedKeys(values) {
		if !slices.ContainsFunc(w.Keys, func(k Key) bool { return k.Name == name }) {
			return name
		}
	}
	return ""
}

func missing(w Way, values map[string]string) []Key {
	var lack []Key
	for _, k := range w.Keys {
		if _, given := values[k.Name]; !given && !k.Optional {
			lack = append(lack, k)
		}
	}
	return lack
}

func (f Figure) unknownKey(values map[string]string) error {
	var known []string
	wrong := ""
	for _, w := range f.Ways {
		for _, k := range w.Keys {
			if !slices.Contains(known, k.Name) {
				known = append(known, k.Name)
			}
		}
	}
	for _, name := range sortedKeys(values) {
		if !slices.Contains(known, name) {
			wrong = name
			break
		}
	}
	if wrong == "" {
		return fmt.Errorf("%s takes one of %s", f.Name, f.examples())
	}
	return fmt.Errorf("%s has no key %q%s, e.g. %s", f.Name, wrong, ferment.Meant(wrong, known), f.Example())
}

func (f Figure) examples() string {
	var all []string
	for _, w := range f.Ways {
		all = append(all, w.example(f.Name))
	}
	return strings.Join(all, " | ")
}

func sortedKeys(values map[string]string) []string {
	var keys []string
	for k := range values {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

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
