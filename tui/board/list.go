package board

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// taskList returns the tasks in so many rows, and how many have no row and are not counted in one.
func (p view) taskList(rows int) (list []string, hidden int) {
	selected := intent.Task{}
	if lines := p.lines(); len(lines) > 0 && (p.side == Tasks || p.firstLineOf(p.vessel) >= 0) {
		selected = idOf(lines[p.taskIndex()])
	}
	calm := p.calmRows()
	var entries, pinned []item
	for _, it := range p.itemsFor(selected) {
		l, e := it.first(), it
		e.rows, e.selected = nil, slices.ContainsFunc(it.lines, func(l words.Line) bool { return idOf(l) == selected })
		on := e.selected && p.side == Tasks
		for y, row := range it.rows {
			tag := ""
			if y == 0 && it.tagged {
				tag = l.Tag
			}
			subject := l.Subject
			if len(it.lines) > 1 {
				subject = ""
			}
			e.rows = append(e.rows, p.lead(on, "", layout.Cut(tag, p.grid.room+tagRoom(l)), subject, group(l.Word) == 0, row))
		}
		if l.Alarm != nil {
			pinned = append(pinned, e)
			continue
		}
		entries = append(entries, e)
	}
	if len(pinned) > 0 {
		return under(pinned, entries, rows, p.page.Margin)
	}
	return append(calm, window(entries, rows-len(calm), p.page.Margin)...), 0
}

// under returns a list whose first entries, the dangers, never scroll away, and how many of the others it neither shows
// nor counts.
func under(pinned, entries []item, rows, indent int) (list []string, hidden int) {
	if len(flat(pinned)) > rows {
		whole := max(slices.IndexFunc(pinned, func(e item) bool { return e.selected }), 0)
		for i := range pinned {
			pinned[i].gap = false
			if i != whole {
				pinned[i].rows = pinned[i].rows[:1]
			}
		}
	}
	out := flat(pinned)
	room := rows - len(out)
	if room > len(flat(entries)) || room > 3 {
		out, room = append(out, ""), room-1
	}
	if room < 1 {
		return out, len(entries)
	}
	list = window(entries, room, indent)
	if len(flat(entries)) > room && !strings.Contains(list[len(list)-1], "↓ ") {
		hidden = len(entries) - 1
	}
	return append(out, list...), hidden
}

// calmRows say that there is nothing to do, and what comes next.
func (p plan) calmRows() []string {
	if !p.Sheet.Calm() {
		return nil
	}
	rows := []string{layout.Row{}.At(p.page.Margin, p.Theme.Bold("Nothing to do today.")).In(p.Width)}
	if next := p.Sheet.Next; next != "" {
		rows = append(rows, layout.Row{}.At(p.page.Margin, "Next: "+next+".").In(p.page.End()))
	}
	if len(p.candidates()) > 0 {
		rows = append(rows, "")
	}
	return rows
}

func (p view) vesselList(rows int) []string {
	var entries, quiet []item
	var names []string
	all := rows >= len(p.Sheet.Vessels)
	together := !all && p.detail >= quietInOne && len(p.quietOnes()) > 1
	for _, r := range p.Sheet.Vessels {
		on := p.side == Vessels && r.ID == p.vessel
		room := p.grid.room
		if r.Culture {
			room += sharedTag
		}
		row := p.columns.row(p.Theme, r, p.Sheet.Chart)
		e := item{rows: []string{p.lead(on, r.Trial, layout.Cut(r.Tag, room), r.ID, true, row)}, selected: r.ID == p.vessel}
		if together && r.Quiet {
			quiet, names = append(quiet, e), append(names, r.Tag)
			continue
		}
		entries = append(entries, e)
	}
	switch {
	case !all && (p.grid.narrow || rows < 3):
		return p.selectedVessel(append(entries, quiet...), rows)
	case len(quiet) > 0:
		row := layout.Row{}.At(p.grid.tag, fmt.Sprintf("%d quiet", len(quiet))).At(p.grid.state, strings.Join(names, ", ")).In(p.page.End())
		for _, e := range quiet { // the selected one is shown in full
			if e.selected {
				row = e.rows[0]
			}
		}
		entries = append(entries, item{rows: []string{row}, selected: hasSelected(quiet)})
	}
	return window(entries, rows, p.page.Margin)
}

// selectedVessel returns the selected vessel's row and one that counts the rest.
func (p view) selectedVessel(entries []item, rows int) []string {
	at := max(slices.IndexFunc(entries, func(e item) bool { return e.selected }), 0)
	if len(entries) == 0 || rows < 1 {
		return nil
	}
	list := []string{entries[at].rows[0]}
	var more []string
	if p.hidden > 0 {
		more = append(more, words.Plural(p.hidden, "more task")+": ↓")
	}
	if n := count(p.candidates(), words.AnyDay); n > 0 && p.detail >= anyDayCounted {
		more = append(more, fmt.Sprintf("%d any day", n))
	}
	if n := len(entries) - 1; n > 0 {
		more = append(more, words.Plural(n, "more vessel")+": "+p.KeyName(intent.Side))
	}
	if len(more) > 0 && rows > 1 {
		list = append(list, layout.Row{}.At(p.page.Margin, strings.Join(more, " · ")).In(p.page.End()))
	}
	return list
}

// lead returns what is before the state: cursor bar, the line that joins a trial, tag.
func (p view) lead(cursor bool, trial, tag, id string, bold bool, row string) string {
	return layout.Overlay(p.cursor(cursor, trial)+p.tag(tag, id, bold), row)
}

func (p view) cursor(on bool, trial string) string {
	bar := " "
	if on {
		bar = p.Theme.In(theme.Accent, "▌")
	}
	trial = cmp.Or(trial, " ")
	switch {
	case !p.grid.narrow:
		return bar + trial
	case on:
		return bar
	}
	return trial
}

// tag returns a tag after the column for its edge.
func (p view) tag(tag, id string, bold bool) string {
	switch {
	case tag == "":
		return ""
	case id == p.vessel:
		return p.Theme.Tag(tag)
	case bold:
		return " " + p.Theme.Bold(tag)
	}
	return " " + tag
}

// window returns as much of a list as fits, with the selected entry, and counts the rest.
func window(entries []item, rows, indent int) []string {
	if all := flat(entries); len(all) <= rows {
		return all
	}
	first, last := 0, len(entries)
	for {
		for last > first+1 && windowHeight(entries, first, last) > rows {
			last--
		}
		if !hasSelected(entries[last:]) {
			return framed(entries, first, last, rows, indent)
		}
		first, last = first+1, len(entries)
	}
}

// windowHeight returns how many rows a part of a list takes, including the counts of hidden entries.
func windowHeight(entries []item, first, last int) int {
	n := 0
	for i, e := range entries[first:last] {
		n += len(e.rows)
		if e.gap && i > 0 {
			n++
		}
	}
	if first > 0 {
		n++
	}
	if last < len(entries) {
		n++
	}
	return n
}

// framed returns a part of a list between the counts of hidden entries.
func framed(entries []item, first, last, rows, indent int) []string {
	body, pad := flat(entries[first:last]), strings.Repeat(" ", indent)
	if windowHeight(entries, first, last) > rows {
		return body[:min(len(body), max(rows, 0))]
	}
	if first > 0 {
		body = append([]string{fmt.Sprintf("%s↑ %d more", pad, first)}, body...)
	}
	if rest := len(entries) - last; rest > 0 {
		body = append(body, fmt.Sprintf("%s↓ %d more", pad, rest))
	}
	return body
}

func hasSelected(entries []item) bool {
	return slices.ContainsFunc(entries, func(e item) bool { return e.selected })
}

// flat returns the rows of all entries, with a blank row before an entry that has a gap.
func flat(entries []item) []string {
	var out []string
	for i, e := range entries {
		if e.gap && i > 0 {
			out = append(out, "")
		}
		out = append(out, e.rows...)
	}
	return out
}

// roomyWhenEmpty is the height from which there are blank rows between the proposals.
const roomyWhenEmpty = 20

// noVessels is shown for an empty cellar.
const noVessels = "No vessels yet."

// waysOn are the commands proposed for an empty cellar, and what each does.
var waysOn = [][2]string{
	{"jugkeeper demo", "an invented cellar to try things in"},
	{"jugkeeper new LIME-A", "a file with comments to edit"},
}

// whereLooked says in which folder vessels are looked for.
func whereLooked(s words.Sheet) []string {
	return []string{"This cellar is " + s.Dir + ".", "Each file in its folder ferments is a vessel."}
}

// emptyLines returns the sheet of an empty cellar, with the proposals.
func emptyLines(t theme.Theme, s words.Sheet, width int) []string {
	looked := ferment.Flat(whereLooked(s), func(text string) []string { return layout.Wrap(text, width) })
	rows := append(append([]string{t.Bold(noVessels)}, looked...), "")
	for _, way := range waysOn {
		r := layout.Row{}.At(0, t.Bold(way[0]))
		if 22+layout.Width(way[1]) > width {
			rows = append(append(rows, r.In(width)), layout.Row{}.At(2, way[1]).In(width))
			continue
		}
		rows = append(rows, r.At(22, way[1]).In(width))
	}
	return rows
}

// empty returns the board of an empty cellar: where it looks, and what to do.
func (p view) empty() []string {
	t, page := p.Theme, p.Page()
	line := func(text string) string { return layout.Row{}.At(page.Margin, text).In(page.End()) }
	way := func(key, does string, column int) string {
		return layout.Row{}.At(page.Margin, t.Bold(key)).At(column, does).In(page.End())
	}
	looked := ferment.Flat(whereLooked(p.Sheet), func(says string) []string {
		return layout.Row{}.Wrapped(page.Margin, page.End(), says, layout.Unstyled)
	})
	body := append([]string{line(t.Bold(noVessels)), ""}, looked...)
	p.page = page
	var gap []string // a blank row between the proposals, if there is room
	if p.Height >= roomyWhenEmpty {
		gap = []string{""}
	}
	body = append(body, "")
	for _, w := range ways {
		body = append(append(body, way(p.KeyName(w.key), layout.CutClauses(w.does, page.End()-p.grid.state), p.grid.state)), gap...)
	}
	if p.Height < roomyWhenEmpty {
		body = append(body, "")
	}
	body = append(append(body, line("Or leave with "+t.Bold(p.KeyName(intent.Leave))+" and type")), gap...)
	for _, w := range waysOn {
		body = append(body, way(w[0], w[1], page.Margin+22))
	}
	rows := make([]string, p.Height)
	rows[0] = p.head()
	broken := p.broken()
	from := p.Height - 1 - len(broken)
	copy(rows[top:from], body)
	copy(rows[from:], broken)
	return rows
}

// ways are the keys proposed for an empty cellar.
var ways = []struct {
	key  intent.Action
	does string
}{
	{intent.New, "a new vessel, by the honey you weighed or the gravity you want"},
	{intent.Honey, "note a lot of honey first"},
	{intent.Help, "keys and words"},
}
