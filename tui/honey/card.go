package honey

import (
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// textColumn is the column of a card's text, from its margin.
const textColumn = 12

type paper struct {
	theme theme.Theme
	page  layout.Page
	rows  []string
}

// card returns the details of what is under the cursor: cautions first.
func (m view) card() []string {
	p := &paper{theme: m.Theme, page: m.cardPage()}
	i := m.at[m.open]
	switch {
	case m.selected() == "":
	case m.open == cultures:
		p.culture(m.words.Cultures[i])
	case m.open == past:
		p.title(m.words.Past[i].ID, m.words.Past[i].Name)
		p.facts(m.words.Past[i].Facts)
	default:
		p.lot(m.words.Lots[i])
	}
	return p.rows
}

func (p *paper) lot(l words.LotCard) {
	p.title(l.ID, l.Name)
	p.cautions(l.Cautions, false)
	p.facts(l.Facts)
	p.block(len(l.Makes), func(i int) (word, text string) {
		if i == 0 {
			word = "makes"
		}
		return word, strings.TrimSpace(p.theme.Bold(l.Makes[i].Name) + "  " + l.Makes[i].Says)
	})
	p.takes(l.Takes)
	p.cautions(l.Cautions, true)
}

func (p *paper) culture(k words.CultureCard) {
	p.title(k.ID, k.Name)
	p.cautions(k.Cautions, false)
	p.tasks(k.Tasks)
	p.facts(k.Facts)
	p.tree(k.Tree)
	p.block(len(k.Passages), func(i int) (word, text string) {
		m := k.Passages[i]
		return widget.Word(p.theme, m.Word), m.When + ", " + m.What + ": " + m.Became
	})
	p.block(len(k.Made), func(i int) (word, text string) {
		return p.theme.Bold(layout.Cut(k.Made[i].Who, textColumn-2)), k.Made[i].Says
	})
	p.cautions(k.Cautions, true)
}

func (p *paper) title(id, name string) {
	r := layout.Row{}.At(p.page.Margin, p.theme.Bold(layout.Cut(id, p.page.Width)))
	p.rows = append(p.rows, r.At(max(p.text(), r.End()+2), name).In(p.page.End()))
}

func (p *paper) text() int { return p.page.Margin + textColumn }

// told adds a text with its label.
func (p *paper) told(word, text string) {
	p.rows = append(p.rows, widget.Labelled(p.page, p.text(), p.page.End(), word, text)...)
}

func (p *paper) blank() { p.rows = append(p.rows, "") }

// block writes n labelled texts after a blank row.
func (p *paper) block(n int, row func(i int) (word, text string)) {
	for i := range n {
		if i == 0 {
			p.blank()
		}
		p.told(row(i))
	}
}

// under writes a text next to a word; the background of a stop begins a column further left.
func (p *paper) under(w words.Word, text string) {
	page := p.page
	if w.OnField() {
		page.Margin--
	}
	p.rows = append(p.rows, widget.Labelled(page, p.text(), page.End(), widget.Word(p.theme, w), text)...)
}

// cautions writes either the notes, after a blank row, or all others.
func (p *paper) cautions(cs []words.Said, notes bool) {
	first := notes
	for _, c := range cs {
		if (c.Word == words.Note) != notes {
			continue
		}
		if first {
			p.blank()
			first = false
		}
		p.under(c.Word, c.Text)
	}
}

func (p *paper) facts(fs []words.Fact) {
	for _, f := range fs {
		p.told(f.Name, f.Says)
	}
}

// The columns of takes, from that of the text.
const (
	forColumn = 14
	massEnd   = 44
)

// takes writes who took how much, each in a row, cut to leave room for the mass.
func (p *paper) takes(ts []words.Took) {
	if len(ts) == 0 {
		return
	}
	p.blank()
	for i, t := range ts {
		word := ""
		if i == 0 {
			word = "used"
		}
		end := min(p.text()+massEnd, p.page.End())
		r := layout.Row{}.At(p.page.Margin, word).At(p.text(), t.When)
		r = r.At(p.text()+forColumn, layout.Cut(strings.TrimSpace(t.Who+", "+t.For), max(end-layout.Width(t.Mass)-2-p.text()-forColumn, 4)))
		p.rows = append(p.rows, r.At(end-layout.Width(t.Mass), p.theme.Bold(t.Mass)).In(p.page.End()))
	}
}

// tasks writes what a culture needs, and how; of what is done or still to come, without the reason.
func (p *paper) tasks(ls []words.Line) {
	for _, l := range ls {
		act, because := l.Act, words.Join(": ", l.Reason, l.Instead)
		if l.Word.Now() {
			act = p.theme.Bold(act)
		}
		if l.Word == words.Done || l.Word == words.Skipped || l.Word == words.Coming {
			because = ""
		}
		p.under(l.Word, words.Join(", ", words.Join(" ", act, l.Amount.String()), l.Until, because))
	}
}

// tree writes the family tree, each culture under its parent, indented at most eight times.
func (p *paper) tree(bs []words.Branch) {
	if len(bs) < 2 {
		return
	}
	p.blank()
	for i, b := range bs {
		word, id := "", b.ID
		if i == 0 {
			word = "descent"
		}
		if b.Self {
			id = p.theme.Bold(id)
		}
		if b.Depth > 0 {
			id = strings.Repeat("  ", min(b.Depth, 8)-1) + "└ " + id
		}
		r := layout.Row{}.At(p.page.Margin, word).At(p.text(), id)
		p.rows = append(p.rows, r.At(r.End()+2, b.Says).In(p.page.End()))
	}
}
