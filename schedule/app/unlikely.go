package app

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/remark"
)

// stillUnlikely returns remarks on entries that would be asked about by what was known at their time, except those
// confirmed, in doubt, given against advice, or remarked on already.
func stillUnlikely(c ferment.Cellar, now time.Time, told []ferment.Problem) []ferment.Problem {
	logs := ferment.Map(c.Joined(ferment.Parted(c.OpenAndPast())), func(f ferment.Ferment) Vessel { return Vessel{Ferment: f} })
	logs = append(logs, ferment.Map(c.Cultures, func(k ferment.Culture) Vessel {
		return Vessel{Ferment: ferment.Ferment{ID: k.ID, Log: k.Log, File: "cultures.yaml"}, Culture: &k}
	})...)
	found := make([][]ferment.Problem, len(logs))
	ferment.Each(len(logs), func(i int) { found[i] = unlikelyIn(logs[i], logs, c, now) })
	return slices.DeleteFunc(slices.Concat(found...), func(p ferment.Problem) bool {
		return slices.ContainsFunc(told, func(t ferment.Problem) bool { return t.File == p.File && t.Line == p.Line })
	})
}

// unlikelyIn asks about every entry of a log, in order of time, as if it were typed then.
func unlikelyIn(v Vessel, all []Vessel, c ferment.Cellar, now time.Time) []ferment.Problem {
	log := slices.Clone(v.Ferment.Log)
	slices.SortStableFunc(log, func(a, b ferment.Entry) int { return a.At.Latest().Compare(b.At.Latest()) })
	var found []ferment.Problem
	for i, e := range log {
		looked := e.Doubt != ferment.NoWord || e.Overrode != ""
		if at := e.At.Latest(); e.Line > 0 && !looked && !at.After(now) {
			s := Snapshot{At: at, Cellar: c, Vessels: siblingsOf(v, all, c, e)}
			before := v.until(log[:i], c, at, e)
			for _, a := range implausible(s, before, before.through(log[:i+1], at), e) {
				found = append(found, ferment.Problem{File: v.Ferment.File, Line: e.Line, Message: asRemark(a, e)})
				break
			}
		}
	}
	return found
}

// asRemark turns a question into a remark, with what to write in a file.
func asRemark(a Ask, e ferment.Entry) string {
	says := a.Says
	if a.Named {
		says += " Mark this one doubt: true, or doubt: false if the other is wrong"
	}
	if typed := cmp.Or(a.Part, e.DensityText(), string(e.Did)); !strings.Contains(says, typed) {
		says = typed + ": " + says
	}
	return ferment.Harmless(says)
}

// until returns the vessel with only a part of its log, planned if an amount needs the plan.
func (v Vessel) until(log []ferment.Entry, c ferment.Cellar, at time.Time, e ferment.Entry) Vessel {
	f := v.Ferment
	f.Log = log
	switch {
	case v.Culture != nil:
		k := *v.Culture
		k.Log = log
		return PlanCulture(k, c, at)
	case e.Amount.Known():
		return Plan(f, c, at)
	}
	return Vessel{Ferment: f, Course: course.Of(f, c.Settings, c.Settings.Limits, at)}
}

// through returns the vessel with a longer log, and without its day.
func (v Vessel) through(log []ferment.Entry, at time.Time) Vessel {
	v.Ferment.Log = log
	if v.Culture != nil {
		k := *v.Culture
		k.Log = log
		v.Course = course.OfCulture(k, v.Course.Settings, v.Course.Limits, at)
	} else {
		v.Course = course.Of(v.Ferment.Decided(at), v.Course.Settings, v.Course.Limits, at)
	}
	return v
}

// siblingsOf returns the other vessels of the trial at the time of an entry.
func siblingsOf(v Vessel, all []Vessel, c ferment.Cellar, e ferment.Entry) []Vessel {
	if v.Ferment.Trial.Name == "" || !e.HasDensity() {
		return nil
	}
	others := ferment.Where(all, func(o Vessel) bool { return o.Ferment.Trial.Name == v.Ferment.Trial.Name && o.ID() != v.ID() })
	for i, o := range others {
		others[i].Course = course.Of(o.Ferment, c.Settings, c.Settings.Limits, e.At.Latest())
	}
	return others
}

// UnlikelyChange returns the questions about a change: about each of its entries in turn, and the remarks that check
// would have afterwards.
func UnlikelyChange(s Snapshot, change ferment.Change) []Ask {
	change = gathered(change)
	var asks []Ask
	for _, l := range change.Entries {
		v, is := s.Find(l.Subject)
		for _, e := range l.Entries {
			if e.At = orNow(e.At, s.At); is && e.Overrode == "" {
				after := withEntry(s, v, e)
				asks = append(asks, unlikely(s, v, after, e)...)
				v = after
			}
		}
	}
	return append(asks, newRemarks(s, change)...)
}

// newRemarks returns the remarks that check has only after a change.
func newRemarks(s Snapshot, change ferment.Change) []Ask {
	before := remark.Of(s.Cellar, s.At)
	after := ferment.Where(remark.Of(s.Cellar.With(change), s.At), func(p ferment.Problem) bool {
		return !slices.ContainsFunc(before, func(had ferment.Problem) bool { return had.File == p.File && had.Message == p.Message })
	})
	return ferment.Map(after, func(p ferment.Problem) Ask { return Ask{Says: p.Message} })
}

// Ask is a question about an entry before it is written: what is unlikely, and what may have been meant.
type Ask struct {
	Says  string // "14 g is ten times the plan, 1.4 g"
	Part  string // the value in question, as typed: "14 g"
	Meant []Meant
	Named bool // Says has the guesses already
}

// Meant is a value that may have been meant.
type Meant struct {
	Type string // as it would be typed: "1.4 g", "14 mL stock=10%"
	Says string // in words: "14 mL of the 10 % solution"
}

// String returns the question with its guesses: "14 g is ten times the plan, 1.4 g:
// did you mean 1.4 g, or 14 mL of the 10 % solution?"
func (a Ask) String() string {
	if len(a.Meant) == 0 || a.Named {
		return a.Says
	}
	guesses := ferment.Map(a.Meant, func(m Meant) string { return m.Says })
	return a.Says + ": did you mean " + strings.Join(guesses, ", or ") + "?"
}

// Typed returns the question with what to type for each guess: "… 1.099 ? if this one is wrong".
func (a Ask) Typed() string {
	if !a.Named {
		return a.String()
	}
	return a.Says + " Type " + strings.Join(ferment.Map(a.Meant, func(m Meant) string { return m.Type + " if " + m.Says }), ", ")
}

// Says writes several questions.
func Says(asks []Ask) []string { return ferment.Map(asks, Ask.String) }

func asked(says string) []Ask { return []Ask{{Says: says}} }

// guess returns a value that was perhaps meant, typed as it is said.
func guess(text string) Meant { return Meant{Type: text, Says: text} }

// numberWithUnit matches a number and a unit after it.
var numberWithUnit = regexp.MustCompile(`[-−+]?\d+(?:[.,]\d+)?\s*(?:imp\s+)?(?:fl oz|[A-Za-z°%/]+)?`)

// Take replaces the value in question by a guess. If the value is not in the line, the guess is added at the end.
func (a Ask) Take(line string, m Meant) string {
	number := strings.TrimSpace(numberOf(a.Part))
	for _, at := range numberWithUnit.FindAllStringIndex(line, -1) {
		found := line[at[0]:at[1]]
		glued := at[0] > 0 && isWordByte(line[at[0]-1]) && !startsWithKey(line[:at[0]])
		if !glued && number != "" && sameNumber(numberOf(found), number) {
			tail := found[len(strings.TrimRight(found, " ")):]
			return line[:at[0]] + m.Type + tail + line[at[1]:]
		}
	}
	return strings.TrimSpace(line + " " + m.Type)
}

var leadingNumber = regexp.MustCompile(`^[-−+]?\d+(?:[.,]\d+)?`)

func numberOf(text string) string { return leadingNumber.FindString(text) }

func sameNumber(a, b string) bool {
	x, errX := measure.ParseNumber(a)
	y, errY := measure.ParseNumber(b)
	return errX == nil && errY == nil && x == y
}

func isWordByte(b byte) bool {
	return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= '0' && b <= '9' || b == '.' || b == '-'
}

// startsWithKey reports whether a text ends with a key's short form, after which a number follows: "ph", "vol", "ta".
func startsWithKey(before string) bool {
	word := strings.ToLower(before[strings.LastIndexAny(before, " =")+1:])
	return word == "ph" || word == "vol" || word == "ta"
}
