package course

import (
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// What counts as steady beside the days, which are limits of the cellar
// (common practice, no source).
const (
	steadySpread   measure.Gravity     = 0.0010
	steadyReadings                     = 3
	steadySwing    measure.Temperature = 3 // between the temperatures recorded
)

// steadiness is how far the gravity is from counting as steady, now.
func (c Course) steadiness() Steadiness {
	s := c.steadyAt(c.Now, len(c.Readings))
	s.Met = c.steadyMet()
	return s
}

// steadyMet is when the gate first opened: it can only open when something was
// recorded.
func (c Course) steadyMet() time.Time {
	// Walk through the log once; n readings were known at each entry. The run that
	// agrees is looked for first, since that is cheap and seldom there; only where
	// it is long enough are temperatures and the rest of the gate asked for.
	n, days := 0, float64(c.steadyDays())
	for _, e := range c.Entries {
		for n < len(c.Readings) && !c.Readings[n].At.After(e.At.Time) {
			n++
		}
		if !e.HasDensity() && !e.Temperature.Known() || n < steadyReadings {
			continue
		}
		if r, any := c.agreeing(n, longEnough(days)); !any || !longEnough(days)(r) {
			continue
		}
		if c.steadyAt(e.At.Time, n).Open {
			return e.At.Time
		}
	}
	return time.Time{}
}

// steadyDays is how many days the readings must span.
func (c Course) steadyDays() int {
	if c.unproved() {
		return c.Limits.SteadyDaysWild
	}
	return c.Limits.SteadyDays
}

// run is the readings at the end of a series that agree.
type run struct {
	from, to Reading
	count    int
	doubt    bool // one in doubt stands among them
}

// longEnough tells of a run whether it has readings enough over so many days.
func longEnough(days float64) func(run) bool {
	return func(r run) bool { return r.count >= steadyReadings && r.days() >= days-tiny }
}

func (r run) days() float64 { return r.to.At.Sub(r.from.At).Hours() / 24 }

// agreeing is the longest run of hydrometer readings up to the nth that lie
// within the spread, with nothing mixed in or pitched since its first. It goes
// no further back than it needs to.
func (c Course) agreeing(n int, enough func(run) bool) (run, bool) {
	// Walk back from the nth reading, widening the span of gravities, and stop at
	// the first that would make it too wide or lies before something went in.
	// Readings in doubt are left out; those among the newest mark the run.
	var r run
	var low, high measure.Gravity
	for i := n - 1; i >= 0; i-- {
		rd := c.Readings[i]
		if rd.From != Hydrometer || rd.Replaced {
			continue
		}
		if rd.Doubt != "" {
			r.doubt = r.doubt || r.count < steadyReadings
			continue
		}
		if r.count == 0 {
			r.from, r.to, r.count, low, high = rd, rd, 1, rd.Gravity, rd.Gravity
			continue
		}
		low, high = min(low, rd.Gravity), max(high, rd.Gravity)
		if high-low > steadySpread+tiny || c.disturbedBetween(rd.At, r.from.At) {
			break
		}
		r.from = rd
		r.count++
		if enough(r) {
			break
		}
	}
	return r, r.count > 0
}

// disturbedBetween tells whether something was added or pitched that makes
// older readings count no more.
func (c Course) disturbedBetween(from, to time.Time) bool {
	i, _ := slices.BinarySearchFunc(c.disturbed, from, func(t, at time.Time) int { return t.Compare(at) })
	return i < len(c.disturbed) && !c.disturbed[i].After(to)
}

// disturbances are the times at which something went in that makes readings
// from before count no more. Sugar for the bottles is none.
func (c Course) disturbances() []time.Time {
	var ts []time.Time
	for _, e := range c.Entries {
		switch e.Did {
		case ferment.Honey, ferment.FruitIn, ferment.Blend, ferment.Pitch:
			ts = append(ts, e.At.Time)
		case ferment.TopUp:
			if e.Of != "" && e.Of != "water" {
				ts = append(ts, e.At.Time)
			}
		}
	}
	return ts
}

// steadyAt is the gate at one moment, over the first n readings.
func (c Course) steadyAt(at time.Time, n int) Steadiness {
	days := float64(c.steadyDays())
	r, any := c.agreeing(n, longEnough(days))
	s := Steadiness{Days: r.days(), First: r.from.At}
	if !any {
		s.Unmet = []Unmet{{What: "no hydrometer reading yet", Frees: "read gravity with the hydrometer", Act: ferment.DoGravity}}
		return s
	}
	s.Unmet = slices.Concat(c.unmetReadings(r, days), c.unmetAge(r, at), c.unmetTemperatures(r, at))
	s.Open = len(s.Unmet) == 0
	return s
}

func (c Course) unmetReadings(r run, days float64) []Unmet {
	var out []Unmet
	switch {
	case r.doubt:
		out = append(out, Unmet{"a reading is in doubt", "read once more", ferment.DoGravity})
	case r.count < steadyReadings:
		out = append(out, Unmet{fmt.Sprintf("%d of %d readings within 0.0010", r.count, steadyReadings), "read gravity " + c.day(r.from.At.AddDate(0, 0, int(days))), ferment.DoGravity})
	}
	if r.days() < days-tiny {
		out = append(out, Unmet{fmt.Sprintf("the readings that agree span %.0f of %.0f days", r.days(), days),
			"read gravity on or after " + c.day(r.from.At.AddDate(0, 0, int(days))), ferment.DoGravity})
	}
	return out
}

func (c Course) unmetAge(r run, at time.Time) []Unmet {
	limit := 14
	if c.unproved() {
		limit = 28
	}
	if at.After(r.to.Moment.Earliest().AddDate(0, 0, limit)) {
		return []Unmet{{fmt.Sprintf("the latest reading is older than %d days", limit), "read gravity", ferment.DoGravity}}
	}
	return nil
}

// unmetTemperatures looks at the temperatures since the first of the readings.
// Cold on purpose does not count: after a chill with the gate open, or after
// stabilising.
func (c Course) unmetTemperatures(r run, at time.Time) []Unmet {
	lowest := c.Limits.SteadyTemperature
	if y := c.Ferment.Yeast.Temperature; y.Known() {
		lowest = min(lowest, y.Value.Low)
	}
	var low, high measure.Temperature
	seen := false
	for _, e := range c.between(r.from.At, at) {
		if e.Did == ferment.Chill && seen || e.Did == ferment.Sulphite && c.stabilisedBy(at) {
			break
		}
		if !e.Temperature.Known() || e.Did.ApartFromCourse() {
			continue
		}
		t := e.Temperature.Value
		if !seen {
			low, high = t.Low, t.High
		}
		low, high, seen = min(low, t.Low), max(high, t.High), true
	}
	switch {
	case !seen:
		return []Unmet{{"no temperature is recorded since " + c.day(r.from.At), "note the temperature of the room", ferment.DoTemperature}}
	case high-low > steadySwing+tiny:
		return []Unmet{{fmt.Sprintf("the temperature went from %s to %s, more than 3 °C", low, high), "keep it even and read on", ferment.DoTemperature}}
	case low < lowest-tiny:
		return []Unmet{{fmt.Sprintf("it stood at %s, under %s", low, lowest), "warm it and read on: cold yeast only rests", ferment.DoTemperature}}
	}
	return nil
}

// between are the entries from one time to another, both included.
func (c Course) between(from, to time.Time) []*ferment.Entry {
	at := func(e *ferment.Entry, t time.Time) int { return e.At.Time.Compare(t) }
	i, _ := slices.BinarySearchFunc(c.Entries, from, at)
	j, _ := slices.BinarySearchFunc(c.Entries, to.Add(1), at)
	return c.Entries[i:max(i, j)]
}

func (c Course) day(t time.Time) string { return t.Format("Mon 2 Jan") }
