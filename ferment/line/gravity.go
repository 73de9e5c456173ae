package line

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// wholeGravity is a gravity as a file has it, of one typed whole or in
// thousandths: "1046.5" is "1.0465", ".996" is "0.996". The digits typed are
// kept.
func wholeGravity(text string) string {
	plain := measure.PlainNumber(text)
	whole, decimals, _ := strings.Cut(plain, ".")
	if n := len(whole); n == 3 || n == 4 {
		whole = ("0" + whole)[n-3:]
		plain = whole[:1] + "." + whole[1:] + decimals
	}
	return plain
}

func isGravity(text string) bool {
	_, err := measure.ParseGravity(wholeGravity(text))
	return err == nil
}

// A reading is a thing that a bare number may have been, and how to type that.
type reading struct{ name, typed string }

// couldBe says what a bare number that is no gravity may have meant.
func (r *lineReader) couldBe(typed string) string {
	n := measure.PlainNumber(typed)
	v, err := measure.ParseNumber(typed)
	var could []reading
	may := func(is bool, name, typed string) {
		if is {
			could = append(could, reading{name, typed})
		}
	}
	amount := r.awaitsAmount() && v > 0
	may(amount, n+" g", n+"g")
	may(amount, n+" mL", n+"mL")
	may(amount && isGravity(typed), fmt.Sprintf("%.3f", v), fmt.Sprintf("%.3f", v))
	may(!amount && v >= 2 && v <= 5, "pH "+n, "ph"+n)
	may(!amount && v >= 1.3 && v <= 45, n+" °Bx", n+"bx")
	may(!amount && v > 45 && v <= 250, n+" °Oe", n+"oe")
	may(!amount && isWhole(n) && v >= 1 && v <= 250, fmt.Sprintf("%.3f", 1+v/1000), fmt.Sprintf("%.3f", 1+v/1000))
	may(!amount && r.roomTemperature(v), n+r.degree(), n+r.degree()[len(" °"):])
	may(v < 0, n+" hours", n+"h")
	if err != nil || len(could) == 0 {
		return typed + " is no gravity: 0.970 to 1.250, or 970 to 1250 (e.g. 1.046 or 1046)"
	}
	names, ways := make([]string, len(could)), make([]string, len(could))
	for i, c := range could {
		names[i], ways[i] = c.name, c.typed
	}
	return fmt.Sprintf("%s could be %s: type %s", typed, either(names), either(ways))
}

// awaitsAmount tells whether something was added and not yet how much.
func (r *lineReader) awaitsAmount() bool {
	_, given := r.seen["amount"]
	return r.line.Entry.Did.Adds() && !given
}

// isCoarse tells whether a number has fewer decimals than a gravity is read
// with: behind an act it is more likely an amount.
func isCoarse(text string) bool {
	whole, decimals, _ := strings.Cut(measure.PlainNumber(text), ".")
	return len(whole) < 3 && len(decimals) < 2
}

func isWhole(n string) bool { return !strings.Contains(n, ".") }

// degree is the cellar's unit of temperature behind a number.
func (r *lineReader) degree() string {
	if r.ctx.Units == measure.US {
		return " °F"
	}
	return " °C"
}

// roomTemperature tells whether a number is likely the temperature of a jug,
// in the cellar's unit.
func (r *lineReader) roomTemperature(v float64) bool {
	if r.ctx.Units == measure.US {
		return v >= 55 && v <= 95
	}
	return v >= 15 && v <= 35
}

func either(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
