package forecast_test

import (
	"math"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/internal/published"
	"cellar/jugkeeper/ferment/measure"
)

var pitchedAt = time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)

// point is a gravity so many days after the pitch.
type point struct{ day, gravity, temperature float64 }

// run is one fermentation, by its gravities.
type run struct {
	name   string
	points []point
	told   float64 // tolerance of its yeast, % vol; 0 if unknown
	yeast  string
	acts   []ferment.Entry // besides the pitch and the readings
	from   int             // so many points are known at least before it is scored
}

// ferment returns a run's first n points, of a bought yeast.
func (r run) ferment(n int) ferment.Ferment {
	f := ferment.Ferment{ID: r.name, Must: ferment.Must{Gravity: measure.Give(measure.Gravity(r.points[0].gravity), "given")}, Yeast: ferment.Yeast{Name: r.yeast}}
	if r.told > 0 {
		f.Yeast.Tolerance = measure.Give(measure.Strength(r.told), "given")
	}
	for i, p := range r.points[:n] {
		e := ferment.Entry{At: ferment.At(dayAt(p.day)), Order: i}
		if p.temperature != 0 {
			t := measure.Temperature(p.temperature)
			e.Temperature = measure.Give(measure.Span[measure.Temperature]{Low: t, High: t}, "given")
		}
		if i == 0 {
			e.Did = ferment.Pitch
		} else {
			e.Gravity = measure.Give(measure.Gravity(p.gravity), strconv.FormatFloat(p.gravity, 'f', 4, 64))
		}
		f.Log = append(f.Log, e)
	}
	if len(r.acts) > 0 {
		f.Must.Volume = measure.Give(measure.Volume(4), "4 L")
	}
	for _, e := range r.acts {
		if e.At.Time.Before(dayAt(r.points[n-1].day)) {
			e.Order = len(f.Log)
			f.Log = append(f.Log, e)
		}
	}
	slices.SortStableFunc(f.Log, func(a, b ferment.Entry) int { return a.At.Time.Compare(b.At.Time) })
	return f
}

// after returns the course of a run's first n points.
func (r run) after(n int) *course.Course {
	return course.Of(r.ferment(n), ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), dayAt(r.points[n-1].day))
}

// did returns what a run did, once it is closed.
func (r run) did() (forecast.Did, bool) {
	f, end := r.ferment(len(r.points)), r.points[len(r.points)-1].day+1
	f.Log = append(f.Log, ferment.Entry{Did: ferment.Close, At: ferment.At(dayAt(end)), Order: len(f.Log)})
	return forecast.DidOf(f, ferment.DefaultSettings(time.UTC), dayAt(end))
}

func dayAt(day float64) time.Time {
	return pitchedAt.Add(time.Duration(day * 24 * float64(time.Hour))).Truncate(time.Second)
}

// finish returns the end of the run: the mean of its last two points.
func (r run) finish() float64 {
	n := len(r.points)
	return (r.points[n-1].gravity + r.points[n-2].gravity) / 2
}

// done returns the first point within 0.004 of the finish.
func (r run) done() int {
	from := max(r.from-1, 0)
	return from + slices.IndexFunc(r.points[from:], func(p point) bool { return p.gravity <= r.finish()+0.004 })
}

// doneOn returns the day on which it was that near, interpolated.
func (r run) doneOn() float64 {
	i, to := r.done(), r.finish()+0.004
	a, b := r.points[i-1], r.points[i]
	return a.day + (b.day-a.day)*(a.gravity-to)/(a.gravity-b.gravity)
}

// realRuns returns public series of fermenting must: two grape musts (open repository of a university's process
// engineering group, 2022), without day eleven, whose samples were handled differently, and three of agave (Paez-Lerma
// et al. 2013). The files name them.
func realRuns(t *testing.T) []run {
	t.Helper()
	grape := sugars(t, "13c-stellenbosch-2022-redwine-sugar.csv", "ferment", func(row published.Row) (day, temperature float64) {
		return row.Number(t, "day"), row.Number(t, "must_temp_c")
	})
	for i := range grape {
		grape[i].points = slices.DeleteFunc(grape[i].points, func(p point) bool { return p.day == 11 })
	}
	agave := sugars(t, "13d-agave-2013-sugar-ethanol.csv", "run", func(row published.Row) (day, temperature float64) {
		return row.Number(t, "hours") / 24, 0
	})
	var runs []run
	for _, r := range grape {
		runs = append(runs, r.gravities(20))
	}
	for _, r := range agave {
		runs = append(runs, r.gravities(0))
	}
	require.Len(t, runs, 21)
	return runs
}

// homeRuns returns the six public logs of home meads that have enough readings. They are few and not a random sample:
// nothing was tuned on them.
func homeRuns(t *testing.T) []run {
	t.Helper()
	var runs []run
	for _, row := range published.Table(t, "13f-home-mead-logs.csv") {
		i := slices.IndexFunc(runs, func(r run) bool { return r.name == row["series"] })
		warm := 0.0
		if row["temperature_c"] != "" {
			warm = row.Number(t, "temperature_c")
		}
		if i < 0 {
			i, runs = len(runs), append(runs, run{name: row["series"], points: []point{{0, row.Number(t, "original"), warm}}})
		}
		runs[i].points = append(runs[i].points, point{row.Number(t, "day"), row.Number(t, "gravity"), warm})
	}
	runs = slices.DeleteFunc(runs, func(r run) bool { return len(r.points) < 3 })
	require.Len(t, runs, 5)
	return runs
}

// sugars reads runs of sugar in g/L, each by its name in a column.
func sugars(t *testing.T, file, name string, when func(published.Row) (day, temperature float64)) []run {
	t.Helper()
	var runs []run
	for _, row := range published.Table(t, file) {
		i := slices.IndexFunc(runs, func(r run) bool { return r.name == row[name] })
		if i < 0 {
			i, runs = len(runs), append(runs, run{name: row[name]})
		}
		day, temperature := when(row)
		runs[i].points = append(runs[i].points, point{day, row.Number(t, "sugar_g_l"), temperature})
	}
	return runs
}

// gravities converts sugar to gravity by mass balance: of the sugar gone, 4 % became by-products that remain, the rest
// ethanol with a yield of 0.511.
func (r run) gravities(otherSolids float64) run {
	out := run{name: r.name}
	first := r.points[0].gravity
	for _, p := range r.points {
		gone := max(0, first-p.gravity)
		out.points = append(out.points, point{p.day, gravityOf(max(0, p.gravity)+otherSolids+0.04*gone, 0.96*0.511*gone), p.temperature})
	}
	return out
}

// gravityOf returns the gravity of a liquid by its solids and its ethanol in g/L (OIML R 22).
func gravityOf(solids, ethanol float64) float64 {
	g, err := gravity.FromSolids(measure.Content(solids))
	if err != nil {
		return math.NaN()
	}
	share, err := gravity.EthanolByMass(measure.Strength(ethanol / 7.8924))
	if err != nil {
		return math.NaN()
	}
	mixture, err := gravity.EthanolWater(share, 20)
	if err != nil {
		return math.NaN()
	}
	return float64(g) + float64(mixture)/998.201 - 1
}
