package course

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// apart is the least time between two readings for a pace (common practice, no source).
const apart = 20 * time.Hour

// pace returns the fall in points a day between the latest reading and one at least 20 hours earlier.
func (c *Course) pace() (Figure[float64], time.Time) {
	if !c.Gravity.IsKnown() {
		return Unknown[float64]("no reading yet"), time.Time{}
	}
	last := c.Gravity.Value
	before, ok := c.before(last, apart)
	if !ok {
		return Unknown[float64]("two readings at least 20 hours apart are needed"), time.Time{}
	}
	return Known(perDay(before, last)), before.At
}

// before returns the latest trusted reading at least so long before another, with no addition in between.
func (c *Course) before(last Reading, least time.Duration) (Reading, bool) {
	r, read := ferment.LastWhere(c.Readings, func(r Reading) bool {
		return r.Trusted() && r.From != FromStart && last.At.Sub(r.At) >= least
	})
	return r, read && !c.mixedBetween(r.At, last.At)
}

func (c *Course) mixedBetween(from, to time.Time) bool {
	return slices.ContainsFunc(c.mixed, func(m mixing) bool { return m.at.After(from) && !m.at.After(to) })
}

func perDay(a, b Reading) float64 {
	days := b.At.Sub(a.At).Hours() / 24
	if days <= 0 {
		return 0
	}
	return float64(a.Gravity-b.Gravity) * 1000 / days
}

// FallsFrom returns the start of the present fall: the must, or, after an addition, a pitch or a restart, the reading
// before it, with what fell since, carried through; after an unknown amount the first reading since.
func (c *Course) FallsFrom() (Reading, bool) {
	// freshened is the last time the fall started again. From there the first trusted reading ends the search: the fall
	// begins at the reading before it, carried through the addition, or at itself if that is impossible.
	from, fresh := c.freshened()
	var before *Reading
	for i := range c.Readings {
		r := &c.Readings[i]
		switch {
		case !r.Trusted() || r.From == FromStart:
		case !fresh && r.From == FromMust:
			return *r, true
		case !r.At.After(from):
			before = r
		case fresh:
			if begin, ok := c.carriedFrom(before, from); ok {
				begin.Gravity = max(begin.Gravity-c.fellUntil(*before, begin, *r), min(begin.Gravity, r.Gravity))
				return begin, true
			}
			return *r, true
		}
	}
	return c.carriedFrom(before, from)
}

// carriedFrom returns an earlier reading as it would be at a time, with the additions since.
func (c *Course) carriedFrom(before *Reading, to time.Time) (Reading, bool) {
	if before == nil {
		return Reading{}, false
	}
	g, ok := c.carried(*before, to)
	r := *before
	r.At, r.Moment, r.Gravity = to, ferment.At(to), g
	return r, ok
}

// fellUntil returns how far gravity fell between a reading and the start of a new fall, unread: at the pace before, or
// evenly until the next reading, whichever is less.
func (c *Course) fellUntil(before, begin, next Reading) measure.Gravity {
	days := begin.At.Sub(before.At).Hours() / 24
	pace := perDay(Reading{At: before.At, Gravity: begin.Gravity}, next)
	if earlier, ok := c.before(before, apart); ok {
		pace = min(pace, perDay(earlier, before))
	}
	return measure.Gravity(max(0, pace) / 1000 * days)
}

// freshened returns when the fall last started again, if it did.
func (c *Course) freshened() (time.Time, bool) {
	from := c.Pitch.At
	for _, m := range c.mixed {
		from = ferment.Later(from, m.at)
	}
	if e, pitched := c.Last(ferment.Pitch); pitched {
		from = ferment.Later(from, e.At.Time)
	}
	if _, again := c.restarted(); again {
		from = ferment.Later(from, c.lastSteady())
	}
	return from, from.After(c.Pitch.At)
}

// lastSteady returns when gravity was last steady before the latest reading.
func (c *Course) lastSteady() time.Time {
	if !c.Gravity.IsKnown() {
		return time.Time{}
	}
	last := c.Gravity.Value
	r, _ := ferment.LastWhere(c.Readings, func(r Reading) bool { return r.Trusted() && r.Gravity-last.Gravity >= moves-tiny })
	return r.At
}

// history sorts a log by time into entries up to now and later ones. An entry of a day alone keeps its place within the
// day and gets the time of the one before it.
func history(log []ferment.Entry, now time.Time) (past, later []*ferment.Entry) {
	past = make([]*ferment.Entry, 0, len(log))
	latest := map[time.Time]time.Time{} // latest time of each day so far, by the first instant of the day
	for i := range log {
		e := &log[i]
		isLater := e.At.Earliest().After(now)
		at := e.At.Time
		day := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location())
		switch before, known := latest[day]; {
		case e.At.DayOnly && known:
			moved := *e
			moved.At.Time = before
			e = &moved
		case !e.At.DayOnly && at.After(before):
			latest[day] = at
		}
		if isLater {
			later = append(later, e)
		} else {
			past = append(past, e)
		}
	}
	byTime := func(a, b *ferment.Entry) int { return a.At.Time.Compare(b.At.Time) }
	slices.SortStableFunc(past, byTime)
	slices.SortStableFunc(later, byTime)
	return past, later
}

// First returns the first entry of an act, up to now.
func (c *Course) First(act ferment.Act) (*ferment.Entry, bool) {
	return ferment.FirstWhere(c.Entries, func(e *ferment.Entry) bool { return e.Did == act })
}

// Last returns the latest entry of an act, up to now.
func (c *Course) Last(act ferment.Act) (*ferment.Entry, bool) {
	return ferment.LastWhere(c.Entries, func(e *ferment.Entry) bool { return e.Did == act })
}

// Over reports whether nothing is left to do: dumped, blended away, closed, or a culture discarded. A ferment into
// which another was blended goes on, and so do the bottles if the rest of the vessel is dumped.
func (c *Course) Over() bool {
	rest := false // the vessel has what was not bottled
	for _, e := range c.Entries {
		switch {
		case e.Did == ferment.Close:
			return true
		case e.Did == ferment.Bottle:
			rest = e.Left.Known() && e.Left.Value > 0
		case e.Did == ferment.Dump && e.Bottle == "" && rest:
			rest = false
		case e.Did == ferment.Dump && e.Bottle == "":
			return true
		case e.Did == ferment.Blend && e.Left.Known() && e.Left.Value <= 0:
			return true
		case c.Culture != nil && e.Did == ferment.Discard:
			return true
		}
	}
	return c.Culture != nil && c.verdict() == "discarded"
}
