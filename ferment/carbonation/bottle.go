package carbonation

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Bottle is a kind of bottle and what it bears.
type Bottle struct {
	Kind  string
	Holds measure.Content                 // CO₂ that it may be filled to
	Rated measure.Given[measure.Pressure] // gauge, by its maker
}

// BuiltIn are the bottles that are known without the person's own list. The
// figures are common practice and no standard; the maker's replaces them.
func BuiltIn() []Bottle {
	return []Bottle{
		{Kind: "still-wine bottle"},
		{Kind: "jar"},
		{Kind: "decorative swing-top"},
		{Kind: "crown beer bottle", Holds: 5.5},
		{Kind: "swing-top from a pressure drink", Holds: 6.5},
		{Kind: "heavy reusable", Holds: 7},
		{Kind: "soft-drink bottle", Holds: 8},
		{Kind: "sparkling-wine bottle", Holds: 12},
	}
}

// BottleOf is the built-in bottle of a kind, compared without case.
func BottleOf(kind string) (Bottle, bool) {
	for _, b := range BuiltIn() {
		if strings.EqualFold(b.Kind, kind) {
			return b, true
		}
	}
	return Bottle{}, false
}

// Stands is the gauge pressure that the bottle stands: its maker's figure, else
// what its Holds makes at 40 °C and 5 % vol in the Usual filling (common
// practice, no source), nothing where it holds no fizz.
// Range: 0 to 30 g/L and 0 to 100 bar, outside an error.
func (b Bottle) Stands() (measure.Pressure, error) {
	if b.Rated.Known() {
		if err := measure.InRange("pressure that the bottle stands", b.Rated.Value, 0, 100, "bar"); err != nil {
			return 0, err
		}
		return b.Rated.Value, nil
	}
	if b.Holds == 0 {
		return 0, nil
	}
	p, err := InBottle(b.Holds, Liquid{Alcohol: 5}, Hottest, 0)
	return max(p.Gauge, 0), err
}

// Takes is nil where the bottle may be filled to a content of CO₂, else the
// reason against it.
func (b Bottle) Takes(target measure.Content) error {
	if err := checkCO2(target); err != nil {
		return err
	}
	switch {
	case b.Holds <= 0:
		return fmt.Errorf("a %s is not made for pressure: it holds no fizz at all", b.Kind)
	case target > b.Holds:
		return fmt.Errorf("%s is over the %s that a %s may be filled to", target, b.Holds, b.Kind)
	}
	return nil
}

// Load is how near a pressure comes to what a bottle stands.
type Load string

// The loads. Watch begins at 80 % (common practice, no source).
const (
	Fine  Load = "fine"
	Watch Load = "warn"
	Over  Load = "over"
)

const watchFrom = 0.8

// LoadOf compares a gauge pressure with what the bottle stands.
func LoadOf(gauge, stands measure.Pressure) Load {
	switch {
	case gauge <= 0, gauge < watchFrom*stands:
		return Fine
	case gauge <= stands:
		return Watch
	}
	return Over // also where one of them is no number
}

// Strain is a gauge pressure beside what the bottle stands.
type Strain struct{ Gauge, Stands measure.Pressure }

// Load is how near it comes.
func (s Strain) Load() Load { return LoadOf(s.Gauge, s.Stands) }

// Strain is what a content of CO₂ makes of the bottle at a temperature, with
// so many points of sugar left. Range as InBottle and Stands.
func (b Bottle) Strain(co2 measure.Content, l Liquid, at measure.Temperature, points float64) (Strain, error) {
	made, err := InBottle(co2, l, at, points)
	if err != nil {
		return Strain{}, err
	}
	stands, err := b.Stands()
	return Strain{made.Gauge, stands}, err
}
