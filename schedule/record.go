package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// record is a course with its clock, and the times of each act and measurement.
type record struct {
	c       *course.Course
	now     time.Time
	zone    *time.Location
	dayEnd  time.Time // end of the day's list: the first morning at least eight hours ahead
	entries []*ferment.Entry
	times   map[string][]time.Time // times of each act or measurement, in order
}

func newRecord(c *course.Course) *record {
	zone := cmp.Or(c.Settings.Zone, time.UTC)
	r := &record{c: c, now: c.Now, zone: zone, entries: c.Entries, times: map[string][]time.Time{}}
	y, m, d := r.now.In(r.zone).Date()
	for n := 0; r.dayEnd.Sub(r.now) < 8*time.Hour; n++ {
		r.dayEnd = time.Date(y, m, d+n, 0, int(c.Settings.Morning/time.Minute), 0, 0, r.zone)
	}
	for _, e := range r.entries {
		did := func(do string) { r.times[do] = append(r.times[do], r.momentOf(e)) }
		if e.Did != "" {
			did(string(e.Did))
		}
		for _, do := range []string{ferment.DoGravity, ferment.DoPH, ferment.DoTemperature, ferment.DoVolume} {
			if e.Measured(do) && e.Doubt != ferment.Doubtful && !e.Did.ApartFromCourse() {
				did(do)
			}
		}
	}
	for _, ts := range r.times {
		slices.SortFunc(ts, time.Time.Compare)
	}
	return r
}

// momentOf returns the time used for an entry: noon if it has only the day.
func (r *record) momentOf(e *ferment.Entry) time.Time {
	at := e.At.Time.In(r.zone)
	if !e.At.DayOnly {
		return at
	}
	y, m, d := at.Date()
	if noon := time.Date(y, m, d, 12, 0, 0, 0, r.zone); noon.Before(r.now) {
		return noon
	}
	return at
}

// upTo returns the times of an act or a measurement up to a moment.
func (r *record) upTo(name string, asOf time.Time) []time.Time {
	ts := r.times[name]
	n, _ := slices.BinarySearchFunc(ts, asOf, func(t, limit time.Time) int {
		if t.After(limit) {
			return 1
		}
		return -1
	})
	return ts[:n]
}

// is reports whether a condition of the log holds now; false if it cannot be told.
func (r *record) is(k ferment.ConditionKind) bool {
	holds, known := r.c.Holds(hasCondition(k))
	return holds && known
}

func hasCondition(k ferment.ConditionKind) ferment.Condition {
	return ferment.Condition{Kind: k, Text: string(k)}
}

func (r *record) trusted() []course.Reading {
	return ferment.Where(r.c.Readings, course.Reading.Trusted)
}

func (r *record) isCulture() bool { return r.c.Culture != nil }

func (r *record) isWild() bool { return r.c.Ferment.Yeast.IsWild() }

func (r *record) sulphited() bool {
	e, ok := r.c.Last(ferment.Sulphite)
	return ok && r.c.Pitch.Known && e.At.Time.After(r.c.Pitch.At)
}

// recentTest reports whether a passed forced test still counts.
func (r *record) recentTest() bool {
	const keeps = 30 // days (common practice, no source)
	return r.c.Test.Passed && r.c.Days(r.c.Test.Begun, r.now) < keeps
}

func (r *record) units() measure.System { return r.c.Settings.Units }

// Passed reports whether a time has come.
func (r *record) Passed(t time.Time) bool { return !t.After(r.now) }

// Clock writes a time: the hour if today, else with the day.
func (r *record) Clock(t time.Time) string {
	t, now := t.In(r.zone), r.now.In(r.zone)
	switch days := t.Sub(now).Abs(); {
	case t.YearDay() == now.YearDay() && t.Year() == now.Year():
		return t.Format("15:04")
	case days < 7*aDay:
		return t.Format("Mon 15:04")
	case t.Year() == now.Year():
		return t.Format("Mon 2 Jan")
	}
	return t.Format("2 Jan 06")
}

// age writes how long ago a time was: min under two hours, h to 48, then d.
func (r *record) age(t time.Time) string {
	d := r.now.Sub(t)
	unit, name := time.Minute, "min"
	switch {
	case d >= 2*aDay:
		unit, name = aDay, "d"
	case d >= 2*time.Hour:
		unit, name = time.Hour, "h"
	}
	return fmt.Sprintf("%d %s", d/unit, name)
}

const aDay = 24 * time.Hour

// apart is the least time between the same measurements of two schedules (common practice, no source).
const apart = 3 * aDay

// dated writes a past time in the same way at any moment.
func dated(t time.Time) string { return t.Format("2 Jan 15:04") }

// dayOf returns the midnights before and after a time.
func dayOf(t time.Time) (from, to time.Time) {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location()), time.Date(y, m, d+1, 0, 0, 0, 0, t.Location())
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// wording says the times of a plan in words.
type wording struct {
	c     *course.Course
	steps []ferment.Step
}

// label is what a task is called: its title, else the name of its step.
func (t *Task) label() string { return cmp.Or(t.Title, ferment.Spaced(t.Step)) }

// again says how often a step repeats and until when.
func (w wording) again(s ferment.Step) string {
	if s.Repeat == nil || s.Repeat.Every.IsZero() {
		return ""
	}
	words := "; every " + offsetWords(s.Repeat.Every)
	if s.Repeat.Every == (ferment.Offset{Number: 1, Unit: ferment.Day}) {
		words = "; daily"
	}
	until := cmp.Or(s.Ends, s.Repeat.Until)
	if until == nil {
		return words
	}
	end := w.when(*until)
	if until.Offset.IsZero() && len(until.First)+len(until.Last) == 0 { // without its "once", "at" or "after"
		_, end, _ = strings.Cut(end, " ")
	}
	return words + " until " + end
}

// comes says what the nth occurrence of a step depends on.
func (w wording) comes(s ferment.Step, n int) string {
	if r := s.Repeat; r != nil && n > 1 && len(r.At) >= n-1 && r.From != nil {
		return w.when(ferment.When{Point: r.From.Point, Offset: r.At[n-2]})
	}
	if again := w.again(s); n > 1 && again != "" {
		return strings.TrimPrefix(again, "; ")
	}
	return w.when(s.Due)
}

// when writes a time of a plan: "2 d after the pitch".
func (w wording) when(t ferment.When) string {
	joined := func(ts []ferment.When, with string) string {
		return strings.Join(ferment.Map(ts, w.when), with)
	}
	switch {
	case len(t.First) > 0:
		return joined(t.First, " or ") + ", whichever is first"
	case len(t.Last) > 0:
		return joined(t.Last, ", and ")
	case t.Offset.IsZero() && w.isState(t.Point):
		return "once " + w.state(*t.Point.Condition)
	case t.Offset.IsZero() && (t.Point.Condition != nil || t.Point.EndOf != ""):
		return "at " + w.point(t.Point)
	case t.Offset.IsZero():
		return "after " + w.point(t.Point)
	case t.Offset.Number < 0:
		return offsetWords(ferment.Offset{Number: -t.Offset.Number, Unit: t.Offset.Unit}) + " before " + w.point(t.Point)
	}
	return offsetWords(t.Offset) + " after " + w.point(t.Point)
}

// isState reports whether a point is a condition without a moment.
func (w wording) isState(pt ferment.Point) bool {
	if pt.Condition == nil {
		return false
	}
	_, moment := w.c.PointWords(*pt.Condition)
	return !moment
}

// state returns a condition that is no moment: "it is steady".
func (w wording) state(c ferment.Condition) string {
	words := w.c.Words(c)
	for _, say := range [][2]string{{"feel ", "the test bottle feels "}, {"smell ", "it smells "}, {"lees ", "the sediment is "}, {"starter ", "the starter is "}} {
		if rest, is := strings.CutPrefix(words, say[0]); is {
			return say[1] + rest
		}
	}
	if what, is := strings.CutPrefix(words, "seen "); is {
		return what + " is seen"
	}
	return "it is " + words
}

// point is what a time is counted from: "the ⅓ break", "racking", "the last racking".
func (w wording) point(pt ferment.Point) string {
	switch {
	case pt.Condition != nil:
		words, _ := w.c.PointWords(*pt.Condition)
		return words
	case pt.EndOf != "":
		return "the end of the " + ferment.Spaced(pt.EndOf) + " time"
	case pt.Anchor == "quiet":
		return "the quiet time began"
	case strings.Contains(pt.Anchor, " "):
		return "the " + pt.Anchor
	}
	if doing := w.doing(pt.Anchor); !pt.Last || strings.Contains(doing, " ") {
		return doing
	}
	return "the last " + w.doing(pt.Anchor)
}

// doing returns an act or a step as something that is done: "adding the yeast".
func (w wording) doing(name string) string {
	title := ferment.Spaced(name)
	if i := slices.IndexFunc(w.steps, func(s ferment.Step) bool { return s.Name == name }); i >= 0 && doing[name] == "" {
		title = cmp.Or(w.steps[i].Title, title)
	}
	first, rest, _ := strings.Cut(title, " ")
	return cmp.Or(doing[name], strings.TrimSpace(cmp.Or(beginning[first], first)+" "+rest))
}

// doing has the acts that a time is counted from.
var doing = map[string]string{
	"pitch": "adding the yeast", "mix": "mixing the must", "collect": "collecting it", "passage": "stepping it up", "rack": "racking", "chill": "chilling",
	"fruit-in": "adding the fruit", "fruit-out": "taking the fruit out", "prime": "priming", "bottle": "bottling", "open": "opening a test bottle",
	"sulphite": "adding sulphite", "sorbate": "adding sorbate", "forced-test": "starting the forced test", "ph": "measuring pH",
}

// beginning has the verbs that titles begin with.
var beginning = map[string]string{
	"start": "starting", "step": "stepping", "test": "testing", "build": "building", "put": "putting", "rack": "racking", "sweeten": "sweetening",
	"try": "trying", "open": "opening", "check": "checking", "add": "adding", "take": "taking", "read": "reading", "measure": "measuring", "feed": "feeding",
}

// ended says that the end of a step has come.
func (w wording) ended(t ferment.When) string {
	if c := t.Point.Condition; c != nil {
		return w.c.PastWords(*c)
	}
	return "over since " + w.point(t.Point)
}

func offsetWords(o ferment.Offset) string {
	unit := map[ferment.OffsetUnit]string{ferment.Day: "day", ferment.Week: "week", ferment.Month: "month"}[o.Unit]
	if unit != "" && o.Number != 1 {
		unit += "s"
	}
	return decimal(o.Number) + " " + cmp.Or(unit, string(o.Unit))
}
