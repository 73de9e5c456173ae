package tui

import (
	"errors"
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
)

// Commands capture only values and return a message with their error.

// request is a numbered request to read the cellar, with or without closed ferments.
type request struct {
	number int
	whole  bool
}

// open reads the cellar as a request wants it.
func (o Options) open(r request) opened {
	look := o.App.Open
	if r.whole {
		look = o.App.OpenWhole
	}
	s, err := look(o.Clock())
	return opened{request: r, snapshot: s, err: err}
}

// search is like open, and also looks for lost entries: at first, and after others wrote.
func (o Options) search(r request) opened {
	answer := o.open(r)
	if answer.err == nil {
		answer.lost, _ = o.App.Lost(o.Clock()) // check reports an unreadable record
	}
	return answer
}

func (o Options) check() tea.Cmd {
	return o.guarded(func() tea.Msg {
		problems, remarks, err := o.App.Check(o.Clock())
		return checked{problems, remarks, err}
	})
}

func (o Options) leaveOut(r request, l ferment.Lost) tea.Cmd {
	return o.guarded(func() tea.Msg {
		if err := o.App.LeaveOut(l); err != nil {
			return unkept{err}
		}
		return o.search(r)
	})
}

func (o Options) write(r request, do func(now time.Time) (app.Kept, error)) tea.Cmd {
	return o.guarded(func() tea.Msg {
		kept, err := do(o.Clock())
		return written{kept, err, o.open(r)}
	})
}

func (o Options) undo(r request, since time.Time) tea.Cmd {
	return o.guarded(func() tea.Msg {
		receipts, err := o.App.Undo(since)
		return takenBack{receipts, o.App.UndoCount(), err, o.open(r)}
	})
}

// poll asks once a second whether the minute or a file changed.
func (o Options) poll() tea.Cmd {
	return o.guarded(func() tea.Msg {
		wait := o.wait(time.Second, func() tea.Msg { return ticked{o.Clock(), o.App.Changed()} })
		if wait == nil {
			return nil
		}
		return wait()
	})
}

// listen waits until the program is told to stop.
func (o Options) listen() tea.Cmd {
	if o.Leave == nil {
		return nil
	}
	leave := o.Leave
	return func() tea.Msg {
		<-leave
		return told{}
	}
}

// leave stores drafts and ends, even if they could not be stored.
func (o Options) leave(drafts []intent.Draft) tea.Cmd {
	return o.guarded(func() tea.Msg { return ended{drafts, o.keep(drafts)} })
}

// keep stores drafts for the next run. It gives up after a second.
func (o Options) keep(drafts []intent.Draft) error {
	if o.Keep == nil {
		return nil
	}
	done := make(chan error, 1)
	go func() { done <- o.Keep(drafts) }()
	select {
	case err := <-done:
		return err
	case <-time.After(time.Second):
		return errors.New("the folder for it does not answer")
	}
}

// ended is the end of the program, and why drafts could not be stored.
type ended struct {
	drafts []intent.Draft
	err    error
}

// unkept returns the error of a program that ended, with every draft that was not stored.
func (e ended) unkept(before []intent.Draft) error {
	texts := []string{}
	for _, d := range e.drafts {
		if e.err != nil && d.Text != "" && !slices.Contains(before, d) {
			texts = append(texts, strings.Join(strings.Fields(d.Subject+" "+d.Text), " "))
		}
	}
	if len(texts) == 0 {
		return nil
	}
	return fmt.Errorf("what was typed is not kept, %w:\n%s", e.err, strings.Join(texts, "\n"))
}

// unkept is the error for an entry that could not be dismissed.
type unkept struct{ err error }

// guarded turns a panic into a message, with the stack in a file.
func (o Options) guarded(run func() tea.Msg) tea.Cmd {
	return func() (msg tea.Msg) {
		defer func() {
			if what := recover(); what != nil {
				msg = o.troubled(what)
			}
		}()
		return run()
	}
}

// troubled keeps the stack of a panic.
func (o Options) troubled(what any) failed {
	f := failed{what: what, stack: string(debug.Stack())}
	if o.Trouble != nil {
		if file, err := o.Trouble(f.stack); err == nil {
			f.file = file
		}
	}
	return f
}

type opened struct {
	request  request
	snapshot app.Snapshot
	err      error
	asked    bool           // by a key, so it is reported
	lost     []ferment.Lost // entries that an outside edit has lost
}

type written struct {
	kept   app.Kept
	err    error
	reopen opened
}

type takenBack struct {
	receipts []ferment.Receipt
	more     int // writes that can still be undone
	err      error
	reopen   opened
}

type checked struct {
	problems, remarks []ferment.Problem
	err               error
}

type ticked struct {
	now     time.Time
	changed bool // a file has changed
}

type edited struct{ err error }

type failed struct {
	what  any
	stack string
	file  string // file with the stack
}

type told struct{}
