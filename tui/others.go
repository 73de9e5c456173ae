package tui

import (
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/tui/bench"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

// The board and the page of a vessel are where a line stands in a place of its
// own. All others are screens that are asked what they want, and never which
// they are.

// other is the screen in sight, where it is neither of the two.
func (m Model) other() (screen.Screen, bool) {
	s, is := m.others[m.at]
	return s, is
}

// with puts a screen into its place.
func (m Model) with(at Place, s screen.Screen) Model {
	m.others = maps.Clone(m.others)
	m.others[at] = s
	return m
}

// each does the same to all of them.
func (m Model) each(do func(screen.Screen) screen.Screen) Model {
	others := map[Place]screen.Screen{}
	for at, s := range m.others {
		others[at] = do(s)
	}
	m.others = others
	return m
}

// open shows a screen in its place, as large and as coloured as the others.
func (m Model) openOther(at Place, s screen.Screen) Model {
	m = m.with(at, s.SetSize(m.width, m.height).SetTheme(m.theme).Show(m.putOff.without(m.snapshot), m.words))
	return m.goTo(at)
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
func (m Model) ask(s screen.Screen, a intent.Action) (Model, tea.Cmd) {
	next, want := s.Do(a)
	return m.answered(next, want)
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
func (m Model) typesOn(s intent.Stroke) (screen.Screen, bool) {
	other, is := m.other()
	if !is || m.line != nil || !other.Typing() {
		return nil, false
	}
	a, _ := m.keys.Action(m.at, s)
	return other, a != intent.Abort && a != intent.Suspend
}

// filledIn is the screen in sight where it is one that is filled in.
func (m Model) filledIn() (screen.FilledIn, bool) {
	s, is := m.others[m.at].(screen.FilledIn)
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
	if next, stays := s.Kept(); stays {
		return m.with(m.at, next)
	}
	return m.drop()
}

// drop takes the screen in sight away.
func (m Model) drop() Model {
	at := m.at
	m = m.back()
	m.others = maps.Clone(m.others)
	delete(m.others, at)
	return m
}

// fill opens something to be filled in. What was typed there and not kept
// stands there again.
func (m Model) fill(at Place, s screen.FilledIn) Model {
	var typed screen.Screen = s
	for _, d := range m.drafts {
		if d.Same(s.Draft()) {
			typed = s.Resume(d.Text)
		}
	}
	return m.openOther(at, typed)
}

// openMend opens what is wrong in the files, and has them read.
func (m Model) openMend() (Model, tea.Cmd) {
	return m.openOther(OnMend, m.others[OnMend]), m.options.check()
}

// openShelf opens what stands in bottles, and has the closed ferments read for
// what was made.
func (m Model) openShelf() (Model, tea.Cmd) {
	return m.openOther(OnShelf, m.others[OnShelf]).reopen(byItself)
}

// openStore opens the honey room, and has the closed ferments read for it: what
// they took is gone too.
func (m Model) openStore() (Model, tea.Cmd) {
	return m.openOther(OnStore, m.others[OnStore]).reopen(byItself)
}

// openBench opens the bench with the values of the selected vessel.
func (m Model) openBench() Model {
	v, has := m.vessel()
	return m.openOther(OnBench, m.others[OnBench].(bench.Model).Open(v, has))
}
