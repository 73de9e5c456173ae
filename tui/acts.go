package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	chapters "cellar/jugkeeper/schedule/guide"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/bench"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/guide"
	"cellar/jugkeeper/tui/honey"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

type act func(Model) (Model, tea.Cmd)

// global are the actions that do the same on every screen, even without a cellar.
var global = map[intent.Action]act{
	intent.Help:    Model.openHelp,
	intent.Reload:  func(m Model) (Model, tea.Cmd) { return m.reopen(byKey) },
	intent.Suspend: func(m Model) (Model, tea.Cmd) { return m, tea.Suspend },
	intent.Undo:    Model.undo,
	intent.Leave:   Model.leave,
	intent.Abort:   Model.abort,
}

var acts map[intent.Action]act

func init() {
	acts = map[intent.Action]act{
		intent.Back: func(m Model) (Model, tea.Cmd) { return m.back(), nil },
		intent.Board: func(m Model) (Model, tea.Cmd) {
			m.at, m.trail = OnBoard, nil
			return m, nil
		},
		intent.Mark: ofVessel(Model.mark),
		intent.Yours: func(m Model) (Model, tea.Cmd) {
			v, _ := m.vessel()
			return m.openScreen(OnGuide, guide.New(chapters.Yours(m.snapshot, v.Ferment), m.keyChapter())), nil
		},
		intent.Compare: func(m Model) (Model, tea.Cmd) { return m.openCompare(), nil },
		// Closed ferments are read for the year's total and the honey taken.
		intent.Shelf: func(m Model) (Model, tea.Cmd) { return m.openScreen(OnShelf, m.screens[OnShelf]).reopen(byItself) },
		intent.Honey: func(m Model) (Model, tea.Cmd) {
			return m.openScreen(OnHoney, m.screens[OnHoney].(honey.Model).Honey()).reopen(byItself)
		},
		intent.Past: func(m Model) (Model, tea.Cmd) {
			return m.openScreen(OnHoney, m.screens[OnHoney].(honey.Model).Past()).reopen(byItself)
		},
		intent.Bench: func(m Model) (Model, tea.Cmd) {
			v, _ := m.vessel()
			return m.openScreen(OnBench, m.screens[OnBench].(bench.Model).Of(v.ID())), nil
		},
		intent.Problems: func(m Model) (Model, tea.Cmd) {
			return m.openScreen(OnProblems, m.screens[OnProblems]), m.options.check()
		},
		intent.Guide: func(m Model) (Model, tea.Cmd) { return m.openScreen(OnGuide, guide.New(m.keyChapter())), nil },

		intent.Reading: typingOf(entry.NewReading),
		intent.Done:    ofTask(Model.done),
		intent.DoneAll: ofTask(Model.doneAll),
		intent.Skip: ofTask(func(m Model, v app.Vessel, t schedule.Task) (Model, tea.Cmd) {
			if _, round := m.sharing(t); round { // no: one of them is not fine
				next, _ := m.current().Do(m.frame(), intent.Side)
				m.message = say("choose the one that is not fine, then %s", m.keyName(intent.Done))
				return m.with(m.at, next), nil
			}
			return m.openLine(entry.NewPassing(m.snapshot, v, t)), nil
		}),
		intent.PutOff: ofTask(Model.postpone),
		intent.Note:   typingOf(entry.NewNote),
		intent.Edit:   Model.edit,
		intent.Find:   func(m Model) (Model, tea.Cmd) { return m.openLine(entry.NewFind(m.sought)), nil },

		intent.New:     func(m Model) (Model, tea.Cmd) { return m.openForm(intent.Fill{Form: "new"}) },
		intent.Tasting: ofVessel(Model.taste),
		intent.Rack:    filling("rack"),
		intent.Bottle:  filling("bottle"),
	}
}

func (m Model) act(a intent.Action) (Model, tea.Cmd) {
	if do, is := acts[a]; is {
		return do(m)
	}
	return m.actByName(string(a))
}

// typingOf returns an act that opens a line on the selected vessel.
func typingOf(line func(app.Snapshot, app.Vessel) entry.Line) act {
	return ofVessel(func(m Model, v app.Vessel) (Model, tea.Cmd) { return m.openLine(line(m.snapshot, v)), nil })
}

// ofVessel returns an act on the selected vessel; without one it says so.
func ofVessel(do func(Model, app.Vessel) (Model, tea.Cmd)) act {
	return func(m Model) (Model, tea.Cmd) {
		if v, ok := m.vessel(); ok {
			return do(m, v)
		}
		return m.noTask(), nil
	}
}

// filling returns an act that opens a form for the selected vessel.
func filling(name string) act {
	return ofVessel(func(m Model, v app.Vessel) (Model, tea.Cmd) {
		if v.Ferment.Past {
			m.message = no("%s is closed: its bottles are on the shelf, %s", v.Label(), m.keyName(intent.Shelf))
			return m, nil
		}
		return m.openForm(intent.Fill{Form: name, Subject: v.ID()})
	})
}

// ofTask returns an act on the selected task; without one it says so.
func ofTask(do func(Model, app.Vessel, schedule.Task) (Model, tea.Cmd)) act {
	return func(m Model) (Model, tea.Cmd) {
		if v, t, ok := m.task(); ok {
			return do(m, v, t)
		}
		return m.noTask(), nil
	}
}

// done marks a task as done, with the same task of others that share its line.
func (m Model) done(v app.Vessel, t schedule.Task) (Model, tea.Cmd) {
	if others, round := m.sharing(t); round || len(others) > 0 {
		return m.settleAll(v, t, others)
	}
	return m.attend(v, t)
}

// sharing returns the other vessels of the selected shared line, which are settled with it, and whether it is the weekly round.
func (m Model) sharing(t schedule.Task) (others []app.Vessel, round bool) {
	s, is := m.current().(screen.HasTask)
	if !is || !isOpen(t) || ferment.IsMeasurement(t.Do) || formOf[t.Do] != "" || t.Do == string(ferment.Taste) || t.Do == string(ferment.Squeeze) {
		return nil, false
	}
	line, _ := s.Task(m.frame())
	all := m.snapshot.Among(append([]string{line.Subject}, line.Others...))
	return ferment.Where(all, func(v app.Vessel) bool { return v.ID() != m.current().Subject() }), line.Round != nil
}

// attend opens what is needed to settle a task, or settles it at once.
func (m Model) attend(v app.Vessel, t schedule.Task) (Model, tea.Cmd) {
	switch {
	case t.State == schedule.Done || t.State == schedule.Skipped:
		m.message = say("%s %s is %s already, %s", v.Label(), words.ActLabel(t), t.State, words.When(t.Settled, m.snapshot.At))
		return m, nil
	case t.State == schedule.Lapsed:
		return m.settle(v, t)
	case t.Do == string(ferment.Taste):
		return m.taste(v)
	}
	want := intent.Fill{Form: formOf[t.Do], Subject: v.ID()}
	if v.Culture != nil {
		want.Given = map[string]string{"step": words.ActLabel(t)}
	}
	if _, has := form.Open(want.Form, m.snapshot, v.ID(), want.Given); has { // bottles of unknown number have no form
		return m.openForm(want)
	}
	return m.settle(v, t)
}

// formOf are the forms of acts that need more than a line.
var formOf = map[string]string{
	string(ferment.Rack): "rack", string(ferment.Bottle): "bottle", string(ferment.Open): "open",
	string(ferment.Passage): "passage", string(ferment.Prove): "passage",
}

// settle asks what a task needs to be told, or writes it at once if that is nothing.
func (m Model) settle(v app.Vessel, t schedule.Task) (Model, tea.Cmd) {
	line, want := entry.Settle(m.snapshot, v, t)
	if line != nil {
		return m.openLine(line), nil
	}
	return m.perform(want)
}

// doneAll marks the same task of all vessels as done.
func (m Model) doneAll(v app.Vessel, t schedule.Task) (Model, tea.Cmd) {
	if !isOpen(t) || ferment.IsMeasurement(t.Do) || t.Do == string(ferment.Squeeze) {
		return m.done(v, t)
	}
	others := ferment.Where(m.snapshot.Vessels, func(other app.Vessel) bool {
		_, has := sameTask(other, t)
		return has && other.ID() != v.ID()
	})
	return m.settleAll(v, t, others)
}

func (m Model) settleAll(v app.Vessel, t schedule.Task, others []app.Vessel) (Model, tea.Cmd) {
	if t.Amount != nil || t.Caution != nil && t.Caution.Loud != schedule.Note {
		return m.openLine(entry.NewGivenToAll(m.snapshot, v, t, others)), nil
	}
	var tasks []intent.Task
	for _, other := range others {
		if same, has := sameTask(other, t); has {
			tasks = append(tasks, entry.TaskOf(other, same))
		}
	}
	if line, asks := entry.NewQuestions(m.snapshot, v, t, tasks...); asks && entry.Asks(t.Do, v.Culture != nil) {
		return m.openLine(line), nil
	}
	return m.perform(intent.Settle{Tasks: append([]intent.Task{entry.TaskOf(v, t)}, tasks...)})
}

func isOpen(t schedule.Task) bool { return t.State == schedule.Due || t.State == schedule.Late }

func sameTask(v app.Vessel, t schedule.Task) (schedule.Task, bool) {
	return ferment.FirstWhere(v.Day.Tasks, func(o schedule.Task) bool { return o.Step == t.Step && o.Do == t.Do && isOpen(o) })
}

// postpone puts a task off until tomorrow morning.
func (m Model) postpone(v app.Vessel, t schedule.Task) (Model, tea.Cmd) {
	if t.Danger {
		m.message = no("%s %s: a danger cannot be put off", v.Label(), words.ActLabel(t))
		return m, nil
	}
	until := tomorrow(m.snapshot.At, m.settings)
	off := m.offOf(v.ID(), t)
	off.Typed, off.Text = until, until.Format(time.RFC3339)
	drafts, o := append(without(m.drafts, off), off), m.options
	m.drafts = drafts
	m = m.set()
	m.message = say("put off until %s: %s %s", words.When(until, m.snapshot.At), v.Label(), words.ActLabel(t))
	return m, o.guarded(func() tea.Msg {
		if err := o.keep(drafts); err != nil {
			return unkept{err}
		}
		return nil
	})
}

func (m Model) noTask() Model {
	v, ok := m.vessel()
	if !ok {
		m.message = say("there is no vessel yet")
		return m
	}
	m.message = say("nothing to do for %s; %s takes what was done", v.Label(), m.keyName(intent.Reading))
	return m
}

func (m Model) undo() (Model, tea.Cmd) {
	m, r := m.asks()
	since := m.began
	if m.named {
		since = time.Time{}
	}
	m.busy, m.named = true, false
	return m, m.options.undo(r, since)
}

// file returns the file and line for the editor: the screen's, else the selected vessel's.
func (m Model) file() (file string, line int) {
	if filed, is := m.current().(screen.HasFile); is {
		return filed.File(m.frame())
	}
	v, ok := m.vessel()
	line = 1
	for _, e := range v.Course.Entries {
		line = max(line, e.Line)
	}
	switch {
	case !ok:
		return "", 0
	case v.Culture != nil:
		return "cultures.yaml", line
	}
	return v.Ferment.File, line
}

func (m Model) edit() (Model, tea.Cmd) {
	file, line := m.file()
	switch {
	case file == "":
		m.message = say("there is no file to open here")
		return m, nil
	case m.options.Editor == nil:
		m.message = no("no editor is named: set VISUAL or EDITOR, e.g. EDITOR=vi")
		return m, nil
	}
	command := m.options.Editor(file, line)
	return m, tea.ExecProcess(command, func(err error) tea.Msg { return edited{err} })
}

// actByName does the act to which the settings assigned a key, at once if it asks nothing.
func (m Model) actByName(name string) (Model, tea.Cmd) {
	v, ok := m.vessel()
	if !ok || !ferment.IsAct(name) {
		return m, nil
	}
	if t, ok := app.TaskMeant(v, name); ok && (isOpen(t) || t.State == schedule.Held) {
		return m.settle(v, t)
	}
	if entry.AtOnce(name) {
		return m.perform(intent.Log{Subjects: []string{v.ID()}, Line: name})
	}
	m = m.openLine(entry.NewReading(m.snapshot, v))
	return m.asked(m.line.Press(intent.Stroke{Text: name + " ", Pasted: true}))
}
