package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// Comparison is ferments side by side: figures, differences of their records, tastings by age.
type Comparison struct {
	Trial    ferment.Trial // that they all belong to; zero where they are no trial
	Labels   []string
	Figures  []Compared
	Differs  []Difference
	Tastings []Compared
}

// Compared is one figure of each ferment. Apart is the difference of a pair, if both are known.
type Compared struct {
	Name   string
	Values []string
	Apart  string
}

// Difference is what records say differently; the declared one is what the trial is for.
type Difference struct {
	What     string
	Values   []string
	Declared bool
}

// SideBySide compares ferments.
func SideBySide(vs []app.Vessel) Comparison {
	b := Comparison{Labels: ferment.Map(vs, app.Vessel.Label)}
	alone := func(v app.Vessel) bool {
		return v.Ferment.Trial.Name == "" || v.Ferment.Trial.Name != vs[0].Ferment.Trial.Name
	}
	if len(vs) > 0 && !slices.ContainsFunc(vs, alone) {
		b.Trial = vs[0].Ferment.Trial
	}
	for _, f := range besideFigures {
		if row, some := compared(f, vs); some {
			b.Figures = append(b.Figures, row)
		}
	}
	b.Differs = differences(vs, b.Trial)
	b.Tastings = tastings(vs)
	return b
}

type besideFigure struct {
	name   string
	places int
	of     func(app.Vessel) float64
}

var unknown = math.NaN()

var besideFigures = []besideFigure{
	{"original", 4, func(v app.Vessel) float64 { return valueOf(v.Course.Original.Figure) }},
	{"gravity", 4, func(v app.Vessel) float64 {
		if !v.Course.Gravity.IsKnown() {
			return unknown
		}
		return float64(v.Course.Gravity.Value.Gravity)
	}},
	{"% vol", 1, func(v app.Vessel) float64 { return valueOf(v.Course.Alcohol) }},
	{"started, h", 0, func(v app.Vessel) float64 {
		if v.Course.Started.Assumed || !v.Course.Started.Known {
			return unknown
		}
		return 24 * daysIn(v, v.Course.Started.At)
	}},
	{"⅓ break, day", 1, dayOf(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 1, In: 3}})},
	{"½ break, day", 1, dayOf(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 1, In: 2}})},
	{"⅔ break, day", 1, dayOf(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 2, In: 3}})},
	{"fastest, /d", 1, fastest},
	{"near finish, day", 0, dayOf(ferment.Condition{Kind: ferment.NearFinish})},
	{"mean °C", 1, meanTemperature},
	{"pH", 1, func(v app.Vessel) float64 { return valueOf(v.Course.PH) }},
	{"nitrogen given, mg/L", 0, func(v app.Vessel) float64 { return v.Course.Nitrogen.Given.MilligramsPerLitre() }},
}

func valueOf[T ~float64](f course.Figure[T]) float64 {
	if !f.IsKnown() {
		return unknown
	}
	return float64(f.Value)
}

func daysIn(v app.Vessel, t time.Time) float64 {
	if !v.Course.Pitch.Known {
		return unknown
	}
	return t.Sub(v.Course.Pitch.At).Hours() / 24
}

// dayOf returns the day on which a condition was first met.
func dayOf(c ferment.Condition) func(app.Vessel) float64 {
	return func(v app.Vessel) float64 {
		at, met := v.Course.FirstMet(c)
		if !met {
			return unknown
		}
		return daysIn(v, at)
	}
}

// fastest returns the steepest fall between trusted readings half a day apart, in points a day.
func fastest(v app.Vessel) float64 {
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

func meanTemperature(v app.Vessel) float64 {
	sum, n := 0.0, 0
	for _, e := range v.Course.Entries {
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			sum, n = sum+float64(e.Temperature.Value.Middle()), n+1
		}
	}
	if n == 0 {
		return unknown
	}
	mean := sum / float64(n)
	if v.Course.Settings.Units == measure.US {
		return mean*1.8 + 32
	}
	return mean
}

func compared(f besideFigure, vs []app.Vessel) (row Compared, some bool) {
	row.Name = f.name
	if len(vs) > 0 && vs[0].Course.Settings.Units == measure.US {
		row.Name = strings.Replace(f.name, "mean °C", "mean °F", 1)
	}
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
	of   func(app.Vessel) string
}

var sayings = []said{
	{"yeast", func(v app.Vessel) string { return v.Ferment.Yeast.Name }},
	{"kind of yeast", func(v app.Vessel) string { return string(v.Ferment.Yeast.Kind) }},
	{"culture", func(v app.Vessel) string { return v.Ferment.Yeast.Culture }},
	{"tolerance", func(v app.Vessel) string { return v.Ferment.Yeast.Tolerance.Text }},
	{"honey", func(v app.Vessel) string {
		return namesOf(v.Ferment.Must.Honey, func(h ferment.HoneyPart) string { return Join(" ", asTyped(h.Mass, v), h.Lot) })
	}},
	{"must", func(v app.Vessel) string { return asTyped(v.Ferment.Must.Volume, v) }},
	{"must's gravity", func(v app.Vessel) string { return v.Ferment.Must.Gravity.Text }},
	{"must's pH", func(v app.Vessel) string { return v.Ferment.Must.PH.Text }},
	{"vessel", func(v app.Vessel) string { return v.Ferment.Vessel.Kind }},
	{"protocol", func(v app.Vessel) string { return v.Ferment.Protocol }},
	{"pitched", func(v app.Vessel) string {
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
	{"place", func(v app.Vessel) string {
		var out []string
		for _, e := range v.Course.Entries {
			if e.Place != "" {
				out = append(out, e.Place)
			}
		}
		return strings.Join(slices.Compact(out), ", then ")
	}},
	{"ending", func(v app.Vessel) string {
		return strings.Join(ferment.Map(v.Ferment.Endings, func(e ferment.Ending) string { return string(e) }), ", ")
	}},
}

// asTyped returns a value of the record, nothing where there is none.
func asTyped[T interface{ In(measure.System) string }](g measure.Given[T], v app.Vessel) string {
	if !g.Known() {
		return ""
	}
	return measure.AsTyped(g, v.Course.Settings.Units)
}

func amountsOf(act ferment.Act) func(app.Vessel) string {
	return func(v app.Vessel) string {
		var out []string
		for _, e := range v.Course.Entries {
			if e.Did != act || !e.Amount.Given() {
				continue
			}
			amount := e.Amount.Quantity.In(v.Course.Settings.Units)
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

func timesOf(act ferment.Act) func(app.Vessel) string {
	return func(v app.Vessel) string {
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

func temperaturesOf(v app.Vessel) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, e := range v.Course.Entries {
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			low, high = math.Min(low, float64(e.Temperature.Value.Low)), math.Max(high, float64(e.Temperature.Value.High))
		}
	}
	if math.IsInf(low, 1) {
		return ""
	}
	return measure.Between(measure.Span[measure.Temperature]{Low: measure.Temperature(low), High: measure.Temperature(high)}, v.Course.Settings.Units)
}

// differences returns what the records say differently, the declared one first.
func differences(vs []app.Vessel, t ferment.Trial) []Difference {
	var declared, others []Difference
	for _, s := range sayings {
		values := ferment.Map(vs, func(v app.Vessel) string { return cmp.Or(s.of(v), Unknown) })
		d := Difference{s.what, values, isDeclared(s.what, t)}
		switch alike := len(slices.Compact(slices.Clone(d.Values))) < 2; {
		case alike:
		case d.Declared:
			declared = append(declared, d)
		default:
			others = append(others, d)
		}
	}
	return append(declared, others...)
}

// isDeclared reports whether a difference is the one that the trial names.
func isDeclared(what string, t ferment.Trial) bool {
	differs := strings.ToLower(t.Differs)
	if differs == "" {
		return false
	}
	word := strings.Fields(what)
	return strings.Contains(differs, strings.ToLower(word[len(word)-1])) || strings.Contains(strings.ToLower(what), differs)
}
