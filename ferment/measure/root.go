package measure

// Root is where a rising function from low to high crosses zero, to 1e-12; low
// or high where it does not. It follows the secant through the two ends, halves
// the value at an end that stays, so that both ends close in (the Illinois rule,
// Dowell and Jarratt 1971), and takes the middle every fourth step, for functions
// that are nowhere near a line.
func Root[T ~float64](low, high T, f func(T) float64) T {
	below, above := f(low), f(high)
	switch {
	case below >= 0:
		return low
	case above <= 0:
		return high
	}
	moved := 0
	for step := 1; high-low > 1e-12; step++ {
		x := low + (high-low)*T(below/(below-above))
		if x <= low || x >= high || step%4 == 0 {
			x = low + (high-low)/2
		}
		switch y := f(x); {
		case y == 0:
			return x
		case y < 0:
			low, below = x, y
			if moved < 0 {
				above /= 2
			}
			moved = -1
		default:
			high, above = x, y
			if moved > 0 {
				below /= 2
			}
			moved = 1
		}
	}
	return low + (high-low)/2
}
