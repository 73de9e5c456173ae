// Package form draws a form before an act: the answer on top, then the fields, and what follows from them, calculated
// while a person types.
package form

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	forms "cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/fill"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Open builds the form for a snapshot; not ok if its subject is gone.
type Open func(app.Snapshot) (f forms.Form, ok bool)

// Model is an open form. Its methods give a changed copy.
type Model struct {
	fill.In
	open    Open
	form    forms.Form
	fields  []forms.Field
	shown   []forms.Field // fields with a row of their own
	folded  []forms.Field
	outcome forms.Outcome
	all     bool // show the folded fields too
	top     int  // scroll position of what is under the fields
	tried   bool // Enter was pressed while something was wrong
	asked   bool // the questions were shown: Enter writes it now
	asks    []app.Ask
	failed  string // why it could not be written
}

type view struct {
	Model
	screen.Frame
}

// New returns a form with its cursor in the first field.
func New(s app.Snapshot, open Open) (m Model, ok bool) {
	f, ok := open(s)
	if !ok {
		return m, false
	}
	m = Model{open: open, form: f}.worked()
	return m.onto(0), true
}

// worked returns the form with its outcome calculated again.
func (m Model) worked() Model {
	m.fields, m.outcome = m.form.Outcome(m.Typed)
	return m.folds()
}

// folds divides the fields into those with a row and the folded ones: the usual ones that nobody typed in.
func (m Model) folds() Model {
	m.shown, m.folded = nil, nil
	var more []forms.Field
	for _, f := range m.fields {
		_, set := m.Typed[f.Key]
		switch {
		case !f.More:
			m.shown = append(m.shown, f)
		case m.all || set:
			more = append(more, f)
		default:
			m.folded = append(m.folded, f)
		}
	}
	m.shown = append(m.shown, more...)
	return m
}

// Show returns the form for a later snapshot; what was typed stays, even if its subject is gone.
func (m Model) Show(frame screen.Frame) screen.Screen {
	f, ok := m.open(frame.Snapshot)
	if !ok {
		return m
	}
	m.form = f
	m = m.worked()
	if _, set := m.Typed[m.Key]; !set {
		return m.onto(m.index())
	}
	return m
}

func (m Model) Do(_ screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	return m, intent.Act{Action: a}
}

func (m Model) Typing() bool { return true }

func (m Model) Subject() string { return m.form.Subject }

func (m Model) Word(a intent.Action) string {
	switch {
	case a == intent.Next && len(m.field().Words) == 0, a == intent.Empty && len(m.Typed) == 0:
		return screen.Unnamed
	case a == intent.Down:
		return "next line"
	case a == intent.Side && m.all:
		return "fewer"
	case a == intent.Side && len(m.folded) > 0:
		return "more"
	case a == intent.Side:
		return screen.Unnamed
	}
	return ""
}

func (m Model) Press(f screen.Frame, s intent.Stroke) (screen.Screen, intent.Intent) {
	if do, is := presses[s.Name]; is && !s.Pasted {
		return do(view{m, f})
	}
	in, changed := m.In.Press(m.field(), s)
	m.In = in
	if changed {
		m.failed, m.top, m.asks, m.asked = "", 0, nil, false
		m = m.worked()
	}
	return m, nil
}

type pressed func(view) (screen.Screen, intent.Intent)

// presses are the keys that are not text.
var presses map[string]pressed

func init() {
	along := func(n int) pressed {
		return func(m view) (screen.Screen, intent.Intent) {
			if n > 0 && m.index() == len(m.shown)-1 {
				m.all = true
				m.Model = m.folds()
			}
			return m.onto(m.index() + n), nil
		}
	}
	page := func(n int) pressed {
		return func(m view) (screen.Screen, intent.Intent) {
			under, _ := m.under()
			room := m.room()
			m.top = max(0, min(m.top+n*max(room-1, 1), widget.LastTop(under, room)))
			return m.Model, nil
		}
	}
	presses = map[string]pressed{
		"up": along(-1), "down": along(1), "shift+tab": along(-1), "pgup": page(-1), "pgdown": page(1),
		"tab": func(m view) (screen.Screen, intent.Intent) {
			m.all = !m.all
			m.Model = m.folds()
			return m.onto(m.index()), nil
		},
		"ctrl+x": func(m view) (screen.Screen, intent.Intent) {
			m.In, m.failed, m.tried, m.top = fill.In{}, "", false, 0
			return m.worked().onto(0), nil
		},
		"esc":   func(m view) (screen.Screen, intent.Intent) { return m.Model, intent.Close{} },
		"enter": func(m view) (screen.Screen, intent.Intent) { return m.keep() },
	}
}

// keep asks to write the change, once everything wrong and every warning was on the screen.
func (m view) keep() (screen.Screen, intent.Intent) {
	if len(m.outcome.Wrong) > 0 {
		m.tried, m.top, m.Key = true, 0, m.outcome.Wrong[0].Key
		if slices.ContainsFunc(m.folded, func(f forms.Field) bool { return f.Key == m.Key }) {
			m.all = true
			m.Model = m.folds()
		}
		return m.onto(m.index()), nil
	}
	if unseen := m.unseen(); unseen > 0 {
		m.top = unseen
		return m.Model, intent.Say{Text: "check what is there now; Enter again keeps it"}
	}
	if m.form.Asks != nil && !m.asked {
		m.asks, m.asked, m.top = m.form.Asks(m.outcome.Change), true, 0
		if len(m.asks) > 0 {
			return m.Model, intent.Say{Text: "unlikely: read what is asked; Enter again keeps it"}
		}
	}
	return m.Model, intent.Apply{Change: m.outcome.Change}
}

func (m Model) onto(i int) Model {
	m.In = m.Onto(m.shown[widget.ClampIndex(i, len(m.shown))])
	return m
}

func (m Model) index() int {
	return m.Index(m.shown)
}

func (m Model) field() forms.Field {
	return m.shown[m.index()]
}

func (m Model) Draft() intent.Draft {
	return intent.Draft{Kind: "form", Step: m.form.Name, Subject: m.form.Subject, Text: m.Encoded()}
}

func (m Model) Resume(_ screen.Frame, text string) screen.Screen {
	m.In = m.Decoded(text)
	return m.worked().onto(0)
}

func (m Model) Kept(screen.Frame) (screen.Screen, bool) { return nil, false }

func (m Model) Fail(err error) screen.Screen {
	m.failed = err.Error()
	return m
}

func (m view) grid() fill.Grid {
	return fill.Grid{Theme: m.Theme, Page: m.Page(), Value: 17, From: 33, Text: 13}
}

func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page := m.Page()
	under, _ := m.under()
	rows := append(append(m.head(), m.rows()...), m.hint()...)
	return append(rows, widget.Scrolled(m.Theme, page, page.End(), under, m.top, m.room())...)
}

func (m view) head() []string {
	g := m.grid()
	first, rest, _ := strings.Cut(m.form.Title, " ")
	r := layout.Row{}.At(g.Page.Margin, m.Theme.Bold(first)).At(g.Text-1, rest)
	if draft := "draft, not kept"; len(m.Typed) > 0 && r.Fits(g.Page.End(), draft) {
		r = r.Until(g.Page.End(), m.Theme.Faint(draft))
	}
	rows := []string{r.In(g.Page.End()), ""}
	if answer := g.Answer(m.outcome); len(answer) > 0 {
		rows = append(append(rows, answer...), "")
	}
	return rows
}

// window returns the range of fields that fit around the cursor, with a quarter of the room below it.
func (m view) window() (from, to int) {
	room := m.Height - 2 - len(m.head()) - max(m.Height/4, 3)
	if len(m.folded) > 0 {
		room -= 2
	}
	room = max(room, 3)
	from = max(0, min(m.index()-room/2, len(m.shown)-room))
	return from, min(from+room, len(m.shown))
}

func (m view) rows() []string {
	g := m.grid()
	from, to := m.window()
	var rows []string
	for i := from; i < to; i++ {
		f, here, typing := m.shown[i], i == m.index(), 0
		if here {
			typing = max(g.From-g.Value-2, min(layout.Width(m.Value(f))+2, g.Page.End()-g.Value))
		}
		from := m.from(f, here)
		if room := g.Page.End() - max(g.From, g.Value+layout.Width(m.Value(f))+2); layout.Width(from) > room {
			if from = layout.CutClauses(from, room); here || strings.HasSuffix(from, "…") { // the hint has room for it
				from = ""
			}
		}
		rows = append(rows, g.Row(m.In, f, here, typing, from).In(g.Page.End()))
	}
	if len(m.folded) > 0 && to == len(m.shown) {
		rows = append(rows, "", m.more())
	}
	return rows
}

// more returns the row of the folded fields: their values, and how many there are.
func (m view) more() string {
	g := m.grid()
	r := layout.Row{}.At(g.Page.Margin, "more")
	rest := len(m.folded)
	for _, f := range m.folded {
		says := f.Label + " " + m.Value(f)
		if rest < len(m.folded) {
			says = " · " + says
		}
		tail := fmt.Sprintf(" · %d more", rest-1)
		if m.Value(f) == "" || !r.Fits(g.Page.End()-layout.Width(tail), says) {
			continue
		}
		r, rest = r.At(max(r.End(), g.Value), m.Theme.Faint(says)), rest-1
	}
	if rest > 0 {
		r = r.At(max(r.End(), g.Value), m.Theme.Faint(fmt.Sprintf(" · %d more", rest)))
	}
	return r.In(g.Page.End())
}

// from returns the source of a value, or the words that the field accepts.
func (m Model) from(f forms.Field, here bool) string {
	_, set := m.Typed[f.Key]
	switch {
	case here && len(f.Words) > 0:
		return "← → " + strings.Join(f.Words, ", ")
	case set:
		return f.Does
	}
	return f.From
}

// hint returns the rows under the fields: how many follow, and the words of this field if its row has no room for them.
func (m view) hint() []string {
	g, f, r := m.grid(), m.field(), layout.Row{}
	if _, to := m.window(); to < len(m.shown) {
		r = r.At(g.Value, m.Theme.Faint(fmt.Sprintf("↓ %d more", len(m.shown)-to)))
	}
	rows, from := []string{r.In(g.Page.End())}, m.from(f, true)
	if max(g.From, g.Value+layout.Width(m.Value(f))+2)+layout.Width(from) > g.Page.End() {
		rows = append(append(rows, layout.Row{}.Wrapped(g.Page.Margin, g.Page.End(), from, m.Theme.Faint)...), "")
	}
	return rows
}

func (m view) room() int {
	return max(m.Height-1-len(m.head())-len(m.rows())-len(m.hint()), 0)
}

// under returns what is shown below the answer: errors and refusals, warnings, then the rest, notes last; loud is how
// many of the rows must be seen.
func (m view) under() (rows []string, loud int) {
	var said []words.Said
	if m.failed != "" {
		said = append(said, words.Said{Word: words.No, Text: m.failed})
	}
	for _, w := range m.outcome.Wrong {
		if m.tried || w.Key == m.Key && m.Value(m.field()) != "" {
			i := slices.IndexFunc(m.fields, func(f forms.Field) bool { return f.Key == w.Key })
			said = append(said, words.Said{Word: words.Ask, Text: m.fields[max(i, 0)].Label + ": " + w.Text})
		}
	}
	said = append(said, ferment.Map(m.asks, func(a app.Ask) words.Said { return words.Said{Word: words.Ask, Text: a.String()} })...)
	said = append(said, m.outcome.Lines...)
	slices.SortStableFunc(said, func(a, b words.Said) int { return severity(a.Word) - severity(b.Word) })
	for _, l := range said {
		if rows = append(rows, m.grid().Told(l)...); severity(l.Word) < 2 {
			loud = len(rows)
		}
	}
	return rows, loud
}

func severity(w words.Word) int {
	switch w {
	case words.Stop, words.No, words.Shut, words.Ask:
		return 0
	case words.Warn:
		return 1
	case words.Note:
		return 3
	}
	return 2
}

// unseen returns how far to scroll to rows that must be seen and were not; 0 for none.
func (m view) unseen() int {
	under, last := m.under()
	room := m.room()
	if len(under) > room {
		room-- // the last row counts the hidden ones
	}
	if last <= m.top+room || m.top >= widget.LastTop(under, room) {
		return 0
	}
	return min(m.top+max(room, 1), widget.LastTop(under, room))
}
