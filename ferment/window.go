package ferment

// ParseWindow reads when a window opens and closes around its due time:
// "-12 h .. +24 h".
func ParseWindow(text string) (Window, error) { return Window{}, nil }

// DefaultWindow is the window of a step that says nothing of its own, and what
// becomes of it when it is missed. A routine act may be done half its interval
// early or late.
func DefaultWindow(do string, every Offset) (Window, Missed) { return Window{}, Late }
