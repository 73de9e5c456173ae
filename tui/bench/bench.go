// Package bench is the screen of figures: each is a form that is calculated while a value is typed, with assumptions
// and sources.
package bench

import (
	"fmt"
	"maps"
	"strings"

	"cellar/jugkeeper/ferment"
	figures "cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/fill"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the bench. Its methods give a changed copy.
type Model struct {
	subject string // the ferment to take values from; empty for none
	figure  int    // the open one
	way     int
	listing bool
	top     int                    // scroll position of what is under the fields
	set     map[string]form.Values // what was typed, by figure
	key     string                 // the field under the cursor; empty for the first
	typing  *fill.In               // the open field; nil for none
}

var all = figures.Figures()

// Of returns the bench with the values of a ferment. What was typed before stays.
func (m Model) Of(subject string) screen.Screen {
	m.subject = subject
	return m
}

// view is the bench in a frame: the open figure as a form, and its outcome.
type view struct {
	Model
	screen.Frame
	fill.In
	fields  []form.Field
	outcome form.Outcome
}

// in returns the bench in a frame, its figure calculated.
func (m Model) in(f screen.Frame) view {
	in := fill.In{Typed: m.set[m.open().Name], Key: m.key}
	if m.typing != nil {
		in = *m.typing
	}
	fields, outcome := form.Figure(m.open(), m.way, f.Snapshot, m.subject).Outcome(in.Typed)
	return view{m, f, in, fields, outcome}
}

// Show changes nothing: the values are taken from the frame.
func (m Model) Show(screen.Frame) screen.Screen { return m }

func (m Model) Subject() string { return m.subject }

// Typing reports whether a value is being typed.
func (m Model) Typing() bool { return m.typing != nil }

func (m Model) open() figures.Figure { return all[m.figure] }

func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	v := m.in(f)
	if n, turns := widget.Pages(a); turns {
		_, under, room := v.parts()
		m.top = widget.ClampIndex(m.top+n*max(f.Height/2, 1), widget.LastTop(under, room)+1)
		return m, nil
	}
	if n, moves := widget.Steps(a, 1); moves {
		return v.move(n), nil
	}
	switch a {
	case intent.Open: // the figure of the list, or the field under the cursor
		if m.listing {
			m.listing = false
			return m, nil
		}
		in := v.Onto(v.fields[v.Index(v.fields)])
		m.typing = &in
		return m, nil
	case intent.Side:
		m.listing = !m.listing
		return m, nil
	case intent.Next:
		return m.another(1), nil
	case intent.Previous:
		return m.another(-1), nil
	case intent.Reading:
		of, has := f.Snapshot.Find(m.subject)
		if v.outcome.Log == "" || !has {
			return m, intent.Say{Text: "this figure has nothing for the log of " + of.Label()}
		}
		return m, intent.Type{Subject: m.subject, Text: v.outcome.Log}
	}
	return m, intent.Act{Action: a}
}

func (m Model) Word(a intent.Action) string {
	return map[intent.Action]string{intent.Down: "field", intent.Open: "set", intent.Side: "figures", intent.Reading: "into the log"}[a]
}

// Names returns the keys for a figure that has nothing for a log.
func (m Model) Names(f screen.Frame) []intent.Action {
	if m.in(f).outcome.Log != "" {
		return nil
	}
	return []intent.Action{intent.Open, intent.Side, intent.Down, intent.Back, intent.Help}
}

func (m view) move(n int) Model {
	if m.listing {
		m.figure = widget.ClampIndex(m.figure+n, len(all))
		m.way, m.key, m.top = 0, "", 0
		return m.Model
	}
	m.key = m.fields[widget.ClampIndex(m.Index(m.fields)+n, len(m.fields))].Key
	return m.Model
}

// another changes to another set of keys for the figure, if it has several.
func (m Model) another(n int) Model {
	ways := len(m.open().Ways)
	m.way, m.key = (m.way+n+ways)%ways, ""
	return m
}

// Press types into the open field. Enter, up and down keep the value, Esc discards it.
func (m Model) Press(f screen.Frame, s intent.Stroke) (screen.Screen, intent.Intent) {
	v := m.in(f)
	switch s.Name {
	case "enter":
		return m.kept(), nil
	case "esc":
		m.typing = nil
	case "up":
		return m.kept().in(f).move(-1), nil
	case "down":
		return m.kept().in(f).move(1), nil
	default:
		in, _ := v.In.Press(v.fields[v.Index(v.fields)], s)
		m.typing = &in
	}
	return m, nil
}

// kept returns the bench with the typed values kept.
func (m Model) kept() Model {
	set := map[string]form.Values{}
	maps.Copy(set, m.set)
	set[m.open().Name] = m.typing.Typed
	m.set, m.key, m.typing = set, m.typing.Key, nil
	return m
}

// besideFrom is the width from which the list of figures is next to the form.
const besideFrom = 96

func (m view) grid() fill.Grid {
	page := m.Page()
	if m.Width >= besideFrom {
		page.Width -= 18
	}
	return fill.Grid{Theme: m.Theme, Page: page, Value: 18, From: 33, Text: 15, Whole: true}
}

func (m Model) View(f screen.Frame) string {
	return f.Draw(func() []string { return m.in(f).drawn() })
}

func (m view) drawn() []string {
	page, end := m.Page(), m.grid().Page.End()
	rows := []string{m.head(page), ""}
	beside := m.Width >= besideFrom
	if m.listing && !beside {
		rows = append(rows, m.list(m.Height-4)...)
	} else {
		standing, under, room := m.parts()
		rows = append(append(rows, standing...), widget.Scrolled(m.Theme, page, end, under, m.top, room)...)
	}
	rows = append(rows, make([]string, m.Height)...)[:m.Height-1]
	if beside {
		for i, name := range m.list(m.Height - 4) {
			rows[2+i] = layout.Row{}.At(0, layout.Cut(rows[2+i], end)).At(end+2, strings.TrimPrefix(name, strings.Repeat(" ", page.Margin))).In(m.Width)
		}
	}
	return rows
}

func (m view) head(page layout.Page) string {
	use, of := m.open().Use, ""
	if v, has := m.Snapshot.Find(m.subject); has {
		of = "values of " + v.Label()
	}
	if 9+len(use)+2+len(of) > page.Width {
		use = m.open().Name
	}
	return layout.Row{}.At(page.Margin, m.Theme.Bold("bench")).At(page.Margin+9, use).Until(page.End(), of).In(m.Width)
}

// parts returns the answer and the fields, then what scrolls below them, and the room for it.
func (m view) parts() (standing, under []string, room int) {
	g := m.grid()
	standing = g.Answer(m.outcome)
	for _, w := range m.outcome.Wrong {
		standing = append(standing, g.Told(words.Said{Word: words.Warn, Text: w.Text})...)
	}
	standing = append(append(append(standing, ""), m.rows(g)...), "")
	room = max(m.Height-4-len(standing), min(m.Height-3-len(standing), 1))
	table := g.Table(m.outcome.Table)
	told := ferment.Flat(m.outcome.Lines, g.Told)
	cautions, margin := len(told), strings.Repeat(" ", g.Page.Margin)
	curve := ferment.Map(m.curve(g.Page.Width, room-len(told)-len(table)-2), func(row string) string { return margin + row })
	told = append(told, g.Assumptions(m.outcome)...)
	parts := [][]string{curve, table, told}
	if len(table)+1+cautions > room { // nothing that is warned of is moved out of sight
		parts = [][]string{curve, told[:cautions], table, told[cautions:]}
	}
	for _, part := range parts {
		if len(under) > 0 && len(part) > 0 {
			under = append(under, "")
		}
		under = append(under, part...)
	}
	return standing, under, room
}

// rows returns the fields, with what each is where that fits, and which set of keys they are.
func (m view) rows(g fill.Grid) []string {
	var rows []string
	for i, f := range m.fields {
		here, typing, from := i == m.Index(m.fields) && !m.listing, 0, ""
		if here && m.typing != nil {
			typing = g.From - g.Value - 2
		}
		source := f.From
		if _, set := m.Typed[f.Key]; set {
			source = ""
		}
		says, room := words.Join(": ", source, f.Does), g.Page.End()-max(g.From, g.Value+1+layout.Width(m.Value(f)))
		var below []string
		if from = says; layout.Width(says) > room {
			if from = source; layout.Width(source) > room {
				from = ""
			}
			below = layout.Wrap(says, g.Page.End()-g.Value) // in full for the field under the cursor
		}
		rows = append(rows, g.Row(m.In, f, here, typing, from).In(g.Page.End()))
		for i := 0; here && i < len(below); i++ {
			rows = append(rows, layout.Row{}.At(g.Value, m.Theme.Faint(below[i])).In(g.Page.End()))
		}
	}
	if n := len(m.open().Ways); n > 1 {
		rows = append(rows, layout.Row{}.At(g.Page.Margin, m.Theme.Faint(fmt.Sprintf("← → another way to give it, %d of %d", m.way+1, n))).In(g.Page.End()))
	}
	return rows
}

func (m view) list(room int) []string {
	from := widget.ClampIndex(m.figure-room/2, max(len(all)-room, 0)+1)
	var rows []string
	for i := from; i < len(all) && len(rows) < room; i++ {
		name := "  " + all[i].Name
		r := layout.Row{}
		if i == m.figure {
			name = "● " + all[i].Name
			if m.listing {
				name = m.Theme.Tag(all[i].Name)
			}
			if m.listing && m.Width < besideFrom {
				r = r.At(0, m.Theme.In(theme.Accent, "▌"))
			}
		}
		rows = append(rows, r.At(m.Page().Margin, name).In(m.Width))
	}
	return rows
}
