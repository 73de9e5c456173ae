package bench

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// form reads the values of a figure and collects the results. After the first error nothing more is calculated.
type form struct {
	way      Way
	values   map[string]string
	settings ferment.Settings
	answer   Answer
	err      error
}

func (f *form) given(key string) bool { _, is := f.values[key]; return is }

func (f *form) fail(err error) { f.err = cmp.Or(f.err, err) }

// read returns the value of a key, unknown if it was not given.
func read[T any](f *form, key string, parse func(string) (measure.Given[T], error)) measure.Given[T] {
	text, given := f.values[key]
	if f.err != nil || !given {
		return measure.Given[T]{}
	}
	v, err := parse(text)
	if err != nil {
		i := slices.IndexFunc(f.way.Keys, func(k Key) bool { return k.Name == key })
		f.fail(fmt.Errorf("%s: %w; write %s=%s", key, err, key, f.way.Keys[i].quoted()))
	}
	return v
}

// want returns the value of a key that has to be given.
func want[T any](f *form, key string, parse func(string) (measure.Given[T], error)) T {
	return read(f, key, parse).Value
}

// may reads an optional value; without it the fallback is noted as assumed.
func may[T any](f *form, key string, parse func(string) (measure.Given[T], error), fallback T, said string) T {
	if f.given(key) {
		return want(f, key, parse)
	}
	f.assume(said)
	return fallback
}

// assume adds assumptions, with the quantities in braces in the cellar's units.
func (f *form) assume(said ...string) {
	if f.err == nil {
		f.answer.Assumed = append(f.answer.Assumed, ferment.Map(said, func(text string) string { return measure.Fill(text, f.settings.Units) })...)
	}
}

func (f *form) caution(loud, text string) {
	f.answer.Cautions = append(f.answer.Cautions, Caution{loud, text})
}

func (f *form) give(name string, value float64, unit string, places int) {
	f.answer.Results = append(f.answer.Results, Result{name, value, unit, places})
}

// parseBrix reads a Brix refractometer's reading, or converts a gravity to Brix.
func parseBrix(text string) (measure.Given[measure.Brix], error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, mark := range []string{"°bx", "bx", "r"} {
		s = strings.TrimSpace(strings.TrimSuffix(s, mark))
	}
	if g, err := measure.ParseGravity(s); err == nil {
		b, err := gravity.ToBrix(g.Value)
		return measure.Give(b, text), err
	}
	return measure.ParseScale[measure.Brix](s, "°Brix", 0, 85, "23.8")
}

func number(name string, low, high float64, example string) func(string) (measure.Given[float64], error) {
	return func(text string) (measure.Given[float64], error) {
		return measure.ParseScale[float64](text, name, low, high, example)
	}
}

// whole returns a parser that takes a whole number.
func whole(name string, low, high int, example string) func(string) (measure.Given[int], error) {
	return func(text string) (measure.Given[int], error) {
		g, err := measure.ParseScale[float64](text, name, float64(low), float64(high), example)
		if err == nil && g.Value != float64(int(g.Value)) {
			err = fmt.Errorf("%q is not a whole number of %s, e.g. %s", text, name, example)
		}
		return measure.Give(int(g.Value), text), err
	}
}

// milligrams reads a small content in mg/L, with its unit or bare.
func milligrams(text string) (measure.Given[measure.Content], error) {
	if n, err := measure.ParseNumber(text); err == nil {
		text = measure.Decimal(n, 3) + " mg/L"
	}
	return measure.ParseContent(text)
}

// word returns a parser that takes one of some words.
func word(words ...string) func(string) (measure.Given[string], error) {
	return func(text string) (measure.Given[string], error) {
		for _, w := range words {
			if strings.EqualFold(w, strings.TrimSpace(text)) {
				return measure.Give(w, text), nil
			}
		}
		return measure.Given[string]{}, fmt.Errorf("%q is not one of its words%s", text, ferment.Meant(text, words))
	}
}
