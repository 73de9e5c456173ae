package tui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/vessel"
)

// openLine opens a line. A draft of an earlier run for it is offered first.
func (m Model) openLine(l entry.Line) Model {
	m.line = l
	d := m.ofNow(l.Draft())
	for _, left := range m.drafts {
		if left.Same(d) {
			m.line = entry.NewEarlier(m.snapshot, left)
		}
	}
	return m
}

// dropLine closes the line. The next key can bring back what was typed.
func (m Model) dropLine() Model {
	if d := m.line.Draft(); d.Text != "" {
		m.dropped = m.line
		m.message = say("not kept: %s %s", m.labelOf(d.Subject), d.Text)
		m.message.right = m.keyName(intent.Undo) + " brings it back"
	}
	m.line = nil
	return m
}

// offerEarlier offers the first draft of an earlier run, if nothing else is open.
func (m Model) offerEarlier() Model {
	if m.line != nil || m.help || m.at != OnBoard {
		return m
	}
	for _, d := range m.drafts {
		if d.Cellar == m.options.Cellar && entry.IsLine(d.Kind) {
			m.line = entry.NewEarlier(m.snapshot, d)
			return m
		}
	}
	return m
}

// takeUp opens the line of a draft again.
func (m Model) takeUp(d intent.Draft) Model {
	l, err := entry.TakeUp(m.snapshot, d)
	if err != nil {
		m.lacks = err.Error()
		return m
	}
	m.drafts, m.line = without(m.drafts, d), l
	return m
}

// draftsToKeep returns the drafts to keep when the board is left.
func (m Model) draftsToKeep() []intent.Draft {
	drafts := slices.DeleteFunc(slices.Clone(m.drafts), func(d intent.Draft) bool { return d.Kind == intent.Postponed && !m.snapshot.At.Before(d.Typed) })
	var d intent.Draft
	if s, is := m.filledIn(); m.line != nil {
		d = m.ofNow(m.line.Draft())
	} else if is {
		d = m.ofNow(s.Draft())
	}
	if drafts = without(drafts, d); d.Text != "" {
		drafts = append(drafts, d)
	}
	return drafts
}

// ofNow returns a draft of this cellar, dated now unless it has a time or was stored as it is.
func (m Model) ofNow(d intent.Draft) intent.Draft {
	d.Cellar = m.options.Cellar
	if i := slices.IndexFunc(m.stored, d.Same); i >= 0 && d.Text == m.stored[i].Text {
		d.Typed = m.stored[i].Typed
	} else if d.Typed.IsZero() {
		d.Typed = m.snapshot.At
	}
	return d
}

func without(drafts []intent.Draft, d intent.Draft) []intent.Draft {
	return slices.DeleteFunc(slices.Clone(drafts), d.Same)
}

// asked opens a line, and does what it wants at once.
func (m Model) asked(l entry.Line, want intent.Intent) (Model, tea.Cmd) {
	m.line = l
	if want == nil {
		return m, nil
	}
	return m.perform(want)
}

func (m Model) perform(want intent.Intent) (Model, tea.Cmd) {
	d := m.options.App
	switch want := want.(type) {
	case intent.Act:
		return m.act(want.Action)
	case intent.Close:
		if m.line == nil {
			m.drafts = m.draftsToKeep() // what was typed is offered again
			return m.drop(), nil
		}
		return m.dropLine(), nil
	case intent.TakeUp:
		return m.takeUp(want.Draft), nil
	case intent.Drop:
		m.drafts = without(m.drafts, want.Draft)
		return m.dropLine().offerEarlier(), nil // the next key can bring it back
	case intent.Apply:
		return m.write(func(now time.Time) (app.Kept, error) { return d.Apply(now, want.Change) })
	case intent.Fill:
		return m.openForm(want)
	case intent.StartTask:
		v, t, ok := m.findTask(want.Task)
		if !ok {
			return m.noTask(), nil
		}
		return m.attend(v, t)
	case intent.Taste:
		return m.openTasting(want), nil
	case intent.Type:
		return m.typed(want)
	case intent.OpenPage:
		return m.openScreen(OnVessel, vessel.New(want.Subject)), nil
	case intent.OpenEditor:
		return m.edit()
	case intent.Strike:
		if v, _ := m.snapshot.Find(want.Subject); want.Because == "" {
			return m.openLine(entry.NewStrike(m.snapshot, v, want.Entry)), nil
		}
		return m.write(func(now time.Time) (app.Kept, error) { return d.Strike(now, want.Subject, want.Entry, want.Because) })
	case intent.Correct:
		if want.Line == "" {
			return m.correct(want)
		}
		return m.write(func(now time.Time) (app.Kept, error) {
			return d.Correct(now, want.Subject, want.Entry, want.Line, want.Because)
		})
	case intent.Explain:
		m.lacks = want.Text
		return m, nil
	case intent.Say:
		m.message = say("%s", want.Text)
		return m, nil
	case intent.Seek:
		return m.seek(want), nil
	case intent.Log:
		return m.write(m.log(want))
	case intent.Settle:
		return m.write(m.settled(want))
	case intent.SkipTask:
		return m.write(func(now time.Time) (app.Kept, error) {
			return d.Skip(now, []string{want.Task.Subject}, app.Wish{Step: want.Task.Step, Typed: app.Typed{Because: want.Because}})
		})
	case intent.PutBack:
		return m.write(func(now time.Time) (app.Kept, error) { return d.PutBack(now, want.Lost) })
	case intent.LeaveOut:
		m.line = nil
		m, r := m.asks()
		return m, m.options.leaveOut(r, want.Lost)
	}
	return m, nil
}

// correct opens the line for the correction of an entry.
func (m Model) correct(want intent.Correct) (Model, tea.Cmd) {
	v, _ := m.snapshot.Find(want.Subject)
	l, can := entry.NewCorrection(m.snapshot, v, want.Entry)
	if !can {
		m.message = no("a line cannot say all of this entry: %s opens it in the editor", m.keyName(intent.Edit))
		return m, nil
	}
	return m.openLine(l), nil
}

// typed opens the entry line with a text in it.
func (m Model) typed(want intent.Type) (Model, tea.Cmd) {
	v, ok := m.snapshot.Find(want.Subject)
	if !ok {
		return m, nil
	}
	m.line = entry.NewReading(m.snapshot, v)
	return m.asked(m.line.Press(intent.Stroke{Text: want.Text, Pasted: true}))
}

type writing func(now time.Time) (app.Kept, error)

func (m Model) write(do writing) (Model, tea.Cmd) {
	if do == nil {
		m.message = no("the task is not there any more")
		return m, nil
	}
	m, r := m.asks()
	m.busy = true
	return m, m.options.write(r, do)
}

func (m Model) log(want intent.Log) writing {
	d, settings := m.options.App, m.snapshot.Cellar.Settings
	return func(now time.Time) (app.Kept, error) {
		line, err := app.Typed{Line: want.Line}.Read(settings, now)
		if err != nil {
			return app.Kept{}, err
		}
		return d.Log(now, want.Subjects, line.Entry)
	}
}

// settled returns the writing that settles tasks; nil if the first of them is gone.
func (m Model) settled(want intent.Settle) writing {
	if _, _, ok := m.findTask(want.Tasks[0]); !ok {
		return nil
	}
	d, typed := m.options.App, app.Typed{Line: want.Line, Because: want.Because}
	subjects := ferment.Map(want.Tasks, func(t intent.Task) string { return t.Subject })
	return func(now time.Time) (app.Kept, error) {
		return d.Done(now, subjects, app.Wish{Step: want.Tasks[0].Step, Typed: typed})
	}
}

// leave goes one screen back, and from the board ends the program.
func (m Model) leave() (Model, tea.Cmd) {
	if m.at != OnBoard {
		return m.back(), nil
	}
	return m.abort()
}

// abort ends the program from anywhere, after asking once if something typed would be lost.
func (m Model) abort() (Model, tea.Cmd) {
	drafts := m.draftsToKeep()
	i := slices.IndexFunc(drafts, func(d intent.Draft) bool { return d.Kind != intent.Postponed && !slices.Contains(m.options.Drafts, d) })
	if i < 0 || m.leaving {
		return m, m.options.leave(drafts)
	}
	m.leaving = true
	m.message = say("%s and not kept: the same key again leaves it", m.typedIn(drafts[i]))
	return m, nil
}

func (m Model) typedIn(d intent.Draft) string {
	label := m.labelOf(d.Subject)
	if d.Kind != "form" {
		return fmt.Sprintf("%s %q is typed", label, strings.TrimSpace(d.Text))
	}
	return strings.Join(strings.Fields("the form "+d.Step+" "+label+" is filled in"), " ")
}

func (m Model) labelOf(subject string) string {
	if v, ok := m.snapshot.Find(subject); ok {
		return v.Label()
	}
	return subject
}
