// Package measure has the quantities of the cellar, one defined type each. It parses them
// as a person types them, converts them between units, and prints them.
//
// Inside the program a quantity is always metric: kg, L, °C, specific gravity at 20/20 °C,
// % vol at 20 °C, g/L, bar. Only parsing and printing know other units.
package measure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Gravity is a specific gravity at 20/20 °C, for example 1.084.
type Gravity float64

// Brix is a share of dissolved sucrose by mass in %, e.g. 20.2; degrees Plato are the same scale.
type Brix float64

// Temperature is in °C.
type Temperature float64

// Volume is in litres at 20 °C.
type Volume float64

// Mass is in kilograms.
type Mass float64

// Strength is alcohol by volume at 20 °C, in % vol.
type Strength float64

// Share is a part of a whole in %, by mass unless a comment says otherwise.
type Share float64

// Content is mass in a volume of liquid, in g/L.
type Content float64

// Pressure is in bar. Whether it is gauge or absolute is said with the value.
type Pressure float64

// PH is on the usual scale from 0 to 14.
type PH float64

// Depth is in centimetres.
type Depth float64

// Yield is milligrams of nitrogen in a gram of a nutrient.
type Yield float64

// Grams converts grams to a Mass.
func Grams(g float64) Mass { return Mass(g / 1000) }

// Grams returns the mass in grams.
func (m Mass) Grams() float64 { return float64(m) * 1000 }

// Millilitres converts millilitres to a Volume.
func Millilitres(ml float64) Volume { return Volume(ml / 1000) }

// Millilitres returns the volume in millilitres.
func (v Volume) Millilitres() float64 { return float64(v) * 1000 }

// MilligramsPerLitre converts mg/L to a Content.
func MilligramsPerLitre(mg float64) Content { return Content(mg / 1000) }

// MilligramsPerLitre returns the content in mg/L.
func (c Content) MilligramsPerLitre() float64 { return float64(c) * 1000 }

// Points returns how far the gravity is above 1, in thousandths: 84 for 1.084.
func (g Gravity) Points() float64 { return (float64(g) - 1) * 1000 }

// Rounded returns the gravity to the given number of decimal places.
func (g Gravity) Rounded(places int) Gravity { return Gravity(Round(float64(g), places)) }

// Round returns a number to the given number of decimal places.
func Round(v float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(v*p) / p
}

// Given is a value with the text as it was typed; an empty text means that none was given.
type Given[T any] struct {
	Value T
	Text  string
}

// Give returns a given value with its text.
func Give[T any](value T, text string) Given[T] { return Given[T]{value, text} }

// Known reports whether anything was given.
func (g Given[T]) Known() bool { return g.Text != "" }

// Else returns g if it was given, and other if not.
func (g Given[T]) Else(other Given[T]) Given[T] {
	if g.Known() {
		return g
	}
	return other
}

// Or returns the value given, else the fallback.
func (g Given[T]) Or(fallback T) T {
	if g.Known() {
		return g.Value
	}
	return fallback
}

// Span is a lowest and a highest value; a single one is a span of no width.
type Span[T ~float64] struct{ Low, High T }

// Middle returns the value half-way between the two ends.
func (s Span[T]) Middle() T { return (s.Low + s.High) / 2 }

// OutOfRange says that a quantity is outside the range of a figure, or no number.
type OutOfRange struct {
	Name      string // "gravity", "alcohol"
	Value     float64
	Low, High float64
	Unit      string // "" for a bare number
}

func (e *OutOfRange) Error() string {
	unit := ""
	if e.Unit != "" {
		unit = " " + e.Unit
	}
	return fmt.Sprintf("%s %s%s is outside %s to %s%s", e.Name, shortest(e.Value), unit, shortest(e.Low), shortest(e.High), unit)
}

// ErrorIn returns the text of an error, its quantities in the units of a system.
func ErrorIn(err error, s System) string {
	var out *OutOfRange
	var typed *Error
	switch {
	case errors.As(err, &out):
		span := fmt.Sprintf("{%s %s} is outside {%s to %s %s}", shortest(out.Value), out.Unit, shortest(out.Low), shortest(out.High), out.Unit)
		if said := Fill(out.Name+" "+strings.ReplaceAll(span, "-", "−"), s); !strings.Contains(said, "{") {
			return strings.Replace(err.Error(), out.Error(), said, 1)
		}
	case errors.As(err, &typed):
		return strings.Replace(err.Error(), typed.Error(), typed.in(s), 1)
	}
	return err.Error()
}

// InRange returns nil for low to high, both included, else an OutOfRange, also for NaN.
func InRange[T ~float64](name string, v, low, high T, unit string) error {
	if v >= low && v <= high && !math.IsInf(float64(v), 0) {
		return nil
	}
	return &OutOfRange{name, float64(v), float64(low), float64(high), unit}
}

// shortest writes a number with at most six significant digits.
func shortest(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
