package widget

import "cellar/jugkeeper/tui/intent"

// Scroller is a screen that is moved along.
type Scroller[M any] interface {
	Move(n int) M
	Page(n int) M
	Home() M
	End() M
}

// Along is the screen moved as an action says; an action that is no movement
// moves nothing.
func Along[M Scroller[M]](screen M, a intent.Action) M {
	switch a {
	case intent.Up:
		return screen.Move(-1)
	case intent.Down:
		return screen.Move(1)
	case intent.PageUp:
		return screen.Page(-1)
	case intent.PageDown:
		return screen.Page(1)
	case intent.Top:
		return screen.Home()
	case intent.Bottom:
		return screen.End()
	}
	return screen
}
