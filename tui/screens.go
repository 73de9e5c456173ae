package tui

import (
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/tui/bench"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/vessel"
)

// The program asks every screen what it wants, and never which it is.

// current is the screen in sight.
func (m Model) current() screen.Screen { return m.screens[m.at] }

// frame is what the screens are shown in now.
func (m Model) frame() screen.Frame {
	return screen.Frame{Theme: m.theme, Width: m.width, Height: m.height, Snapshot: m.visible, Sheet: m.words, Files: m.files, KeyName: m.keyName}
}

// with puts a screen into its place.
func (m Model) with(at Place, s screen.Screen) Model {
	m.screens = maps.Clone(m.screens)
	m.screens[at] = s
	return m
}

// showAll shows every screen in the frame as it has become.
func (m Model) showAll() Model {
	f, screens := m.frame(), map[Place]screen.Screen{}
	for at, s := range m.screens {
		screens[at] = s.Show(f)
	}
	m.screens = screens
	return m
}

// open shows a screen in its place.
func (m Model) openScreen(at Place, s screen.Screen) Model {
	return m.with(at, s.Show(m.frame())).goTo(at)
}

// goTo goes to a place; back leads to where one was.
func (m Model) goTo(at Place) Model {
	if i := slices.Index(m.trail, at); i >= 0 {
		m.trail = m.trail[:i]
	} else if at != m.at {
		m.trail = append(slices.Clone(m.trail), m.at)
	}
	m.at = at
	return m
}

// back is one screen back.
func (m Model) back() Model {
	m.at = OnBoard
	if n := len(m.trail); n > 0 {
		m.at, m.trail = m.trail[n-1], m.trail[:n-1]
	}
	return m
}

// toBoard is the board again, from wherever one is.
func (m Model) toBoard() Model {
	m.at, m.trail = OnBoard, nil
	return m
}

// ask lets the screen in sight do what a key means there.
func (m Model) ask(a intent.Action) (Model, tea.Cmd) {
	return m.answered(m.current().Do(m.frame(), a))
}

// answered takes what the screen in sight has become and what it asks for.
func (m Model) answered(next screen.Screen, want intent.Intent) (Model, tea.Cmd) {
	m = m.with(m.at, next)
	if want == nil {
		return m, nil
	}
	return m.carry(want)
}

// typesOn tells whether a stroke goes into the screen in sight. Leaving and
// going to the shell work from there too.
func (m Model) typesOn(s intent.Stroke) (screen.Typed, bool) {
	typed, is := m.current().(screen.Typed)
	if !is || m.line != nil || !typed.Typing() {
		return nil, false
	}
	a, _ := m.keys.Action(m.at, s)
	return typed, a != intent.Abort && a != intent.Suspend
}

// filledIn is the screen in sight where it is one that is filled in.
func (m Model) filledIn() (screen.FilledIn, bool) {
	s, is := m.current().(screen.FilledIn)
	return s, is
}

// closeFilled leaves what is filled in; what was typed is offered again.
func (m Model) closeFilled() Model {
	m.drafts = m.lost()
	return m.drop()
}

// keptFilled goes on after it was written.
func (m Model) keptFilled(s screen.FilledIn) Model {
	m.drafts = without(m.drafts, s.Draft())
	if next, stays := s.Kept(m.frame()); stays {
		return m.with(m.at, next)
	}
	return m.drop()
}

// drop takes the screen in sight away.
func (m Model) drop() Model {
	at := m.at
	m = m.back()
	m.screens = maps.Clone(m.screens)
	delete(m.screens, at)
	return m
}

// fill opens something to be filled in. What was typed there and not kept
// stands there again.
func (m Model) fill(at Place, s screen.FilledIn) Model {
	var typed screen.Screen = s
	for _, d := range m.drafts {
		if d.Same(s.Draft()) {
			typed = s.Resume(m.frame(), d.Text)
		}
	}
	return m.openScreen(at, typed)
}

// openMend opens what is wrong in the files, and has them read.
func (m Model) openMend() (Model, tea.Cmd) {
	return m.openScreen(OnMend, m.screens[OnMend]), m.options.check()
}

// openShelf opens what stands in bottles, and has the closed ferments read for
// what was made.
func (m Model) openShelf() (Model, tea.Cmd) {
	return m.openScreen(OnShelf, m.screens[OnShelf]).reopen(byItself)
}

// openStore opens the honey room, and has the closed ferments read for it: what
// they took is gone too.
func (m Model) openStore() (Model, tea.Cmd) {
	return m.openScreen(OnStore, m.screens[OnStore]).reopen(byItself)
}

// openBench opens the bench with the values of the selected vessel.
func (m Model) openBench() Model {
	v, _ := m.vessel()
	return m.openScreen(OnBench, m.screens[OnBench].(bench.Model).Of(v.ID()))
}

// visit opens the page of a ferment or a culture.
func (m Model) visit(id string) Model { return m.openScreen(OnVessel, vessel.New(id)) }
