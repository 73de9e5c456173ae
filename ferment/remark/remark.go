// Package remark tells what in a cellar's record is allowed and looks unlikely:
// an entry typed twice, a jug fuller than it can be, more honey used than
// there was.
package remark

import (
	"fmt"
	"time"

	"cellar/jugkeeper/ferment"
)

// Of gives every remark on a cellar at a moment, in the order of their places.
// The closed ferments count where the cellar holds them. The text of the lines
// is left to who can read the files.
func Of(c ferment.Cellar, now time.Time) []ferment.Problem {
	var found []ferment.Problem
	for _, l := range logsOf(c) {
		found = append(found, readingsTwice(l)...)
		found = append(found, dosesTwice(l, c.Settings.Limits.Spacing)...)
		found = append(found, toCome(l, now)...)
	}
	for _, f := range c.OpenAndPast() {
		found = append(found, overBrimful(f, c.Settings, now)...)
	}
	found = append(found, overdrawn(c.Lots, c.OpenAndPast(), now)...)
	found = append(found, codesTwice(c.OpenAndPast())...)
	ferment.SortProblems(found)
	return found
}

// A log is one in a file.
type log struct {
	file    string
	entries []ferment.Entry
}

func logsOf(c ferment.Cellar) []log {
	var logs []log
	for _, f := range c.OpenAndPast() {
		logs = append(logs, log{f.File, f.Log})
	}
	for _, k := range c.Cultures {
		logs = append(logs, log{culturesFile, k.Log})
	}
	return logs
}

// The files of what is not a ferment's own.
const (
	culturesFile = "cultures.yaml"
	honeyFile    = "honey.yaml"
)

// on is a remark on a line of a file.
func on(file string, line int, format string, args ...any) ferment.Problem {
	return ferment.Problem{File: file, Line: line, Message: ferment.Harmless(fmt.Sprintf(format, args...))}
}

// stamp is a time as the files write it.
func stamp(m ferment.Moment) string {
	if m.DayOnly {
		return m.Time.Format("2006-01-02")
	}
	return m.Time.Format("2006-01-02 15:04")
}

// toCome are the entries that lie later than now.
func toCome(l log, now time.Time) []ferment.Problem {
	var found []ferment.Problem
	for _, e := range l.entries {
		if e.At.Earliest().After(now) {
			found = append(found, on(l.file, e.Line, "this entry is of %s, which is to come: it counts for nothing until then (a slip in the date?)", stamp(e.At)))
		}
	}
	return found
}
