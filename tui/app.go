// Package tui is the board as a running program: it turns keys into intents,
// intents into commands, and what they answer into one snapshot that the
// screens draw. No screen writes, reads a clock, or knows another.
package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/bench"
	"cellar/jugkeeper/tui/board"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/honey"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/problems"
	"cellar/jugkeeper/tui/screen"
	bottles "cellar/jugkeeper/tui/shelf"
	"cellar/jugkeeper/tui/theme"
)

// Model is the whole program between two messages.
type Model struct {
	options       Options
	keys          Keys
	theme         theme.Theme
	settings      ferment.Settings
	width, height int

	snapshot app.Snapshot // the last good one
	visible  app.Snapshot // the same without what is put off
	words    words.Sheet
	files    screen.Files
	have     bool // there is a snapshot
	request  int  // the latest that was made
	shown    int  // the request whose answer is on the screen

	at      Place   // the screen in sight
	trail   []Place // the screens that it was opened from
	screens map[Place]screen.Screen
	marked  []string   // the vessels to lay side by side
	line    entry.Line // nil while none is open
	sought  string     // what was looked for last

	help    bool
	helpTop int

	message message
	drafts  []intent.Draft
	putOff  putOffs
	busy    bool            // something is being written; keys wait
	waiting []intent.Stroke // the keys that wait
	leaving bool            // was asked once whether to leave what is typed
}

// New is the program before its first message.
func New(o Options) Model {
	return Model{
		options: o.filled(), keys: DefaultKeys(), theme: theme.New("auto", o.Background, o.Profile), at: OnBoard,
		screens: map[Place]screen.Screen{OnBoard: board.New(), OnBench: bench.New(), OnMend: problems.New(), OnShelf: bottles.New(), OnStore: honey.New()},
		drafts:  o.Drafts, putOff: putOffs{}, request: 1, busy: true,
	}
}

// Init reads the cellar, and begins to look at the clock.
func (m Model) Init() tea.Cmd {
	o, r := m.options, request{number: m.request}
	first := o.guarded(func() tea.Msg { return o.search(r) })
	return tea.Batch(first, o.poll(), o.listen())
}

// reopen asks for a fresh snapshot.
func (m Model) reopen(asked asking) (Model, tea.Cmd) {
	m, r := m.asks()
	o := m.options
	return m, o.guarded(func() tea.Msg {
		answer := opened{}
		if asked == byItself {
			answer = o.open(r)
		} else {
			answer = o.search(r)
		}
		answer.asked = asked == byKey
		return answer
	})
}

// asks is the next request: for what the screen in sight shows.
func (m Model) asks() (Model, request) {
	m.request++
	return m, request{m.request, m.at&wide != 0}
}

// asking is who wants the cellar read again.
type asking int

const (
	byItself asking = iota
	byChange        // somebody else has written
	byKey
)
