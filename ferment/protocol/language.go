// Package protocol parses the words of plans (times, windows, conditions) and checks plans for faults.
package protocol

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

const whenHint = "an act, a step or a condition, and perhaps an offset, e.g. pitch + 2 d, last rack, break 1/3"

// ParseWhen reads one point in time of a plan: "pitch + 2 d", "last rack", "end of quiet", "break 1/3 + 1 d". A word
// that is not a condition is taken as an act or a step; Check says whether it exists.
func ParseWhen(text string) (ferment.When, error) {
	w := ferment.When{Text: strings.Join(strings.Fields(text), " ")}
	point, offset, moved := trailingOffset(w.Text)
	var err error
	if moved {
		w.Offset, err = ferment.ParseOffset(offset)
	} else {
		point = w.Text
	}
	if err == nil {
		w.Point, err = parsePoint(point)
	}
	if err != nil {
		return ferment.When{}, err
	}
	return w, nil
}

// trailingOffset cuts an offset such as "+ 2 d" off the end of a text. A minus needs a space before it, because step
// names contain hyphens.
func trailingOffset(text string) (point, offset string, ok bool) {
	for i := len(text) - 1; i > 0; i-- {
		var sign string
		switch rest := text[i:]; {
		case rest[0] == '+':
			sign = "+"
		case text[i-1] != ' ':
			continue
		case rest[0] == '-':
			sign = "-"
		case strings.HasPrefix(rest, "−"):
			sign = "−"
		default:
			continue
		}
		if step := strings.TrimPrefix(text[i+len(sign):], " "); isStep(step) {
			return strings.TrimSuffix(text[:i], " "), sign + step, true
		}
	}
	return "", "", false
}

// isStep reports whether a text is a number with at most one word of letters after it.
func isStep(text string) bool {
	_, unit, _ := strings.Cut(text, " ")
	return text != "" && strings.ContainsRune("0123456789.,", rune(text[0])) &&
		strings.IndexFunc(unit, func(r rune) bool { return r > unicode.MaxASCII || !unicode.IsLetter(r) }) < 0
}

// parsePoint reads what a time is counted from: an anchor, the end of a step, a condition.
func parsePoint(text string) (ferment.Point, error) {
	if step, end := strings.CutPrefix(text, "end of "); end && ferment.IsStepName(step) {
		return ferment.Point{EndOf: step}, nil
	}
	if name, last := strings.CutPrefix(text, "last "); last && isAnchor(name) {
		return ferment.Point{Anchor: name, Last: true}, nil
	}
	c, known, err := course.ReadCondition(text)
	switch {
	case err != nil:
		return ferment.Point{}, err
	case known && c.Kind != ferment.StepDone:
		return ferment.Point{Condition: &c}, nil
	case isAnchor(text):
		return ferment.Point{Anchor: text}, nil
	}
	return ferment.Point{}, &measure.Error{Text: text, Problem: "is not a point in time", Hint: whenHint}
}

// ParseCondition reads one yes-or-no question: "ph under 3.1", "gravity since w4", "stuck"; a single unknown word asks
// whether the step of that name is settled.
func ParseCondition(text string) (ferment.Condition, error) {
	c, known, err := course.ReadCondition(text)
	switch {
	case err != nil:
		return ferment.Condition{}, err
	case known:
		return c, nil
	}
	return ferment.Condition{}, &measure.Error{Text: c.Text, Problem: "is not a condition",
		Hint: "a word, a step or a comparison, e.g. near finish, nutrient-1 or ph under 3.1"}
}

func isAnchor(text string) bool { return text == ferment.PlannedPitch || ferment.IsStepName(text) }

const windowHint = "opens .. closes, around the due time, e.g. -12 h .. +24 h"

// ParseWindow reads when a window opens and closes around its due time: "-12 h .. +24 h".
func ParseWindow(text string) (w ferment.Window, err error) {
	opens, closes, both := strings.Cut(text, "..")
	if !both {
		return w, &measure.Error{Text: text, Problem: "is not a window", Hint: windowHint}
	}
	if w.Opens, err = ferment.ParseOffset(opens); err != nil {
		return ferment.Window{}, err
	}
	if w.Closes, err = ferment.ParseOffset(closes); err != nil {
		return ferment.Window{}, err
	}
	if w.IsNever() {
		return ferment.Window{}, &measure.Error{Text: text, Problem: "closes before it opens", Hint: windowHint}
	}
	return w, nil
}

// Complete gives a step the usual window of its act, and what happens when it is missed, where it has none.
func Complete(s *ferment.Step) {
	var every ferment.Offset
	if s.Repeat != nil {
		every = s.Repeat.Every
	}
	window, missed := defaultWindow(s.Do, every)
	s.Window, s.Missed = cmp.Or(s.Window, window), cmp.Or(s.Missed, missed)
}

// defaultWindow returns the window of a step that has none, and what happens when it is missed: a routine act has half
// its interval before and after, or half a day (common practice, no source).
func defaultWindow(do string, every ferment.Offset) (ferment.Window, ferment.Missed) {
	switch do {
	case string(ferment.Nutrient):
		return around(12, ferment.Hour, 24, ferment.Hour), ferment.Late
	case string(ferment.Degas), string(ferment.Punch), string(ferment.Look), string(ferment.Squeeze):
		half := half(every)
		return around(half.Number, half.Unit, half.Number, half.Unit), ferment.Drop
	case ferment.DoGravity, ferment.DoPH:
		return around(1, ferment.Day, 1, ferment.Day), ferment.Drop
	case string(ferment.Rack), string(ferment.Bottle), string(ferment.Prime):
		return around(7, ferment.Day, 14, ferment.Day), ferment.Late
	case string(ferment.Open), string(ferment.Taste):
		return around(14, ferment.Day, 14, ferment.Day), ferment.Late
	}
	return around(0, ferment.Hour, 1, ferment.Day), ferment.Late
}

// around returns the window from some time before the due time to some time after it.
func around(before float64, unit ferment.OffsetUnit, after float64, afterUnit ferment.OffsetUnit) ferment.Window {
	return ferment.Window{Opens: ferment.Offset{Number: 0 - before, Unit: unit}, Closes: ferment.Offset{Number: after, Unit: afterUnit}}
}

// half returns half an interval; half a month is fifteen days.
func half(o ferment.Offset) ferment.Offset {
	switch {
	case o.IsZero():
		return ferment.Offset{Number: 12, Unit: ferment.Hour}
	case o.Unit == ferment.Month:
		return ferment.Offset{Number: o.Number * 15, Unit: ferment.Day}
	}
	return ferment.Offset{Number: o.Number / 2, Unit: o.Unit}
}

// StepProblem is a fault in a step of a plan.
type StepProblem struct {
	Index   int    // of the step in its protocol, from 0
	Step    string // its name
	Key     string // "due", "window"; "step" for the name itself
	Message string // what is wrong, and a right example
}

// Check returns the faults of a protocol: step names that are missing or used twice, windows that close before they
// open, repeats without a start. known reports whether a step exists elsewhere, for fragments; it may be nil.
func Check(p ferment.Protocol, known func(step string) bool) []*StepProblem {
	c := checker{steps: map[string]ferment.Step{}, known: known}
	for i, s := range p.Steps {
		c.index, c.step = i, s
		c.checkName()
		c.checkDo()
		c.steps[s.Name] = s
	}
	for i, s := range p.Steps {
		c.index, c.step = i, s
		c.checkTimes()
		c.checkRepeat()
		c.checkNames()
	}
	return c.errors
}

// A checker collects the faults of one step after the other.
type checker struct {
	steps  map[string]ferment.Step
	known  func(string) bool
	index  int
	step   ferment.Step
	errors []*StepProblem
}

func (c *checker) fail(key, format string, args ...any) {
	message := fmt.Sprintf("step %q: ", c.step.Name) + fmt.Sprintf(format, args...)
	c.errors = append(c.errors, &StepProblem{c.index, c.step.Name, key, message})
}

func (c *checker) checkName() {
	_, twice := c.steps[c.step.Name]
	switch {
	case !ferment.IsStepName(c.step.Name):
		c.fail("step", "its name is not one word of letters, digits and hyphens (e.g. nutrient-1)")
	case twice:
		c.fail("step", "an earlier step has the same name (e.g. %s-again)", c.step.Name)
	}
}

func (c *checker) checkDo() {
	do, quiet := c.step.Do, c.step.Quiet != nil
	switch {
	case quiet && do != "":
		c.fail("quiet", "a quiet period has nothing to do (leave out do: %s)", do)
	case quiet:
	case do == "":
		c.fail("do", "it does not say what to do (e.g. do: degas)")
	case !ferment.IsAct(do) && !ferment.IsMeasurement(do):
		c.fail("do", "%q is no act and no measurement (e.g. do: degas or do: gravity)", do)
	case c.step.Due.Point == ferment.Point{} && len(c.step.Due.First) == 0 && len(c.step.Due.Last) == 0:
		c.fail("due", "it does not say when (e.g. due: pitch + 1 d)")
	}
}

func (c *checker) checkTimes() {
	s := c.step
	if s.Window != (ferment.Window{}) && s.Window.IsNever() {
		c.fail("window", "its window closes before it opens (e.g. window: -12 h .. +24 h)")
	}
	if !(s.Share >= 0 && s.Share <= 1) {
		c.fail("share", "its share is not between 0 %% and 100 %% (e.g. share: 50 %%)")
	}
	for _, act := range s.First {
		if !ferment.IsAct(string(act)) {
			c.fail("first", "%q is no act (e.g. first: [degas])", act)
		}
	}
}

func (c *checker) checkRepeat() {
	r := c.step.Repeat
	if r == nil {
		return
	}
	every := !r.Every.IsZero()
	switch {
	case every && len(r.At) > 0:
		c.fail("repeat", "it repeats both at an interval and at set times (e.g. {every: 7 d} or {at: [7 d, 21 d], from: rack})")
	case len(r.At) > 0 && r.From == nil:
		c.fail("repeat", "its repeats have nothing to count from (e.g. {at: [7 d, 21 d], from: rack})")
	case len(r.At) == 0 && !every:
		c.fail("repeat", "it does not say how often it repeats (e.g. {every: 1 d})")
	case r.Every.Number < 0:
		c.fail("repeat", "its interval goes backwards (e.g. {every: 1 d})")
	case r.AtMost < 0:
		c.fail("repeat", "its number of repeats is negative (e.g. {every: 1 d, at-most: 3})")
	}
}

func (c *checker) checkNames() {
	s := c.step
	c.checkWhen("due", &s.Due)
	c.checkConditions("when", s.When)
	c.checkConditions("needs", s.Needs)
	c.checkConditions("unless", s.Unless)
	c.checkWhen("ends", s.Ends)
	if s.Repeat != nil {
		c.checkWhen("repeat", s.Repeat.Until)
		c.checkWhen("repeat", s.Repeat.From)
	}
	if s.Quiet != nil {
		c.checkWhen("quiet", &s.Quiet.From)
		c.checkWhen("quiet", &s.Quiet.To)
		c.checkConditions("broken-by", s.Quiet.BrokenBy)
	}
}

func (c *checker) checkWhen(key string, w *ferment.When) {
	if w == nil {
		return
	}
	for _, one := range slices.Concat(w.First, w.Last) {
		c.checkWhen(key, &one)
	}
	name, end := w.Point.Anchor, w.Point.EndOf
	fixed := name == "" || name == ferment.PlannedPitch || name == "quiet" || ferment.IsAct(name) || ferment.IsMeasurement(name)
	if !fixed && !c.isStep(name) {
		c.fail(key, "%q is no act, no condition and no step of the plan%s", name, c.instead(name))
	}
	if s, own := c.steps[end]; own && s.Quiet == nil {
		c.fail(key, "%q has no end, since it is no quiet period (e.g. end of quiet)", end)
	} else if end != "" {
		c.checkStep(key, end)
	}
	if w.Point.Condition != nil {
		c.checkConditions(key, []ferment.Condition{*w.Point.Condition})
	}
}

func (c *checker) checkConditions(key string, conditions []ferment.Condition) {
	for _, one := range conditions {
		switch one.Kind {
		case ferment.StepDone:
			c.checkStep(key, one.Word)
		case ferment.KeySince:
			c.checkStep(key, one.Step)
		}
	}
}

func (c *checker) checkStep(key, name string) {
	if !c.isStep(name) {
		c.fail(key, "%q is no condition and no step of the plan%s", name, c.instead(name))
	}
}

func (c *checker) isStep(name string) bool {
	_, own := c.steps[name]
	return own || c.known != nil && c.known(name)
}

// instead returns a hint in brackets: the name that was probably meant, else an existing one.
func (c *checker) instead(name string) string {
	words := append(slices.Sorted(maps.Keys(c.steps)), ferment.ActNames()...)
	if near := ferment.Nearest(name, words); near != "" {
		return " (" + near + "?)"
	}
	return " (e.g. pitch, steady or " + c.step.Name + ")"
}
