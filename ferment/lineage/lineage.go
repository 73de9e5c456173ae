// Package lineage is about cultures: where one came from, how its passages went, how well it was tested, and what the
// ferments made of it.
package lineage

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Ancestors returns the ancestors of a culture, the oldest first. lost is the id of an ancestor that is in no file, empty
// if there is none.
func Ancestors(k ferment.Culture, all []ferment.Culture) (line []ferment.Culture, lost string) {
	seen := map[string]bool{k.ID: true}
	for k.From != "" {
		i := slices.IndexFunc(all, func(p ferment.Culture) bool { return p.ID == k.From })
		if i < 0 || seen[k.From] {
			return line, k.From
		}
		k = all[i]
		seen[k.ID] = true
		line = append([]ferment.Culture{k}, line...)
	}
	return line, ""
}

// Children returns the cultures that were made from one.
func Children(id string, all []ferment.Culture) []ferment.Culture {
	return slices.DeleteFunc(slices.Clone(all), func(k ferment.Culture) bool { return k.From != id || k.ID == id })
}

// Generation returns 1 for a first isolate, 2 for its children, and so on.
func Generation(k ferment.Culture, all []ferment.Culture) int {
	line, _ := Ancestors(k, all)
	return len(line) + 1
}

// Stored returns when the slurry was put into the fridge: the last backup, else the last feed.
func Stored(c *course.Course) (time.Time, bool) {
	if e, ok := c.Last(ferment.Backup); ok {
		return e.At.Time, true
	}
	return Fed(c)
}

// Fed returns when the culture last got a new medium.
func Fed(c *course.Course) (time.Time, bool) {
	e, fed := ferment.LastWhere(c.Entries, isMedium)
	if !fed {
		return time.Time{}, false
	}
	return e.At.Time, true
}

// Stale reports whether the culture had no new medium for over three months (common practice, no source).
func Stale(c *course.Course) bool {
	fed, ok := Fed(c)
	return ok && c.Now.After(fed.AddDate(0, 3, 0))
}

// NotProved is the reason against a sip of a culture that was not yet tested in a must.
const NotProved = "it was never tested in a must"

// MissingForSip returns the conditions for a first sip that are not met yet, in the order of the rule; nil if all are. (The
// limit of acidity is 4.6 in 21 CFR 114.3; the rest is common practice, no source.)
func MissingForSip(c *course.Course) []string {
	p, proved := ProofOf(c)
	if !proved {
		return []string{NotProved}
	}
	var unmet []string
	want := func(met bool, what string) {
		if !met {
			unmet = append(unmet, what)
		}
	}
	want(c.PH.IsKnown() && c.PH.Value <= 4.2, "pH 4.2 or less")
	want(p.Halved(), "gravity halved")
	want(c.Now.Sub(p.Entry.At.Time) >= 14*24*time.Hour, "14 days in the must")
	mould, clean := false, false
	for _, q := range Passages(c) {
		mould = mould || slices.Contains(q.Seen, "mould")
		clean = q.SmellsClean()
	}
	want(!mould, "never any mould")
	want(clean, "a clean smell")
	return unmet
}

// Made is the result of a ferment that was pitched with a culture.
type Made struct {
	Course  *course.Course
	Lag     course.Figure[time.Duration] // from the pitch to the recorded start
	AtMost  bool                         // no start was recorded: the lag is at most the time to the first reading that shows one
	Lowest  course.Figure[course.Reading]
	Alcohol course.Figure[measure.Strength]
	Faults  []string  // named at tastings, without repeats
	Second  time.Time // when another yeast was added, after which the result is not the culture's; zero for never
}

// MadeBy returns the results of the ferments that were pitched with a culture, in their order.
func MadeBy(id string, courses []*course.Course) []Made {
	return ferment.Map(ferment.Where(courses, func(c *course.Course) bool { return c.Ferment.Yeast.Culture == id && id != "" }), madeOf)
}

// madeOf returns what a culture made of one ferment.
func madeOf(c *course.Course) Made {
	m := Made{Course: c}
	if pitches := ferment.Where(c.Entries, func(e *ferment.Entry) bool { return e.Did == ferment.Pitch }); len(pitches) > 1 {
		m.Second = pitches[1].At.Time
	}
	m.Lag, m.AtMost = lagOf(c)
	m.Lowest = lowest(readingsAfter(c, c.Pitch.At, m.Second))
	m.Alcohol = c.Alcohol
	if !m.Second.IsZero() {
		m.Alcohol = reached(c.Effective, m.Lowest, measure.Given[measure.Strength]{})
	}
	if !m.Lowest.IsKnown() {
		m.Alcohol = course.Unknown[measure.Strength](m.Lowest.Unknown)
	}
	for _, e := range c.Entries {
		m.Faults = withNew(m.Faults, e.Taste.Faults)
	}
	return m
}

// fall is the fall of gravity that shows fermentation.
const fall = 0.003

// lagOf returns the lag by a recorded start, else, with atMost, by the first reading that shows one.
func lagOf(c *course.Course) (lag course.Figure[time.Duration], atMost bool) {
	switch {
	case !c.Pitch.Known:
		return course.Unknown[time.Duration]("it is not pitched"), false
	case c.Pitch.Assumed:
		return course.Unknown[time.Duration]("no pitch is written down"), false
	}
	if e, seen := c.First(ferment.Started); seen {
		return course.Known(max(e.At.Time.Sub(c.Pitch.At), 0)), false
	}
	r, fell := ferment.FirstWhere(readingsAfter(c, c.Pitch.At, time.Time{}), func(r course.Reading) bool { return c.Original.Value-r.Gravity >= fall-1e-9 })
	if !fell || !c.Original.IsKnown() {
		return course.Unknown[time.Duration]("no start was seen or measured"), false
	}
	return course.Known(r.At.Sub(c.Pitch.At)), true
}
