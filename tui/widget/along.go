package widget

import "cellar/jugkeeper/tui/intent"

// far is farther than any list goes.
const far = 1 << 20

// Along is how far an action moves along a list, where a page is so many steps:
// to the first and the last as far as the list goes. It is not ok for an action
// that is no movement.
func Along(a intent.Action, page int) (steps int, ok bool) {
	switch a {
	case intent.Up:
		return -1, true
	case intent.Down:
		return 1, true
	case intent.PageUp:
		return -max(page, 1), true
	case intent.PageDown:
		return max(page, 1), true
	case intent.Top:
		return -far, true
	case intent.Bottom:
		return far, true
	}
	return 0, false
}

// Turned is how many pages an action turns; it is not ok for any other.
func Turned(a intent.Action) (pages int, ok bool) {
	switch a {
	case intent.PageUp:
		return -1, true
	case intent.PageDown:
		return 1, true
	}
	return 0, false
}

// Within is a place among so many, the nearest to the one that is wished for.
func Within(i, n int) int { return max(0, min(i, n-1)) }
