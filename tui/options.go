package tui

import (
	"os/exec"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/theme"
)

// Options is everything that the board has from outside.
type Options struct {
	App        *app.App
	Clock      func() time.Time
	Background theme.Background
	Profile    termenv.Profile

	// Editor is the command that opens a file of the cellar at a line; nil where
	// there is none.
	Editor func(file string, line int) *exec.Cmd
	// Drafts are lines that an earlier run left, to be offered again; Keep keeps
	// those that this one leaves. Nil keeps nothing.
	Drafts []intent.Draft
	Keep   func([]intent.Draft) error
	// Trouble keeps the stack of something that went wrong inside and says where.
	Trouble func(stack string) (file string, err error)
	// Leave ends the board from outside when it is closed: the program was told
	// to stop, or its terminal is gone.
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
