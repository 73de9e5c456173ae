package tui

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

// spot is a place on the board that can be found.
type spot struct {
	subject, step string
	occurrence    int
	text          string
}

// spots are the tasks and the vessels of the board, in their order.
func (m Model) spots() []spot {
	var spots []spot
	for _, l := range m.words.Tasks {
		spots = append(spots, spot{l.Subject, l.Task.Step, l.Task.Occurrence, strings.Join([]string{l.Tag, l.Subject, l.Act, l.Of}, " ")})
	}
	for _, r := range m.words.Vessels {
		name := ""
		if v, ok := m.snapshot.Find(r.ID); ok {
			name = v.Ferment.Name
		}
		spots = append(spots, spot{subject: r.ID, text: strings.Join([]string{r.Tag, r.ID, name, r.HoneyAndYeast, r.Stage}, " ")})
	}
	return spots
}

// seek selects the place where a text stands, from the selection on and round.
func (m Model) seek(want intent.Seek) Model {
	if want.Again {
		m = m.closeLine()
	}
	if want.Text == "" {
		return m
	}
	m.sought = want.Text
	if other, is := m.others[m.at].(screen.Sought); is {
		next, found := other.Seek(want.Text, want.Again)
		if !found {
			return m.notFound(want)
		}
		return m.with(m.at, next)
	}
	if m.at == OnVessel {
		return m.seekOnPage(want)
	}
	spots := m.spots()
	from := m.spotIndex(spots)
	if want.Again {
		from++
	}
	for i := range spots {
		at := spots[(from+i)%len(spots)]
		if strings.Contains(strings.ToLower(at.text), strings.ToLower(want.Text)) {
			return m.selectSpot(at)
		}
	}
	return m.notFound(want)
}

// seekOnPage scrolls the page of a vessel to a text: to an entry of its log, a
// step of its plan.
func (m Model) seekOnPage(want intent.Seek) Model {
	page, found := m.page.Seek(want.Text, want.Again)
	if !found {
		return m.notFound(want)
	}
	m.page = page
	return m
}

func (m Model) notFound(want intent.Seek) Model {
	err := fmt.Errorf("nothing here is called %q", want.Text)
	if m.line == nil {
		m.message = no("%s", err)
		return m
	}
	m.line = m.line.Fail(err)
	return m
}

func (m Model) selectSpot(s spot) Model {
	if s.step != "" {
		m.board = m.board.SelectTask(s.subject, s.step, s.occurrence)
	}
	if s.step == "" || m.board.Vessel() != s.subject { // a task that has no room is found in its vessel
		m.board = m.board.Select(s.subject)
	}
	return m
}

// spotIndex is where the selection stands among the spots.
func (m Model) spotIndex(spots []spot) int {
	line, has := m.board.Task()
	for i, s := range spots {
		if has && s.subject == line.Subject && s.step == line.Task.Step && s.occurrence == line.Task.Occurrence {
			return i
		}
	}
	for i, s := range spots {
		if s.subject == m.board.Vessel() {
			return i
		}
	}
	return 0
}
