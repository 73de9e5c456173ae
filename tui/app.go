// Package tui is the interactive program: it turns keys into intents, performs them through schedule/app, and draws its
// screens from one snapshot. Start at Model.Update.
package tui

import (
	"errors"
	"fmt"
	"io"
	"os/exec"
	"slices"
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

// Model is the state of the program.
type Model struct {
	options       Options
	keys          Keys
	theme         theme.Theme
	settings      ferment.Settings
	width, height int

	snapshot app.Snapshot // the last good one
	visible  app.Snapshot // without postponed tasks
	words    words.Sheet
	files    screen.Files
	have     bool // there is a snapshot
	request  int  // number of the latest request
	shown    int  // request whose reply is shown

	at      Place   // the screen shown
	trail   []Place // the screens to go back to
	screens map[Place]screen.Screen
	marked  []string   // the vessels to compare
	line    entry.Line // nil while none is open
	dropped entry.Line // closed by the last key; nil for none
	lacks   string     // why the open line cannot be kept
	sought  string     // the last searched text

	help    bool
	helpTop int

	message message
	drafts  []intent.Draft
	stored  []intent.Draft  // in case the program is killed
	busy    bool            // something is being written; keys wait
	waiting []intent.Stroke // the keys that wait
	leaving bool            // was asked whether to leave what is typed
	began   time.Time       // time of the first snapshot
	named   bool            // the last key named what an earlier run wrote, which undo takes back
	ended   *ended          // set when the program ends
}

// New returns the program in its first state.
func New(o Options) Model {
	return Model{
		options: o.filled(), keys: DefaultKeys(), theme: theme.New("auto", o.Background, o.Profile), at: OnBoard,
		screens: map[Place]screen.Screen{OnBoard: board.New(), OnBench: bench.Model{}, OnProblems: problems.Model{}, OnShelf: bottles.Model{}, OnHoney: honey.Model{}},
		drafts:  o.Drafts, stored: o.Drafts, request: 1, busy: true,
	}
}

func (m Model) Init() tea.Cmd {
	o, r := m.options, request{number: m.request}
	first := o.guarded(func() tea.Msg { return o.search(r) })
	return tea.Batch(first, o.poll(), o.listen())
}

// reopen reads the cellar again, beside the board.
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

// asks returns the next request: for what the screen in sight shows, and those that it was opened from.
func (m Model) asks() (Model, request) {
	m.request++
	whole := slices.ContainsFunc(append(m.trail[:len(m.trail):len(m.trail)], m.at), func(p Place) bool { return p&wide != 0 })
	return m, request{m.request, whole}
}

type asking int

const (
	byItself asking = iota
	byChange        // somebody else has written
	byKey
)

// Options is everything that the board gets from outside.
type Options struct {
	App        *app.App
	Cellar     string // its folder, in full
	Clock      func() time.Time
	Background theme.Background
	Profile    termenv.Profile

	// Editor returns a command that opens a file of the cellar at a line; nil if there is no editor.
	Editor func(file string, line int) *exec.Cmd
	// Drafts are lines left by an earlier run; Keep stores those of this one. Without it they are lost.
	Drafts []intent.Draft
	Keep   func([]intent.Draft) error
	// Trouble stores the stack of a panic and returns the file.
	Trouble func(stack string) (file string, err error)
	// Leave is closed when the board must end: by a signal, or because its terminal is gone.
	Leave <-chan struct{}

	// wait returns a command that sends a message after a time; tests replace it.
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

// Run shows the board until it is left, and restores the terminal, whatever went wrong.
func Run(o Options, in io.Reader, out io.Writer) error {
	program := tea.NewProgram(sheltered{model: New(o)}, tea.WithInput(in), tea.WithOutput(out),
		tea.WithAltScreen(), tea.WithoutSignalHandler())
	last, err := program.Run()
	s, _ := last.(sheltered)
	end := s.model.ended
	if end == nil { // without being asked, for example because the terminal is gone
		drafts := s.model.draftsToKeep()
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

// sheltered recovers from panics, so that what was typed is kept.
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
			next, cmd = s, s.model.options.leave(s.model.draftsToKeep())
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
