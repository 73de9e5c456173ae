package forecast_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
)

// of returns the forecast so many days after the pitch of a must of 1.100, by a log of entries separated by bars, each
// a day and an entry line.
func of(t *testing.T, days float64, log string, changes ...func(*ferment.Ferment)) forecast.Forecast {
	t.Helper()
	f := ferment.Ferment{ID: "heath", Log: logOf(t, log), Must: ferment.Must{
		Volume: measure.Give(measure.Volume(3.6), "3.6 L"), Gravity: measure.Give(measure.Gravity(1.100), "1.100"),
	}, Yeast: ferment.Yeast{Tolerance: measure.Give(measure.Strength(16), "16 %")}}
	for _, change := range changes {
		change(&f)
	}
	return forecast.Of(course.Of(f, ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), dayAt(days)))
}

func logOf(t *testing.T, text string) []ferment.Entry {
	t.Helper()
	var log []ferment.Entry
	for n, part := range strings.Split(text, "|") {
		var days float64
		day, typed, _ := strings.Cut(strings.TrimSpace(part), " ")
		_, err := fmt.Sscanf(day, "%g", &days)
		require.NoError(t, err, part)
		line, err := line.Parse(typed, line.Context{Now: dayAt(days), Zone: time.UTC})
		require.NoError(t, err, part)
		line.Entry.At, line.Entry.Order, line.Entry.Line = ferment.At(dayAt(days)), n, n+1
		log = append(log, line.Entry)
	}
	return log
}

const steadily = "0 pitch | 1 1.096 20C | 3 1.068 | 5 1.041 | 7 1.021"

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		days  float64
		log   string
		says  forecast.Verdict
		dated bool
	}{
		{2, "0 pitch | 1 1.0991", forecast.NotStarted, false},
		{2, "0 pitch | 1.5 1.0950", forecast.NotStarted, false}, // under 5 % of the fall
		{2, "0 pitch | 1 1.087 | 2 1.067", forecast.OnItsWay, false},
		{4, "0 pitch | 3 1.050", forecast.OnItsWay, false}, // two readings
		{7, steadily, forecast.OnItsWay, true},
		{9, steadily + "| 9 1.0205", forecast.PerhapsStalled, false},
		{8.9, steadily + "| 8.9 1.0205", forecast.CannotTell, false},                         // not 48 hours yet
		{9, steadily + "| 7.1 honey 300g | 7.2 1.048 | 9 1.047", forecast.CannotTell, false}, // not 48 hours since the honey
		{10, steadily + "| 7.1 honey 300g | 7.2 1.048 | 10 1.047", forecast.PerhapsStalled, false},
		{30, steadily + "| 9 1.008 | 14 1.000 | 25 0.997", forecast.OnItsWay, false}, // its date is over
	} {
		f := of(t, c.days, c.log)
		require.Empty(t, f.Unknown, c.log)
		assert.Equal(t, c.says, f.Says, "%s: %s, stops %.2f", c.log, f.Why, f.Stops)
		assert.Equal(t, c.dated, !f.Done.At.IsZero(), c.log)
		assert.Equal(t, c.dated, f.Why == "", "a date or a reason: %s", c.log)
	}
}

func TestWithoutAForecastThereIsAReason(t *testing.T) {
	for _, c := range []struct {
		days   float64
		log    string
		want   string
		change func(*ferment.Ferment)
	}{
		{1, "0 mix", "pitched", nil},
		{1, "0 pitch", "read gravity", nil},
		{5, "0 pitch | 2 1.090 ? | 4 1.060", "original gravity is unknown", func(f *ferment.Ferment) { f.Must.Gravity = measure.Given[measure.Gravity]{} }},
		{9, steadily + "| 8 honey unknown", "unknown", nil},
		{9, steadily + "| 8 honey 100g", "read gravity", nil},
		{9, steadily + "| 8 dump", "ended", nil},
	} {
		change := c.change
		if change == nil {
			change = func(*ferment.Ferment) {}
		}
		f := of(t, c.days, c.log, change)
		assert.Contains(t, f.Unknown, c.want, c.log)
		assert.Empty(t, f.Says)
		assert.Nil(t, f.Band(dayAt(c.days), 14))
	}
}

func TestDatesAreInOrder(t *testing.T) {
	f := of(t, 7, steadily)
	assert.True(t, f.Done.Early.Before(f.Done.At) && f.Done.At.Before(f.Done.Late))
	assert.Less(t, f.Low, f.Finish)
	assert.Less(t, f.Finish, f.High)
	assert.InDelta(t, 0.996, float64(f.Finish), 0.005)
	require.Len(t, f.Breaks, 3)
	for _, b := range f.Breaks {
		assert.False(t, b.Met.IsZero(), "%d/%d", b.Of, b.In)
		assert.Zero(t, b.Expected)
	}
	coming := of(t, 5, "0 pitch | 1 1.096 20C | 3 1.068 | 5 1.041").Breaks[2]
	assert.Zero(t, coming.Met)
	assert.True(t, coming.Expected.Early.After(dayAt(5)) && coming.Expected.Late.Before(dayAt(12)), "%v", coming.Expected)
}

func TestBandWidensAheadAndFalls(t *testing.T) {
	f := of(t, 5, "0 pitch | 1 1.096 20C | 3 1.068 | 5 1.041")
	band := f.Band(dayAt(5), 14)
	require.Len(t, band, 15)
	assert.Equal(t, dayAt(5).AddDate(0, 0, 14), band[14].At)
	assert.Greater(t, band[3].High-band[3].Low, band[0].High-band[0].Low)
	for i, p := range band {
		assert.True(t, p.Low <= p.Middle && p.Middle <= p.High, "day %d", i)
		if i > 0 {
			assert.LessOrEqual(t, p.Middle, band[i-1].Middle, "day %d", i)
		}
	}
	assert.InDelta(t, 1.041, float64(band[0].Middle), 0.003)
}

func TestSameRecordSameForecast(t *testing.T) {
	a, b := of(t, 7, steadily), of(t, 7, steadily)
	assert.Equal(t, a.Done, b.Done)
	assert.Equal(t, a.Band(dayAt(7), 30), b.Band(dayAt(7), 30))
}

func TestDoubtfulReadingsAreLeftOut(t *testing.T) {
	with := of(t, 7, "0 pitch | 1 1.096 20C | 3 1.068 | 4 1.090 ? | 5 1.041 | 7 1.021")
	assert.Equal(t, of(t, 7, steadily).Done, with.Done)
}

func TestCurveBeginsAnewAfterHoney(t *testing.T) {
	fed := of(t, 13, steadily+"| 7.1 honey 300g | 7.2 1.048 | 9 1.032 | 11 1.016 | 13 1.006", func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(18), "18 %") })
	require.Empty(t, fed.Unknown)
	assert.Equal(t, forecast.OnItsWay, fed.Says, fed.Why)
	assert.True(t, fed.Done.At.After(dayAt(13)))
	assert.InDelta(t, 1.006, float64(fed.At(dayAt(13)).Middle), 0.004)
	assert.Greater(t, float64(fed.At(dayAt(7.2)).Middle), 1.040, "the curve begins at the honey")
}

// TestDateAfterHoneyNeedsThreeReadings: what the curve begins with after an addition is calculated, not read.
func TestDateAfterHoneyNeedsThreeReadings(t *testing.T) {
	strong := func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(18), "18 %") }
	const two = steadily + "| 7.1 honey 300g | 7.2 1.043 | 9 1.030"
	assert.Contains(t, of(t, 9, two, strong).Why, "three readings")
	assert.NotContains(t, of(t, 11, two+"| 11 1.016", strong).Why, "three readings")
}

// TestChanceToStopBeginsAtItsPrior: of 12 home meads that were left to rest 4 to 6 stayed over 1.008 (public logs).
func TestChanceToStopBeginsAtItsPrior(t *testing.T) {
	wild := func(f *ferment.Ferment) { f.Yeast = ferment.Yeast{Kind: ferment.Wild} }
	assert.InDelta(t, 0.25, of(t, 1, "0 pitch | 1 1.092").Stops, 0.03, "no nutrient known")
	assert.InDelta(t, 0.125, of(t, 1, "0 pitch | 0.5 nutrient 2g | 1 1.092").Stops, 0.03, "with nutrient")
	assert.InDelta(t, 0.35, of(t, 1, "0 pitch | 1 1.092", wild).Stops, 0.04)
}

// TestStrongYeastStillEndsWithTheSugar: a yeast that may bear more than the sugar gives ends dry.
func TestStrongYeastStillEndsWithTheSugar(t *testing.T) {
	f := of(t, 2, "0 pitch 20C | 1 1.096 | 1.9 1.085", func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(14), "14 %") })
	assert.Greater(t, float64(f.Low), 0.984, "dry is 0.996")
}

// TestSlowFarAboveItsFinishIsNotNearIt: at 1.023 with less than a point a day it may stop there; it is not done.
func TestSlowFarAboveItsFinishIsNotNearIt(t *testing.T) {
	f := of(t, 20, "0 pitch 20C | 2 1.088 | 5 1.062 | 8 1.046 | 12 1.034 | 16 1.027 | 19.5 1.023", func(f *ferment.Ferment) {
		f.Yeast.Tolerance = measure.Give(measure.Strength(14), "14 %")
	})
	assert.Zero(t, f.Near)
	assert.Equal(t, forecast.CannotTell, f.Says)
	assert.InDelta(t, 1.018, float64(f.MayStop), 0.004)
}

func TestPastFermentsOfTheYeastCount(t *testing.T) {
	bought, wild := of(t, 5, "0 pitch | 1 1.096 | 3 1.068 | 5 1.041"), of(t, 5, "0 pitch | 1 1.096 | 3 1.068 | 5 1.041", func(f *ferment.Ferment) { f.Yeast = ferment.Yeast{Kind: ferment.Wild} })
	assert.Greater(t, wild.Stops, bought.Stops)
	weak := of(t, 7, steadily, func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(11), "11 %") })
	assert.Greater(t, float64(weak.Finish), 1.005, "it ends at the tolerance")
	past := of(t, 10, steadily+"| 8 1.010 | 10 1.001", func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(11), "11 %") })
	assert.Less(t, float64(past.Finish), 1.001, "it went past the tolerance")
}

func TestAnyReadingsGiveAForecastInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := run{name: "any", points: []point{{0, rapid.Float64Range(1.03, 1.15).Draw(t, "original"), 20}}}
		for _, gap := range rapid.SliceOfN(rapid.Float64Range(0.001, 30), 1, 12).Draw(t, "gaps") {
			before := r.points[len(r.points)-1]
			r.points = append(r.points, point{before.day + gap, before.gravity - rapid.Float64Range(-0.002, 0.05).Draw(t, "fall"), 20})
		}
		n := len(r.points)
		f := forecast.Of(r.after(n))
		if f.Unknown != "" {
			return
		}
		for _, p := range f.Band(dayAt(r.points[n-1].day), 100) {
			assert.True(t, p.Low <= p.Middle && p.Middle <= p.High, "%v", p)
			assert.True(t, p.Low > 0.8 && p.High < 1.3, "%v", p)
		}
		assert.True(t, f.Low <= f.Finish && f.Finish <= f.High)
		assert.True(t, f.Stops >= 0 && f.Stops <= 1)
		assert.False(t, f.Done.Early.After(f.Done.At) || f.Done.At.After(f.Done.Late), "%v", f.Done)
		assert.Equal(t, f.Done.At.IsZero(), f.Why != "", "a date or a reason: %q", f.Why)
	})
}

// falling returns a ferment read so many times over so many days.
func falling(readings int, over float64) run {
	r := run{name: "falling", points: []point{{0, 1.100, 20}}}
	for i := range readings {
		day := over * float64(i+1) / float64(readings)
		r.points = append(r.points, point{day, 0.997 + 0.103/(1+math.Exp(0.7*(day-5)))*(1+math.Exp(-3.5)), 20})
	}
	return r
}

func TestForecastForAnyNumberOfReadings(t *testing.T) {
	for _, n := range []int{3, 60, 6000} {
		r := falling(n, 9)
		f := forecast.Of(r.after(len(r.points)))
		require.Empty(t, f.Unknown)
		assert.Equal(t, forecast.OnItsWay, f.Says, "%d readings: %s", n, f.Why)
		assert.InDelta(t, 0.997, float64(f.Finish), 0.005, "%d readings", n)
		assert.InDelta(t, 9.6, f.Done.At.Sub(pitchedAt).Hours()/24, 1.5, "%d readings: 0.004 above 0.997", n)
	}
}

func TestForecastForReadingsCloseTogetherAndFarApart(t *testing.T) {
	close := of(t, 7, "0 pitch | 1 1.096 20C | 3 1.068 | 5 1.041 | 7 1.021 | 7.0007 1.021")
	assert.Equal(t, forecast.OnItsWay, close.Says)
	assert.InDelta(t, float64(of(t, 7, steadily).Finish), float64(close.Finish), 0.002)
	apart := of(t, 35, "0 pitch | 2 1.090 | 5 1.050 | 35 0.997")
	assert.Equal(t, forecast.OnItsWay, apart.Says)
	assert.True(t, apart.Done.Late.Before(dayAt(36)), "it is done by the last reading")
	for _, b := range of(t, 60, "0 pitch | 1 1.096 | 3 1.068 | 5 1.041").Breaks {
		assert.Zero(t, b.Expected, "no break is expected in the past")
	}
	old := of(t, 37, steadily)
	assert.Equal(t, of(t, 7, steadily).Done.At, old.Near, "waiting alone tells nothing")
	assert.Zero(t, old.Done, "no window that is over")
	first := of(t, 30, "0 pitch | 30 0.998")
	assert.Equal(t, forecast.OnItsWay, first.Says)
}

func BenchmarkForecast(b *testing.B) {
	for _, n := range []int{30, 60, 600, 6000} {
		c := falling(n, 9).after(n + 1)
		b.Run(fmt.Sprint(n, " readings"), func(b *testing.B) {
			for b.Loop() {
				forecast.Of(c).Band(c.Now, 60)
			}
		})
	}
}

func TestNextReadingHasSomethingToShow(t *testing.T) {
	for _, c := range []struct {
		log  string
		days float64
		want float64
	}{
		{"0 pitch | 1 1.096 20C | 3 1.068 | 5 1.041", 5, 6},                // 13 points a day
		{"0 pitch | 1 1.096 20C | 3 1.068 | 5 1.041", 9, 9},                // it is due
		{steadily + "| 9 1.0205", 9, 11},                                   // perhaps stalled
		{steadily + "| 9 1.008 | 14 1.000 | 25 0.9965 | 32 0.996", 32, 46}, // hardly falls
		{"0 pitch | 1 1.0991", 1, 2},                                       // not started
	} {
		f := of(t, c.days, c.log)
		assert.WithinDuration(t, dayAt(c.want), f.ReadNext, time.Hour, "%s: %s", c.log, f.Says)
	}
	slow := of(t, 50, "0 pitch | 5 1.088 | 20 1.050 | 35 1.026 | 50 1.012").ReadNext
	assert.True(t, slow.After(dayAt(53)) && slow.Before(dayAt(60)), "under a point a day: %v", slow)
}

// TestColdWeekIsNotAStall: in the cold a jug ferments half as fast for 10 °C less; the same readings without the cold
// are a rest.
func TestColdWeekIsNotAStall(t *testing.T) {
	const fell = "0 pitch 25C | 1 1.096 25C | 2 1.080 25C | 3 1.064 25C | 4 1.048 "
	cold := of(t, 7, fell+"8C | 7 1.0462 8C")
	warm := of(t, 7, fell+"25C | 7 1.0462 25C")
	assert.Equal(t, forecast.PerhapsStalled, warm.Says)
	assert.NotEqual(t, forecast.PerhapsStalled, cold.Says, cold.Why)
	assert.Less(t, cold.Stops, warm.Stops)
}

func TestLatestReadingsAreComparedWithTheForecast(t *testing.T) {
	slower, n := of(t, 7, "0 pitch | 1 1.090 | 2 1.078 | 3 1.065 | 4 1.050 | 5 1.046 | 7 1.043").LookingBack().Deviation()
	assert.Equal(t, 2, n)
	assert.InDelta(t, 0.017, float64(slower), 0.008)
	slower, n = of(t, 5, "0 pitch | 1 1.096 | 2 1.085 | 3 1.068 | 4 1.054 | 5 1.041").LookingBack().Deviation()
	assert.Zero(t, n, "it fell as forecast: %v", slower)
	assert.Empty(t, of(t, 1, "0 pitch | 1 1.090").LookingBack().Recent, "nothing was forecast before the first")
}

func TestForcedTestIsTheEnd(t *testing.T) {
	const log = "0 pitch | 2 1.090 | 9 1.040 | 15 1.024 | 20 1.0152 | 21 forced-test | 27 1.0145 | 27.1 forced-test 1.0142"
	without := of(t, 28, strings.Split(log, "| 21")[0])
	with := of(t, 28, log)
	require.Empty(t, with.Unknown)
	assert.InDelta(t, 1.0142, float64(with.Finish), 0.001)
	assert.Less(t, with.High-with.Low, (without.High-without.Low)/2)
}

// TestForcedTestWithSugarLeftIsTheEnd: strong yeast in a warm glass ended at 1.0105, so the jug ends there, or stops
// above it.
func TestForcedTestWithSugarLeftIsTheEnd(t *testing.T) {
	const log = "0 pitch | 2 1.075 | 5 1.045 | 8 1.030 | 11 1.0220"
	without := of(t, 12, log)
	with := of(t, 19, log+"| 11.1 forced-test | 15 1.0170 | 18 forced-test 1.0105 | 18.1 1.0140")
	require.Empty(t, with.Unknown)
	assert.Less(t, float64(without.Low), 1.000)
	assert.InDelta(t, 1.0105, float64(with.Finish), 0.0015)
	assert.Greater(t, float64(with.Low), 1.005)
	assert.Equal(t, forecast.OnItsWay, with.Says, with.Why)
}

// TestNextReadingOfASlowFall: a stop shows only where 0.003 should have fallen, at 0.4 points a day after a week.
func TestNextReadingOfASlowFall(t *testing.T) {
	f := of(t, 26, "0 pitch 20C | 2 1.070 | 5 1.045 | 9 1.033 | 15 1.027 | 23 1.0235")
	require.NotZero(t, f.MayStop)
	assert.WithinDuration(t, dayAt(23+7), f.ReadNext, 25*time.Hour)
}
