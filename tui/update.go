package tui

import (
	"slices"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/tui/guard"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// stage handles a message and reports whether that was all.
type stage func(Model, tea.Msg) (Model, tea.Cmd, bool)

// stages are in the order in which they see a message: the open line before all other keys.
var stages []stage

func init() { stages = []stage{sizes, answers, roomless, typing, everywhere, toScreen} }

func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if key, ok := msg.(tea.KeyMsg); ok {
		return m.strokes(strokesOf(key))
	}
	return m.through(msg)
}

// through sends a message through the stages until one has dealt with it.
func (m Model) through(msg tea.Msg) (Model, tea.Cmd) {
	for _, s := range stages {
		var cmd tea.Cmd
		var done bool
		if m, cmd, done = s(m, msg); done {
			return m, cmd
		}
	}
	return m, nil
}

// strokes handles keys one by one; while something is written they wait.
func (m Model) strokes(strokes []intent.Stroke) (Model, tea.Cmd) {
	var cmds []tea.Cmd
	for i := 0; i < len(strokes); i++ {
		if m.busy {
			m.waiting = append(m.waiting[:len(m.waiting):len(m.waiting)], strokes[i:]...) // never into the array of an older model
			break
		}
		if text, ok := joined(strokes[i:]); ok && m.isTyping() && len(strokes)-i > 1 {
			strokes = append(strokes[:i:i], text) // letters that came together are one text
		}
		var cmd tea.Cmd
		m, cmd = m.stroke(strokes[i])
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// stroke handles one key. Undo brings back a line that the key before closed.
func (m Model) stroke(s intent.Stroke) (Model, tea.Cmd) {
	dropped, undo := m.dropped, false
	if k, ok := m.keys.Of(intent.Undo); ok {
		undo = slices.Contains(k.Binding.Keys(), s.Name)
	}
	m.message, m.dropped, m.lacks, m.named = message{}, nil, "", m.named && undo
	if dropped != nil && undo && m.line == nil && m.frame().Fits() {
		m.line = dropped.Show(m.snapshot)
		return m, nil
	}
	if s.Pasted && (s.Text == guard.TooMuch || utf8.RuneCountInString(s.Text) > widget.Longest) {
		m.message = no("too much was pasted, nothing of it was taken: at most %d letters a line", widget.Longest)
		return m, nil
	}
	return m.through(s)
}

// free takes up the keys that came while something was written.
func (m Model) free() (Model, tea.Cmd) {
	strokes := m.waiting
	m.busy, m.waiting = false, nil
	if len(strokes) == 0 {
		return m, nil
	}
	return m.strokes(strokes)
}

func sizes(m Model, msg tea.Msg) (Model, tea.Cmd, bool) {
	size, ok := msg.(tea.WindowSizeMsg)
	if !ok {
		return m, nil, false
	}
	m.width, m.height = size.Width, size.Height
	return m.showAll(), nil, true
}

// roomless is the third stage: on a terminal too small to show what a key does, only leaving and the shell work.
func roomless(m Model, msg tea.Msg) (Model, tea.Cmd, bool) {
	s, ok := msg.(intent.Stroke)
	if !ok || m.width == 0 || m.frame().Fits() {
		return m, nil, false
	}
	switch a, _ := m.keys.Action(OnBoard, s); a {
	case intent.Leave, intent.Abort:
		m, cmd := m.abort()
		return m, cmd, true
	case intent.Suspend:
		return m, tea.Suspend, true
	}
	return m, nil, true
}

// typing is the fourth stage: the open line, or the screen being filled in.
func typing(m Model, msg tea.Msg) (Model, tea.Cmd, bool) {
	s, ok := msg.(intent.Stroke)
	if !ok {
		return m, nil, false
	}
	if other, types := m.typesOn(s); types && !m.help {
		m.leaving = false
		next, cmd := m.answered(other.Press(m.frame(), s))
		return next, cmd, true
	}
	if m.line == nil {
		return m, nil, false
	}
	a, _ := m.keys.Action(m.place(), s)
	if a == intent.Abort || a == intent.Suspend {
		return m, nil, false
	}
	m.leaving = false
	switch a {
	case intent.Back, intent.Keep, intent.Instead, intent.Guess:
		m, cmd := m.asked(m.line.Do(a))
		return m, cmd, true
	}
	m, cmd := m.asked(m.line.Press(s))
	return m, cmd, true
}

// everywhere is the fifth stage: keys that do the same everywhere, and the help.
func everywhere(m Model, msg tea.Msg) (Model, tea.Cmd, bool) {
	s, ok := msg.(intent.Stroke)
	if !ok {
		return m, nil, false
	}
	a, _ := m.keys.Action(m.place(), s)
	if m.help {
		var taken bool
		if m, taken = m.inHelp(a); taken {
			return m, nil, true
		}
	}
	if a != intent.Leave && a != intent.Abort {
		m.leaving = false
	}
	do, ok := global[a]
	if !ok {
		return m, nil, false
	}
	next, cmd := do(m)
	return next, cmd, true
}

// toScreen is the last stage: the screen in sight does what the key means.
func toScreen(m Model, msg tea.Msg) (Model, tea.Cmd, bool) {
	if mouse, is := msg.(tea.MouseMsg); is {
		next, cmd := m.pointer(mouse)
		return next, cmd, true
	}
	s, ok := msg.(intent.Stroke)
	if !ok {
		return m, nil, true
	}
	a, known := m.keys.Action(m.place(), s)
	switch {
	case !known && s.Name != "" && m.have:
		m.message = say("%s does nothing here; %s lists the keys", keyName(s.Name), m.keyName(intent.Help))
		return m, nil, true
	case !known || !m.have:
		return m, nil, true
	}
	next, cmd := m.ask(a)
	return next, cmd, true
}

// strokesOf splits a message with several keys; a paste is one stroke.
func strokesOf(msg tea.KeyMsg) []intent.Stroke {
	switch {
	case msg.Paste:
		return []intent.Stroke{{Text: string(msg.Runes), Pasted: true}}
	case msg.Type == tea.KeySpace:
		return []intent.Stroke{{Name: "space", Text: " "}}
	case msg.Type != tea.KeyRunes || msg.Alt:
		return []intent.Stroke{{Name: msg.String()}}
	}
	var strokes []intent.Stroke
	for _, r := range msg.Runes {
		s := intent.Stroke{Name: string(r), Text: string(r)}
		if r == ' ' {
			s.Name = "space"
		}
		strokes = append(strokes, s)
	}
	return strokes
}

func joined(strokes []intent.Stroke) (intent.Stroke, bool) {
	text := ""
	for _, s := range strokes {
		if s.Text == "" || s.Pasted {
			return intent.Stroke{}, false
		}
		text += s.Text
	}
	return intent.Stroke{Text: text}, true
}
