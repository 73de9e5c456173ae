package words

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// Comparison is two or more ferments side by side: their figures, every difference
// between their records, and what was tasted, lined up by age.
type Comparison struct {
	Trial    ferment.Trial // that they all belong to; zero where they are no trial
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

// trialOf is the trial that all of them belong to.
func trialOf(vs []app.Vessel) ferment.Trial {
	if len(vs) == 0 || vs[0].Ferment.Trial.Name == "" {
		return ferment.Trial{}
	}
	t := vs[0].Ferment.Trial
	for _, v := range vs[1:] {
		if v.Ferment.Trial.Name != t.Name {
			return ferment.Trial{}
		}
	}
	return t
}

// SideBySide lays ferments beside each other.
func SideBySide(vs []app.Vessel) Comparison {
	b := Comparison{Trial: trialOf(vs)}
	for _, v := range vs {
		b.Labels = append(b.Labels, v.Label())
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

// besideFigure is a number of a ferment, NaN where it is unknown.
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
	{"⅓ break, day", 1, breakDay(1, 3)},
	{"½ break, day", 1, breakDay(1, 2)},
	{"⅔ break, day", 1, breakDay(2, 3)},
	{"fastest, /d", 1, fastest},
	{"near finish, day", 0, func(v app.Vessel) float64 {
		at, met := v.Course.FirstMet(ferment.Condition{Kind: ferment.NearFinish})
		if !met {
			return unknown
		}
		return daysIn(v, at)
	}},
	{meanTemperatureName, 1, meanTemperature},
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

func breakDay(of, in int) func(app.Vessel) float64 {
	return func(v app.Vessel) float64 {
		at, met := v.Course.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: of, In: in}})
		if !met {
			return unknown
		}
		return daysIn(v, at)
	}
}

// fastest is the steepest fall between two trusted readings half a day apart or
// more, in points a day.
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

// meanTemperatureName goes by °F where the settings say so.
const meanTemperatureName = "mean °C"

func compared(f besideFigure, vs []app.Vessel) (row Compared, some bool) {
	row.Name = f.name
	if f.name == meanTemperatureName && len(vs) > 0 && vs[0].Course.Settings.Units == measure.US {
		row.Name = "mean °F"
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
