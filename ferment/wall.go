package ferment

import "time"

// wall is a date and a time of day, as a clock on the wall shows them.
type wall struct {
	year              int
	month             time.Month
	day               int
	hour, min, second int
}

func wallOf(t time.Time) wall {
	y, m, d := t.Date()
	return wall{y, m, d, t.Hour(), t.Minute(), t.Second()}
}

// instants are the first and the last instant at which the wall clock of a
// zone shows this; they differ in the hour that a clock change doubles. It is
// not ok for a time that a clock change skips.
func (w wall) instants(zone *time.Location) (first, last time.Time, ok bool) {
	for _, offset := range w.offsets(zone) {
		t := w.utc().Add(-offset).In(zone)
		if wallOf(t) != w {
			continue
		}
		if !ok || t.Before(first) {
			first = t
		}
		if !ok || t.After(last) {
			last = t
		}
		ok = true
	}
	return first, last, ok
}

// startOfDay is the first instant of a day, which is after midnight where a
// clock change skips it. It is not ok for a day that a zone skipped as a whole.
func (w wall) startOfDay(zone *time.Location) (start time.Time, ok bool) {
	day := wall{year: w.year, month: w.month, day: w.day}
	if first, _, shown := day.instants(zone); shown {
		return first, true
	}
	start = day.utc().Add(-day.offsets(zone)[0]).In(zone)
	return start, start.Day() == w.day
}

// offsets are the zone's offsets from UTC a day before and a day after.
func (w wall) offsets(zone *time.Location) [2]time.Duration {
	var offsets [2]time.Duration
	for i, days := range []int{-1, 1} {
		_, seconds := w.utc().AddDate(0, 0, days).In(zone).Zone()
		offsets[i] = time.Duration(seconds) * time.Second
	}
	return offsets
}

// utc is the instant at which a clock in UTC shows this.
func (w wall) utc() time.Time {
	return time.Date(w.year, w.month, w.day, w.hour, w.min, w.second, 0, time.UTC)
}
