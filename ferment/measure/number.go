package measure

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Error says what could not be read as a quantity and what would have been right.
type Error struct {
	Text    string // as typed
	Problem string // "is not a mass", "needs its unit"
	Hint    string // "a number and g, kg, oz or lb, e.g. {1.5 g}", a quantity in braces
}

func (e *Error) Error() string {
	return e.in(Metric)
}

func (e *Error) in(s System) string {
	return fmt.Sprintf("%q %s (%s)", e.Text, e.Problem, Fill(e.Hint, s))
}

// cutNumber splits the number off the front of a text. The decimal sign is a point, or a comma as the only separator.
// There is no exponent, no underscore, no NaN.
func cutNumber(s string) (value float64, rest string, ok bool) {
	s = strings.TrimSpace(s)
	sign := 1.0
	body := s
	switch {
	case strings.HasPrefix(body, "-"), strings.HasPrefix(body, "+"):
		if body[0] == '-' {
			sign = -1
		}
		body = body[1:]
	case strings.HasPrefix(body, "−"):
		sign, body = -1, strings.TrimPrefix(body, "−")
	}
	end, marks, digits := 0, 0, 0
	for end < len(body) {
		c := body[end]
		if c == '.' || c == ',' {
			marks++
		} else if c < '0' || c > '9' {
			break
		} else {
			digits++
		}
		end++
	}
	if digits == 0 || marks > 1 || digits > 15 {
		return 0, s, false
	}
	v, err := strconv.ParseFloat(strings.Replace(body[:end], ",", ".", 1), 64)
	if err != nil {
		return 0, s, false
	}
	return sign * v, strings.TrimSpace(body[end:]), true
}

// ParseNumber reads a bare number.
func ParseNumber(s string) (float64, error) {
	v, rest, ok := cutNumber(s)
	switch {
	case !ok || rest != "":
		return 0, &Error{s, "is not a number", "digits and one decimal point, e.g. 3.4"}
	case isAmbiguous(s):
		return 0, ambiguous(s)
	}
	return v, nil
}

// thousands matches a number whose comma may be a decimal or a thousands sign: three digits
// follow, and more than a single 0 comes before. In a gravity it is decimal.
var thousands = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`((?:^|[^\d.,])(?:[1-9]\d{0,2})),(\d{3})($|[^\d.,])`)
})

func isAmbiguous(text string) bool {
	return strings.Contains(text, ",") && thousands().MatchString(text)
}

// ambiguous returns the error for what thousands matches, with both ways to read it.
func ambiguous(text string) *Error {
	part := thousands().FindStringSubmatch(text)
	whole := strings.TrimLeft(part[1], " −-+abcdefghijklmnopqrstuvwxyz")
	return &Error{text, "could be " + thousands().ReplaceAllString(text, "$1$2$3") + " or " + thousands().ReplaceAllString(text, "$1.$2$3"),
		"write " + whole + part[2] + " or " + whole + "." + part[2]}
}

// WithUnit adds to a bare number the unit of an example that has only one unit: "3.6" is
// "3.6 L" by "in all, e.g. 3.4 L". Any other text stays.
func WithUnit(text, example string) string {
	if _, rest, bare := cutNumber(text); !bare || rest != "" {
		return text
	}
	var units []string
	for _, found := range numberAndUnit().FindAllStringSubmatch(example, -1) {
		words := strings.Fields(found[2])
		for n := min(3, len(words)); n > 0; n-- {
			if unit, is := UnitNamed(strings.TrimRight(strings.Join(words[:n], " "), ";:)")); is {
				units = append(units, unit)
				break
			}
		}
	}
	if units = slices.Compact(units); len(units) != 1 {
		return text
	}
	return text + " " + units[0]
}

// Root returns where a function that rises from low to high is zero, to 1e-12; low or high
// where it is not zero between them. It uses the Illinois rule (Dowell and Jarratt 1971):
// the next point is on the secant through both ends, and the value at an end that stays is
// halved, so that both ends move in. Every fourth step is a bisection, for functions that
// are far from straight.
func Root[T ~float64](low, high T, f func(T) float64) T {
	below, above := f(low), f(high)
	switch {
	case below >= 0:
		return low
	case above <= 0:
		return high
	}
	moved := 0
	for step := 1; high-low > 1e-12; step++ {
		x := low + (high-low)*T(below/(below-above))
		if x <= low || x >= high || step%4 == 0 {
			x = low + (high-low)/2
		}
		switch y := f(x); {
		case y == 0:
			return x
		case y < 0:
			low, below = x, y
			if moved < 0 {
				above /= 2
			}
			moved = -1
		default:
			high, above = x, y
			if moved > 0 {
				below /= 2
			}
			moved = 1
		}
	}
	return low + (high-low)/2
}

// NumberPattern is a number as a person types it, as a regular expression.
const NumberPattern = `[-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)`

var numberAndUnit = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(` + NumberPattern + `)\s*([^\d.,]*)`) })

// Spelled writes quantities as files do: "1.5 g" for "1,5G", "17 °C to 24 °C" for "17 to 24c".
func Spelled(text string) string {
	if low, high, both := strings.Cut(text, " to "); both {
		low, high = Spelled(low), Spelled(high)
		if _, err := ParseNumber(low); err == nil {
			_, unit, _ := strings.Cut(high, " ")
			low += " " + unit
		}
		return low + " to " + high
	}
	var words []string
	for _, m := range numberAndUnit().FindAllStringSubmatch(text, -1) {
		words = append(words, PlainNumber(m[1]))
		if unit, known := UnitNamed(m[2]); known {
			words = append(words, unit)
		}
	}
	return strings.Join(words, " ")
}

// PlainNumber writes a number as files do: a point with a digit before it, no plus sign.
func PlainNumber(text string) string {
	text = strings.NewReplacer(",", ".", "−", "-", "+", "").Replace(text)
	sign, digits := "", text
	if rest, minus := strings.CutPrefix(text, "-"); minus {
		sign, digits = "-", rest
	}
	if strings.HasPrefix(digits, ".") {
		digits = "0" + digits
	}
	return sign + strings.TrimSuffix(digits, ".")
}
