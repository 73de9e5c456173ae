package course

import "cellar/jugkeeper/ferment"

// stage is how far the ferment is: the first that holds.
func (c Course) stage() Stage {
	near, isNear := c.FirstMet(ferment.Condition{Kind: ferment.NearFinish})
	rack, racked := c.Last(ferment.Rack)
	_, slow := c.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 2, In: 3}})
	switch {
	case c.empty():
		return Bottled
	case c.Steady.Open:
		return Steady
	case racked && isNear && !rack.At.Time.Before(near):
		return Clearing
	case slow:
		return Slowing
	case c.Started.Known && !c.Started.Assumed:
		return Working
	case c.Pitch.Known:
		return Lag
	}
	return Mixed
}
