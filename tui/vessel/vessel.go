// Package vessel is the page of one vessel: what it needs, its figures with
// what they assume, its gates, its plan and its log.
package vessel

import (
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the page. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	width, height int
	vessel        app.Vessel
	row           words.Row
	now           time.Time
	gone          bool // its file is not there any more, or cannot be read
	top           int  // the first row that is shown
	below         []string
	foot          string
	needs         []words.Line
	rows          []row
	drawn         drawing
	forecast      forecast.Forecast
}

// row is one row of the page, and the line of the file that it stands for.
type row struct {
	text string
	line int
}

// New is a page without a size and a vessel.
func New(t theme.Theme) Model { return Model{theme: t} }

// SetSize is the page on a screen of that size.
func (m Model) SetSize(width, height int) Model {
	m.width, m.height = width, height
	return m.laid()
}

// SetTheme is the page in other colours.
func (m Model) SetTheme(t theme.Theme) Model {
	m.theme = t
	return m.laid()
}

// Open is the page of a vessel, from its top.
func (m Model) Open(id string) Model {
	m.vessel.Ferment.ID, m.top, m.gone = id, 0, true
	return m
}

// Show is the page as a snapshot has it, scrolled as it was.
func (m Model) Show(s app.Snapshot, sheet words.Sheet) Model {
	v, ok := s.Find(m.vessel.ID())
	m.gone, m.now = !ok, s.At
	if ok {
		m.vessel, m.forecast = app.Foreseen(v)
		m.row, m.needs = words.Row{}, sheet.Lines(v.ID())
		for _, r := range sheet.Vessels {
			if r.ID == v.ID() {
				m.row = r
			}
		}
	}
	return m.laid()
}

// SetFoot is the page with another last row, drawn from the margin on.
func (m Model) SetFoot(row string) Model {
	m.foot = row
	return m
}

// Below is the page with lines in place of its lower part.
func (m Model) Below(lines []string) Model {
	m.below = lines
	return m
}

// Above is the page whole again.
func (m Model) Above() Model {
	m.below = nil
	return m
}

// Numbers shows the course as a table, or as a curve again.
func (m Model) Numbers() Model {
	m.drawn = 1 - m.drawn
	return m.laid()
}

// Seek scrolls to the next row that holds a text, from the one under the top on
// and round; with again from the row after it.
func (m Model) Seek(text string, again bool) (Model, bool) {
	from := m.top
	if again {
		from++
	}
	for i := range m.rows {
		at := (from + i) % len(m.rows)
		if strings.Contains(strings.ToLower(ansi.Strip(m.rows[at].text)), strings.ToLower(text)) {
			m.top = at
			return m, true
		}
	}
	return m, false
}

// ID is the vessel that the page is of.
func (m Model) ID() string { return m.vessel.ID() }

// Move scrolls by n rows.
func (m Model) Move(n int) Model { return m.scrolled(m.top + n) }

// Page scrolls by n screens.
func (m Model) Page(n int) Model { return m.scrolled(m.top + n*max(m.room()-2, 1)) }

// Home scrolls to the top.
func (m Model) Home() Model { return m.scrolled(0) }

// End scrolls to the bottom.
func (m Model) End() Model { return m.scrolled(len(m.rows)) }

// Line is the line of the file that the page stands at: of the first entry of
// the log in sight, else of the newest.
func (m Model) Line() int {
	end := min(m.top+m.room(), len(m.rows))
	for _, r := range m.rows[min(m.top, end):end] {
		if r.line > 0 {
			return r.line
		}
	}
	for _, r := range m.rows {
		if r.line > 0 {
			return r.line
		}
	}
	return 0
}

// room is how many rows scroll: all but the head and the last one.
func (m Model) room() int { return max(m.height-headRows-1, 0) }

const headRows = 2

func (m Model) scrolled(top int) Model {
	m.top = max(min(top, len(m.rows)-m.room()), 0)
	return m
}

// laid works the rows out for the width.
func (m Model) laid() Model {
	m.rows = nil
	if m.width > 0 && !m.gone {
		m.rows = pageOf(m.theme, m.width, m.vessel, m.forecast, m.needs, m.now, m.drawn)
	}
	return m.scrolled(m.top)
}

// View draws the page in exactly its size, rows parted by line feeds.
func (m Model) View() string {
	if !layout.Fits(m.width, m.height) {
		return fill(widget.TooSmall(m.theme, m.width, m.height), m.width, m.height)
	}
	rows := []string{m.head(), ""}
	for i := m.top; i < len(m.rows) && len(rows) < m.height-1; i++ {
		rows = append(rows, m.rows[i].text)
	}
	if len(m.below) > 0 {
		from := max(m.height-2-len(m.below), headRows)
		rows = append(append(padded(rows, from)[:from], ""), m.below...)
	}
	rows = append(padded(rows, m.height-1)[:m.height-1], strings.Repeat(" ", layout.PageOf(m.width).Margin)+m.foot)
	return fill(rows, m.width, m.height)
}

func padded(rows []string, n int) []string {
	for len(rows) < n {
		rows = append(rows, "")
	}
	return rows
}

// fill cuts rows to a size and joins them.
func fill(rows []string, w, h int) string {
	rows = padded(rows, h)[:max(h, 0)]
	for i, r := range rows {
		rows[i] = layout.Cut(r, w)
	}
	return strings.Join(rows, "\n")
}

// head is the tag hung out, the name, the stage and the day.
func (m Model) head() string {
	page := layout.PageOf(m.width)
	r := layout.Row{}.At(page.Margin-1, m.theme.HungOut(m.vessel.Label()))
	if m.gone {
		return r.At(12, "it is not in the cellar any more, or its file cannot be read").In(page.End())
	}
	stage := m.row.Stage
	if m.row.Condition != "" {
		stage = widget.InWord(m.theme, m.row.Condition, string(m.row.Condition.Mark())+" "+stage)
	}
	if m.row.Day != "" && m.row.Day != words.Unknown {
		stage += ", day " + m.row.Day
	}
	return r.At(12, m.vessel.Ferment.Name).Until(page.End(), stage).In(m.width)
}
