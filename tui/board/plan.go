package board

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
)

// top is how many rows stand above the list of tasks: the day, and a blank.
const top = 2

// roomy is the height from which a blank row stands over the last one.
const roomy = 28

// plan is how the rows of a frame are shared out.
type plan struct {
	screen.Frame
	page    layout.Page
	grid    grid
	columns columns
	items   []item // what to do
	tasks   int    // rows for it
	header  int    // the row of the vessels' headings
	vessels int    // rows for the vessels
	under   int    // the first row under them: broken files and blanks
	cardAt  int    // 0 for none
	card    int    // its width
}

// share is how the rows of a frame are shared out; there is nothing to share where
// it is too small.
func share(f screen.Frame) plan {
	p := plan{Frame: f}
	if !f.Fits() {
		return p
	}
	p.page, p.cardAt, p.card = split(f.Width)
	p.grid = gridOf(p.page, f.Sheet)
	p.columns = columnsOf(p.grid, p.page.End()+2, f.Sheet.Calm())
	p.under = f.Height - p.underHeight()
	p.share(p.under-top, len(f.Sheet.Vessels))
	return p
}

// share parts the rows between the two lists. Where even the least of both does
// not go in, the vessels scroll, then the tasks.
func (p *plan) share(rows, vessels int) {
	over := 1 + p.headings()
	rows -= over
	head := len(p.calmRows())
	fixed := func(items []item) int { return head + height(items) }
	lines := p.candidates()
	p.items, p.vessels = arrange(p.Theme, p.grid, lines, rows-vessels-head, noLater), vessels
	if fixed(p.items)+vessels > rows {
		p.vessels = min(max(rows/2, 3), vessels)
		p.items = arrange(p.Theme, p.grid, lines, rows-p.vessels-head, noReasons)
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

// underHeight is how many rows stand under the vessels.
func (p plan) underHeight() int {
	n := 1 + min(len(p.Sheet.Broken), mostBroken)
	if p.grid.narrow && p.Height < 20 {
		if len(p.Sheet.Broken) > 0 {
			n-- // it stands at the right of the last vessel
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

// lines are the tasks that are shown at this size, in their order: those that
// can be selected.
func (p plan) lines() []words.Line {
	if !p.Fits() {
		return p.candidates()
	}
	items := p.items
	lines := make([]words.Line, len(items))
	for i, it := range items {
		lines[i] = it.line
	}
	return lines
}

// candidates are the tasks that may be shown: on a calm day not what comes.
func (p plan) candidates() []words.Line {
	if !p.Sheet.Calm() {
		return p.Sheet.Tasks
	}
	var lines []words.Line
	for _, l := range p.Sheet.Tasks {
		if l.Word != words.Coming {
			lines = append(lines, l)
		}
	}
	return lines
}
