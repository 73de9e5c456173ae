package ferment

import "slices"

// checkNames looks up every name that a step's times and conditions hold.
func (c *protocolCheck) checkNames() {
	s := c.step
	c.checkWhen("due", s.Due)
	c.checkConditions("when", s.When)
	c.checkConditions("needs", s.Needs)
	c.checkConditions("unless", s.Unless)
	if s.Ends != nil {
		c.checkWhen("ends", *s.Ends)
	}
	if s.Repeat != nil && s.Repeat.Until != nil {
		c.checkWhen("repeat", *s.Repeat.Until)
	}
	if s.Repeat != nil && s.Repeat.From != nil {
		c.checkWhen("repeat", *s.Repeat.From)
	}
	if s.Quiet != nil {
		c.checkWhen("quiet", s.Quiet.From)
		c.checkWhen("quiet", s.Quiet.To)
		c.checkConditions("broken-by", s.Quiet.BrokenBy)
	}
}

func (c *protocolCheck) checkWhen(key string, w When) {
	for _, one := range w.First {
		c.checkWhen(key, one)
	}
	for _, one := range w.Last {
		c.checkWhen(key, one)
	}
	c.checkAnchor(key, w.Point.Anchor)
	c.checkEnd(key, w.Point.EndOf)
	if w.Point.Condition != nil {
		c.checkCondition(key, *w.Point.Condition)
	}
}

func (c *protocolCheck) checkAnchor(key, name string) {
	fixed := name == "" || name == PlannedPitch || name == "quiet" || IsAct(name) || IsMeasurement(name)
	if !fixed && !c.isStep(name) {
		c.fail(key, "%q is no act, no condition and no step of the plan%s", name, c.instead(name))
	}
}

func (c *protocolCheck) checkEnd(key, name string) {
	if name == "" {
		return
	}
	if s, own := c.steps[name]; own && s.Quiet == nil {
		c.fail(key, "%q has no end, since it is no quiet period (e.g. end of quiet)", name)
	} else if !own {
		c.checkStep(key, name)
	}
}

func (c *protocolCheck) checkConditions(key string, conditions []Condition) {
	for _, one := range conditions {
		c.checkCondition(key, one)
	}
}

func (c *protocolCheck) checkCondition(key string, one Condition) {
	switch one.Kind {
	case StepDone:
		c.checkStep(key, one.Word)
	case KeySince:
		c.checkStep(key, one.Step)
	}
}

func (c *protocolCheck) checkStep(key, name string) {
	if !c.isStep(name) {
		c.fail(key, "%q is no condition and no step of the plan%s", name, c.instead(name))
	}
}

func (c *protocolCheck) isStep(name string) bool {
	_, own := c.steps[name]
	return own || c.known != nil && c.known(name)
}

// instead is the likely meant name in brackets, else one that is right.
func (c *protocolCheck) instead(name string) string {
	words := make([]string, 0, len(c.steps)+len(acts))
	for step := range c.steps {
		words = append(words, step)
	}
	slices.Sort(words)
	for _, a := range acts {
		words = append(words, string(a))
	}
	if near := Nearest(name, words); near != "" {
		return " (" + near + "?)"
	}
	return " (e.g. pitch, steady or " + c.step.Name + ")"
}
