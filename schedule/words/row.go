package words

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

func rowOf(v subject, s app.Snapshot) Row {
	c := v.Course
	r := Row{
		ID:            v.ID(),
		Tag:           v.Label(),
		HoneyAndYeast: Join(", ", honeysOf(v.Ferment, s.Cellar.Lots), strings.TrimSuffix(yeastName(v.Ferment.Yeast), " yeast")),
		Day:           Day(c, s.At),
		Gravity:       Unknown,
		Ago:           Unknown,
		Pace:          figure(c.Pace, oneDecimal[float64]),
		Alcohol:       figure(c.Alcohol, oneDecimal[measure.Strength]),
		Next:          next(v, s.At),
	}
	r.Stage, r.Condition = StageOf(*v.Vessel)
	r.Steady = r.Condition == "" && c.Stage == course.Steady && r.Stage != "quiet"
	r.Quiet = r.Stage == "quiet"
	if r.Quiet {
		r.Until = "until " + Date(v.Day.Quiet.To, s.At)
		r.Sentence = r.Until
		if later := ahead(v.shown); len(later) > 0 {
			r.Sentence += "; next " + ActLabel(*later[0].task) + " " + later[0].until(s.At)
		}
	}
	if g, ok := latest(c); ok {
		r.Gravity, r.Doubtful, r.Ago = Glass(g.Gravity, c.Settings), g.Doubt != "", Age(s.At.Sub(g.At))
		r.Stale = slices.ContainsFunc(v.Day.Tasks, func(t schedule.Task) bool { return WordOf(t) == Held && t.Frees == ferment.DoGravity })
	}
	return r
}

// IsSentence reports whether the row is a sentence instead of figures.
func (r Row) IsSentence() bool { return r.Quiet || r.Culture }

// cultureRow writes the row of a culture: what was seen last, and what comes next.
func cultureRow(v subject, now time.Time) Row {
	r := Row{ID: v.ID(), Tag: v.Label(), Culture: true, Stage: "culture", Day: Unknown, Gravity: Unknown, Ago: Unknown, Pace: Unknown, Alcohol: Unknown}
	if first := slices.MinFunc(v.Course.Entries, func(a, b *ferment.Entry) int { return a.At.Time.Compare(b.At.Time) }); first != nil {
		r.Day = strconv.Itoa(max(-daysApart(first.At.Time, now), 0))
	}
	var seen, next string
	for _, e := range v.Course.Entries {
		if len(e.Seen) > 0 {
			when := e.At.Time.In(now.Location()).Format("Mon")
			if daysApart(e.At.Time, now) < -6 {
				when = Date(e.At.Time, now)
			}
			seen = strings.Join(e.Seen, " and ") + " " + when
		}
	}
	if later := ahead(v.shown); len(later) > 0 {
		next = Join(" ", ActLabel(*later[0].task), later[0].until(now))
	}
	r.Until = Join("; ", seen, next)
	r.Sentence = r.Until
	return r
}

// figure writes the value of a figure, a dot if it is unknown.
func figure[T any](f course.Figure[T], write func(T) string) string {
	if !f.IsKnown() {
		return Unknown
	}
	return write(f.Value)
}

// Day writes the whole days since the pitch, which is day 0.
func Day(c *course.Course, now time.Time) string {
	switch {
	case c.Pitch.Known:
		return strconv.Itoa(int(max(now.Sub(c.Pitch.At), 0) / day))
	case c.Stage == course.Mixed:
		return "0"
	}
	return Unknown
}

// latest returns the reading to show: the latest trusted one, else one in doubt.
func latest(c *course.Course) (course.Reading, bool) {
	if n := len(c.Readings); n > 0 {
		if last := c.Readings[n-1]; last.Doubt != "" {
			return last, true
		}
	}
	return c.Gravity.Value, c.Gravity.IsKnown() && c.Gravity.Value.Gravity > 0
}

// honeysOf returns the honey of a must; without a lot, the ferment's name up to a comma.
func honeysOf(f ferment.Ferment, lots []ferment.Lot) string {
	var names []string
	for _, h := range f.Must.Honey {
		name := ferment.Spaced(h.Lot)
		if i := slices.IndexFunc(lots, func(l ferment.Lot) bool { return l.ID == h.Lot && l.Name != "" }); i >= 0 {
			name = lots[i].Name
		}
		names = append(names, name)
	}
	if text := Join(", ", names...); text != "" {
		return text
	}
	name, _, _ := strings.Cut(f.Name, ",")
	return name
}

func yeastName(y ferment.Yeast) string { return cmp.Or(y.Name, ferment.Spaced(y.Culture)) }

// ties returns the signs that join the rows of each trial.
func ties(vs []app.Vessel) []string {
	out := make([]string, len(vs))
	same := func(i, j int) bool {
		return j >= 0 && j < len(vs) && vs[i].Ferment.Trial.Name != "" && vs[i].Ferment.Trial.Name == vs[j].Ferment.Trial.Name
	}
	for i := range vs {
		switch above, below := same(i, i-1), same(i, i+1); {
		case above && below:
			out[i] = "│"
		case above:
			out[i] = "╰"
		case below:
			out[i] = "╭"
		}
	}
	return out
}

// next writes the end of a vessel's row: what to look at first, else what comes next.
func next(v subject, now time.Time) string {
	if c, _, ok := gravest(v.Course.Conditions); ok {
		return Join(": ", c.Why, Join(", ", c.Look...))
	}
	if ct := v.Course.CannotTell; ct != nil {
		return "too early to tell: read again " + Date(ct.ReadAgain, now)
	}
	for _, t := range v.Day.Tasks {
		if WordOf(t) == Held && ferment.IsMeasurement(t.Frees) && !t.FreedBy.IsZero() {
			return cmp.Or(short[t.Frees], t.Frees) + " now"
		}
	}
	later := ahead(v.shown)
	if b, when, expected := nextBreak(v); expected {
		if len(later) == 0 || when.Before(later[0].at) {
			return b + " break " + screen.awaited(when, now)
		}
	}
	if len(later) > 0 {
		return Join(" ", ShortLabel(*later[0].task), later[0].until(now))
	}
	for _, t := range v.Day.Tasks {
		if WordOf(t).Now() {
			return Join(" ", ShortLabel(t), until(t, v.Course.Settings, now))
		}
	}
	return ""
}

// Breaks are the breaks with a name.
var Breaks = []struct {
	Name  string
	Share float64
}{{"⅓", 1.0 / 3}, {"½", 1.0 / 2}, {"⅔", 2.0 / 3}}

// nextBreak returns the break that ends an open nutrient step, and its expected time.
func nextBreak(v subject) (name string, at time.Time, ok bool) {
	ahead := slices.ContainsFunc(v.Day.Tasks, func(t schedule.Task) bool {
		w := WordOf(t)
		return t.Do == string(ferment.Nutrient) && !t.Option && (w.Now() || w == Later || w == Coming)
	})
	if !ahead || !v.Course.Gravity.IsKnown() {
		return "", time.Time{}, false
	}
	for _, b := range Breaks {
		g := v.Course.Break(b.Share)
		if g.IsKnown() && v.Course.Gravity.Value.Gravity.Rounded(4) > g.Value.Rounded(4) {
			e, expected := v.Course.Reaches(g.Value)
			return b.Name, e.At, expected
		}
	}
	return "", time.Time{}, false
}

type condition struct {
	is   course.ConditionName
	word Word // Late if something must be done, Warn for a look
	name string
}

// conditions, the most severe first.
var conditions = []condition{
	{course.Mould, Late, "mould"},
	{course.Film, Late, "film"},
	{course.Restarted, Late, "restarted"},
	{course.Stuck, Late, "stuck"},
	{course.SlowToStart, Warn, "slow start"},
	{course.Sluggish, Warn, "sluggish"},
	{course.ReadingInDoubt, Warn, "reading?"},
	{course.AtLimit, Warn, "at limit"},
	{course.OriginalUnknown, Warn, "original?"},
	{course.DoubtfulLabel, Warn, "label?"},
}

// Advice is a condition with what to look at, in order.
type Advice struct {
	Mark Word
	Says string // "stuck: 0.001 in 80 h"
	Look []string
}

// AdviceOf returns the conditions of a vessel, the most severe first.
func AdviceOf(v app.Vessel) []Advice {
	var out []Advice
	for _, known := range conditions {
		for _, c := range v.Course.Conditions {
			if c.Name == known.is {
				out = append(out, Advice{known.word, Join(": ", string(c.Name), c.Why), c.Look})
			}
		}
	}
	return out
}

// gravest returns the condition shown instead of the stage.
func gravest(cs []course.Condition) (course.Condition, condition, bool) {
	for _, known := range conditions {
		if i := slices.IndexFunc(cs, func(c course.Condition) bool { return c.Name == known.is }); i >= 0 {
			return cs[i], known, true
		}
	}
	return course.Condition{}, condition{}, false
}

// StageOf returns a vessel's stage in one or two words, or a condition with its mark.
func StageOf(v app.Vessel) (name string, mark Word) {
	if _, c, ok := gravest(v.Course.Conditions); ok {
		return c.name, c.word
	}
	switch {
	case v.Course.CannotTell != nil:
		return "unclear", Warn
	case v.Day.Quiet != nil:
		return "quiet", ""
	case v.Course.Stage == "":
		return Unknown, ""
	}
	return StageName(v.Course.Stage), ""
}

// StageName returns a stage in words: the lag is "starting".
func StageName(s course.Stage) string {
	if s == course.Lag {
		return "starting"
	}
	return string(s)
}

// brokenOf returns the files not read, completely or in part, and the vessels without a plan.
func brokenOf(s app.Snapshot) []Broken {
	var bs []Broken
	for _, p := range s.Cellar.Problems {
		b := Broken{Where: place(p), What: p.Message}
		// The file may be the reason that a ferment is missing.
		dir, name := path.Split(p.File)
		if path.Base(dir) == "ferments" && !slices.ContainsFunc(s.Cellar.Ferments, func(f ferment.Ferment) bool { return path.Base(f.File) == name }) {
			b.LeftOut = strings.TrimSuffix(name, ".yaml") + " is left out"
		}
		bs = append(bs, b)
	}
	for _, v := range s.Vessels {
		if v.Trouble != "" {
			bs = append(bs, Broken{Where: v.Label(), What: v.Trouble})
		}
	}
	return bs
}

func place(p ferment.Problem) string {
	name := path.Base(p.File)
	switch {
	case p.Line == 0:
		return name
	case p.Near:
		return fmt.Sprintf("%s, near line %d", name, p.Line)
	}
	return fmt.Sprintf("%s, line %d", name, p.Line)
}
