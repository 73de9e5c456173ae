package measure

import (
	"regexp"
	"strings"
	"sync"
)

// NumberPattern is a number as a person types it, as a regular expression.
const NumberPattern = `[-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)`

var numberAndUnit = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(` + NumberPattern + `)\s*([^\d.,]*)`) })

// Spelled writes quantities as a file has them: "1.5 g" for "1,5G", "2 lb 8 oz"
// for "2lb8oz", "17 °C to 24 °C" for "17 to 24c".
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

// PlainNumber writes a number as a file has it: with a point and something
// before it, with a plain minus sign and no plus.
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
