package schedule

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
)

// wasDrunk tells whether an opened bottle was one to drink or to keep of which
// nothing is told: that is no opening of the plan, and settles none.
func (p *planner) wasDrunk(e *ferment.Entry) bool {
	if e.Did != ferment.Open || e.Bottle == "" || e.Step != "" || tells(e) {
		return false
	}
	for _, t := range shelf.Of(p.c).Taken {
		if t.Entry.Order == e.Order && t.Entry.At.Time.Equal(e.At.Time) {
			return t.Purpose == shelf.Drink || t.Purpose == shelf.Keep
		}
	}
	return false
}

// tells tells whether an opening says anything of its bottle.
func tells(e *ferment.Entry) bool {
	return e.Hiss.Known() || e.Foam.Known() || e.Feel != "" || e.HasDensity() || e.Taste.Palate != ""
}
