package honey

import (
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// textColumn is how far behind the margin of a card its text stands.
const textColumn = 12

// paper is a card being filled, row by row.
type paper struct {
	theme theme.Theme
	page  layout.Page
	rows  []string
}

// card is what is under the cursor from near: what can do harm first.
func (m view) card() []string {
	p := &paper{theme: m.Theme, page: m.cardPage()}
	i := m.at[m.open]
	switch {
	case m.selected() == "":
	case m.open == cultures:
		p.culture(m.words.Cultures[i])
	default:
		p.lot(m.words.Lots[i])
	}
	return p.rows
}

// lot is a lot: what to beware of, what it is, what it makes, where it went.
func (p *paper) lot(l words.LotCard) {
	p.title(l.ID, l.Name)
	p.cautions(l.Cautions, loud)
	p.facts(l.Facts)
	p.makes(l.Makes)
	p.takes(l.Takes)
	p.cautions(l.Cautions, quiet)
}

// culture is a culture: what to beware of, what it wants, what is known of it.
func (p *paper) culture(k words.CultureCard) {
	p.title(k.ID, k.Name)
	p.cautions(k.Cautions, loud)
	p.tasks(k.Tasks)
	p.facts(k.Facts)
	p.tree(k.Tree)
	p.passages(k.Passages)
	p.made(k.Made)
	p.cautions(k.Cautions, quiet)
}

// title is whose card it is, where that is not said beside it.
func (p *paper) title(id, name string) {
	r := layout.Row{}.At(p.page.Margin, p.theme.Bold(layout.Cut(id, p.page.Width)))
	p.rows = append(p.rows, r.At(max(p.text(), r.End()+2), name).In(p.page.End()))
}

func (p *paper) text() int { return p.page.Margin + textColumn }

// told is a text beside a word, on as many rows as it takes.
func (p *paper) told(word, text string) {
	p.rows = append(p.rows, widget.Told(p.page, p.text(), p.page.End(), word, text)...)
}

func (p *paper) blank() { p.rows = append(p.rows, "") }

// loud and quiet are which cautions are meant.
func loud(w words.Word) bool  { return w != words.Note }
func quiet(w words.Word) bool { return w == words.Note }

// cautions are those of a loudness; the field of a stop hangs out by a column.
func (p *paper) cautions(cs []words.Said, meant func(words.Word) bool) {
	first := true
	for _, c := range cs {
		if !meant(c.Word) {
			continue
		}
		if first && quiet(c.Word) {
			p.blank()
		}
		first = false
		page := p.page
		if c.Word.OnField() {
			page.Margin--
		}
		p.rows = append(p.rows, widget.Told(page, p.text(), page.End(), widget.Word(p.theme, c.Word), c.Text)...)
	}
}

func (p *paper) facts(fs []words.Fact) {
	for _, f := range fs {
		p.told(f.Name, f.Says)
	}
}

// makes are the musts that the lot is enough for, under one another.
func (p *paper) makes(fs []words.Fact) {
	for i, f := range fs {
		word := ""
		if i == 0 {
			p.blank()
			word = "makes"
		}
		p.told(word, strings.TrimSpace(p.theme.Bold(f.Name)+"  "+f.Says))
	}
}

// The columns of what was taken, behind that of the text.
const (
	forColumn = 14
	massEnd   = 44
)

// takes are what took how much, each on its row; one that has no room for its
// mass beside it has that first.
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

// tasks are what a culture wants, and how.
func (p *paper) tasks(ls []words.Line) {
	for _, l := range ls {
		page, act := p.page, l.Act
		if l.Word.OnField() {
			page.Margin--
		}
		if l.Word.Now() {
			act = p.theme.Bold(act)
		}
		text := words.Join(", ", act+" "+l.Amount.String(), l.Until, because(l))
		p.rows = append(p.rows, widget.Told(page, p.text(), page.End(), widget.Word(p.theme, l.Word), text)...)
	}
}

// because is why a task stands as it does, where that is not plain.
func because(l words.Line) string {
	switch l.Word {
	case words.Done, words.Skipped, words.Coming:
		return ""
	}
	return words.Join(": ", l.Reason, l.Instead)
}

// tree is the line of descent, each under its parent.
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
			id = strings.Repeat("  ", min(b.Depth, mostDepth)-1) + "└ " + id
		}
		r := layout.Row{}.At(p.page.Margin, word).At(p.text(), id)
		p.rows = append(p.rows, r.At(r.End()+2, b.Says).In(p.page.End()))
	}
}

// mostDepth is how deep a line of descent is drawn; what is older stands in one
// line with it.
const mostDepth = 8

// passages are the media that a culture went through, the latest first.
func (p *paper) passages(ms []words.Medium) {
	for i, m := range ms {
		if i == 0 {
			p.blank()
		}
		p.told(widget.Word(p.theme, m.Word), m.When+", "+m.What+": "+m.Became)
	}
}

// made is what ferments made of a culture.
func (p *paper) made(ms []words.Made) {
	for i, m := range ms {
		if i == 0 {
			p.blank()
		}
		p.told(p.theme.Bold(layout.Cut(m.Who, textColumn-2)), m.Says)
	}
}
