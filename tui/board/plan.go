package board

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// top is the number of rows above the tasks: the day, and a blank one.
const top = 2

// roomy is the height from which there is a blank row above the last one.
const roomy = 28

// plan is how the rows of a frame are divided.
type plan struct {
	screen.Frame
	page    layout.Page
	grid    grid
	columns columns
	detail  detail
	items   []item // tasks, with none selected
	room    int    // rows that they may take
	tasks   int    // rows that they have
	hidden  int    // tasks that have no row, and that no row counts
	header  int    // row of the vessels' headings
	vessels int    // rows for the vessels
	under   int    // first row below them: broken files and blanks
	cardAt  int    // 0 for none
	card    int    // width of the card
}

// share divides the rows of a frame, zero if it is too small.
func share(f screen.Frame) plan {
	p := plan{Frame: f}
	if !f.Fits() {
		return p
	}
	p.page, p.cardAt, p.card = split(f.Width)
	p.grid = gridOf(p.page, f.Sheet)
	p.grid.short = p.grid.narrow || p.Height < 20
	p.grid.done, p.grid.skip = f.KeyName(intent.Done), f.KeyName(intent.Skip)
	p.columns = columnsOf(p.grid, p.page.End()+2, f.Sheet.Calm())
	p.under = f.Height - p.underHeight()
	p.share(p.under - top)
	return p
}

// roomyDays is the height from which each task of any day has its own row.
const roomyDays = 30

// share divides the rows between the lists; with too few the vessels scroll, then the tasks.
func (p *plan) share(rows int) {
	p.grid.low = p.Height < roomyDays
	if rows -= 1 + len(p.calmRows()); p.columns.headings {
		rows--
	}
	lines, start := p.candidates(), everything
	if p.grid.narrow {
		start = lateInOne
	}
	// Any task may be selected, so the detail must fit the tallest choice.
	for p.detail = start; p.detail < noGroupGaps && p.detail.tallest(p.Theme, p.grid, lines)+p.vesselRows(p.detail) > rows; {
		p.detail++
	}
	p.vessels = p.vesselRows(p.detail)
	p.room = rows - p.vessels
	p.items = p.itemsFor(intent.Task{})
	tall := max(height(p.items), p.detail.tallest(p.Theme, p.grid, lines))
	if tall > p.room { // the vessels scroll, and a taller selection scrolls the tasks
		tall = min(tall, height(p.items)+1)
		p.vessels = max(rows-tall, min(2, p.vessels)) // one, and how many there are more
		tall = rows - p.vessels
	}
	if spare := rows - tall - p.vessels; p.grid.narrow && p.vessels+spare >= len(p.Sheet.Vessels) {
		p.vessels = len(p.Sheet.Vessels)
	}
	p.tasks = len(p.calmRows()) + tall
	p.header = top + p.tasks + 1
	if tall+p.vessels < rows {
		p.header++
	}
}

func (p plan) itemsFor(selected intent.Task) []item {
	if p.items == nil || p.detail >= noStock {
		return p.detail.fill(p.Theme, p.grid, p.candidates(), p.room, selected)
	}
	items := slices.Clone(p.items)
	for i, it := range items {
		if len(it.lines) > 1 {
			items[i].rows = []string{anyDayRow(p.Theme, p.grid, it.lines, selected)}
		}
	}
	return items
}

// vesselRows returns how many rows the vessels take; two on a narrow screen.
func (p plan) vesselRows(d detail) int {
	n := len(p.Sheet.Vessels)
	switch quiet := len(p.quietOnes()); {
	case p.grid.narrow:
		return min(n, 2)
	case d >= quietInOne && quiet > 1:
		return n - quiet + 1
	}
	return n
}

func (p plan) quietOnes() []words.Row {
	return slices.DeleteFunc(slices.Clone(p.Sheet.Vessels), func(r words.Row) bool { return !r.Quiet })
}

// underHeight returns how many rows are below the vessels.
func (p plan) underHeight() int {
	n := 1 + min(len(p.Sheet.Broken), mostBroken)
	if p.grid.narrow && p.Height < 20 {
		if len(p.Sheet.Broken) > 0 {
			n-- // it is to the right of the last vessel
		}
		return n
	}
	if p.Height >= roomy && len(p.Sheet.Broken) > 0 {
		n++
	}
	return n + 1
}

// mostBroken is how many broken files are named at the bottom.
const mostBroken = 3

// lines returns the tasks that are shown and can be selected, in their order.
func (p plan) lines() []words.Line {
	if !p.Fits() {
		return p.candidates()
	}
	return ferment.Flat(p.items, func(it item) []words.Line { return it.lines })
}

// candidates returns the tasks that may be shown: on a calm day none to come.
func (p plan) candidates() []words.Line {
	shared := words.Shared(p.Sheet.Tasks)
	if !p.Sheet.Calm() {
		return shared
	}
	return slices.DeleteFunc(shared, func(l words.Line) bool { return l.Word == words.Coming })
}

func (p view) draw() []string {
	rows := make([]string, p.Height)
	rows[0] = p.head()
	list, hidden := p.taskList(p.tasks)
	p.hidden = hidden
	copy(rows[top:], list)
	if len(p.Below) == 0 {
		p.drawVessels(rows)
		p.beside(rows, p.under)
	} else {
		p.drawBelow(rows)
	}
	return rows
}

func (p view) drawVessels(rows []string) {
	at := p.header
	if p.columns.headings {
		rows[at] = p.columns.heading(p.Theme)
		at++
	}
	n := copy(rows[at:p.under], p.vesselList(p.vessels))
	last := at + n - 1
	broken := p.broken()
	if p.under+1 > p.Height-1 { // without a row of its own
		if len(broken) > 0 && last >= at {
			rows[last] = p.merged(rows[last])
		}
		return
	}
	from := p.Height - 1 - len(broken)
	if p.Height >= roomy {
		from--
	}
	copy(rows[from:], broken)
}

// drawBelow draws Below in place of the vessels; the tasks scroll if it needs more.
func (p view) drawBelow(rows []string) {
	last := p.Height - 1
	if last-len(p.Below) < top+2 { // better without a blank row than without the last words
		p.Below = slices.DeleteFunc(slices.Clone(p.Below), func(row string) bool { return row == "" })
	}
	at := min(p.header, last-len(p.Below))
	if at < p.header {
		at = max(at, top+2)
		clear(rows[top:])
		list, _ := p.taskList(at - 1 - top)
		copy(rows[top:at-1], list)
	}
	p.beside(rows, at-1)
	copy(rows[at:last], p.Below)
}

// beside draws the selected vessel's card next to the rows, down to end.
func (p view) beside(rows []string, end int) {
	i := p.indexOfVessel(p.vessel)
	if p.cardAt == 0 || i < 0 {
		return
	}
	for y, text := range widget.Card(p.Theme, p.Sheet.Vessels[i], p.card, end-top) {
		rows[top+y] = layout.Pad(rows[top+y], p.cardAt) + text
	}
}

// head returns the title: day and counts by state. Without room the date, gaps, and counts that can wait are left out,
// in that order.
func (p view) head() string {
	shortest := p.Sheet.At.Format("2 Jan, 15:04")
	for counts := p.Sheet.Counts; len(counts) > 0; counts = counts[:len(counts)-1] {
		for _, gap := range []string{"   ", "  "} {
			n := widget.Counts(p.Theme, counts, gap)
			for _, title := range []string{p.Sheet.Title(), p.Sheet.ShortTitle(), shortest} {
				if r := (layout.Row{}).At(p.page.Margin, p.Theme.Bold(title)); r.Fits(p.page.End(), n) {
					return r.Until(p.page.End(), n).In(p.page.End() + 1)
				}
			}
		}
	}
	return layout.Row{}.At(p.page.Margin, p.Theme.Bold(p.Sheet.Title())).In(p.page.End() + 1)
}

func (p view) broken() []string {
	bs, t, page := p.Sheet.Broken, p.Theme, layout.PageOf(p.Width)
	var rows []string
	for i, b := range bs {
		if i == mostBroken-1 && len(bs) > mostBroken {
			rows = append(rows, layout.Row{}.At(p.page.Margin, fmt.Sprintf("△ and %d more", len(bs)-i)).In(p.Width))
			break
		}
		where, keys := t.In(theme.Warn, "△ "+b.Where), widget.KeyRow(t, []widget.Key{{Key: p.KeyName(intent.Problems), Does: "shows it"}}, page.Width)
		brief, _, _ := strings.Cut(b.What, " (")
		for _, what := range []string{words.Join("; ", b.What, b.LeftOut), b.What, brief, "cannot be read"} {
			if row := (layout.Row{}).At(page.Margin, where+": "+what); row.Fits(page.End(), keys) {
				rows = append(rows, row.Until(page.End(), keys).In(page.End()))
				break
			}
		}
	}
	return rows
}

// merged adds the first broken file at the right of a row, if there is room.
func (p view) merged(row string) string {
	where := p.Sheet.Broken[0].Where
	name, _, _ := strings.Cut(where, ",")
	for _, text := range []string{"△ " + where, "△ " + name, "△ " + p.KeyName(intent.Problems)} {
		if r := (layout.Row{}).At(0, row); r.Fits(p.page.End(), text) {
			return r.Until(p.page.End(), p.Theme.In(theme.Warn, text)).In(p.page.End())
		}
	}
	return row
}
