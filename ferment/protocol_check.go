package ferment

import "fmt"

// StepError is something in a step that cannot be planned.
type StepError struct {
	Index   int    // of the step in its protocol, from 0
	Step    string // its name
	Key     string // "due", "window"; "step" for the name itself
	Message string // what is wrong, and a right example
}

func (e *StepError) Error() string { return e.Message }

// Check finds what in a protocol cannot be planned: names that occur twice or
// nowhere, windows that close before they open, repeats without a start.
// Known tells whether a step stands in another protocol, for fragments that
// build on it; it may be nil.
func (p Protocol) Check(known func(step string) bool) []*StepError {
	c := protocolCheck{steps: map[string]Step{}, known: known}
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

// A protocolCheck looks at one step after the other.
type protocolCheck struct {
	steps  map[string]Step
	known  func(string) bool
	index  int
	step   Step
	errors []*StepError
}

func (c *protocolCheck) fail(key, format string, args ...any) {
	message := fmt.Sprintf("step %q: ", c.step.Name) + fmt.Sprintf(format, args...)
	c.errors = append(c.errors, &StepError{c.index, c.step.Name, key, message})
}

func (c *protocolCheck) checkName() {
	_, twice := c.steps[c.step.Name]
	switch {
	case !isStepName(c.step.Name):
		c.fail("step", "its name is not one word of letters, digits and hyphens (e.g. nutrient-1)")
	case twice:
		c.fail("step", "its name stands on an earlier step too (e.g. %s-again)", c.step.Name)
	}
}

func (c *protocolCheck) checkDo() {
	do, quiet := c.step.Do, c.step.Quiet != nil
	switch {
	case quiet && do != "":
		c.fail("quiet", "a quiet period has nothing to do (leave out do: %s)", do)
	case quiet:
	case do == "":
		c.fail("do", "it does not say what to do (e.g. do: degas)")
	case !IsAct(do) && !IsMeasurement(do):
		c.fail("do", "%q is no act and no measurement (e.g. do: degas or do: gravity)", do)
	case c.step.Due.isZero():
		c.fail("due", "it does not say when (e.g. due: pitch + 1 d)")
	}
}

func (w When) isZero() bool {
	return w.Point == Point{} && len(w.First) == 0 && len(w.Last) == 0
}

func (c *protocolCheck) checkTimes() {
	s := c.step
	if s.Window != (Window{}) && s.Window.never() {
		c.fail("window", "its window closes before it opens (e.g. window: -12 h .. +24 h)")
	}
	if !(s.Share >= 0 && s.Share <= 1) {
		c.fail("share", "its share is not between 0 %% and 100 %% (e.g. share: 50 %%)")
	}
	for _, act := range s.First {
		if !IsAct(string(act)) {
			c.fail("first", "%q is no act (e.g. first: [degas])", act)
		}
	}
}

func (c *protocolCheck) checkRepeat() {
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
		c.fail("repeat", "it repeats fewer than no times (e.g. {every: 1 d, at-most: 3})")
	}
}
