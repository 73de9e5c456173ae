package course

import "cellar/jugkeeper/ferment/measure"

// Reaches is when the gravity is expected to come down to g, from the pace of
// the last readings; never earlier than the last of them. Only between the
// start and the finish is anything expected.
func (c Course) Reaches(g measure.Gravity) (Expected, bool) {
	return Expected{}, false
}
