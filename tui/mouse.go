package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/tui/intent"
)

// pointer takes what a mouse does, where the settings ask for one: the wheel
// moves, a click selects, a click on what is selected opens it. Nothing needs
// it, and nobody who types is disturbed.
func (m Model) pointer(msg tea.MouseMsg) (Model, tea.Cmd) {
	if m.line != nil || m.help || !m.have || m.types() {
		return m, nil
	}
	if a, turns := wheel[msg.Button]; turns {
		return m.ask(a)
	}
	if msg.Button != tea.MouseButtonLeft || msg.Action != tea.MouseActionPress {
		return m, nil
	}
	switch rows := m.rows(); {
	case msg.Y < 0 || msg.Y >= len(rows):
		return m, nil
	case barred(rows[msg.Y]):
		return m.ask(intent.Open)
	}
	return m.pointed(msg.Y), nil
}

var wheel = map[tea.MouseButton]intent.Action{tea.MouseButtonWheelUp: intent.Up, tea.MouseButtonWheelDown: intent.Down}

// farthest is how many steps a click looks for what it points at.
const farthest = 100

// pointed returns the screen with the selection on what a row shows: what would have
// the cursor bar in that row and leave it as it is, else, where the list scrolls
// on the way, what has the bar in a row like it. Where nothing has, nothing is
// selected anew.
func (m Model) pointed(y int) Model {
	want := unbarred(m.rows()[y])
	found, like := m, false
	for _, at := range m.within() {
		for i, row := range at.rows() {
			switch {
			case !barred(row) || unbarred(row) != want || want == "":
			case i == y:
				return at
			case !like:
				found, like = at, true
			}
		}
	}
	return found
}

// within returns the screens that keys would lead to, selection by selection, on
// either side.
func (m Model) within() []Model {
	other, _ := m.ask(intent.Side)
	var all []Model
	for _, from := range []Model{m, other} {
		for _, a := range []intent.Action{intent.Down, intent.Up} {
			for at, n := from, 0; n < farthest; n++ {
				all = append(all, at)
				next, _ := at.ask(a)
				if next.screenView() == at.screenView() {
					break
				}
				at = next
			}
		}
	}
	return all
}

// rows returns those of the screen in sight, plain.
func (m Model) rows() []string { return strings.Split(ansi.Strip(m.screenView()), "\n") }

const bar = "▌"

func barred(row string) bool { return strings.HasPrefix(row, bar) }

func unbarred(row string) string { return strings.TrimSpace(strings.TrimPrefix(row, bar)) }
