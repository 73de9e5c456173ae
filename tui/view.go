package tui

import (
	"cmp"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
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
	case m.help && layout.Fits(m.width, m.height):
		return m.helpView()
	}
	return m.screenView()
}

// screenView is the screen in sight.
func (m Model) screenView() string {
	if other, is := m.other(); is {
		return m.otherView(other)
	}
	if m.at == OnVessel {
		return m.page.SetFoot(m.foot()).Below(m.below()).View()
	}
	return m.boardView()
}

// otherView is a screen besides the board and a page. A line that is open takes
// the rows at its foot, where it leaves it enough; else it stands on the board.
func (m Model) otherView(s screen.Screen) string {
	below := m.below()
	if len(below) == 0 {
		return s.View(m.foot())
	}
	height := m.height - len(below) - 2
	if !layout.Fits(m.width, height+1) {
		return m.boardView()
	}
	rows := strings.Split(s.SetSize(m.width, height+1).View(""), "\n")[:height]
	rows = append(append(rows, ""), below...)
	rows = append(rows, strings.Repeat(" ", layout.PageOf(m.width).Margin)+m.foot())
	for i, r := range rows {
		rows[i] = layout.Cut(r, m.width)
	}
	return strings.Join(rows, "\n")
}

func (m Model) boardView() string {
	b := m.board.SetFoot(m.foot()).SetWays(m.ways())
	if below := m.below(); len(below) > 0 {
		b = b.Below(below)
	}
	return b.View()
}

// ways are what may be pressed while there is no vessel.
func (m Model) ways() []board.Way {
	return []board.Way{
		{Key: m.keyName(intent.New), Does: "a new vessel, by the honey you weighed or the gravity you want"},
		{Key: m.keyName(intent.Store), Does: "note a lot of honey first"},
		{Key: m.keyName(intent.Help), Does: "keys and words"},
	}
}

// below is what stands in place of the vessels: the open line, else a message
// that is too long for the last row.
func (m Model) below() []string {
	switch {
	case m.line != nil:
		return m.line.Rows(m.look())
	case m.message.long(m):
		return m.look().Said(m.message.word, m.message.text)
	}
	return nil
}

func (m Model) look() entry.Look {
	return entry.Look{Theme: m.theme, Width: m.width, Height: m.height,
		Keep: m.keyName(intent.Keep), Back: m.keyName(intent.Back), Instead: m.keyName(intent.Instead)}
}

// keyName is the key of an action as it stands on the keyboard.
func (m Model) keyName(a intent.Action) string {
	k, _ := m.keys.Of(a)
	return k.Binding.Help().Key
}

// foot is the last row: a message, the grammar of the line, or the keys.
func (m Model) foot() string {
	w := layout.PageOf(m.width).Width
	switch {
	case m.message != message{} && !(m.line == nil && m.message.long(m)):
		return m.message.row(m, w)
	case m.line != nil:
		return m.line.Foot(m.look())
	}
	return widget.KeyRow(m.theme, m.footKeys(), w)
}

// long tells whether a message has more to say than the last row has room for.
func (msg message) long(m Model) bool {
	return msg.word == words.No && layout.Width(msg.row(m, msg.room())) > layout.PageOf(m.width).Width
}

func (msg message) room() int { return layout.Width(msg.text) + layout.Width(msg.right) + 20 }

func (msg message) row(m Model, w int) string {
	text := msg.text
	if msg.word != "" {
		text = widget.Word(m.theme, msg.word) + ": " + text
	}
	return widget.Ends(text, msg.right, w)
}

// hidden is the word of a key that a screen does not name at its foot now.
const hidden = "-"

// footKeys are the keys of the place, named as they work there now.
func (m Model) footKeys() []widget.Key {
	var keys []widget.Key
	for _, k := range m.footRows() {
		help := k.Binding.Help()
		if word := m.does(k.Action, help.Desc); word != hidden {
			keys = append(keys, widget.Key{Key: help.Key, Does: word})
		}
	}
	return keys
}

// footRows are the rows of the table that the foot names; an empty board names
// only what can be done there.
func (m Model) footRows() []Key {
	if m.at != OnBoard || len(m.words.Vessels)+len(m.words.Tasks) > 0 {
		return m.keys.At(m.place())
	}
	var rows []Key
	for _, a := range []intent.Action{intent.New, intent.Store, intent.Bench, intent.Guide, intent.Help, intent.Leave} {
		if k, ok := m.keys.Of(a); ok {
			rows = append(rows, k)
		}
	}
	return rows
}

func (m Model) does(a intent.Action, word string) string {
	other, is := m.other()
	switch {
	case is:
		return cmp.Or(other.Word(a), word)
	case a == intent.Side && m.board.Side() == board.Vessels:
		return "to do"
	case a == intent.Back && m.at == OnVessel:
		return "board"
	}
	return word
}
