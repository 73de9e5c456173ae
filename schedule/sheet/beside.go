package sheet

import (
	"fmt"
	"math"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/desk"
)

// Beside is two or more ferments side by side: their figures, every difference
// between their records, and what was tasted, lined up by age.
type Beside struct {
	Labels   []string
	Figures  []Compared
	Differs  []Difference
	Tastings []Compared
}

// Compared is one thing of each ferment. Apart is by how much the two of a
// pair lie apart; empty for more than two, or where one is unknown.
type Compared struct {
	Name   string
	Values []string
	Apart  string
}

// Difference is something that the records say differently. Declared is the
// one that the trial was made for.
type Difference struct {
	What     string
	Values   []string
	Declared bool
}

// SideBySide lays ferments beside each other.
func SideBySide(vs []desk.Vessel) Beside {
	var b Beside
	for _, v := range vs {
		b.Labels = append(b.Labels, v.Label())
	}
	for _, f := range besideFigures {
		if row, some := compared(f, vs); some {
			b.Figures = append(b.Figures, row)
		}
	}
	b.Differs = differences(vs)
	b.Tastings = tastings(vs)
	return b
}

// besideFigure is a number of a ferment, NaN where it is unknown.
type besideFigure struct {
	name   string
	places int
	of     func(desk.Vessel) float64
}

var unknown = math.NaN()

var besideFigures = []besideFigure{
	{"original", 4, func(v desk.Vessel) float64 { return valueOf(v.Course.Original.Figure) }},
	{"gravity", 4, func(v desk.Vessel) float64 {
		if !v.Course.Gravity.IsKnown() {
			return unknown
		}
		return float64(v.Course.Gravity.Value.Gravity)
	}},
	{"% vol", 1, func(v desk.Vessel) float64 { return valueOf(v.Course.Alcohol) }},
	{"started, h", 0, func(v desk.Vessel) float64 {
		if v.Course.Started.Assumed || !v.Course.Started.Known {
			return unknown
		}
		return 24 * daysIn(v, v.Course.Started.At)
	}},
	{"⅓ break, day", 1, breakDay(1, 3)},
	{"½ break, day", 1, breakDay(1, 2)},
	{"⅔ break, day", 1, breakDay(2, 3)},
	{"fastest, /d", 1, fastest},
	{"near finish, day", 0, func(v desk.Vessel) float64 {
		at, met := v.Course.FirstMet(ferment.Condition{Kind: ferment.NearFinish})
		if !met {
			return unknown
		}
		return daysIn(v, at)
	}},
	{"mean °C", 1, meanTemperature},
	{"pH", 1, func(v desk.Vessel) float64 { return valueOf(v.Course.PH) }},
	{"nitrogen given, mg/L", 0, func(v desk.Vessel) float64 { return v.Course.Nitrogen.Given.MilligramsPerLitre() }},
}

func valueOf[T ~float64](f course.Figure[T]) float64 {
	if !f.IsKnown() {
		return unknown
	}
	return float64(f.Value)
}

func daysIn(v desk.Vessel, t time.Time) float64 {
	if !v.Course.Pitch.Known {
		return unknown
	}
	return t.Sub(v.Course.Pitch.At).Hours() / 24
}

func breakDay(of, in int) func(desk.Vessel) float64 {
	return func(v desk.Vessel) float64 {
		at, met := v.Course.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: of, In: in}})
		if !met {
			return unknown
		}
		return daysIn(v, at)
	}
}

// fastest is the steepest fall between two trusted readings half a day apart or
// more, in points a day.
func fastest(v desk.Vessel) float64 {
	best, rs := unknown, v.Course.Readings
	for i := 1; i < len(rs); i++ {
		days := rs[i].At.Sub(rs[i-1].At).Hours() / 24
		if rs[i].Doubt != "" || rs[i-1].Doubt != "" || days < 0.5 {
			continue
		}
		pace := float64(rs[i-1].Gravity-rs[i].Gravity) * 1000 / days
		if math.IsNaN(best) || pace > best {
			best = pace
		}
	}
	return best
}

func meanTemperature(v desk.Vessel) float64 {
	sum, n := 0.0, 0
	for _, e := range v.Course.Entries {
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			sum, n = sum+float64(e.Temperature.Value.Middle()), n+1
		}
	}
	if n == 0 {
		return unknown
	}
	return sum / float64(n)
}

func compared(f besideFigure, vs []desk.Vessel) (row Compared, some bool) {
	row.Name = f.name
	numbers := make([]float64, len(vs))
	for i, v := range vs {
		numbers[i] = f.of(v)
		if math.IsNaN(numbers[i]) {
			row.Values = append(row.Values, Unknown)
			continue
		}
		some = true
		row.Values = append(row.Values, measure.Decimal(numbers[i], f.places))
	}
	if len(vs) == 2 && !math.IsNaN(numbers[0]) && !math.IsNaN(numbers[1]) {
		row.Apart = measure.Decimal(math.Abs(numbers[0]-numbers[1]), f.places)
	}
	return row, some
}

// said is something that a record says, in words.
type said struct {
	what string
	of   func(desk.Vessel) string
}

var sayings = []said{
	{"yeast", func(v desk.Vessel) string { return v.Ferment.Yeast.Name }},
	{"kind of yeast", func(v desk.Vessel) string { return string(v.Ferment.Yeast.Kind) }},
	{"culture", func(v desk.Vessel) string { return v.Ferment.Yeast.Culture }},
	{"tolerance", func(v desk.Vessel) string { return v.Ferment.Yeast.Tolerance.Text }},
	{"honey", honeyOf},
	{"must", func(v desk.Vessel) string { return v.Ferment.Must.Volume.Text }},
	{"must's gravity", func(v desk.Vessel) string { return v.Ferment.Must.Gravity.Text }},
	{"must's pH", func(v desk.Vessel) string { return v.Ferment.Must.PH.Text }},
	{"vessel", func(v desk.Vessel) string { return v.Ferment.Vessel.Kind }},
	{"protocol", func(v desk.Vessel) string { return v.Ferment.Protocol }},
	{"pitched", func(v desk.Vessel) string {
		if !v.Course.Pitch.Known {
			return ""
		}
		return v.Course.Pitch.At.Format("2 Jan 2006 15:04")
	}},
	{"yeast pitched", amountsOf(ferment.Pitch)},
	{"nutrient", amountsOf(ferment.Nutrient)},
	{"honey fed", amountsOf(ferment.Honey)},
	{"degassed", timesOf(ferment.Degas)},
	{"racked", timesOf(ferment.Rack)},
	{"temperature", temperaturesOf},
	{"place", placesOf},
	{"ending", func(v desk.Vessel) string {
		var out []string
		for _, e := range v.Ferment.Endings {
			out = append(out, string(e))
		}
		return strings.Join(out, ", ")
	}},
}

func honeyOf(v desk.Vessel) string {
	var out []string
	for _, h := range v.Ferment.Must.Honey {
		out = append(out, strings.TrimSpace(strings.Join([]string{h.Mass.Text, h.Lot}, " ")))
	}
	return strings.Join(out, " and ")
}

// amountsOf are the amounts of an act with the day of each.
func amountsOf(act ferment.Act) func(desk.Vessel) string {
	return func(v desk.Vessel) string {
		var out []string
		for _, e := range v.Course.Entries {
			if e.Did != act || !e.Amount.Given() {
				continue
			}
			amount := e.Amount.Text
			if e.Amount.Unknown {
				amount = "unknown"
			}
			if act != ferment.Pitch && v.Course.Pitch.Known {
				amount = fmt.Sprintf("day %.1f, %s", daysIn(v, e.At.Time), amount)
			}
			out = append(out, amount)
		}
		return strings.Join(out, "; ")
	}
}

func timesOf(act ferment.Act) func(desk.Vessel) string {
	return func(v desk.Vessel) string {
		n := 0
		for _, e := range v.Course.Entries {
			if e.Did == act {
				n++
			}
		}
		if n == 1 {
			return "once"
		}
		return fmt.Sprintf("%d times", n)
	}
}

func temperaturesOf(v desk.Vessel) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, e := range v.Course.Entries {
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			low, high = math.Min(low, float64(e.Temperature.Value.Low)), math.Max(high, float64(e.Temperature.Value.High))
		}
	}
	switch {
	case math.IsInf(low, 1):
		return ""
	case low == high:
		return measure.Temperature(low).String()
	}
	return measure.Temperature(low).String() + " to " + measure.Temperature(high).String()
}

func placesOf(v desk.Vessel) string {
	var out []string
	for _, e := range v.Course.Entries {
		if e.Place != "" && (len(out) == 0 || out[len(out)-1] != e.Place) {
			out = append(out, e.Place)
		}
	}
	return strings.Join(out, ", then ")
}

// differences are what the records say differently, the declared one first.
func differences(vs []desk.Vessel) []Difference {
	var declared, others []Difference
	for _, s := range sayings {
		d := Difference{What: s.what}
		differ := false
		for i, v := range vs {
			text := s.of(v)
			if text == "" {
				text = Unknown
			}
			d.Values = append(d.Values, text)
			differ = differ || i > 0 && text != d.Values[0]
		}
		if !differ {
			continue
		}
		if d.Declared = isDeclared(s.what, vs); d.Declared {
			declared = append(declared, d)
		} else {
			others = append(others, d)
		}
	}
	return append(declared, others...)
}

// isDeclared tells whether a difference is the one that the trial names.
func isDeclared(what string, vs []desk.Vessel) bool {
	differs := strings.ToLower(vs[0].Ferment.Trial.Differs)
	if differs == "" {
		return false
	}
	for _, v := range vs {
		if v.Ferment.Trial.Name != vs[0].Ferment.Trial.Name {
			return false
		}
	}
	word := strings.Fields(what)
	return strings.Contains(differs, strings.ToLower(word[len(word)-1])) || strings.Contains(strings.ToLower(what), differs)
}

// tastings line up what was tasted by whole months since bottling, or since the
// pitch where nothing is bottled.
func tastings(vs []desk.Vessel) []Compared {
	var rows []Compared
	for i, v := range vs {
		from := v.Course.Pitch.At
		if b, ok := v.Course.First(ferment.Bottle); ok {
			from = b.At.Time
		}
		for _, e := range v.Course.Entries {
			if e.Did == ferment.Taste {
				months := int(math.Round(e.At.Time.Sub(from).Hours() / 24 / 30.4))
				rows = noted(rows, fmt.Sprintf("%d months", months), i, len(vs), tasted(e))
			}
		}
	}
	return rows
}

func noted(rows []Compared, age string, i, n int, text string) []Compared {
	for r := range rows {
		if rows[r].Name == age {
			rows[r].Values[i] = text
			return rows
		}
	}
	row := Compared{Name: age, Values: make([]string, n)}
	for j := range row.Values {
		row.Values[j] = Unknown
	}
	row.Values[i] = text
	return append(rows, row)
}

func tasted(e ferment.Entry) string {
	var parts []string
	if e.Taste.Score.Known() {
		parts = append(parts, measure.Decimal(e.Taste.Score.Value, 0))
	}
	for _, t := range []string{e.Taste.Look, e.Taste.Nose, e.Taste.Palate, e.Taste.Body, e.Taste.Finish, e.Note} {
		if t != "" {
			parts = append(parts, t)
		}
	}
	return strings.Join(parts, ", ")
}
