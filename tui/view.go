package tui

import (
	"cmp"
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// View draws the screen; before there is a size there is nothing to draw.
func (m Model) View() string {
	switch {
	case m.width <= 0 || m.height <= 0:
		return ""
	case m.snapshot.At.IsZero() && m.busy: // nothing has been read yet
		return widget.Fill([]string{"", " Reading the cellar …"}, "", m.width, m.height)
	case m.help && layout.Fits(m.width, m.height):
		return m.helpView()
	}
	return m.screenView()
}

// screenView returns the screen in sight. A line that is open, or a long message, takes
// the rows over its footer, where that leaves it enough; else the board is shown
// with it.
func (m Model) screenView() string {
	s, f, below := m.current(), m.frame(), m.below()
	f.Footer = m.footer()
	if len(below) == 0 {
		return s.View(f)
	}
	if _, has := s.(screen.Lined); !has {
		height := m.height - len(below) - 2
		if layout.Fits(m.width, height+1) {
			f.Height = height + 1 // its footer is not shown
			rows := append(strings.Split(s.View(f), "\n")[:height], "")
			return widget.Fill(append(rows, below...), strings.Repeat(" ", f.Page().Margin)+m.footer(), m.width, m.height)
		}
		s = m.screens[OnBoard]
	}
	f.Below = below
	return s.View(f)
}

// below returns what stands in place of the vessels: the open line, else a message
// that is too long for the last row.
func (m Model) below() []string {
	switch {
	case m.line != nil && m.lacks != "":
		return slices.Insert(m.line.Rows(m.look()), 2, m.look().Said(words.No, m.lacks)...)
	case m.line != nil:
		return m.line.Rows(m.look())
	case m.message.long(m):
		return m.look().Said(m.message.word, m.message.text)
	}
	return nil
}

func (m Model) look() entry.Look {
	return entry.Look{Theme: m.theme, Width: m.width, Height: m.height,
		Keep: m.keyName(intent.Keep), Back: m.keyName(intent.Back), Instead: m.keyName(intent.Instead), Guess: m.keyName(intent.Guess)}
}

// keyName returns the key of an action as it stands on the keyboard.
func (m Model) keyName(a intent.Action) string {
	k, _ := m.keys.Of(a)
	return k.Binding.Help().Key
}

// footer returns the last row: a message, the grammar of the line, or the keys.
func (m Model) footer() string {
	w := layout.PageOf(m.width).Width
	switch {
	case m.message != message{} && !(m.line == nil && m.message.long(m)):
		return m.message.row(m, w)
	case m.line != nil:
		return m.line.Footer(m.look())
	}
	return widget.KeyRow(m.theme, m.footerKeys(), w)
}

// long tells whether a message has more to say than the last row has room for.
func (msg message) long(m Model) bool {
	room := layout.Width(msg.text) + layout.Width(msg.right) + 20
	return msg.word == words.No && layout.Width(msg.row(m, room)) > layout.PageOf(m.width).Width
}

func (msg message) row(m Model, w int) string {
	text := msg.text
	if msg.word != "" {
		text = widget.Word(m.theme, msg.word) + ": " + text
	}
	if more := text + msg.more; layout.Width(more)+layout.Width(msg.right)+2 <= w {
		text = more
	}
	return widget.Ends(text, msg.right, w)
}

// footerKeys returns the keys of the place, or those that the screen names for now, each
// as it works there.
func (m Model) footerKeys() []widget.Key {
	rows := m.keys.At(m.place())
	if s, is := m.current().(screen.Named); is {
		if actions := s.Names(m.frame()); actions != nil {
			rows = nil
			for _, a := range actions {
				k, _ := m.keys.Of(a)
				rows = append(rows, k)
			}
		}
	}
	var keys []widget.Key
	for _, k := range rows {
		help := k.Binding.Help()
		if word := cmp.Or(m.current().Word(k.Action), help.Desc); word != screen.Unnamed && help.Key != "" {
			keys = append(keys, widget.Key{Key: help.Key, Does: word})
		}
	}
	return keys
}
