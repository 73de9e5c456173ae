// Package lineage is about cultures: where one came from, how its passages went, how
// far it was tested to go, and what the ferments made of it. It never assumes what
// was not tested.
package lineage

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Parents returns the cultures that one came from, the first first. Lost is the id of an ancestor that no file has;
// empty where the line is whole.
func Parents(k ferment.Culture, all []ferment.Culture) (line []ferment.Culture, lost string) {
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

// Generation counts from 1 for a first isolate.
func Generation(k ferment.Culture, all []ferment.Culture) int {
	line, _ := Parents(k, all)
	return len(line) + 1
}

// Stored returns when the slurry was put into the cold: the last backup, else the last feed.
func Stored(c course.Course) (time.Time, bool) {
	if e, ok := c.Last(ferment.Backup); ok {
		return e.At.Time, true
	}
	return Fed(c)
}

// Fed returns when the culture last got a new medium.
func Fed(c course.Course) (time.Time, bool) {
	ps := Passages(c)
	if len(ps) == 0 {
		return time.Time{}, false
	}
	return ps[len(ps)-1].Entry.At.Time, true
}

// Stale reports over three months without a new medium (common practice, no source).
func Stale(c course.Course) bool {
	fed, ok := Fed(c)
	return ok && c.Now.After(fed.AddDate(0, 3, 0))
}

// NotProved forbids a sip of a culture that no must has tested yet.
const NotProved = "it is not proved in a must"

// Unsipped returns what is still missing for a first sip, in the order of the rule; nil
// where all of it is met. (Of the acidity 21 CFR 114.3 has its limit at 4.6; the rest
// is common practice, no source.)
func Unsipped(c course.Course) []string {
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

// Made is what a ferment that was pitched with a culture made of it.
type Made struct {
	Course  course.Course
	Lag     course.Figure[time.Duration] // from the pitch to the start that was seen
	AtMost  bool                         // nobody saw the start: the lag ends no later than the first reading that shows one
	Lowest  course.Figure[course.Reading]
	Alcohol course.Figure[measure.Strength]
	Faults  []string  // named at tastings, each once
	Second  time.Time // another yeast went in: what it did is not the culture's; zero where none did
}

// MadeBy returns what ferments made of a culture, in their order.
func MadeBy(id string, courses []course.Course) []Made {
	var out []Made
	for _, c := range courses {
		if c.Ferment.Yeast.Culture == id && id != "" {
			out = append(out, madeOf(c))
		}
	}
	return out
}

func madeOf(c course.Course) Made {
	m := Made{Course: c, Second: secondYeast(c)}
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
		for _, fault := range e.Taste.Faults {
			if !slices.Contains(m.Faults, fault) {
				m.Faults = append(m.Faults, fault)
			}
		}
	}
	return m
}

// fall is how far a gravity falls where something works in it.
const fall = 0.003

// lagOf returns the lag by a recorded start, else at most by the first reading that shows one.
func lagOf(c course.Course) (lag course.Figure[time.Duration], atMost bool) {
	switch {
	case !c.Pitch.Known:
		return course.Unknown[time.Duration]("it is not pitched"), false
	case c.Pitch.Assumed:
		return course.Unknown[time.Duration]("no pitch is written down"), false
	}
	if e, seen := c.First(ferment.Started); seen {
		return course.Known(max(e.At.Time.Sub(c.Pitch.At), 0)), false
	}
	for _, r := range readingsAfter(c, c.Pitch.At, time.Time{}) {
		if c.Original.IsKnown() && c.Original.Value-r.Gravity >= fall-1e-9 {
			return course.Known(r.At.Sub(c.Pitch.At)), true
		}
	}
	return course.Unknown[time.Duration]("no start is seen or read"), false
}

func secondYeast(c course.Course) time.Time {
	first, pitched := c.First(ferment.Pitch)
	for _, e := range c.Entries {
		if pitched && e != first && e.Did == ferment.Pitch {
			return e.At.Time
		}
	}
	return time.Time{}
}
