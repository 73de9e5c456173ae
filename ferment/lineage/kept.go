package lineage

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Stored is when the slurry that stands in the cold was laid by: the last
// backup, else the last time that the culture was fed.
func Stored(c course.Course) (time.Time, bool) {
	if e, ok := c.Last(ferment.Backup); ok {
		return e.At.Time, true
	}
	return Fed(c)
}

// Fed is when the culture last got a new medium.
func Fed(c course.Course) (time.Time, bool) {
	ps := Passages(c)
	if len(ps) == 0 {
		return time.Time{}, false
	}
	return ps[len(ps)-1].Entry.At.Time, true
}

// refreshIn is how long a slurry in the cold may wait for a new medium, at most
// three months (common practice, no source).
const refreshIn = 3

// Stale tells whether the culture has waited longer for a new medium than it
// may.
func Stale(c course.Course) bool {
	fed, ok := Fed(c)
	return ok && c.Now.After(fed.AddDate(0, refreshIn, 0))
}

// What a culture must show before a sip of it (the acidity: 21 CFR 114.3 draws
// its line at 4.6; the rest is common practice, no source).
const (
	sourEnough measure.PH = 4.2
	oldEnough             = 14 * 24 * time.Hour
)

// NotProved stands against a sip of what no must has shown yet.
const NotProved = "it is not proved in a must"

// Unsipped is what still stands against a first sip, in the order of the rule;
// nothing where all of it is met.
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
	want(c.PH.IsKnown() && c.PH.Value <= sourEnough, "pH 4.2 or less")
	want(p.Halved(), "gravity halved")
	want(c.Now.Sub(p.Entry.At.Time) >= oldEnough, "14 days in the must")
	mould, clean := false, false
	for _, q := range Passages(c) {
		mould = mould || slices.Contains(q.Seen, "mould")
		clean = q.SmellsClean()
	}
	want(!mould, "never any mould")
	want(clean, "a clean smell")
	return unmet
}
