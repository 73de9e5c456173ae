package bench

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Axis is the range of an input over which results of a figure are drawn.
type Axis struct {
	Key      string
	Name     string // in words
	From, To float64
	Unit     string // as typed after the number; empty for a bare one
	Of       []string
}

func of(results ...string) []string { return results }

// Curve is a result over the range of an input.
type Curve struct {
	Result           // its name, unit and places
	X, Y   []float64 // X from 0 to 1, at the ends of the axis
}

const steps = 40 // whole numbers stay whole on an axis of 40, 80 …

// At is the value at a share of the axis, as typed.
func (a Axis) At(share float64) string {
	number := strconv.FormatFloat(math.Round(1e4*(a.From+share*(a.To-a.From)))/1e4, 'f', -1, 64)
	return strings.TrimSpace(number + " " + a.Unit)
}

// Share is where on the axis a typed value is, 0 to 1; 0 for one that is not on it.
func (a Axis) Share(typed string) float64 {
	bare := strings.TrimSuffix(strings.ToLower(strings.ReplaceAll(typed, " ", "")), strings.Trim(strings.ToLower(a.Unit), "°"))
	at, err := measure.ParseNumber(strings.TrimSuffix(bare, "°"))
	switch a.Unit {
	case "°C":
		t, wrong := measure.ParseTemperature(typed)
		at, err = float64(t.Value), wrong
	case "L":
		v, wrong := measure.ParseVolume(typed)
		at, err = float64(v.Value), wrong
	}
	if share := (at - a.From) / (a.To - a.From); err == nil && share <= 1 {
		return max(share, 0)
	}
	return 0
}

// Over calculates the figure over its axis, the other values as given; what is out of its range is left out.
func (f Figure) Over(values map[string]string, s ferment.Settings) []Curve {
	curves := make([]Curve, len(f.Axis.Of))
	given := maps.Clone(values)
	for i := range steps + 1 {
		share := float64(i) / steps
		given[f.Axis.Key] = f.Axis.At(share)
		a, err := f.Work(given, s)
		for c, name := range f.Axis.Of {
			if r, has := ferment.FirstWhere(a.Results, func(r Result) bool { return r.Name == name }); has && err == nil {
				curves[c] = Curve{r, append(curves[c].X, share), append(curves[c].Y, r.Value)}
			}
		}
	}
	return slices.DeleteFunc(curves, func(c Curve) bool { return len(c.X) < 2 })
}
