package words

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// Unknown stands where nothing is known: never 0, never nothing.
const Unknown = "·"

// String is the amount in one piece: "1.0 g", "9 × 330 mL".
func (a Amount) String() string {
	if a.Words != "" {
		return a.Words
	}
	return strings.TrimSpace(a.Number + " " + a.Unit)
}

// AmountOf is how much a task takes, in the units of the cellar.
func AmountOf(a *schedule.Amount, s measure.System) Amount {
	switch {
	case a == nil:
		return Amount{}
	case a.Words != "":
		return Amount{Words: a.Words}
	case !a.Known:
		return Amount{Words: "amount unknown"}
	}
	return quantity(measure.Of(a.Number, a.Unit), s)
}

// StockOf is the same dose as a solution, and what of; nil where the scale weighs
// the dose itself.
func StockOf(a *schedule.Amount, s measure.System) (*Amount, string) {
	if a == nil || a.Stock == nil {
		return nil, ""
	}
	number, unit := a.Stock.Volume.Parts(s)
	return &Amount{Number: number, Unit: unit}, "of the " + measure.Decimal(a.Stock.Percent, 0) + " % stock"
}

func quantity(q measure.Quantity, s measure.System) Amount {
	if m, ok := q.Mass(); ok {
		number, unit := m.Parts(s)
		return Amount{Number: number, Unit: unit}
	}
	if v, ok := q.Volume(); ok {
		number, unit := v.Parts(s)
		return Amount{Number: number, Unit: unit}
	}
	return Amount{Number: measure.Decimal(q.Number, 1), Unit: q.Unit}
}

// Glass is a gravity as the glass shows it, on the scale of the cellar.
func Glass(g measure.Gravity, s ferment.Settings) string { return onScale(g, s, 3) }

// Exact is a gravity where it is compared with another.
func Exact(g measure.Gravity, s ferment.Settings) string { return onScale(g, s, 4) }

func onScale(g measure.Gravity, s ferment.Settings, places int) string {
	if s.Scale != "brix" {
		return g.Places(places)
	}
	b, err := gravity.ToBrix(g)
	if err != nil {
		return Unknown
	}
	return measure.Decimal(float64(b), places-2)
}
