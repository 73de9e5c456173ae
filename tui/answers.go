package tui

import (
	"errors"
	"fmt"
	"os/exec"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
)

// answers is the second stage: replies of commands, and the clock.
func answers(m Model, msg tea.Msg) (Model, tea.Cmd, bool) {
	switch msg := msg.(type) {
	case opened:
		m, cmd := m.open(msg)
		return m, cmd, true
	case written:
		m, cmd := m.wrote(msg)
		return m, cmd, true
	case takenBack:
		m, cmd := m.undone(msg)
		return m, cmd, true
	case checked:
		m.files = screen.Files{Read: true, Problems: msg.problems, Remarks: msg.remarks, Err: msg.err}
		return m.with(OnProblems, m.screens[OnProblems].Show(m.frame())), nil, true
	case ticked:
		m, cmd := m.tick(msg)
		return m, cmd, true
	case edited:
		if missing := new(exec.Error); errors.As(msg.err, &missing) {
			m.message = no("there is no editor called %s: set VISUAL or EDITOR to one that is there, e.g. EDITOR=nano", missing.Name)
		} else if msg.err != nil {
			m.message = no("the editor: %s", msg.err)
		}
		m, cmd := m.reopen(byChange)
		return m, cmd, true
	case tea.ResumeMsg:
		m, cmd := m.reopen(byItself)
		return m, tea.Batch(cmd, m.mouse()), true
	case failed:
		m.message = no("something went wrong inside: %v%s", msg.what, inFile(msg.file))
		m, cmd := m.free()
		return m, cmd, true
	case unkept:
		m.message = no("it could not be taken out: %s", msg.err)
		return m, nil, true
	case ended:
		m.ended = &msg
		return m, tea.Quit, true
	case told:
		return m, m.options.leave(m.draftsToKeep()), true
	}
	return m, nil, false
}

func inFile(file string) string {
	if file == "" {
		return ""
	}
	return "; the stack is in " + file
}

// open shows what was read. With the first reply keys begin to work.
func (m Model) open(msg opened) (Model, tea.Cmd) {
	first := !m.have
	m, cmd := m.show(msg)
	if !first {
		return m, cmd
	}
	m, more := m.free()
	return m, tea.Batch(cmd, more)
}

// show takes over a snapshot, unless it was requested before the one shown.
func (m Model) show(msg opened) (Model, tea.Cmd) {
	if msg.request.number < m.shown {
		return m, nil
	}
	if msg.err != nil {
		m.message = no("%s", msg.err)
		if m.have { // what was shown stays
			m.message.text += "; what you see is from " + m.snapshot.At.Format("15:04")
		}
		return m, nil
	}
	first := !m.have
	m.shown, m.have, m.snapshot = msg.request.number, true, msg.snapshot
	m = m.set().offer(msg.lost)
	if msg.asked {
		m.message = say("read again, %s", msg.snapshot.At.Format("15:04:05"))
	}
	if first {
		return m.begin()
	}
	if m.at == OnProblems {
		return m, m.options.check()
	}
	return m, nil
}

// set gives the screens the snapshot without postponed tasks, in words.
func (m Model) set() Model {
	m.visible = m.withoutPutOff()
	if chosen := m.visible.Cellar.Settings.Theme; m.settings.Theme != chosen {
		m.theme = theme.New(chosen, m.options.Background, m.options.Profile)
	}
	m.settings, m.words = m.visible.Cellar.Settings, words.Of(m.visible)
	m = m.showAll()
	if m.line != nil {
		m.line = m.line.Show(m.snapshot)
	}
	return m
}

// offer asks about entries that are gone from their files, unless somebody is typing.
func (m Model) offer(lost []ferment.Lost) Model {
	if len(lost) > 0 && m.line == nil && !m.help {
		m.line = entry.NewOffer(m.snapshot, lost)
	}
	return m.offerEarlier()
}

// begin takes over keys and settings of the first snapshot.
func (m Model) begin() (Model, tea.Cmd) {
	m.began = m.snapshot.At
	keys, troubles := DefaultKeys().Remap(m.settings.Keys)
	m.keys = keys
	if len(troubles) > 0 {
		m.message = no("%s", troubles[0])
	}
	return m, m.mouse()
}

func (m Model) mouse() tea.Cmd {
	if m.settings.Mouse {
		return tea.EnableMouseCellMotion
	}
	return nil
}

// wrote reports what was written. What could not be written stays in its line.
func (m Model) wrote(msg written) (Model, tea.Cmd) {
	m, shown := m.show(msg.reopen)
	var refused *app.Refused
	form, filled := m.filledIn()
	filled = filled && m.line == nil
	switch {
	case errors.As(msg.err, &refused):
		m.line = entry.NewRefusal(m.snapshot, *refused, m.line)
	case msg.err != nil && m.line != nil:
		m.lacks = msg.err.Error()
	case msg.err != nil && filled:
		m = m.with(m.at, form.Fail(msg.err))
	case msg.err != nil:
		m.message = no("%s", msg.err)
	default:
		if filled {
			m = m.keptFilled(form)
		}
		asked, _ := m.line.(entry.Questions)
		m.line = nil
		if on, is := m.writtenTo(msg.kept.Receipts); is {
			m = m.lead(intent.Task{Subject: on})
		}
		m = m.offer(msg.reopen.lost)
		m.message = m.keptMessage(msg.kept)
		if next, has := asked.Next(m.snapshot); has {
			m.line = next
		}
	}
	m, cmd := m.free()
	return m, tea.Batch(shown, cmd)
}

// undone answers an undo: what was taken back, or that it was written earlier and needs a second key.
func (m Model) undone(msg takenBack) (Model, tea.Cmd) {
	m, shown := m.show(msg.reopen)
	var earlier *app.Earlier
	switch {
	case errors.Is(msg.err, app.ErrNothingToUndo):
		m.message = say("%s", msg.err)
	case errors.As(msg.err, &earlier):
		m.named = true
		m.message = say("last written, %s: %s", words.When(earlier.At, m.snapshot.At), strings.Join(words.Receipts(m.snapshot, earlier.Receipts), "; "))
		m.message.right = m.keyName(intent.Undo) + " again takes it back"
	case msg.err != nil:
		m.message = no("%s", msg.err)
	default:
		if to, is := m.tookBack(msg.receipts); is {
			m = m.lead(to)
		}
		m.message = m.takenBackMessage(msg)
	}
	m, cmd := m.free()
	return m, tea.Batch(shown, cmd)
}

// tick stores what is typed if that changed, and reads the files again if the minute or a file did.
func (m Model) tick(msg ticked) (Model, tea.Cmd) {
	poll := m.options.poll()
	if drafts, next := m.draftsToKeep(), poll; !m.busy && !slices.Equal(drafts, m.stored) {
		m.stored = drafts
		poll = func() tea.Msg { _ = m.options.keep(drafts); return next() } // an error is told at the end
	}
	minute := "2006-01-02 15:04"
	same := m.have && msg.now.Format(minute) == m.snapshot.At.In(msg.now.Location()).Format(minute)
	if m.busy || same && !msg.changed {
		return m, poll
	}
	asked := byItself
	if msg.changed {
		asked = byChange
	}
	m, cmd := m.reopen(asked)
	return m, tea.Batch(cmd, poll)
}

// message is shown in the last row until the next key.
type message struct {
	word  words.Word
	text  string
	right string
	more  string // after the text, if there is room for all of it
}

func no(format string, args ...any) message {
	return message{word: words.No, text: fmt.Sprintf(format, args...)}
}

func say(format string, args ...any) message { return message{text: fmt.Sprintf(format, args...)} }

func (m Model) keptMessage(kept app.Kept) message {
	parts := words.Receipts(m.snapshot, kept.Receipts)
	parts = append(parts, kept.Notices...)
	return message{word: words.Saved, text: strings.Join(parts, "; "), more: m.next(), right: m.keyName(intent.Undo) + " takes it back"}
}

// next names the next task of the board, to follow a message.
func (m Model) next() string {
	now := func(l words.Line) bool { return l.Word == words.Late || l.Word == words.Due }
	if l, is := ferment.FirstWhere(m.words.Tasks, now); is {
		return "; next: " + l.Tag + " " + l.Act
	}
	return ""
}

func (m Model) writtenTo(receipts []ferment.Receipt) (subject string, ok bool) {
	for _, r := range receipts {
		if v, is := m.snapshot.Find(r.Subject); is {
			return v.ID(), true
		}
	}
	return "", false
}

// tookBack returns the task that is open again after an undo, else its vessel.
func (m Model) tookBack(receipts []ferment.Receipt) (to intent.Task, ok bool) {
	subject, ok := m.writtenTo(receipts)
	t, _ := m.again(receipts)
	return intent.Task{Subject: subject, Step: t.Step, Occurrence: t.Occurrence}, ok
}

func (m Model) takenBackMessage(msg takenBack) message {
	text := "taken back: " + strings.Join(words.Receipts(m.snapshot, msg.receipts), "; ")
	if t, is := m.again(msg.receipts); is && len(msg.receipts) == 1 {
		text += "; it is " + string(t.State) + " again"
	}
	out := say("%s", text)
	if msg.more > 0 {
		out.right = m.keyName(intent.Undo) + " one more"
	}
	return out
}

// again returns the task that the last entry of the first receipt had settled.
func (m Model) again(receipts []ferment.Receipt) (schedule.Task, bool) {
	if len(receipts) == 0 || len(receipts[0].Entries) == 0 || receipts[0].Struck {
		return schedule.Task{}, false
	}
	entries := receipts[0].Entries
	e := entries[len(entries)-1]
	v, _ := m.snapshot.Find(receipts[0].Subject)
	isOver := []schedule.State{schedule.Done, schedule.Skipped, schedule.Lapsed}
	return ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return settledBy(e, t) && !slices.Contains(isOver, t.State) })
}

// settledBy reports whether an entry could settle a task.
func settledBy(e ferment.Entry, t schedule.Task) bool {
	switch {
	case e.Skipped != "":
		return e.Skipped == t.Step || e.Skipped == t.Do
	case e.Step != "":
		return e.Step == t.Step
	}
	return e.Did != "" && string(e.Did) == t.Do || e.Measured(t.Do)
}
