// Package vessel is the page of one vessel: needs, figures, gates, plan and log.
package vessel

import (
	"slices"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Model is the page. Its methods give a changed copy.
type Model struct {
	top     int  // the first row that is shown
	numbers bool // the curve as a table
	chosen  int  // the line of the log's entry under the cursor; 0 while the page only scrolls

	// As shown last; a forecast takes too long to be calculated for every key.
	vessel app.Vessel
	gone   bool // its file is gone, or cannot be read
	rows   []row
}

// row is one row of the page, and the line of the file that it shows.
type row struct {
	text string
	line int
}

// New returns the page of a ferment or a culture, from its top.
func New(id string) screen.Screen {
	return Model{vessel: app.Unplanned(ferment.Ferment{ID: id}), gone: true}
}

func (m Model) Show(f screen.Frame) screen.Screen {
	v, ok := f.Snapshot.Find(m.vessel.ID())
	m.gone, m.rows = !ok, nil
	if ok {
		foreseen, forecast := app.Foreseen(v)
		m.vessel = foreseen
		m.rows = pageOf(f.Width, content{f.Theme, foreseen, f.Sheet.Lines(m.vessel.ID()), f.Snapshot.At, forecast}, m.numbers, m.chosen)
		if !slices.Contains(m.entries(), m.chosen) {
			m.chosen = 0
		}
	}
	return m.scrolled(f, m.top)
}

func (m Model) entries() (lines []int) {
	for _, r := range m.rows {
		if r.line > 0 && !slices.Contains(lines, r.line) {
			lines = append(lines, r.line)
		}
	}
	return lines
}

// entry returns the one under the cursor.
func (m Model) entry() ferment.Entry {
	e, _ := ferment.FirstWhere(slices.Concat(m.vessel.Course.Entries, m.vessel.Course.Later), func(e *ferment.Entry) bool { return e.Line == m.chosen })
	return *e
}

// choose puts the cursor on an entry, in sight; 0 takes it away.
func (m Model) choose(f screen.Frame, line int) Model {
	m.chosen = line
	m = m.Show(f).(Model)
	if at := slices.IndexFunc(m.rows, func(r row) bool { return r.line == line }); line > 0 && (at < m.top || at > m.top+room(f)-3) {
		m = m.scrolled(f, at-room(f)/2)
	}
	return m
}

// Do scrolls, or goes into the log, where an entry is corrected or struck.
func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	lines := m.entries()
	n, moves := widget.Steps(a, 5)
	switch {
	case m.chosen == 0 && a == intent.Open && len(lines) > 0:
		return m.choose(f, lines[0]), nil
	case m.chosen == 0:
	case moves:
		return m.choose(f, lines[widget.ClampIndex(slices.Index(lines, m.chosen)+n, len(lines))]), nil
	case a == intent.Back:
		return m.choose(f, 0), nil
	case a == intent.Skip:
		return m, intent.Strike{Subject: m.vessel.ID(), Entry: m.entry()}
	case a == intent.Open:
		return m, intent.Correct{Subject: m.vessel.ID(), Entry: m.entry()}
	}
	if n, moves := widget.Steps(a, room(f)-2); moves {
		return m.scrolled(f, m.top+n), nil
	}
	if a == intent.Numbers {
		m.numbers = !m.numbers
		return m.Show(f), nil
	}
	return m, intent.Act{Action: a}
}

// Seek scrolls to the next row that contains a text; after the last comes the first.
func (m Model) Seek(_ screen.Frame, text string, again bool) (screen.Screen, bool) {
	at, found := widget.FindFrom(m.top, len(m.rows), again, func(i int) bool { return widget.ContainsFold(ansi.Strip(m.rows[i].text), text) })
	if found {
		m.top = at
	}
	return m, found
}

func (m Model) Subject() string { return m.vessel.ID() }

func (m Model) Word(a intent.Action) string {
	if m.chosen > 0 {
		return map[intent.Action]string{intent.Back: "page", intent.Open: "correct", intent.Skip: "strike out", intent.Edit: "file", intent.Down: "entry"}[a]
	}
	closed := m.vessel.Ferment.Past
	if closed && (a == intent.Done || a == intent.Skip || a == intent.Reading) || (closed || m.vessel.Culture != nil) && (a == intent.Bottle || a == intent.Rack) {
		return screen.Unnamed
	}
	return map[intent.Action]string{intent.Back: screen.WhereFrom, intent.Open: "into the log"}[a]
}

// Names returns the keys of an entry of the log that is chosen.
func (m Model) Names(screen.Frame) []intent.Action {
	if m.chosen == 0 {
		return nil
	}
	return []intent.Action{intent.Open, intent.Skip, intent.Edit, intent.Down, intent.Back, intent.Help}
}

// File returns the vessel's, at the first entry of the log in sight, else the newest.
func (m Model) File(f screen.Frame) (file string, line int) {
	file = m.vessel.Ferment.File
	switch {
	case m.gone:
		return "", 0
	case m.vessel.Culture != nil:
		file = "cultures.yaml"
	}
	if m.chosen > 0 {
		return file, m.chosen
	}
	end := min(m.top+room(f), len(m.rows))
	for _, rows := range [][]row{m.rows[min(m.top, end):end], m.rows} {
		for _, r := range rows {
			if r.line > 0 {
				return file, r.line
			}
		}
	}
	return file, 1
}

// DrawsBelow says that the page draws Below itself, in its lower part.
func (m Model) DrawsBelow() {}

const headRows = 2

// room returns how many rows scroll: all but the title and the last one.
func room(f screen.Frame) int { return max(f.Height-headRows-1, 0) }

func (m Model) scrolled(f screen.Frame, top int) Model {
	m.top = max(min(top, len(m.rows)-room(f)), 0)
	return m
}

// AtEnd reports whether the page's last row is in sight, and no entry is chosen.
func (m Model) AtEnd(f screen.Frame) bool { return m.chosen == 0 && m.top+room(f) >= len(m.rows) }

func (m Model) View(f screen.Frame) string {
	return f.Draw(func() []string {
		rows := []string{m.head(f), ""}
		for i := m.top; i < len(m.rows) && len(rows) < f.Height-1; i++ {
			rows = append(rows, m.rows[i].text)
		}
		if len(f.Below) == 0 {
			return rows
		}
		from := max(f.Height-2-len(f.Below), headRows)
		for len(rows) < from {
			rows = append(rows, "")
		}
		rows = append(append(rows[:from], ""), f.Below...)
		return rows[:min(len(rows), f.Height-1)]
	})
}

func (m Model) head(f screen.Frame) string {
	page := f.Page()
	r := layout.Row{}.At(page.Margin-1, f.Theme.Tag(m.vessel.Label()))
	if m.gone {
		return r.At(12, "it is not in the cellar any more, or its file cannot be read").In(page.End())
	}
	row := f.Sheet.Row(m.vessel.ID())
	stage := row.Stage
	if m.vessel.Ferment.Past {
		stage = "closed"
	}
	if row.Condition != "" {
		stage = widget.InWord(f.Theme, row.Condition, string(row.Condition.Mark())+" "+stage)
	}
	if row.Day != "" && row.Day != words.Unknown {
		stage += ", day " + row.Day
	}
	return r.At(12, m.vessel.Ferment.Name).Until(page.End(), stage).In(f.Width)
}
