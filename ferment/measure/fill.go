package measure

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// marked finds what an author put in braces: a quantity, a span of two, a
// difference, or a unit alone.
var marked = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\{(?:(−?\d+(?:\.\d+)?)(?:( to | or )(−?\d+(?:\.\d+)?))? ?)?(°C|mL|L|cm|bar|kg|g)( apart| of each other)?\}`)
})

// Fill returns a text with the quantities that its author put in braces in the units
// of a system, without the braces: "{20 to 50 mL}", "{30 °C apart}", "{cm}". All
// other text stays as it is. Up to 10 g stay grams: that is what packets say and
// scales for doses show.
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
			return turns[unit].word()
		case apart != "":
			unit += " apart"
		}
		from, to, unit := inUS(first, second, unit)
		return from + joint + to + " " + unit + apart
	})
}

type turn struct {
	per, add float64
	unit     string
	write    func(float64) string
}

func places(n int) func(float64) string { return func(v float64) string { return Decimal(v, n) } }

var turns = map[string]turn{
	"°C": {1.8, 32, "°F", places(0)}, "°C apart": {1.8, 0, "°F", places(0)},
	"mL": {128 / (LitresPerUSGallon * 1000), 0, "fl oz", fluidOunces}, "L": {1 / LitresPerUSGallon, 0, "gal", places(2)},
	"cm": {1 / 2.54, 0, "in", places(1)}, "bar": {1 / psiBar, 0, "psi", places(0)},
	"g": {16 / (poundKg * 1000), 0, "oz", places(2)}, "kg": {1 / poundKg, 0, "lb", places(2)},
}

func (t turn) word() string {
	if t.unit == "in" {
		return "inches"
	}
	return t.unit
}

// inUS turns one number or the two of a span; a dose by weight stays.
func inUS(first, second, metric string) (from, to, unit string) {
	number := func(text string) float64 {
		v, _ := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
		return v
	}
	most := max(number(first), number(second))
	t := turns[metric]
	switch {
	case metric == "g" && most <= 10:
		return first, second, metric
	case metric == "g" && most*t.per >= 32:
		t = turns["kg"]
		t.per /= 1000
	}
	from = t.write(number(first)*t.per + t.add)
	if second != "" {
		to = t.write(number(second)*t.per + t.add)
	}
	return from, to, t.unit
}
