package schedule_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
)

// TestBottledCaution: its severity follows from the record.
func TestBottledCaution(t *testing.T) {
	for _, c := range []struct {
		what, kind, fizz, log string
		loud                  schedule.Loud
		name                  string
	}{
		{"conditioning", "crown beer bottle", "5 g/L", "", schedule.Warn, "crate"},
		{"still", "still-wine bottle", "", "", "", ""},
		{"still, filled with sugar left", "still-wine bottle", "", "88d 12:00 honey 150g|88d 13:00 1.010", schedule.Stop, "bottle-pressure"},
		{"still, filled after honey that was not read", "still-wine bottle", "", "88d 12:00 honey 150g", schedule.Stop, "bottle-pressure"},
		{"still, and stabilised", "still-wine bottle", "", "88d 12:00 sulphite 0.4g|88d 12:30 sorbate 0.6g", "", ""},
		{"hiss of four", "crown beer bottle", "5 g/L", "97d 12:00 open hiss=4", schedule.Warn, "crate"},
		{"hiss over four", "crown beer bottle", "5 g/L", "97d 12:00 open hiss=5", schedule.Stop, "overpressure-drill"},
		{"hard", "crown beer bottle", "5 g/L", "93d 12:00 squeeze feel=hard", schedule.Stop, "overpressure-drill"},
		{"hard, and in the cold since", "crown beer bottle", "5 g/L", "93d 12:00 squeeze feel=hard|93d 13:00 chill", schedule.Warn, "in-the-cold"},
		{"a still one that works", "still-wine bottle", "", "97d 12:00 open hiss=3", schedule.Stop, "overpressure-drill"},
		{"too hot", "crown beer bottle", "5 g/L", "97d 12:00 30.5C", schedule.Stop, "bottle-heat"},
		{"as hot as reckoned", "crown beer bottle", "5 g/L", "97d 12:00 30C", schedule.Warn, "crate"},
		{"a bottle that stands none", "jar", "5 g/L", "", schedule.Stop, "bottle-pressure"},
		{"of an unknown kind", "grandfather's", "5 g/L", "", schedule.Warn, "crate"},
	} {
		j := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch|80d 12:00 0.997|" + c.log}
		j.ferment = func(f *ferment.Ferment) {
			fizz := measure.Give(measure.Content(0), "none")
			if c.fizz != "" {
				fizz, _ = measure.ParseCarbonation(c.fizz)
			}
			f.Log = append(f.Log, ferment.Entry{At: ferment.At(at("90d 12:00")), Did: ferment.Bottle, Order: len(f.Log),
				Bottles: []ferment.Bottles{{Kind: c.kind, Count: 8, Fizz: fizz}}})
		}
		k := j.course("98d 12:00")
		got := schedule.BottledCaution(k, shelf.Of(k), 0)
		if c.loud == "" {
			assert.Nil(t, got, c.what)
			continue
		}
		require.NotNil(t, got, c.what)
		assert.Equal(t, [2]string{string(c.loud), c.name}, [2]string{string(got.Loud), got.Name}, c.what)
	}
}

// Before the month in which hot weather usually begins, and through its three months, the
// crate of conditioned bottles is to be somewhere cool; common practice, no source.
func TestHotWeatherIsWarnedOf(t *testing.T) {
	for _, c := range []struct {
		month   string
		hottest measure.Temperature
		now     string
		warned  bool
	}{
		{"june", 30, "2027-05-01", false}, {"june", 30, "2027-05-03", true}, {"june", 30, "2027-08-30", true}, {"june", 30, "2027-09-05", false},
		{"january", 30, "2026-12-05", true}, {"january", 30, "2027-03-30", true}, {"january", 30, "2027-06-05", false}, {"june", 20, "2027-06-10", false},
	} {
		now, err := time.Parse(time.DateOnly, c.now)
		require.NoError(t, err)
		s := ferment.DefaultSettings(time.UTC)
		s.HotFrom, s.Hottest = c.month, c.hottest
		gravity := func(text string) measure.Given[measure.Gravity] { g, _ := measure.ParseGravity(text); return g }
		f := ferment.Ferment{ID: "a", Must: ferment.Must{Volume: measure.Give(measure.Volume(3.6), "3.6 L"), Gravity: gravity("1.070")}, Log: []ferment.Entry{
			{At: ferment.At(now.AddDate(0, -4, 0)), Did: ferment.Pitch}, {At: ferment.At(now.AddDate(0, -2, 0)), Gravity: gravity("0.997")},
			{At: ferment.At(now.AddDate(0, -1, 0)), Did: ferment.Bottle, Bottles: []ferment.Bottles{{Kind: "sparkling-wine bottle", Count: 8, Fizz: measure.Give(measure.Content(5), "5 g/L")}}},
		}}
		k := course.Of(f, s, s.Limits, now)
		got := schedule.BottledCaution(k, shelf.Of(k), 0)
		require.NotNil(t, got, c.now)
		warned, there := task(schedule.Plan(ferment.Protocol{}, k), schedule.HotSpell)
		assert.Equal(t, c.warned, there, "the morning of %s", c.now)
		for _, ends := range []ferment.Entry{{Did: ferment.Move}, {Skipped: schedule.HotSpell, Because: "a cool cellar"}} {
			ends.At = ferment.At(now)
			g := f
			g.Log = append(slices.Clone(f.Log), ends)
			_, still := task(schedule.Plan(ferment.Protocol{}, course.Of(g, s, s.Limits, now.Add(time.Hour))), schedule.HotSpell)
			assert.False(t, still, "silent for the season after %s", ends.Did)
			next := now.AddDate(1, 0, 0)
			_, again := task(schedule.Plan(ferment.Protocol{}, course.Of(g, s, s.Limits, next)), schedule.HotSpell)
			assert.Equal(t, c.warned, again, "a year later, %s", warned.Title)
		}
		assert.Equal(t, c.warned, strings.Contains(got.Text, "hot weather usually begins in"), "%s %s: %s", c.month, c.now, got.Text)
	}
}
