package forecast

import (
	"math"
	"sort"
	"time"

	"cellar/jugkeeper/ferment/course"
)

// clock counts days at the mean temperature of a ferment: a day that is 10 °C warmer counts as two, so that a cold week
// is not taken for a stall. A temperature counts until the next one. Without temperatures it counts plain days.
type clock struct {
	began time.Time
	mean  float64 // °C, NaN where none is recorded
	turns []turn  // by day; the first is at 0
}

// turn is a change of pace: the day, the days counted until then, and the pace from there.
type turn struct{ day, lived, pace float64 }

// doubles is how many degrees double the pace (common practice for yeast between 10 and 30 °C, no source); furthest is
// the largest difference from the mean that is used.
const (
	doubles  = 10.0
	furthest = 15.0
)

func clockOf(c course.Course, began time.Time) clock {
	k := clock{began: began, turns: []turn{{0, 0, 1}}}
	type heat struct {
		at   time.Time
		warm float64
	}
	var heats []heat
	sum := 0.0
	for _, e := range c.Entries {
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			heats = append(heats, heat{e.At.Time, float64(e.Temperature.Value.Middle())})
			sum += heats[len(heats)-1].warm
		}
	}
	k.mean = sum / float64(len(heats))
	for i, h := range heats {
		pace := math.Exp2(max(-furthest, min(furthest, h.warm-k.mean)) / doubles)
		day := h.at.Sub(began).Hours() / 24
		last := &k.turns[len(k.turns)-1]
		if i == 0 || day <= 0 {
			k.turns = []turn{{0, 0, pace}}
		} else if day > last.day && pace != last.pace {
			k.turns = append(k.turns, turn{day, last.lived + (day-last.day)*last.pace, pace})
		} else if pace != last.pace {
			last.pace = pace
		}
	}
	return k
}

func (k clock) day(t time.Time) float64 {
	day := t.Sub(k.began).Hours() / 24
	i := max(sort.Search(len(k.turns), func(i int) bool { return k.turns[i].day > day })-1, 0)
	return k.turns[i].lived + (day-k.turns[i].day)*k.turns[i].pace
}

// at returns the time at which so many days are counted, at most ten years ahead.
func (k clock) at(lived float64) time.Time {
	i := max(sort.Search(len(k.turns), func(i int) bool { return k.turns[i].lived > lived })-1, 0)
	day := k.turns[i].day + (lived-k.turns[i].lived)/k.turns[i].pace
	return k.began.Add(time.Duration(min(day, 3650) * 24 * float64(time.Hour))).Truncate(time.Minute)
}
