// Package tui is the board as a running program: keys, intents, commands, one snapshot.
package tui

import (
	"errors"
	"fmt"
	"io"
	"os/exec"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

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
	dropped entry.Line // was closed by the last key; nil for none
	lacks   string     // why the open line cannot be kept
	sought  string     // what was looked for last

	help    bool
	helpTop int

	message message
	drafts  []intent.Draft
	busy    bool            // something is being written; keys wait
	waiting []intent.Stroke // the keys that wait
	leaving bool            // was asked once whether to leave what is typed
	began   time.Time       // when the first snapshot was there
	named   bool            // the last key named what an earlier run wrote, which undo takes back
	ended   *ended          // the program ends
}

// New returns the program before its first message.
func New(o Options) Model {
	return Model{
		options: o.filled(), keys: DefaultKeys(), theme: theme.New("auto", o.Background, o.Profile), at: OnBoard,
		screens: map[Place]screen.Screen{OnBoard: board.New(), OnBench: bench.New(), OnProblems: problems.New(), OnShelf: bottles.New(), OnHoney: honey.New()},
		drafts:  o.Drafts, request: 1, busy: true,
	}
}

func (m Model) Init() tea.Cmd {
	o, r := m.options, request{number: m.request}
	first := o.guarded(func() tea.Msg { return o.search(r) })
	return tea.Batch(first, o.poll(), o.listen())
}

func (m Model) reopen(asked asking) (Model, tea.Cmd) {
	m, r := m.asks()
	o := m.options
	return m, o.guarded(func() tea.Msg {
		look := o.search
		if asked == byItself {
			look = o.open
		}
		answer := look(r)
		answer.asked = asked == byKey
		return answer
	})
}

func (m Model) asks() (Model, request) {
	m.request++
	return m, request{m.request, m.at&wide != 0}
}

type asking int

const (
	byItself asking = iota
	byChange        // somebody else has written
	byKey
)

// Options is everything that the board has from outside.
type Options struct {
	App        *app.App
	Cellar     string // its folder, in full
	Clock      func() time.Time
	Theme      string // of this terminal; empty for that of the cellar
	Background theme.Background
	Profile    termenv.Profile

	// Editor opens a file of the cellar at a line; nil where there is none.
	Editor func(file string, line int) *exec.Cmd
	// Drafts are lines that an earlier run left; Keep keeps those of this one. Nil keeps nothing.
	Drafts []intent.Draft
	Keep   func([]intent.Draft) error
	// Trouble keeps the stack of something that went wrong inside and says where.
	Trouble func(stack string) (file string, err error)
	// Leave ends the board when it is closed: told to stop, or its terminal is gone.
	Leave <-chan struct{}

	// wait gives a message after a time; tests put in one that does not.
	wait func(time.Duration, func() tea.Msg) tea.Cmd
}

func (o Options) filled() Options {
	if o.wait == nil {
		o.wait = func(d time.Duration, msg func() tea.Msg) tea.Cmd {
			return tea.Tick(d, func(time.Time) tea.Msg { return msg() })
		}
	}
	return o
}

// Run shows the board until it is left, and leaves the screen whole, whatever went wrong.
func Run(o Options, in io.Reader, out io.Writer) error {
	program := tea.NewProgram(sheltered{model: New(o)}, tea.WithInput(in), tea.WithOutput(out),
		tea.WithAltScreen(), tea.WithoutSignalHandler())
	last, err := program.Run()
	s, _ := last.(sheltered)
	end := s.model.ended
	if end == nil { // without being asked, e.g. as the terminal is gone
		drafts := s.model.lost()
		end = &ended{drafts, o.keep(drafts)}
	}
	switch {
	case s.trouble != nil:
		err = fmt.Errorf("the board stopped, %v%s", s.trouble.what, inFile(s.trouble.file))
	case errors.Is(err, tea.ErrProgramKilled) && errors.Is(err, io.EOF):
		err = nil // the terminal is gone
	}
	return errors.Join(err, end.unkept(o.Drafts))
}

// sheltered catches what goes wrong inside, so that what was typed is kept.
type sheltered struct {
	model   Model
	trouble *failed
}

func (s sheltered) Init() tea.Cmd { return s.model.Init() }

func (s sheltered) Update(msg tea.Msg) (next tea.Model, cmd tea.Cmd) {
	defer func() {
		if what := recover(); what != nil {
			f := s.model.options.troubled(what)
			s.trouble = &f
			next, cmd = s, s.model.options.leave(s.model.lost())
		}
	}()
	if s.trouble != nil {
		return s, tea.Quit
	}
	m, cmd := s.model.Update(msg)
	s.model = m.(Model)
	return s, cmd
}

func (s sheltered) View() (view string) {
	defer func() {
		if what := recover(); what != nil {
			view = fmt.Sprintf("the screen cannot be drawn, %v; %s leaves", what, s.model.keyName("abort"))
		}
	}()
	if s.trouble != nil {
		return ""
	}
	return s.model.View()
}
