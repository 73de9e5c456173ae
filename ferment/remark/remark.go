// Package remark finds what in a cellar's record is allowed but unlikely: an entry typed twice, a jug fuller than it
// can be, more honey used than there was. Start at Of.
package remark

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// Of returns all remarks on a cellar at a moment, in the order of their places, including closed ferments if c has
// them. The caller adds the text of the lines.
func Of(c ferment.Cellar, now time.Time) []ferment.Problem {
	var found []ferment.Problem
	logs := ferment.Map(c.OpenAndPast(), func(f ferment.Ferment) log { return log{f.File, f.Log} })
	logs = append(logs, ferment.Map(c.Cultures, func(k ferment.Culture) log { return log{culturesFile, k.Log} })...)
	for _, l := range logs {
		found = append(found, readingsTwice(l)...)
		found = append(found, dosesTwice(l, c.Settings.Limits.Spacing)...)
		found = append(found, inFuture(l, now)...)
	}
	for _, f := range c.OpenAndPast() {
		in := course.Of(course.Joined(f, c, now), c.Settings, c.Settings.Limits, now)
		found = append(found, overBrimful(f, in)...)
		found = append(found, unlikelyMust(f, in)...)
		if too := in.BeyondYeast(); too != "" && !in.Over() && slices.Contains([]course.Stage{course.Mixed, course.Lag, course.Working}, in.Stage) {
			found = append(found, problemAt(f.File, f.Lines["must"], "%s", too))
		}
	}
	accounts := larder.All(c.Lots, c.OpenAndPast(), now)
	found = append(found, overdrawn(accounts)...)
	for _, k := range c.Cultures {
		found = append(found, overpitched(k, c, now)...)
	}
	found = append(found, beforeHarvest(accounts)...)
	found = append(found, codesTwice(c.OpenAndPast())...)
	ferment.SortProblems(found)
	return found
}

type log struct {
	file    string
	entries []ferment.Entry
}

// The files of lots and cultures.
const (
	culturesFile = "cultures.yaml"
	honeyFile    = "honey.yaml"
)

func problemAt(file string, line int, format string, args ...any) ferment.Problem {
	return ferment.Problem{File: file, Line: line, Message: ferment.Harmless(fmt.Sprintf(format, args...))}
}

// stamp writes a moment as files have it, without seconds and zone.
func stamp(m ferment.Moment) string {
	if m.DayOnly {
		return m.Time.Format("2006-01-02")
	}
	return m.Time.Format("2006-01-02 15:04")
}

func inFuture(l log, now time.Time) []ferment.Problem {
	var found []ferment.Problem
	for _, e := range l.entries {
		if e.At.Earliest().After(now) {
			found = append(found, problemAt(l.file, e.Line, "this entry is of %s, in the future: it does not count until then (a slip in the date?)", stamp(e.At)))
		}
	}
	return found
}

// byTime returns the entries of a log that a test accepts, in the order of their times.
func byTime(l log, holds func(ferment.Entry) bool) []ferment.Entry {
	es := slices.DeleteFunc(slices.Clone(l.entries), func(e ferment.Entry) bool { return !holds(e) })
	slices.SortStableFunc(es, func(a, b ferment.Entry) int { return a.At.Time.Compare(b.At.Time) })
	return es
}

// readingsTwice finds gravities that are recorded twice, less than a minute apart.
func readingsTwice(l log) []ferment.Problem {
	var found []ferment.Problem
	readings := byTime(l, func(e ferment.Entry) bool { return e.HasDensity() && !e.Did.ApartFromCourse() })
	for i, e := range readings {
		for _, before := range slices.Backward(readings[:i]) {
			if e.At.Time.Sub(before.At.Time) >= time.Minute {
				break
			}
			if e.At.DayOnly == before.At.DayOnly && e.Gravity.Value == before.Gravity.Value && e.Brix.Value == before.Brix.Value &&
				e.Plato.Value == before.Plato.Value && e.Oechsle.Value == before.Oechsle.Value && e.Refractometer.Value == before.Refractometer.Value {
				found = append(found, problemAt(l.file, e.Line, "the reading %s of %s is on line %d too (typed twice? take one out)", e.DensityText(), stamp(e.At), before.Line))
				break
			}
		}
	}
	return found
}

var doses = []ferment.Act{ferment.Nutrient, ferment.Buffer, ferment.Acid, ferment.Sulphite, ferment.Sorbate}

// dosesTwice finds nutrient doses of one kind too close together, and any dose recorded twice on one day, unless given
// against advice.
func dosesTwice(l log, spacing time.Duration) []ferment.Problem {
	var found []ferment.Problem
	given := byTime(l, func(e ferment.Entry) bool { return slices.Contains(doses, e.Did) && e.Overrode == "" })
	for i, e := range given {
		for _, before := range slices.Backward(given[:i]) {
			if before.Did != e.Did || before.Of != e.Of {
				continue
			}
			apart := e.At.Latest().Sub(before.At.Latest())
			mass, weighed := e.Mass()
			other, alike := before.Mass()
			same := weighed && alike && math.Abs(mass.Grams()-other.Grams()) < 1e-6
			if e.Did == ferment.Nutrient && apart < spacing {
				found = append(found, problemAt(l.file, e.Line, "%s of %s follows that of %s, line %d, within %s (typed twice? take one out)",
					e.Did, stamp(e.At), stamp(before.At), before.Line, measure.Decimal(spacing.Hours(), 0)+" h"))
			} else if day := e.At.Time.Format(time.DateOnly); same && day == before.At.Time.In(e.At.Time.Location()).Format(time.DateOnly) {
				found = append(found, problemAt(l.file, e.Line, "%s %s is there twice on %s, the other on line %d (typed twice? take one out)",
					e.Did, e.Amount.Text, day, before.Line))
			}
			break
		}
	}
	return found
}

func codesTwice(fs []ferment.Ferment) []ferment.Problem {
	type place struct {
		file string
		line int
	}
	first := map[string]place{}
	var found []ferment.Problem
	for _, f := range fs {
		for _, e := range f.Log {
			for _, b := range e.Bottles {
				for _, code := range shelf.Codes(b.Codes) {
					key := strings.ToLower(code)
					had, taken := first[key]
					if !taken {
						first[key] = place{f.File, e.Line}
						continue
					}
					found = append(found, problemAt(f.File, e.Line, "the bottle code %q is that of %s:%d too (give each bottle its own, e.g. codes: BH-A 1-8)", code, had.file, had.line))
					break // one bottling is enough
				}
			}
		}
	}
	return found
}

func overdrawn(accounts []larder.Account) []ferment.Problem {
	var found []ferment.Problem
	for _, a := range accounts {
		if !a.Left.Weighed || a.Left.Mass > -1e-9 { // rounding of sums
			continue
		}
		uses := ferment.Where(a.Takes, func(t larder.Take) bool { return t.Mass > 0 })
		by := ferment.Map(uses, func(t larder.Take) string { return cmp.Or(t.By, t.Words, "elsewhere") + " " + t.Mass.String() })
		found = append(found, problemAt(honeyFile, a.Lot.Line, "lot %q: %s was taken and %s is used, by %s (one of these is wrong)",
			a.Lot.ID, a.Lot.Mass.Text, a.Taken(), strings.Join(by, ", ")))
	}
	return found
}

// overpitched finds a culture of which more was pitched than there was, until its next medium or measured volume, or now.
func overpitched(k ferment.Culture, c ferment.Cellar, now time.Time) []ferment.Problem {
	anew := ferment.Where(k.Log, func(e ferment.Entry) bool { return (e.Medium.Known() || e.Volume.Known()) && !e.At.Time.After(now) })
	for _, at := range append(ferment.Map(anew, func(e ferment.Entry) time.Time { return e.At.Time.Add(-1) }), now) {
		if s := k.Stock(c.OpenAndPast(), at); s.Known && s.Left < -0.0005 {
			by := ferment.Map(s.Pitched, func(p ferment.Logged) string { return strings.TrimSpace(p.Subject + " " + p.Entries[0].Amount.Text) })
			return []ferment.Problem{problemAt(culturesFile, k.Line, "culture %q: %s more was pitched than there was, by %s (one of these is wrong)",
				k.ID, (-s.Left).Small(c.Settings.Units), strings.Join(by, ", "))}
		}
	}
	return nil
}

// overBrimful finds vessels with more than they can have: by must, volume or the sum of the log.
func overBrimful(f ferment.Ferment, c *course.Course) []ferment.Problem {
	var found []ferment.Problem
	holds := f.Vessel.Brimful
	over := func(line int, v measure.Given[measure.Volume]) {
		if holds.Known() && v.Value > holds.Value {
			found = append(found, problemAt(f.File, line, "%s is more than the vessel takes, %s to the brim: one of the two is wrong", v.Text, holds.Text))
		}
	}
	over(f.Lines["must"], f.Must.Volume)
	for _, e := range byTime(log{f.File, f.Log}, func(ferment.Entry) bool { return true }) {
		if e.To.Brimful.Known() {
			holds = e.To.Brimful
		}
		if !e.Did.ApartFromCourse() {
			over(e.Line, e.Volume)
		}
	}
	in := c.Volume
	if len(found) == 0 && in.IsKnown() && holds.Known() && in.Value > holds.Value+tiny {
		found = append(found, problemAt(f.File, f.Lines["vessel"], "by its log %s are in the vessel, which takes %s to the brim (an amount or a volume is wrong)",
			in.Value.In(c.Settings.Units), holds.Text))
	}
	return found
}

const tiny = 1e-6

// unlikelyMust finds a must whose gravity differs by more than 0.004 from that of its honey (common practice, no
// source). Musts with fruit are skipped, because masses do not give their gravity.
func unlikelyMust(f ferment.Ferment, c *course.Course) []ferment.Problem {
	o, units := c.Original, c.Settings.Units
	if o.Source != course.Measured || !o.Masses.IsKnown() || len(f.Must.Fruit) > 0 || math.Abs(float64(o.Value-o.Masses.Value)) <= 0.004+tiny {
		return nil
	}
	in := ""
	if f.Must.Volume.Known() {
		in = " in " + measure.AsTyped(f.Must.Volume, units)
	}
	return []ferment.Problem{problemAt(f.File, f.Lines["must"], "the must was read at %s, and its honey%s comes to %s: a slip in the gravity, the honey or the volume?",
		o.Value.Places(3), in, o.Masses.Value.Places(3))}
}

func beforeHarvest(accounts []larder.Account) []ferment.Problem {
	var found []ferment.Problem
	for _, a := range accounts {
		for _, t := range a.Takes {
			if !a.Lot.Taken.IsZero() && !t.At.IsZero() && t.At.Before(a.Lot.Taken.Earliest()) {
				found = append(found, problemAt(honeyFile, a.Lot.Line, "lot %q was taken on %s, and %s has honey of it from %s: which date is wrong?",
					a.Lot.ID, a.Lot.Taken.Time.Format(time.DateOnly), cmp.Or(t.By, t.Words), t.At.Format(time.DateOnly)))
			}
		}
	}
	return found
}
