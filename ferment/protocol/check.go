package protocol

import (
	"fmt"
	"maps"
	"slices"

	"cellar/jugkeeper/ferment"
)

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
