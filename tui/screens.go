package tui

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	forms "cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/compare"
	"cellar/jugkeeper/tui/form"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/tasting"
)

// The program only uses the interfaces of screens, and never asks which screen it is.

func (m Model) current() screen.Screen { return m.screens[m.at] }

func (m Model) frame() screen.Frame {
	return screen.Frame{Theme: m.theme, Width: m.width, Height: m.height, Snapshot: m.visible, Sheet: m.words, Files: m.files, KeyName: m.keyName}
}

func (m Model) with(at Place, s screen.Screen) Model {
	m.screens = maps.Clone(m.screens)
	m.screens[at] = s
	return m
}

func (m Model) showAll() Model {
	f, screens := m.frame(), map[Place]screen.Screen{}
	for at, s := range m.screens {
		screens[at] = s.Show(f)
	}
	m.screens = screens
	return m
}

// lead selects a task on every screen, or its vessel if the task is not there.
func (m Model) lead(to intent.Task) Model {
	for at, s := range m.screens {
		if led, is := s.(screen.Selectable); is && (to.Step != "" || s.Subject() != to.Subject) {
			m = m.with(at, led.Lead(m.frame(), to))
		}
	}
	return m
}

func (m Model) openScreen(at Place, s screen.Screen) Model {
	m = m.with(at, s.Show(m.frame()))
	if i := slices.Index(m.trail, at); i >= 0 {
		m.trail = m.trail[:i]
	} else if at != m.at {
		m.trail = append(slices.Clone(m.trail), m.at)
	}
	m.at = at
	return m
}

func (m Model) back() Model {
	m.at = OnBoard
	if n := len(m.trail); n > 0 {
		m.at, m.trail = m.trail[n-1], m.trail[:n-1]
	}
	return m
}

func (m Model) ask(a intent.Action) (Model, tea.Cmd) {
	return m.answered(m.current().Do(m.frame(), a))
}

// answered takes a screen's answer: its next state, and what it wants done.
func (m Model) answered(next screen.Screen, want intent.Intent) (Model, tea.Cmd) {
	m = m.with(m.at, next)
	if want == nil {
		return m, nil
	}
	return m.perform(want)
}

// typesOn reports whether a stroke is text for the screen shown; a few keys are not.
func (m Model) typesOn(s intent.Stroke) (screen.Typable, bool) {
	typed, is := m.current().(screen.Typable)
	if !is || m.line != nil || !typed.Typing() {
		return nil, false
	}
	a, _ := m.keys.Action(m.at, s)
	return typed, a != intent.Abort && a != intent.Suspend && a != intent.Help
}

func (m Model) filledIn() (screen.Fillable, bool) {
	s, is := m.current().(screen.Fillable)
	return s, is
}

// keptFilled follows a form that was kept: its draft goes, and the form closes unless it stays.
func (m Model) keptFilled(s screen.Fillable) Model {
	m.drafts = without(m.drafts, m.ofNow(s.Draft()))
	if next, stays := s.Kept(m.frame()); stays {
		return m.with(m.at, next)
	}
	return m.drop()
}

// drop leaves a screen and forgets it.
func (m Model) drop() Model {
	at := m.at
	m = m.back()
	m.screens = maps.Clone(m.screens)
	delete(m.screens, at)
	return m
}

// fill opens a form or a tasting, with its draft if there is one.
func (m Model) fill(at Place, s screen.Fillable) Model {
	var typed screen.Screen = s
	for _, d := range m.drafts {
		if d.Same(m.ofNow(s.Draft())) {
			typed = s.Resume(m.frame(), d.Text)
		}
	}
	return m.openScreen(at, typed)
}

func (m Model) openForm(want intent.Fill) (Model, tea.Cmd) {
	open := func(s app.Snapshot) (forms.Form, bool) { return forms.Open(want.Form, s, want.Subject, want.Given) }
	f, ok := form.New(m.snapshot, open)
	if !ok {
		m.message = say("there is nothing to fill in for %s", m.labelOf(want.Subject))
		return m, nil
	}
	return m.fill(InForm, f).reopen(byItself)
}

// taste opens the tasting of a vessel, as the shelf or the task has it.
func (m Model) taste(v app.Vessel) (Model, tea.Cmd) {
	subjects, step := words.ShelfOf(m.snapshot, m.words).TastingOf(v.ID())
	if subjects == nil {
		subjects = []string{v.ID()}
		for _, l := range m.words.Lines(v.ID()) {
			if l.Task.Do == string(ferment.Taste) && isOpen(l.Task) {
				step = l.Task.Step
			}
		}
	}
	return m.openTasting(intent.Taste{Subjects: subjects, Step: step, Blind: len(subjects) > 1}), nil
}

// openTasting opens a tasting, with its draft if there is one.
func (m Model) openTasting(want intent.Taste) Model {
	vs := m.snapshot.Among(want.Subjects)
	t, ok := tasting.New(m.frame(), want, words.TastingSeed(vs, m.snapshot.At))
	if !ok {
		return m.noTask()
	}
	return m.fill(InTasting, t)
}

// mark adds the selected vessel to those to compare, or removes it.
func (m Model) mark(v app.Vessel) (Model, tea.Cmd) {
	if slices.Contains(m.marked, v.ID()) {
		m.marked = slices.DeleteFunc(slices.Clone(m.marked), func(id string) bool { return id == v.ID() })
	} else {
		m.marked = append(slices.Clone(m.marked), v.ID())
	}
	m.message = say("marked: %s; %s shows two to four side by side", m.labels(m.marked), m.keyName(intent.Compare))
	return m, nil
}

func (m Model) labels(ids []string) string {
	return cmp.Or(strings.Join(ferment.Map(m.snapshot.Among(ids), app.Vessel.Label), ", "), "none")
}

// openCompare compares the marked vessels; with fewer than two, the trial of the selected one.
func (m Model) openCompare() Model {
	ids := m.marked
	if len(ids) < 2 {
		ids = m.trial()
	}
	if len(ids) < 2 || len(ids) > compare.Most {
		m.message = say("mark two to four with %s first; marked: %s", m.keyName(intent.Mark), m.labels(m.marked))
		return m
	}
	return m.openScreen(OnCompare, compare.New(ids))
}

// trial returns the vessels in the trial of the selected one; nil if it is in none.
func (m Model) trial() []string {
	v, ok := m.vessel()
	if !ok || v.Ferment.Trial.Name == "" {
		return nil
	}
	return ferment.Map(ferment.Where(m.snapshot.Vessels, func(o app.Vessel) bool { return o.Ferment.Trial.Name == v.Ferment.Trial.Name }), app.Vessel.ID)
}
