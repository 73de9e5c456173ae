// Package export writes a cellar as a calendar, a table, sheets, tags, labels and curves. It takes words from
// schedule/words and figures from the course, and reads no file.
package export

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// plain returns a person's text on one line, without control characters.
func plain(text string) string { return strings.TrimSpace(ferment.Harmless(text)) }

// lines returns the lines of a person's text, without control characters.
func lines(text string) []string {
	split := strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' || r == '\u0085' || r == '\u2028' || r == '\u2029' })
	var out []string
	for _, l := range split {
		if l = strings.TrimRightFunc(ferment.Harmless(l), unicode.IsSpace); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// toDo returns the tasks within some days, without optional ones.
func toDo(v app.Vessel, days int, now time.Time) []words.Line {
	return slices.DeleteFunc(words.UpTo(days, v, now), func(l words.Line) bool {
		return !slices.Contains([]words.Word{words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay, words.Later, words.Coming}, l.Word)
	})
}

// what writes how much of what a task needs; for a reminder, its text.
func what(l words.Line) string {
	of := ""
	switch {
	case l.Word == words.Stop:
	case l.Task.Amount != nil:
		of = l.Task.Amount.Of
	case l.Task.Do == schedule.Reminder:
		of = l.Task.Say
	}
	return plain(l.Amount.String() + " " + of)
}

// stock writes the dose as a solution: "or 10 mL of the 10 % stock".
func stock(l words.Line, s measure.System) string {
	amount, of := words.StockOf(l.Task.Amount, s)
	if amount == nil || l.Word == words.Stop {
		return ""
	}
	return "or " + amount.String() + " " + of
}

func caution(t schedule.Task, p ferment.Protocol, units measure.System) string {
	if t.Caution != nil {
		return t.Caution.Text
	}
	s, _ := ferment.FirstWhere(p.Steps, func(s ferment.Step) bool { return s.Name == t.Step })
	return schedule.CautionOfStep(s, units).Text
}

func label(v app.Vessel) string { return plain(v.Label()) }

// exact writes a gravity, with its scale if the number does not show it.
func exact(g measure.Gravity, s ferment.Settings) string {
	if s.Scale == "brix" {
		return words.Exact(g, s) + " °Bx"
	}
	return words.Exact(g, s)
}

func printed(now time.Time) string { return now.Format("Mon 2 Jan 2006, 15:04") }

// Scales are the densities of an entry, by their names in a table.
var Scales = [][2]string{{"gravity", "SG"}, {"brix", "Brix"}, {"plato", "Plato"}, {"oechsle", "Oechsle"}, {"refractometer", "refractometer"}}

func typedGravity(e *ferment.Entry) (text, scale string) {
	for _, s := range Scales {
		if k, _ := ferment.KeyNamed(s[0]); k.Has(e) {
			return k.Text(e), s[1]
		}
	}
	return "", ""
}

func temperatures(e *ferment.Entry) (low, high string) {
	if !e.Temperature.Known() {
		return "", ""
	}
	return number(e.Temperature.Value.Low, 1), number(e.Temperature.Value.High, 1)
}

// amount writes a quantity in g, mL or its own unit.
func amount(a ferment.Amount) (figure, unit string) {
	mass, isMass := a.Mass()
	volume, isVolume := a.Volume()
	switch {
	case a.Unknown:
		return "unknown", ""
	case !a.Known():
		return "", ""
	case isMass:
		return number(mass.Grams(), 3), "g"
	case isVolume:
		return number(volume.Millilitres(), 1), "mL"
	case a.Dimension() == measure.OfContent:
		return number(a.Value(), 4), "g/L"
	}
	return number(a.Value(), 4), a.Unit
}

// number writes a number for spreadsheets, without trailing zeros.
func number[T ~float64](v T, places int) string {
	text := strconv.FormatFloat(float64(v), 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

var aNumber = ferment.Pattern(`^-?[0-9]+([.,][0-9]+)?$`)

// cell returns a text that a spreadsheet does not calculate: an apostrophe is put before what begins like a formula.
// Numbers stay numbers. Control characters are removed, except line ends.
func cell(text string) string {
	text = strings.Join(lines(text), "\n")
	if begins := strings.TrimLeft(text, " "); begins != "" && !aNumber().MatchString(text) &&
		strings.ContainsRune("=+-−@＝＋－＠", []rune(begins)[0]) {
		return "'" + text
	}
	return text
}

// hasFizz reports whether bottles may be under pressure: by the entry, else where it was primed or is meant for it.
func hasFizz(b ferment.Bottles, c *course.Course) bool {
	if b.Fizz.Known() {
		return b.Fizz.Value > 0
	}
	_, primed := c.Last(ferment.Prime)
	return primed || b.Honey.Value > 0 || c.Ferment.EndsAs(ferment.BottleConditioned)
}
