package export

import (
	"fmt"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// bottles are the kinds of bottle that an entry filled, in words.
func bottles(e *ferment.Entry) []string {
	var out []string
	for _, b := range e.Bottles {
		text := joined(", ", strings.TrimSpace(fmt.Sprintf("%d × %s %s", b.Count, size(b, measure.Metric), b.Kind)), b.Codes, fizz(b), b.For)
		out = append(out, text)
	}
	return out
}

func size(b ferment.Bottles, s measure.System) string {
	if !b.Size.Known() {
		return ""
	}
	return b.Size.Value.In(s)
}

func fizz(b ferment.Bottles) string {
	switch {
	case !b.Fizz.Known():
		return ""
	case b.Fizz.Value <= 0:
		return "still"
	}
	return b.Fizz.Value.String() + " CO₂"
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

// aRange is codes that are counted through: "BH-A 1-8".
var aRange = ferment.Pattern(`^(.*?)(\d+) ?[-–] ?(\d+)$`)

// codes are the codes of bottles one by one where they are counted through, else
// the same on each.
func codes(b ferment.Bottles) []string {
	out := make([]string, max(b.Count, 1))
	from, to := 0, -1
	m := aRange().FindStringSubmatch(b.Codes)
	if m != nil {
		from, _ = strconv.Atoi(m[2])
		to, _ = strconv.Atoi(m[3])
	}
	for i := range out {
		out[i] = b.Codes
		if to-from+1 == len(out) {
			out[i] = fmt.Sprintf("%s%0*d", m[1], len(m[2]), from+i)
		}
	}
	return out
}
