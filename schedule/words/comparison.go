package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/ferment/tasting"
	"cellar/jugkeeper/schedule/app"
)

// Comparison is ferments side by side: figures, differences between records, tastings by age.
type Comparison struct {
	Trial    ferment.Trial // trial of all of them; zero for none
	Labels   []string
	Figures  []Compared
	Differs  []Difference
	Aged     []Aged
	Triangle string // what the triangle tests of two amount to; empty where there are none
}

// Compared is one figure of each ferment. Apart is the difference of a pair, if both are known.
type Compared struct {
	Name   string
	Values []string
	Apart  string
}

// Difference is a difference between the records.
type Difference struct {
	What   string
	Values []string
	Says   string // Declared, "not declared"; empty outside a trial, or if only the vessel or the minute differs
}

// Declared marks the difference that the trial was made for.
const Declared = "declared"

// SideBySide compares ferments.
func SideBySide(vs []app.Vessel) Comparison {
	b := Comparison{Labels: ferment.Map(vs, app.Vessel.Label)}
	another := func(v app.Vessel) bool { return v.Ferment.Trial.Name != vs[0].Ferment.Trial.Name }
	if len(vs) > 0 && vs[0].Ferment.Trial.Name != "" && !slices.ContainsFunc(vs, another) {
		b.Trial = vs[0].Ferment.Trial
		differs := ferment.Map(vs, func(v app.Vessel) string { return v.Ferment.Trial.Differs })
		slices.Sort(differs)
		b.Trial.Differs = strings.Join(slices.Compact(slices.DeleteFunc(differs, func(d string) bool { return d == "" })), " and ")
	}
	figures, days := besideFigures, ferment.Map(vs, lastDay)
	apart := len(vs) > 0 && slices.Max(days)-slices.Min(days) > 0.5
	if apart { // day by day, to the last day for which all were read
		day := slices.Min(days)
		then := func(v app.Vessel) float64 {
			return gravityAt(v, v.Course.Pitch.At.Add(time.Duration(day*24*float64(time.Hour))))
		}
		figures = slices.Insert(slices.Clone(figures), 2, besideFigure{"gravity, day " + measure.Decimal(day, 1), 4, false, then})
	}
	for _, f := range figures {
		if row, some := compared(f, vs, apart); some {
			b.Figures = append(b.Figures, row)
		}
	}
	b.Differs = differences(vs, b.Trial)
	for _, a := range []Aged{{"tasted, by age", tastings(vs)}, {"opened, by age", aged(vs, openings)}} {
		if len(a.Rows) > 0 {
			b.Aged = append(b.Aged, a)
		}
	}
	if len(vs) == 2 {
		b.Triangle = triangles(tasting.Between(vs[0].Ferment, vs[1].Ferment))
	}
	return b
}

// Aged is what was found at each age.
type Aged struct {
	Name string
	Rows []Compared // by age
}

// found is what was found in a glass or a bottle of a ferment, and at which age.
type found struct{ age, says string }

// aged puts what was found of each ferment next to each other, the youngest first.
func aged(vs []app.Vessel, of func(app.Vessel) []found) []Compared {
	var rows []Compared
	for i, v := range vs {
		for _, f := range of(v) {
			at := slices.IndexFunc(rows, func(c Compared) bool { return c.Name == f.age })
			if at < 0 {
				at, rows = len(rows), append(rows, Compared{Name: f.age, Values: slices.Repeat([]string{Unknown}, len(vs))})
			}
			rows[at].Values[i] = strings.TrimPrefix(rows[at].Values[i]+"; "+f.says, Unknown+"; ")
		}
	}
	number := func(c Compared) int {
		n, _ := strconv.Atoi(strings.Fields(c.Name)[0])
		return n
	}
	slices.SortStableFunc(rows, func(a, b Compared) int { return number(a) - number(b) })
	return rows
}

// openings returns how the bottles of a ferment opened, by days since they were filled.
func openings(v app.Vessel) []found {
	var out []found
	stock := shelf.Of(v.Course)
	for i := range stock.Batches {
		for _, o := range stock.Openings(i) {
			hiss, foam := "", ""
			if o.Hiss.Known() {
				hiss = "hiss " + o.Hiss.Text
			}
			if o.Foam.Known() {
				foam = "foam " + measure.Shown(o.Foam, v.Course.Settings.Units)
			}
			out = append(out, found{fmt.Sprintf("%d d", o.Days), Join(", ", hiss, foam, ferment.Harmless(o.Palate))})
		}
	}
	return out
}

// triangles says what triangle tests amount to; nothing where there are none.
func triangles(r tasting.Result) string {
	so := fmt.Sprintf("%d of %d so far; ", r.Right, r.Tests)
	switch {
	case r.Tests == 0:
		return ""
	case r.Needed == 0:
		return so + "too few to show anything: do at least three"
	case r.Shown():
		return so + fmt.Sprintf("that shows a difference: guessing does as well in %s %% of such series", measure.Decimal(100*r.Chance, 1))
	}
	return so + fmt.Sprintf("%d of %d would show a difference (at 5 %%, as in ISO 4120)", r.Needed, r.Tests)
}

// besideFigure is a number of a ferment, NaN if unknown. A figure that changes with time is the latest, and is only
// subtracted for equal ages.
type besideFigure struct {
	name   string
	places int
	moves  bool
	of     func(app.Vessel) float64
}

// lastDay is the day of the last reading, since the pitch.
func lastDay(v app.Vessel) float64 {
	if !v.Course.Gravity.IsKnown() {
		return unknown
	}
	return daysIn(v, v.Course.Gravity.Value.At)
}

var unknown = math.NaN()

var besideFigures = []besideFigure{
	{"original", 4, false, func(v app.Vessel) float64 { return valueOf(v.Course.Original.Figure) }},
	{"gravity", 4, true, func(v app.Vessel) float64 { return gravityAt(v, v.Course.Now) }},
	{"% vol", 1, true, func(v app.Vessel) float64 { return valueOf(v.Course.Alcohol) }},
	{"started after, h", 0, false, func(v app.Vessel) float64 {
		if v.Course.Started.Assumed || !v.Course.Started.Known {
			return unknown
		}
		return 24 * daysIn(v, v.Course.Started.At)
	}},
	{"⅓ break, day", 1, false, dayOf(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 1, In: 3}})},
	{"½ break, day", 1, false, dayOf(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 1, In: 2}})},
	{"⅔ break, day", 1, false, dayOf(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 2, In: 3}})},
	{"fastest, /d", 1, false, fastest},
	{"near finish, day", 0, false, dayOf(ferment.Condition{Kind: ferment.NearFinish})},
	{"mean °C", 1, false, meanTemperature},
	{"pH", 1, true, func(v app.Vessel) float64 { return valueOf(v.Course.PH) }},
	{"nitrogen given, mg/L", 0, false, func(v app.Vessel) float64 { return v.Course.Nitrogen.Given.MilligramsPerLitre() }},
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

// dayOf returns the day on which a condition was first true.
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
	best, rs := unknown, ferment.Where(v.Course.Readings, course.Reading.Trusted)
	for i := 1; i < len(rs); i++ {
		days := rs[i].At.Sub(rs[i-1].At).Hours() / 24
		pace := float64(rs[i-1].Gravity-rs[i].Gravity) * 1000 / days
		if days >= 0.5 && !(pace <= best) {
			best = pace
		}
	}
	return best
}

func temperatures(v app.Vessel) []*ferment.Entry {
	return ferment.Where(v.Course.Entries, func(e *ferment.Entry) bool { return e.Temperature.Known() && !e.Did.ApartFromCourse() })
}

func meanTemperature(v app.Vessel) float64 {
	sum, all := 0.0, temperatures(v)
	for _, e := range all {
		sum += float64(e.Temperature.Value.Middle())
	}
	mean := sum / float64(len(all)) // NaN without any
	if v.Course.Settings.Units == measure.US {
		return mean*1.8 + 32
	}
	return mean
}

// compared returns one row of a comparison; not ok if it says nothing.
func compared(f besideFigure, vs []app.Vessel, apart bool) (row Compared, some bool) {
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
	if len(vs) == 2 && !(f.moves && apart) && !math.IsNaN(numbers[0]) && !math.IsNaN(numbers[1]) {
		row.Apart = measure.Decimal(math.Abs(measure.Round(numbers[0], f.places)-measure.Round(numbers[1], f.places)), f.places)
	}
	return row, some
}

// Expected returns what is expected of each ferment, by forecasts; nothing if none of them has one. The gravity of a week
// from now and the finish are within their range nine times in ten.
func Expected(vs []app.Vessel, fs []forecast.Forecast) []Compared {
	rows := []Compared{{Name: "highest in a week"}, {Name: "lowest in a week"}, {Name: "finish expected"}, {Name: "done, day"}}
	for i, f := range fs {
		says := slices.Repeat([]string{Unknown}, len(rows))
		if f.Unknown == "" {
			week, s := f.At(vs[i].Course.Now.AddDate(0, 0, 7)), vs[i].Course.Settings
			says[0], says[1], says[2] = Glass(week.High, s), Glass(week.Low, s), Glass(f.Finish, s)
			if !f.Done.At.IsZero() {
				says[3] = fmt.Sprintf("%.0f to %.0f", daysIn(vs[i], f.Done.Early), daysIn(vs[i], f.Done.Late))
			}
		}
		for n := range rows {
			rows[n].Values = append(rows[n].Values, says[n])
		}
	}
	return ferment.Where(rows, func(c Compared) bool {
		return slices.ContainsFunc(c.Values, func(v string) bool { return v != Unknown })
	})
}

// gravityAt returns the gravity at a time, interpolated.
func gravityAt(v app.Vessel, t time.Time) float64 {
	rs := ferment.Where(v.Course.Readings, func(r course.Reading) bool { return r.Trusted() && r.From != course.FromStart })
	if len(rs) == 0 {
		return unknown
	}
	return between(rs, t)
}

// said is a value of a record in words. small marks what a trial need not declare: the vessel, the minute.
type said struct {
	what  string
	of    func(app.Vessel) string
	small func(a, b app.Vessel) bool
}

func always(_, _ app.Vessel) bool { return true }

const soon = 0.25 // days by which the same act of a trial may differ

func did(v app.Vessel, act ferment.Act) []*ferment.Entry {
	return ferment.Where(v.Course.Entries, func(e *ferment.Entry) bool { return e.Did == act })
}

// dosesAlike reports whether about the same amounts were added at about the same times.
func dosesAlike(act ferment.Act) func(a, b app.Vessel) bool {
	return func(a, b app.Vessel) bool {
		return slices.EqualFunc(did(a, act), did(b, act), func(x, y *ferment.Entry) bool {
			return x.Amount.Text == y.Amount.Text && math.Abs(daysIn(a, x.At.Time)-daysIn(b, y.At.Time)) <= soon
		})
	}
}

var sayings = []said{
	{"yeast", func(v app.Vessel) string { return v.Ferment.Yeast.Name }, nil},
	{"kind of yeast", func(v app.Vessel) string { return string(v.Ferment.Yeast.Kind) }, nil},
	{"yeast culture", func(v app.Vessel) string { return v.Ferment.Yeast.Culture }, nil},
	{"yeast tolerance", func(v app.Vessel) string { return v.Ferment.Yeast.Tolerance.Text }, nil},
	{"honey", func(v app.Vessel) string {
		return namesOf(v.Ferment.Must.Honey, func(h ferment.HoneyPart) string { return Join(" ", asTyped(h.Mass, v), h.Lot) })
	}, nil},
	{"must", func(v app.Vessel) string { return asTyped(v.Ferment.Must.Volume, v) }, always},
	{"must's gravity", func(v app.Vessel) string { return v.Ferment.Must.Gravity.Text }, nil},
	{"must's pH", func(v app.Vessel) string { return v.Ferment.Must.PH.Text }, nil},
	{"vessel", func(v app.Vessel) string { return v.Ferment.Vessel.Kind }, always},
	{"protocol", func(v app.Vessel) string { return v.Ferment.Protocol }, nil},
	{"pitched", func(v app.Vessel) string {
		if !v.Course.Pitch.Known {
			return ""
		}
		return v.Course.Pitch.At.Format("2 Jan 2006 15:04")
	}, func(a, b app.Vessel) bool {
		return a.Course.Pitch.Known && b.Course.Pitch.Known && a.Course.Pitch.At.Sub(b.Course.Pitch.At).Abs().Hours() <= soon*24
	}},
	{"yeast pitched", amountsOf(ferment.Pitch), nil},
	{"nutrient", amountsOf(ferment.Nutrient), dosesAlike(ferment.Nutrient)},
	{"honey fed", amountsOf(ferment.Honey), dosesAlike(ferment.Honey)},
	{"degassed", timesOf(ferment.Degas), nil},
	{"racked", timesOf(ferment.Rack), nil},
	{"temperature", temperaturesOf, nil},
	{"place", func(v app.Vessel) string {
		moved := ferment.Where(v.Course.Entries, func(e *ferment.Entry) bool { return e.Place != "" })
		return strings.Join(slices.Compact(ferment.Map(moved, func(e *ferment.Entry) string { return e.Place })), ", then ")
	}, nil},
	{"ending", func(v app.Vessel) string {
		return Join(", ", ferment.Texts(v.Ferment.Endings)...)
	}, nil},
}

// asTyped writes a value of the record, nothing if there is none.
func asTyped[T interface{ In(measure.System) string }](g measure.Given[T], v app.Vessel) string {
	if !g.Known() {
		return ""
	}
	return measure.AsTyped(g, v.Course.Settings.Units)
}

func amountsOf(act ferment.Act) func(app.Vessel) string {
	return func(v app.Vessel) string {
		var out []string
		for _, e := range did(v, act) {
			amount := e.Amount.Quantity.In(v.Course.Settings.Units)
			if !e.Amount.Known() {
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
		if n := len(did(v, act)); n != 1 {
			return fmt.Sprintf("%d times", n)
		}
		return "once"
	}
}

func temperaturesOf(v app.Vessel) string {
	all := temperatures(v)
	if len(all) == 0 {
		return ""
	}
	span := all[0].Temperature.Value
	for _, e := range all {
		span.Low, span.High = min(span.Low, e.Temperature.Value.Low), max(span.High, e.Temperature.Value.High)
	}
	return measure.Between(span, v.Course.Settings.Units)
}

// differences returns the differences between records, the declared one first.
func differences(vs []app.Vessel, t ferment.Trial) []Difference {
	var declared, others []Difference
	for _, s := range sayings {
		d := Difference{What: s.what}
		small := s.small != nil
		for _, v := range vs {
			d.Values = append(d.Values, cmp.Or(s.of(v), Unknown))
			small = small && s.small(vs[0], v)
		}
		switch alike := len(slices.Compact(slices.Clone(d.Values))) < 2; {
		case alike:
		case isDeclared(s.what, t):
			d.Says = Declared
			declared = append(declared, d)
		default:
			if t.Name != "" && !small {
				d.Says = "not " + Declared
			}
			others = append(others, d)
		}
	}
	return append(declared, others...)
}

// isDeclared reports whether the trial names a difference.
func isDeclared(what string, t ferment.Trial) bool {
	differs, words := strings.ToLower(t.Differs), strings.Fields(what)
	return strings.Contains(differs, words[len(words)-1]) ||
		slices.ContainsFunc(strings.Split(differs, " and "), func(d string) bool { return d != "" && strings.Contains(what, d) })
}
