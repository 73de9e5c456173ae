package course

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// row is everything about one kind of condition.
type row struct {
	kind ferment.ConditionKind

	// reads parses the condition's values; is is false if the text is of another kind.
	reads grammar

	// holds reports whether the condition holds now; known is false if the record cannot answer.
	holds func(question) (holds, known bool)

	// met returns when it was first met; nil for kinds without such a moment.
	met func(question) (time.Time, bool)

	// frees returns the act or measurement that can make it hold; "" if only time can.
	frees func(question) string

	// level returns the gravity at which it will be met on the way down; nil if gravity does not decide.
	level func(question) (measure.Gravity, bool)

	// over reports whether it held and can never hold again; nil for never.
	over func(question) bool

	words words
}

// words are the wordings of a condition; nil means its own text.
type words struct {
	state func(question) string // as a state: "lees over 0.4 in"
	point func(question) string // as a moment: "the ⅓ break"
	past  func(question) string // once met: "it has started"
	unmet func(question) string // why a task that needs it is held
	asks  func(question) string // the answer or word that makes it hold, if the act alone is not enough
}

// question is a condition together with the course and the plan it is asked of.
type question struct {
	*Course
	plan Plan
	cond ferment.Condition
}

// Plan is what a condition may ask of its plan.
type Plan interface {
	// Done returns when an act, a measurement or a step was done, the first or the last time.
	Done(name string, last bool) (time.Time, bool)
	// Noted returns when an act or a measurement was last logged.
	Noted(name string) (time.Time, bool)
	// Does returns the act of a step; its name if there is no such step.
	Does(step string) string
	// Doing returns an act or a step as something that is done: "adding the yeast".
	Doing(name string) string
	// Passed reports whether a time has come.
	Passed(time.Time) bool
	// Clock writes a time for a person.
	Clock(time.Time) string
}

// rows are the kinds of conditions. They are tried from top to bottom; the name of a step, which may be any word, is
// last.
var rows = []row{
	{kind: ferment.AtBreak, reads: with(readBreak), holds: question.atBreak, met: question.breakMet, frees: by(ferment.DoGravity), level: question.breakLevel,
		words: words{point: breakWords("the "), past: breakWords("past the ")}},
	{kind: ferment.StarterAtBreak, reads: with(readBreak), holds: is(never), frees: byTime},
	{kind: ferment.Below, reads: with(quantity(measure.ParseGravity)), holds: compares(question.nowAt, -1), met: func(q question) (time.Time, bool) { return q.crossed(constant(measure.Gravity(q.cond.Number))) }, frees: by(ferment.DoGravity), level: question.number},
	{kind: ferment.Above, reads: with(quantity(measure.ParseGravity)), holds: compares(question.nowAt, 1), met: question.aboveMet, frees: byTime},
	{kind: ferment.NearFinish, reads: alone, holds: question.atFinish, met: question.nearFinish, frees: by(ferment.DoGravity),
		level: func(q question) (measure.Gravity, bool) { return q.Finish.Value + nearWithin, q.Finish.IsKnown() }},
	{kind: ferment.Dry, reads: alone, holds: question.dry, met: question.dryMet, frees: by(ferment.DoGravity)},
	{kind: ferment.Steady, reads: alone, holds: is(func(q question) bool { return q.Course.Steady.Open }), met: question.steadyMet, frees: by(ferment.DoGravity)},
	{kind: ferment.PaceOver, reads: with(numberWithin(0, 200, "points a day, e.g. pace over 15")), holds: compares(question.paceNow, 1), frees: byTime},
	{kind: ferment.PaceUnder, reads: with(numberWithin(0, 200, "points a day, e.g. pace under 3")), holds: compares(question.paceNow, -1), frees: byTime},
	{kind: ferment.ToleranceOver, reads: with(quantity(measure.ParseStrength)), holds: compares(question.toTolerance, 1), frees: byTime},

	{kind: ferment.Stuck, reads: alone, holds: named(Stuck), met: since(Stuck), frees: byTime},
	{kind: ferment.Sluggish, reads: alone, holds: named(Sluggish), met: since(Sluggish), frees: byTime},
	{kind: ferment.Restarted, reads: alone, holds: named(Restarted), met: since(Restarted), frees: byTime},
	{kind: ferment.HasStarted, reads: alone, holds: is(question.started), met: question.startMet, frees: by(ferment.Started),
		words: words{point: by("the start"), past: by("it has started"), unmet: by("no sign of fermentation yet")}},
	{kind: ferment.NotStarted, reads: alone, holds: is(func(q question) bool { return !q.Started.Known || q.Started.Assumed }), frees: byTime},
	{kind: ferment.Stabilised, reads: alone, holds: is(func(q question) bool { _, ok := q.stabilised(); return ok }), met: question.stabilised, frees: by(ferment.Sulphite)},
	{kind: ferment.MustRead, reads: alone, holds: is(question.mustWasRead), frees: by(ferment.DoGravity)},
	{kind: ferment.IsPrimed, reads: alone, holds: is(question.primed), frees: by(ferment.Prime)},
	{kind: ferment.IsDiscarded, reads: alone, holds: is(question.Over), frees: byTime},
	{kind: ferment.BacteriaWorked, reads: alone, frees: byTime,
		holds: is(func(q question) bool { return slices.ContainsFunc(q.Entries, namesBacteria) })},
	{kind: ferment.IsWild, reads: alone, holds: is(func(q question) bool { return q.Ferment.Yeast.IsWild() }), frees: byTime},
	{kind: ferment.EndingUndecided, reads: alone, holds: is(func(q question) bool { return q.Ferment.Undecided() && q.Stage != Bottled }), frees: byTime},

	{kind: ferment.IsClear, reads: alone, holds: question.clear, met: first(says(clarity, "clear")), frees: by(ferment.Look),
		words: words{asks: by("type clear once it is")}},
	{kind: ferment.PHOver, reads: with(numberWithin(0, 14, "0 to 14, e.g. ph over 4.6")), holds: latest(compared(ph, 1)), met: first(compared(ph, 1)), frees: by(ferment.DoPH)},
	{kind: ferment.PHUnder, reads: with(numberWithin(0, 14, "0 to 14, e.g. ph under 3.1")), holds: latest(compared(ph, -1)), met: first(compared(ph, -1)), frees: by(ferment.DoPH)},
	{kind: ferment.LeesOver, reads: with(quantity(measure.ParseDepth)), holds: latest(compared(lees, 1)), met: first(compared(lees, 1)), frees: byTime,
		words: words{state: func(q question) string { // in the cellar's units, as typed if it was in those
			return string(q.cond.Kind) + " " + measure.AsTyped(measure.Give(measure.Depth(q.cond.Number), strings.TrimPrefix(q.cond.Text, string(q.cond.Kind)+" ")), q.Settings.Units)
		}}},
	{kind: ferment.HissOver, reads: with(numberWithin(0, 5, "0 to 5, e.g. hiss over 4")), holds: latest(compared(hiss, 1)), met: first(compared(hiss, 1)), frees: by(ferment.Open)},
	{kind: ferment.HissUnder, reads: with(numberWithin(0, 5, "0 to 5, e.g. hiss under 2")), holds: latest(compared(hiss, -1)), met: first(compared(hiss, -1)), frees: by(ferment.Open)},
	{kind: ferment.TwoOpeningsSame, reads: alone, holds: is(question.twoOpeningsSame), frees: byTime},
	{kind: ferment.Feels, reads: with(wordOf(ferment.FeelWords)), holds: latest(says(feel, "")), met: first(says(feel, "")), frees: by(ferment.Squeeze)},
	{kind: ferment.Saw, reads: with(wordOf(ferment.SeenWords)), holds: latest(sees("")), met: first(sees("")), frees: by(ferment.Look),
		words: words{asks: func(q question) string { return "look at it: any " + q.cond.Word + "?" }}},
	{kind: ferment.Smells, reads: with(readSmell), holds: latest(says(smell, "")), met: first(says(smell, "")), frees: by(ferment.Look),
		words: words{asks: func(q question) string { return "look at it: is the smell " + q.cond.Word + "?" }}},
	{kind: ferment.HasFilm, reads: alone, holds: is(question.filmSeen), met: first(sees("film")), frees: byTime},
	{kind: ferment.HasMould, reads: alone, holds: is(question.mouldSeen), met: first(sees("mould")), frees: byTime},
	{kind: ferment.DryAirlock, reads: alone, holds: latest(says(airlock, "dry")), met: first(says(airlock, "dry")), frees: by(ferment.Look)},
	{kind: ferment.HasVerdict, reads: with(wordOf(ferment.VerdictWords)), holds: is(func(q question) bool { return q.verdict() == q.cond.Word }), met: first(says(verdictThen, "")), frees: by(ferment.Verdict)},

	{kind: ferment.KeySince, reads: readSince, holds: is(question.notedSince), frees: func(q question) string { return q.cond.Word },
		words: words{unmet: func(q question) string {
			return "no " + q.cond.Word + " is recorded since " + q.plan.Doing(q.cond.Step)
		}}},
	{kind: ferment.ActAtLeastAgo, reads: readAgo("at least "), holds: is(func(q question) bool { return q.lastAgo(true) }), frees: question.ifNeverDone, words: words{unmet: question.notBefore}},
	{kind: ferment.ActUnderAgo, reads: readAgo("under "), holds: is(func(q question) bool { return q.lastAgo(false) }), over: func(q question) bool { _, done := q.plan.Done(q.cond.Word, true); return done }, frees: byTime},
	{kind: ferment.StepDone, reads: readStep, holds: is(func(q question) bool { _, done := q.stepMet(); return done }), met: question.stepMet, frees: func(q question) string { return q.plan.Does(q.cond.Word) }, words: words{unmet: func(q question) string { return q.plan.Doing(q.cond.Word) + " comes first" }}},
}

var noRow = row{holds: is(never), frees: byTime}

// rowOf returns the row of a kind, an empty one for an unknown kind.
func rowOf(kind ferment.ConditionKind) *row {
	if i := slices.IndexFunc(rows, func(r row) bool { return r.kind == kind }); i >= 0 {
		return &rows[i]
	}
	return &noRow
}

// Holds reports whether a condition holds now by the log alone, and whether the log can tell.
func (c *Course) Holds(cond ferment.Condition) (holds, known bool) {
	return c.HoldsIn(logOnly{c.Entries, c.Now}, cond)
}

// HoldsIn is like Holds, for a condition that may be about steps of a plan.
func (c *Course) HoldsIn(plan Plan, cond ferment.Condition) (holds, known bool) {
	return rowOf(cond.Kind).holds(question{c, plan, cond})
}

// FirstMet returns when a condition was first met, up to now. A break once met stays met, even if the break moves
// later.
func (c *Course) FirstMet(cond ferment.Condition) (time.Time, bool) {
	r := rowOf(cond.Kind)
	if r.met == nil {
		return time.Time{}, false
	}
	return r.met(question{c, logOnly{c.Entries, c.Now}, cond})
}

// FreedBy returns the act or measurement that can make a condition hold; "" if only time can.
func (c *Course) FreedBy(plan Plan, cond ferment.Condition) string {
	return rowOf(cond.Kind).frees(question{c, plan, cond})
}

// LevelOf returns the gravity at which a condition will be met on the way down.
func (c *Course) LevelOf(cond ferment.Condition) (measure.Gravity, bool) {
	r := rowOf(cond.Kind)
	if r.level == nil {
		return 0, false
	}
	return r.level(question{c, logOnly{c.Entries, c.Now}, cond})
}

// IsOver reports whether a condition held and can never hold again.
func (c *Course) IsOver(plan Plan, cond ferment.Condition) bool {
	r := rowOf(cond.Kind)
	return r.over != nil && r.over(question{c, plan, cond})
}

// Unmet says why a task that needs the condition is held.
func (c *Course) Unmet(plan Plan, cond ferment.Condition) string {
	said := question{c, plan, cond}.said(rowOf(cond.Kind).words.unmet, "")
	return cmp.Or(said, "it is not "+c.Words(cond)+" by the record")
}

// said returns words for the question, or others if the condition has none of its own.
func (q question) said(by func(question) string, otherwise string) string {
	if by == nil {
		return otherwise
	}
	return by(q)
}

// Words writes a condition as a state, with depths in the cellar's units.
func (c *Course) Words(cond ferment.Condition) string {
	return question{Course: c, cond: cond}.said(rowOf(cond.Kind).words.state, cond.Text)
}

// AskedBy returns the answer or word that makes a condition hold, if the act in FreedBy is not enough; else "".
func (c *Course) AskedBy(plan Plan, cond ferment.Condition) string {
	return question{c, plan, cond}.said(rowOf(cond.Kind).words.asks, "")
}

// PointWords writes a condition as a moment, "the ⅓ break"; moment is false for a state, "steady".
func (c *Course) PointWords(cond ferment.Condition) (words string, moment bool) {
	if say := rowOf(cond.Kind).words.point; say != nil {
		return say(question{Course: c, cond: cond}), true
	}
	return c.Words(cond), false
}

// PastWords says that a condition was met: "it has started".
func (c *Course) PastWords(cond ferment.Condition) string {
	return question{Course: c, cond: cond}.said(rowOf(cond.Kind).words.past, "it is "+c.Words(cond))
}

// ReadCondition parses one yes-or-no question: "ph under 3.1", "gravity since w4", "stuck". A single unknown word asks
// whether the step of that name is settled. For other text known is false.
func ReadCondition(text string) (c ferment.Condition, known bool, err error) {
	text = strings.Join(strings.Fields(text), " ")
	for i := range rows {
		c = ferment.Condition{Kind: rows[i].kind, Text: text}
		if is, err := rows[i].reads(&c); is {
			return c, true, err
		}
	}
	return ferment.Condition{Text: text}, false, nil
}

// logOnly is a Plan that only has a log.
type logOnly struct {
	log []*ferment.Entry
	now time.Time
}

// Done returns when an act or a measurement was done, the first or the last time.
func (l logOnly) Done(name string, last bool) (at time.Time, done bool) {
	for _, e := range l.log {
		if (string(e.Did) == name || e.Measured(name)) && (last || !done) {
			at, done = e.At.Time, true
		}
	}
	return at, done
}

// Noted returns when an act or a measurement was last logged.
func (l logOnly) Noted(name string) (time.Time, bool) { return l.Done(name, true) }

// Does returns the name of the step: the log has no steps.
func (l logOnly) Does(step string) string { return step }

func (l logOnly) Doing(step string) string { return ferment.Spaced(step) }

// Passed reports whether a time has come.
func (l logOnly) Passed(t time.Time) bool { return !t.After(l.now) }

// Clock writes a time with its day.
func (l logOnly) Clock(t time.Time) string { return t.Format("2 Jan 15:04") }

// grammar parses a condition whose kind and text are set; is is false if the text is of another kind.
type grammar func(c *ferment.Condition) (is bool, err error)

// alone parses a condition without values.
func alone(c *ferment.Condition) (bool, error) { return strings.EqualFold(c.Text, string(c.Kind)), nil }

// with parses the words of the kind followed by a value.
func with(read func(c *ferment.Condition, value string) error) grammar {
	return func(c *ferment.Condition) (bool, error) {
		n := len(c.Kind)
		if len(c.Text) <= n+1 || c.Text[n] != ' ' || !strings.EqualFold(c.Text[:n], string(c.Kind)) {
			return false, nil
		}
		return true, read(c, c.Text[n+1:])
	}
}

// readSince reads "KEY since STEP".
func readSince(c *ferment.Condition) (bool, error) {
	key, step, is := strings.Cut(c.Text, " since ")
	if !is || strings.Contains(key, " ") {
		return false, nil
	}
	c.Word, c.Step = key, step
	if !ferment.IsMeasurement(key) || !ferment.IsStepName(step) {
		return true, &measure.Error{Text: c.Text, Problem: "does not ask for a measurement since a step",
			Hint: "gravity, ph, temperature or volume, e.g. gravity since rack"}
	}
	return true, nil
}

// readAgo reads "ACT at least N h ago" and "ACT under N d ago". Other text that ends on "ago" is an error of the last
// of the two.
func readAgo(than string) grammar {
	return func(c *ferment.Condition) (bool, error) {
		act, rest, _ := strings.Cut(c.Text, " ")
		span, ago := strings.CutSuffix(rest, " ago")
		length, said := strings.CutPrefix(span, than)
		if !ago || !said && c.Kind != ferment.ActUnderAgo {
			return false, nil
		}
		var err error
		c.Word = act
		c.Offset, err = ferment.ParseOffset(length)
		if !said || err != nil || c.Offset.Number < 0 || !ferment.IsAct(act) {
			return true, &measure.Error{Text: c.Text, Problem: "does not say how long ago an act was",
				Hint: "e.g. rack at least 24 h ago or bottle under 5 d ago"}
		}
		return true, nil
	}
}

// readStep accepts any word that can name a step.
func readStep(c *ferment.Condition) (bool, error) {
	c.Word = c.Text
	return ferment.IsStepName(c.Text), nil
}

func readBreak(c *ferment.Condition, value string) (err error) {
	c.Break, err = ferment.ParseBreak(value)
	return err
}

func quantity[T ~float64](parse func(string) (measure.Given[T], error)) func(*ferment.Condition, string) error {
	return func(c *ferment.Condition, value string) error {
		q, err := parse(value)
		c.Number = float64(q.Value)
		return err
	}
}

func numberWithin(low, high float64, hint string) func(*ferment.Condition, string) error {
	return func(c *ferment.Condition, value string) error {
		n, err := measure.ParseNumber(value)
		if err != nil || n < low || n > high {
			return &measure.Error{Text: c.Text, Problem: "needs a number in its range", Hint: hint}
		}
		c.Number = n
		return nil
	}
}

func wordOf(known []string) func(*ferment.Condition, string) error {
	return func(c *ferment.Condition, value string) error {
		c.Word = strings.ToLower(value)
		return ferment.OneOf(c.Word, known)
	}
}

func readSmell(c *ferment.Condition, value string) error {
	c.Word = strings.ToLower(value)
	if strings.Contains(value, " ") {
		return &measure.Error{Text: c.Text, Problem: "asks for more than one word", Hint: "e.g. smell clean or smell bad"}
	}
	return nil
}
