package export

import (
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

func size(b ferment.Bottles, s measure.System) string {
	if !b.Size.Known() {
		return ""
	}
	return b.Size.Value.In(s)
}

// hasFizz tells whether bottles are, or may be, under pressure: what the entry
// says of them, else whether the ferment was primed or is meant for it.
func hasFizz(b ferment.Bottles, c course.Course) bool {
	if b.Fizz.Known() {
		return b.Fizz.Value > 0
	}
	_, primed := c.Last(ferment.Prime)
	return primed || b.Honey.Value > 0 || c.Ferment.EndsAs(ferment.BottleConditioned)
}

// codes are the codes of bottles one by one where there are as many as bottles,
// else the same on each.
func codes(b ferment.Bottles) []string {
	count := max(b.Count, 1)
	if each := shelf.Codes(b.Codes); len(each) == count {
		return each
	}
	return slices.Repeat([]string{b.Codes}, count)
}
