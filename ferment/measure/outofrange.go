package measure

import (
	"fmt"
	"math"
	"strconv"
)

// OutOfRange says that a quantity lies outside the range in which a figure
// holds, or is no number at all.
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

// InRange is nil for a value from low to high, both included, else an
// OutOfRange. NaN and infinities are outside every range.
func InRange[T ~float64](name string, v, low, high T, unit string) error {
	if v >= low && v <= high && !math.IsInf(float64(v), 0) {
		return nil
	}
	return &OutOfRange{name, float64(v), float64(low), float64(high), unit}
}

// shortest writes a number with as few decimals as hold six digits of it.
func shortest(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
