package tui

import (
	"fmt"

	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

// seek selects the place where a text stands, from the selection on and round.
func (m Model) seek(want intent.Seek) Model {
	if want.Again {
		m = m.closeLine()
	}
	if want.Text == "" {
		return m
	}
	m.sought = want.Text
	if sought, is := m.current().(screen.Sought); is {
		if next, found := sought.Seek(m.frame(), want.Text, want.Again); found {
			return m.with(m.at, next)
		}
	}
	return m.notFound(want)
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
