package shelf

// Ages are the months after bottling at which a mead is tasted where its plan
// does not say (common practice, no source).
var Ages = []int{1, 3, 6, 12, 18, 24}

// Eats tells whether drinking one bottle for a purpose leaves the batch with
// fewer than are still to be tasted: those reserved for it, and those to drink.
// A count that is not known eats nothing.
func (b Batch) Eats(purpose string, toCome int) bool {
	left := b.Left(Tasting, Drink)
	if left.Unknown || toCome == 0 {
		return false
	}
	switch purpose {
	case Tasting:
		return b.Left(Tasting).N <= toCome
	case Drink:
		return left.N-1 < toCome
	}
	return false
}
