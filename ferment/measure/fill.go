package measure

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// marked matches an author's braces: a quantity, a range, a difference ("apart"), a unit.
var marked = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\{(?:(−?\d+(?:\.\d+)?)(?:( to | or )(−?\d+(?:\.\d+)?))? ?)?(°C|mL|L|cm|bar|kg|g)( apart| of each other)?\}`)
})

// Fill returns a text with the quantities that its author put in braces converted to the
// units of a system, without the braces: "{20 to 50 mL}", "{30 °C apart}", "{cm}". All
// other text stays as it is. Up to 10 g stay grams, as on packets and on scales for doses.
func Fill(text string, s System) string {
	if !strings.Contains(text, "{") {
		return text
	}
	return marked().ReplaceAllStringFunc(text, func(mark string) string {
		if s != US {
			return mark[1 : len(mark)-1]
		}
		part := marked().FindStringSubmatch(mark)
		first, joint, second, unit, apart := part[1], part[2], part[3], part[4], part[5]
		switch {
		case first == "":
			return conversions[unit].word()
		case apart != "":
			unit += " apart"
		}
		from, to, unit := inUS(first, second, unit)
		return from + joint + to + " " + unit + apart
	})
}

type conversion struct {
	per, add float64
	unit     string
	write    func(float64) string
}

func decimals(n int) func(float64) string { return func(v float64) string { return Decimal(v, n) } }

var conversions = map[string]conversion{
	"°C": {1.8, 32, "°F", decimals(0)}, "°C apart": {1.8, 0, "°F", decimals(0)},
	"mL": {128 / (LitresPerUSGallon * 1000), 0, "fl oz", fluidOunces}, "L": {1 / LitresPerUSGallon, 0, "gal", decimals(2)},
	"cm": {1 / 2.54, 0, "in", decimals(1)}, "bar": {1 / psiBar, 0, "psi", decimals(0)},
	"g": {16 / (poundKg * 1000), 0, "oz", decimals(2)}, "kg": {1 / poundKg, 0, "lb", decimals(2)},
}

func (t conversion) word() string {
	if t.unit == "in" {
		return "inches"
	}
	return t.unit
}

// inUS converts one number, or the two ends of a range, to US units; up to 10 g stay.
func inUS(first, second, metric string) (from, to, unit string) {
	number := func(text string) float64 {
		v, _ := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
		return v
	}
	most := max(number(first), number(second))
	t := conversions[metric]
	switch {
	case metric == "g" && most <= 10:
		return first, second, metric
	case metric == "g" && most*t.per >= 32:
		t = conversions["kg"]
		t.per /= 1000
	}
	from = t.write(number(first)*t.per + t.add)
	if second != "" {
		to = t.write(number(second)*t.per + t.add)
	}
	return from, to, t.unit
}
