package measure

// Search is the least value from low to high at which reached holds, found by
// halving down to the last bit. Once reached, it must stay reached up to high;
// where it is reached nowhere the answer is high.
func Search[T ~float64](low, high T, reached func(T) bool) T {
	for {
		middle := low + (high-low)/2
		switch {
		case middle <= low || middle >= high:
			return high
		case reached(middle):
			high = middle
		default:
			low = middle
		}
	}
}
