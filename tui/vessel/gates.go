package vessel

import (
	"fmt"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// gates are the checklists before what cannot be undone, each with everything
// that is not met and what would meet it.
func (p *paper) gates() {
	if len(p.vessel.Day.Gates) == 0 {
		return
	}
	p.heading("gates")
	for _, g := range p.vessel.Day.Gates {
		p.gate(g)
	}
}

func (p *paper) gate(g schedule.Gate) {
	w, says := words.Shut, "shut"
	if g.Open {
		w, says = words.Open, "open"
	}
	r := layout.Row{}.At(p.page.Margin, widget.InWord(p.theme, w, string(w.Mark()))).At(p.page.Margin+2, string(g.Name))
	switch {
	case !g.Open && len(g.Unmet) > 0:
		says += ": " + notMet(len(g.Unmet))
	case g.Says != "":
		says += ": " + g.Says
	}
	p.beside(r, max(detailColumn, r.End()+2), says)
	if g.Open {
		return
	}
	for _, u := range g.Unmet {
		text := u.What
		if u.Frees != "" {
			text += ": " + u.Frees
		}
		p.beside(layout.Row{}, detailColumn, text)
	}
}

func notMet(n int) string {
	if n == 1 {
		return "one thing is not met"
	}
	return fmt.Sprintf("%d things are not met", n)
}
