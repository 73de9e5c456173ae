package board

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// top is how many rows stand above the list of tasks: the day, and a blank.
const top = 2

// roomy is the height from which a blank row stands over the last one.
const roomy = 28

// plan is how the rows of a screen are shared out.
type plan struct {
	m       Model
	page    layout.Page
	grid    grid
	columns columns
	items   []item // what to do
	tasks   int    // rows for it
	header  int    // the row of the vessels' headings
	vessels int    // rows for the vessels
	foot    int    // the first row under them: broken files and blanks
	cardAt  int    // 0 for none
	card    int    // its width
}

// lay works out once how the rows are shared out: neither moving about nor
// typing changes it.
func (m Model) lay() Model {
	m.laid = nil
	if layout.Fits(m.width, m.height) {
		p := m.share()
		m.laid = &p
	}
	return m
}

func (m Model) plan() plan {
	p := *m.laid
	p.m = m
	return p
}

func (m Model) share() plan {
	p := plan{m: m}
	p.page, p.cardAt, p.card = split(m.width)
	p.grid = gridOf(p.page, m.sheet)
	calm := m.sheet.Calm()
	p.columns = columnsOf(p.grid, p.page.End()+2, calm)
	p.foot = m.height - p.footHeight()
	p.share(p.foot-top, len(m.sheet.Vessels))
	return p
}

// share parts the rows between the two lists. Where even the least of both does
// not go in, the vessels scroll, then the tasks.
func (p *plan) share(rows, vessels int) {
	over := 1 + p.headings()
	rows -= over
	head := len(p.calmRows())
	fixed := func(items []item) int { return head + height(items) }
	lines := p.m.candidates()
	p.items, p.vessels = arrange(p.m.theme, p.grid, lines, rows-vessels-head, noLater), vessels
	if fixed(p.items)+vessels > rows {
		p.vessels = min(max(rows/2, 3), vessels)
		p.items = arrange(p.m.theme, p.grid, lines, rows-p.vessels-head, noReasons)
		if spare := rows - p.vessels - fixed(p.items); spare > 0 {
			p.vessels = min(p.vessels+spare, vessels)
		}
	}
	p.tasks = min(fixed(p.items), rows-p.vessels)
	p.header = top + p.tasks + 1
	if p.tasks+p.vessels < rows {
		p.header++
	}
}

// headings is how many rows the headings of the vessels take.
func (p plan) headings() int {
	if p.columns.headings {
		return 1
	}
	return 0
}

// footHeight is how many rows stand under the vessels.
func (p plan) footHeight() int {
	n := 1 + min(len(p.m.sheet.Broken), mostBroken)
	if p.grid.narrow && p.m.height < 20 {
		if len(p.m.sheet.Broken) > 0 {
			n-- // it stands at the right of the last vessel
		}
		return n
	}
	if p.m.height >= roomy && len(p.m.sheet.Broken) > 0 {
		n++
	}
	return n + 1
}

// mostBroken is how many broken files are named at the foot.
const mostBroken = 3

// lines are the tasks that are shown at this size, in their order: those that
// can be selected.
func (m Model) lines() []words.Line {
	if !layout.Fits(m.width, m.height) {
		return m.candidates()
	}
	items := m.plan().items
	lines := make([]words.Line, len(items))
	for i, it := range items {
		lines[i] = it.line
	}
	return lines
}

// candidates are the tasks that may be shown: on a calm day not what comes.
func (m Model) candidates() []words.Line {
	if !m.sheet.Calm() {
		return m.sheet.Tasks
	}
	var lines []words.Line
	for _, l := range m.sheet.Tasks {
		if l.Word != words.Coming {
			lines = append(lines, l)
		}
	}
	return lines
}
