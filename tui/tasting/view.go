package tasting

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

const textColumn = 12

func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page := m.Page()
	rows := []string{m.head(page)}
	switch m.stage {
	case pouring:
		rows = append(append(rows, ""), widget.Scrolled(m.Theme, page, page.End(), m.pour(page), 0, m.Height-3)...)
	case tastes:
		rows = append(rows, m.sheet(page)...)
	case shown:
		rows = append(append(rows, ""), widget.Scrolled(m.Theme, page, page.End(), m.shown(page), m.top, m.Height-3)...)
	}
	return rows
}

func (m view) lastTop() int {
	if m.stage != shown || !m.Fits() {
		return 0
	}
	return widget.LastTop(m.shown(m.Page()), m.Height-3)
}

func (m view) head(page layout.Page) string {
	about := "not blind: " + m.labels()
	switch {
	case m.stage == shown:
		about = "kept: " + m.labels()
	case m.triangle:
		about = "three glasses, two the same; the answer comes at the end"
	case m.want.Blind:
		about = "blind: names are shown when both are kept"
	}
	when := m.Snapshot.At.Format("Mon 2 Jan, 15:04")
	r := layout.Row{}.At(page.Margin, m.Theme.Bold("taste")).At(textColumn, about)
	if r.Fits(page.End(), when) {
		r = r.Until(page.End(), when)
	}
	return r.In(page.End())
}

func (m view) labels() string {
	return strings.Join(ferment.Map(m.vessels(), app.Vessel.Label), " and ")
}

// pour returns what to pour into which glass.
func (m view) pour(page layout.Page) []string {
	codes := ferment.Map(m.glasses, func(g glass) string { return fmt.Sprint(g.code) })
	rows := m.told(page, "pour", m.Theme.Bold(strings.Join(codes, ", "))+": somebody else pours the same amount into glasses with these codes while you look away")
	if m.seen {
		rows = append(rows, "")
		for _, g := range m.glasses {
			says := g.poured.Vessel.Label()
			if g.poured.Bottle != "" {
				says += ", bottle " + g.poured.Bottle
			}
			rows = append(rows, layout.Row{}.At(textColumn, m.Theme.Bold(fmt.Sprint(g.code))).At(textColumn+6, says).In(page.End()))
		}
	}
	rows = append(rows, "")
	if !m.triangle {
		rows = append(rows, m.told(page, "or", "try three glasses, one of them odd: can you tell which?")...)
		rows = append(rows, "")
	}
	return append(rows, m.under(page)...)
}

func (m view) told(page layout.Page, word, text string) []string {
	return widget.Labelled(page, textColumn, page.End(), m.Theme.Faint(word), text)
}

// columns returns the columns and width of the glasses; under 74 columns only that of the cursor.
func (m view) columns(page layout.Page) (at []int, width int) {
	if len(m.glasses) == 2 && m.Width >= 74 {
		second := textColumn + (page.End()-textColumn+4)/2
		return []int{textColumn, second}, page.End() - second
	}
	return []int{textColumn}, page.End() - textColumn
}

// air is how many blank rows there are.
type air int

const (
	none   air = iota
	groups     // between groups of lines
	lines      // between all lines
)

// sheet returns the glasses, their lines, cautions and notes; blank rows are left out first.
func (m view) sheet(page layout.Page) []string {
	top, under, room := m.codes(page), m.under(page), m.Height-2
	for _, a := range []air{lines, groups, none} {
		rows := append(slices.Clone(top), m.rows(page, a)...)
		if a > none {
			rows = append([]string{""}, append(rows, "")...)
		}
		if left := room - len(rows); left >= min(len(under), 4) || a == none {
			return append(rows, widget.Scrolled(m.Theme, page, page.End(), under, 0, max(left, 0))...)
		}
	}
	return nil
}

// codes returns the codes of the glasses and their ages.
func (m view) codes(page layout.Page) []string {
	if m.triangle {
		r := layout.Row{}
		for i, g := range m.glasses {
			r = r.At(textColumn+9*i, m.Theme.Bold(fmt.Sprint(g.code)))
		}
		return []string{r.In(page.End())}
	}
	at, _ := m.columns(page)
	codes, ages := layout.Row{}, layout.Row{}
	for i := range m.glasses {
		column := textColumn + 8*i
		if len(at) == len(m.glasses) {
			column = at[i]
			ages = ages.At(at[i], m.Theme.Faint(m.age(i)))
		}
		if i == m.at().glass {
			codes = codes.At(column-1, m.Theme.Tag(m.name(i)))
		} else {
			codes = codes.At(column, m.Theme.Bold(m.name(i)))
		}
	}
	rows := []string{codes.In(page.End())}
	if age := ages.In(page.End()); m.Height >= 24 && age != "" {
		rows = append(rows, age)
	}
	return rows
}

// age returns the age of a glass, unless it would reveal which of the blind ones it is.
func (m view) age(i int) string {
	age := m.ageOf(i)
	for j := range m.glasses {
		if m.want.Blind && m.ageOf(j) != age {
			return ""
		}
	}
	return age
}

func (m view) ageOf(i int) string {
	c := m.glasses[i].poured.Vessel.Course
	if b, bottled := c.Last(ferment.Bottle); bottled && (c.Stage == course.Bottled || m.glasses[i].poured.Bottle != "") {
		if age := m.Snapshot.At.Sub(b.At.Time); age < 60*24*time.Hour {
			return words.Age(age) + " in the bottle"
		}
		return words.Months(b.At.Time, m.Snapshot.At) + " in the bottle"
	}
	if !c.Pitch.Known {
		return "from the vessel"
	}
	return fmt.Sprintf("from the vessel, day %d", m.Snapshot.At.Sub(c.Pitch.At)/(24*time.Hour))
}

func (m view) rows(page layout.Page, a air) []string {
	var rows []string
	for _, l := range m.lines() {
		if a == lines && !l.tight || a == groups && l.group {
			rows = append(rows, "")
		}
		rows = append(rows, m.row(page, l))
		if hint := l.hint; l.name == "faults" && (a > none || m.at().line == l.name) {
			rows = append(rows, layout.Row{}.At(textColumn, m.Theme.Faint(layout.CutClauses(hint, page.End()-textColumn))).In(page.End()))
		}
	}
	return rows
}

func (m view) row(page layout.Page, l line) string {
	r, name := layout.Row{}, l.name
	if name == m.at().line {
		r, name = r.At(0, m.Theme.In(theme.Accent, "▌")), m.Theme.Bold(name)
	}
	if l.later && !m.allWritten() {
		return r.At(page.Margin, m.Theme.Faint(name)).At(textColumn, m.Theme.Faint(layout.CutClauses(measure.Fill(l.hint, m.units()), page.End()-textColumn))).In(page.End())
	}
	r = r.At(page.Margin, name)
	at, width := m.columns(page)
	if l.once {
		width = page.End() - textColumn
	}
	for i := range m.glasses {
		column := textColumn
		switch {
		case l.once && i > 0, len(at) == 1 && !l.once && i != m.at().glass:
			continue
		case !l.once && len(at) > 1:
			column = at[i]
		}
		r = r.At(column, m.cell(l, i, width))
	}
	return r.In(page.End())
}

// cell returns the text of a line for a glass, or a hint if empty.
func (m view) cell(l line, i, width int) string {
	here := m.of(l, i)
	text, set := m.Typed[here.key()]
	if l.name == bottle.name && !set {
		text = m.bottle(i)
	}
	on := here == m.at()
	switch {
	case l.name == again.name || l.name == oddOne.name:
		return m.choice(l, text, on)
	case on && m.Text.String() == "" && l.hint != "" && l.name != "faults":
		return m.Text.Drawn(m.Theme, 4) + " " + m.Theme.Faint(measure.Fill(l.hint, m.units()))
	case on:
		return m.Text.Drawn(m.Theme, width)
	case text == "":
		return words.Unknown
	}
	return layout.CutWords(text, width)
}

// choice returns the codes to choose from, the chosen one highlighted.
func (m view) choice(l line, chosen string, on bool) string {
	r := layout.Row{}
	for i, g := range m.glasses {
		code := fmt.Sprint(g.code)
		if code == chosen {
			r = r.At(max(9*i-1, 0), m.Theme.Tag(code))
			continue
		}
		r = r.At(9*i, code)
	}
	if on {
		r = r.At(r.End()+3, m.Theme.Faint("← →"))
	}
	return r.At(r.End()+3, m.Theme.Faint(measure.Fill(l.hint, m.units()))).In(m.Width)
}

// under returns the error, cautions, what is hidden, and the bottles that will be taken.
func (m view) under(page layout.Page) []string {
	var rows []string
	say := func(w words.Word, text string) {
		column := page.Margin
		if w != "" {
			column = textColumn
		}
		rows = append(rows, widget.Labelled(page, column, page.End(), widget.Word(m.Theme, w), text)...)
	}
	if m.failed != "" {
		say(words.No, m.failed)
	}
	cautions, _ := form.MayTaste(m.Snapshot, m.vessels())
	for _, l := range cautions {
		if l.Word != words.Note {
			say(l.Word, l.Text)
		}
	}
	say("", m.hidden())
	say("", m.takes())
	for _, l := range cautions {
		if l.Word == words.Note {
			say(l.Word, l.Text)
		}
	}
	return rows
}

// hidden says how many earlier tastings are not shown.
func (m view) hidden() string {
	n := 0
	for _, v := range m.vessels() {
		n += words.EarlierTastings(v)
	}
	if n == 0 {
		return ""
	}
	return "Hidden until this is kept: " + words.Plural(n, "earlier tasting") + "."
}

// takes says which bottles will be taken, in the order of the ferments.
func (m view) takes() string {
	var takes []string
	for _, v := range m.vessels() {
		i := slices.IndexFunc(m.glasses, func(g glass) bool { return g.poured.Vessel.ID() == v.ID() })
		p := m.glasses[i].poured
		p.Bottle = m.bottle(i)
		if t := p.Takes(m.Snapshot); t != "" {
			takes = append(takes, t)
		}
	}
	if len(takes) == 0 {
		return ""
	}
	return "Bottles on the shelf: " + strings.Join(takes, ", ") + "."
}
