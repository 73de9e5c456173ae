package honey

import (
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

// shownIn returns a screen in a frame of that size, with a snapshot.
func shownIn(m Model, s app.Snapshot, w, h int) view {
	v := view{Model: m, Frame: screen.Frame{Width: w, Height: h}}
	return v.with(s)
}

func (m view) with(s app.Snapshot) view {
	m.Snapshot, m.Sheet = s, words.Of(s)
	return m.again()
}

func (m view) again() view {
	m.Model = m.Model.Show(m.Frame).(Model)
	return m
}

func (m view) sized(w, h int) view {
	m.Width, m.Height = w, h
	return m.again()
}

func (m view) screen(footer string) string {
	m.Footer = footer
	return m.Model.View(m.Frame)
}

func (m view) does(as ...intent.Action) (view, intent.Intent) {
	var want intent.Intent
	for _, a := range as {
		var s screen.Screen
		s, want = m.Model.Do(m.Frame, a)
		m.Model = s.(Model)
	}
	return m, want
}
