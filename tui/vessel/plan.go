package vessel

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// planOrder is the order of the plan: what can be done, what cannot yet, what
// is over.
var planOrder = []words.Word{
	words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay, words.Option, words.Later, words.Coming, words.Lapsed, words.Done, words.Skipped,
}

// inOrder sorts lines by their word; what is over stands the newest first.
func inOrder(lines []words.Line) []words.Line {
	slices.SortStableFunc(lines, func(a, b words.Line) int {
		if a.Word != b.Word {
			return slices.Index(planOrder, a.Word) - slices.Index(planOrder, b.Word)
		}
		if over(a.Task.State) {
			return b.Task.Settled.Compare(a.Task.Settled)
		}
		return 0
	})
	return lines
}

func over(s schedule.State) bool {
	return s == schedule.Done || s == schedule.Skipped || s == schedule.Lapsed
}

// The columns of the plan.
const (
	actColumn    = 13
	detailColumn = 27
)

// plan is every task in every state.
func (p *paper) plan() {
	lines := linesOf(p.vessel, p)
	p.heading("plan")
	if len(lines) == 0 {
		p.put(layout.Row{}.At(p.page.Margin, "no plan: the file names no protocol"))
	}
	for _, g := range gathered(lines) {
		p.task(g.Line, g.before)
	}
}

// several is a task with how many of the same step ended the same way before.
type several struct {
	words.Line
	before int
}

// gathered keeps of what is over the newest of each step; the log has the rest.
func gathered(lines []words.Line) []several {
	var out []several
	for _, l := range lines {
		i := slices.IndexFunc(out, func(s several) bool { return s.Word == l.Word && s.Task.Step == l.Task.Step })
		if i >= 0 && over(l.Task.State) {
			out[i].before++
			continue
		}
		out = append(out, several{Line: l})
	}
	return out
}

func (p *paper) task(l words.Line, before int) {
	act := l.Act
	if layout.Width(act) > detailColumn-actColumn-1 {
		act = words.ShortLabel(l.Task)
	}
	if l.Word.Now() {
		act = p.theme.Bold(act)
	}
	until := l.Until
	if l.Word == words.Lapsed && !l.Task.Settled.IsZero() {
		until = words.When(l.Task.Settled, p.now)
	}
	r := p.word(p.page.Margin, l.Word).At(actColumn, act)
	column := max(detailColumn, r.End()+2)
	room := p.page.End() - column
	if until != "" {
		room -= layout.Width(until) + 2
	}
	details := layout.Wrap(detail(l, before), max(room, 8))
	for i, d := range append(details, "")[:max(len(details), 1)] {
		if i > 0 {
			r, until = layout.Row{}, ""
		}
		p.put(r.At(column, d).Until(p.page.End(), until))
	}
}

// detail is how much, and why or what for.
func detail(l words.Line, before int) string {
	text := strings.TrimSpace(l.Amount.String() + " " + l.Of)
	if l.Stock != nil {
		text += ", " + l.Stock.String() + " " + l.StockOf
	}
	text += "; " + strings.TrimPrefix(why(l), ": ")
	if a := l.Task.Amount; a != nil && !over(l.Task.State) {
		for _, more := range []string{a.Unknown, a.How, a.Assumed} {
			if more != "" {
				text += "; " + more
			}
		}
	}
	if before > 0 {
		text += fmt.Sprintf("; %d before it", before)
	}
	return strings.Trim(text, "; ")
}
