package schedule

import (
	"cellar/jugkeeper/ferment"
)

// caution is what a step is warned of: as a warning the first time in a
// ferment, afterwards as a note. Only what stands in the record stops.
func (p *planner) caution(s ferment.Step) *Caution {
	name := cautionOf(s)
	text := cautionText(name, p.units())
	if text == "" {
		return p.stillCaution(s)
	}
	loud := Warn
	for i, other := range p.steps {
		if cautionOf(other) == name && len(p.history[i]) > 0 {
			loud = Note
		}
	}
	c := &Caution{Name: name, Loud: loud, Text: text}
	p.addPressure(c)
	if still := p.stillCaution(s); still != nil && still.Loud == Warn && name != "bottle-pressure" {
		c.Loud, c.Text = Warn, still.Text+"; "+c.Text
	}
	return c
}
