package course

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Limits for steady besides those of the cellar (common practice, no source).
const (
	steadyReadings                     = 3
	steadySwing    measure.Temperature = 3      // between the highest and lowest temperature
	repeatability                      = 0.0005 // of a hydrometer read by one person
	scaleStep                          = 0.001  // between two of its lines
	sureAt                             = 1.645  // standard errors: 95 % on one side
	testedMargin                       = 3      // factor on the allowed fall once a forced test has passed
	longestRun                         = 120    // least days looked back
)

// SteadyOver returns the gate for other days and another temperature than the limits.
func (c *Course) SteadyOver(days int, warmth measure.Temperature) Steadiness {
	if c.unproved() {
		days = max(days, c.steadyDays())
	}
	return c.steadyAt(c.Now, len(c.Readings), days, warmth)
}

// steadyMet returns when the gate first opened.
func (c *Course) steadyMet() time.Time {
	// The gate can only open at an entry. For each entry n readings were known; the last reading of the run opens it,
	// or a temperature after it.
	n, days := 0, c.steadyDays()
	for _, e := range c.Entries {
		for n < len(c.Readings) && !c.Readings[n].At.After(e.At.Time) {
			n++
		}
		if !e.HasDensity() && !e.Temperature.Known() {
			continue
		}
		if end := c.level(n, e.At.Time, days); end.n < steadyReadings || c.span(end) < days || end.falls() {
			continue // as unmetReadings would say, without a look at all that is before it
		}
		if c.steadyAt(e.At.Time, n, days, c.Limits.SteadyTemperature).Open {
			return e.At.Time
		}
	}
	return time.Time{}
}

func (c *Course) steadyDays() int {
	if c.unproved() {
		return c.Limits.SteadyDaysWild
	}
	return c.Limits.SteadyDays
}

// steadyFall returns the fall a day that must be excluded: the limit's over its own days.
func (c *Course) steadyFall(at time.Time) float64 {
	fall := c.Limits.SteadyFall / float64(max(1, c.steadyDays()))
	if c.Test.Passed && !c.Test.Result.At.After(at) {
		fall *= testedMargin
	}
	return fall
}

// level is the end of a series whose readings are on one line, with the sums for a regression.
type level struct {
	first, last *Reading // the oldest and the newest of them; nil for none
	doubt       bool     // one in doubt is among the newest

	n, t, g, tt, tg, s2 float64 // sums of days before the latest, gravity, and squares
}

// take adds an earlier reading to the sums of the level.
func (l *level) take(r *Reading) {
	l.first, l.last = r, cmp.Or(l.last, r)
	t, g := l.before(r), float64(r.Gravity)
	s := math.Sqrt(repeatability*repeatability+scaleStep*scaleStep/12) * r.Error / hydrometerError // of the eye and of the scale's step
	l.n, l.t, l.g, l.tt, l.tg, l.s2 = l.n+1, l.t+t, l.g+g, l.tt+t*t, l.tg+t*g, l.s2+s*s
}

// before returns how many days a reading is before the latest, as a negative number.
func (l *level) before(r *Reading) float64 {
	return r.At.Sub(l.last.At).Hours() / 24
}

// fall returns the fall a day by regression, and its standard error.
func (l *level) fall() (fall, err float64) {
	w := l.tt - l.t*l.t/l.n
	if w <= 0 {
		return 0, math.Inf(1)
	}
	return -(l.tg - l.t*l.g/l.n) / w, math.Sqrt(l.s2 / l.n / w)
}

// falls reports whether the readings show a fall for sure.
func (l *level) falls() bool {
	fall, err := l.fall()
	return fall > sureAt*err+tiny
}

// off returns the distance of a reading from the line through the readings so far, or from their mean if fewer than
// three.
func (l *level) off(r *Reading) float64 {
	at := l.g / l.n
	if l.n >= steadyReadings {
		fall, _ := l.fall()
		at -= fall * (l.before(r) - l.t/l.n)
	}
	return math.Abs(float64(r.Gravity) - at)
}

// level returns the hydrometer readings up to the nth that are on one line, since the last addition. With enough above
// 0 it ends once it has readings over so many days.
func (c *Course) level(n int, at time.Time, enough int) level {
	// Walk back from the nth reading, and stop at the first that is off the line, or before an addition. Readings in
	// doubt are skipped; if they are among the newest, doubt is set.
	var l level
	since := c.disturbedBy(at)
	for i := n - 1; i >= 0; i-- {
		r := &c.Readings[i]
		if !r.At.After(since) {
			break
		}
		if r.From != Hydrometer || r.Replaced {
			continue
		}
		if r.Doubt != "" {
			l.doubt = l.doubt || l.n < steadyReadings
			continue
		}
		if l.n > 0 {
			limit := float64(c.Limits.SteadySpread)
			if l.off(r) > limit+tiny {
				break
			}
			long := time.Duration(enough-2) * 24 * time.Hour // anything shorter has fewer calendar days
			if l.n >= steadyReadings && l.last.At.Sub(l.first.At) > long && c.span(l) >= enough {
				break
			}
		}
		l.take(r)
	}
	return l
}

func (c *Course) span(l level) int { return c.Days(l.first.At, l.last.At) }

// Days counts the calendar days between two times in the cellar's zone.
func (c *Course) Days(from, to time.Time) int {
	zone := cmp.Or(c.Settings.Zone, time.UTC)
	day := func(t time.Time) time.Time {
		y, m, d := t.In(zone).Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return int(day(to).Sub(day(from)).Hours() / 24)
}

// disturbedBy returns the time of the last addition that counts, up to a time; zero for none.
func (c *Course) disturbedBy(at time.Time) time.Time {
	i, found := slices.BinarySearchFunc(c.disturbed, at, time.Time.Compare)
	if found {
		return at
	}
	if i == 0 {
		return time.Time{}
	}
	return c.disturbed[i-1]
}

// disturbances returns the times of additions after which earlier readings no longer count: sugar, another mead, yeast
// or nutrient; not priming sugar, water and the same mead.
func (c *Course) disturbances() []time.Time {
	var ts []time.Time
	for _, e := range c.Entries {
		switch e.Did {
		case ferment.Honey, ferment.FruitIn, ferment.Blend, ferment.Pitch, ferment.Starter, ferment.Nutrient, ferment.Buffer:
			ts = append(ts, e.At.Time)
		case ferment.TopUp:
			if !c.Ferment.Alike(e) {
				ts = append(ts, e.At.Time)
			}
		}
	}
	return ts
}

// steadyAt returns the gate at one moment, for the first n readings.
func (c *Course) steadyAt(at time.Time, n, days int, warmth measure.Temperature) Steadiness {
	// The whole level determines how small a fall it can exclude. Its end alone, just long enough, must not show a
	// fall: restarted fermentation could hide in a long rest. Temperatures count from the beginning of that end.
	whole := c.level(n, at, max(longestRun, days))
	if whole.n == 0 {
		none := "no hydrometer reading yet"
		if t := c.disturbedBy(at); !t.IsZero() && n > 0 && c.Readings[n-1].From == Hydrometer {
			none = "no reading since " + c.sinceWhen(t) + ", when something went in"
		}
		return Steadiness{Unmet: []Unmet{{What: none, Frees: "read gravity with the hydrometer", Act: ferment.DoGravity}}}
	}
	end := c.level(n, at, days)
	s := Steadiness{Days: float64(c.span(whole)), First: whole.first.At}
	fall, err := whole.fall()
	if whole.n >= steadyReadings {
		s.Excludes = max(0, fall+sureAt*err) * perFortnight
	}
	s.Unmet = c.unmetReadings(whole, end, at, days)
	fresh := 14
	if c.unproved() {
		fresh = 28
	}
	if c.Days(whole.last.Moment.Earliest(), at) > fresh {
		s.Unmet = append(s.Unmet, Unmet{fmt.Sprintf("the latest reading is older than %d days", fresh), "read gravity", ferment.DoGravity})
	}
	s.Unmet = append(s.Unmet, c.unmetTemperatures(end.first.At, at, warmth)...)
	s.Open = len(s.Unmet) == 0
	return s
}

// perFortnight converts a fall in gravity a day to points in fourteen days.
const perFortnight = 14 * 1000

// unmetReadings says which readings are missing before it counts as steady.
func (c *Course) unmetReadings(whole, end level, at time.Time, days int) []Unmet {
	on := "read gravity on or after " + c.day(whole.first.At.AddDate(0, 0, days))
	count := int(whole.n)
	switch span := c.span(whole); {
	case whole.doubt:
		return []Unmet{{"a reading is in doubt", "read once more", ferment.DoGravity}}
	case count < steadyReadings && span < days:
		return []Unmet{{fmt.Sprintf("%d of %d readings agree", count, steadyReadings), on, ferment.DoGravity}}
	case count < steadyReadings:
		return []Unmet{{fmt.Sprintf("%d of %d readings agree", count, steadyReadings), "read gravity", ferment.DoGravity}}
	case span < days:
		return []Unmet{{fmt.Sprintf("the readings agree over %d of %d days", span, days), on, ferment.DoGravity}}
	}
	fall, err := whole.fall()
	last, _ := end.fall()
	again := "read gravity again in a week"
	limit := c.steadyFall(at)
	points := func(fall float64) string { return measure.Decimal(fall*perFortnight, 2) }
	switch {
	case end.falls():
		return []Unmet{{"it still falls, " + points(last) + " points a fortnight", again, ferment.DoGravity}}
	case fall > limit/3+tiny:
		return []Unmet{{fmt.Sprintf("%d readings fall by %s points a fortnight; %s is the limit", count, points(fall), points(limit/3)), again, ferment.DoGravity}}
	case fall+sureAt*err > limit+tiny:
		return []Unmet{{fmt.Sprintf("%d readings cannot exclude a fall of %s points a fortnight; %s is the limit", count, points(fall+sureAt*err), points(limit)), again, ferment.DoGravity}}
	}
	return nil
}

// unmetTemperatures checks the temperatures since a time. Cold on purpose does not count: after a chill with the gate
// open, or after stabilising.
func (c *Course) unmetTemperatures(from, at time.Time, lowest measure.Temperature) []Unmet {
	if y := c.Ferment.Yeast.Temperature; y.Known() {
		lowest = min(lowest, y.Value.Low)
	}
	var low, high measure.Temperature
	seen := false
	for _, e := range c.between(from, at) {
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
	const anew = "; the days are counted again from the next reading"
	u := c.Settings.Units
	switch {
	case !seen:
		return []Unmet{{"no temperature is recorded since " + c.sinceWhen(from), "note the temperature of the room", ferment.DoTemperature}}
	case high-low > steadySwing+tiny:
		return []Unmet{{fmt.Sprintf("the temperature went from %s to %s, more than %s", low.In(u), high.In(u), measure.Fill("{3 °C apart}", u)), "keep it at an even temperature, and go on reading" + anew, ferment.DoTemperature}}
	case low < lowest-tiny:
		return []Unmet{{fmt.Sprintf("it was at %s, under %s", low.In(u), lowest.In(u)), "warm it and go on reading: cold yeast only rests" + anew, ferment.DoTemperature}}
	}
	return nil
}

func (c *Course) between(from, to time.Time) []*ferment.Entry {
	at := func(e *ferment.Entry, t time.Time) int { return e.At.Time.Compare(t) }
	i, _ := slices.BinarySearchFunc(c.Entries, from, at)
	j, _ := slices.BinarySearchFunc(c.Entries, to.Add(1), at)
	return c.Entries[i:max(i, j)]
}

func (c *Course) day(t time.Time) string { return t.Format("Mon 2 Jan") }

// sinceWhen writes a day, or the time if it is today.
func (c *Course) sinceWhen(t time.Time) string {
	if c.Days(t, c.Now) == 0 {
		return t.Format("15:04")
	}
	return c.day(t)
}
