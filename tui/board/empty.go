package board

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// roomyWhenEmpty is the height from which blank rows stand between the ways.
const roomyWhenEmpty = 20

// noVessels is what stands where there is none.
const noVessels = "No vessels yet."

// waysOn are the commands that an empty cellar offers, with what each gives.
var waysOn = [][2]string{
	{"jugkeeper demo", "an invented cellar to walk about in"},
	{"jugkeeper new LIME-A", "a commented file for your editor"},
}

// whereLooked says where vessels are looked for.
func whereLooked(s words.Sheet) []string {
	return []string{"This cellar is " + s.Dir + ".", "A file in its ferments is a vessel."}
}

// emptyLines is an empty cellar written down, with the ways on.
func emptyLines(t theme.Theme, s words.Sheet, width int) []string {
	rows := []string{t.Bold(noVessels)}
	for _, text := range whereLooked(s) {
		rows = append(rows, layout.Wrap(text, width)...)
	}
	rows = append(rows, "")
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

// empty is the board of a cellar without a vessel: where it looks, and the ways
// on.
func (p view) empty() []string {
	t, page := p.Theme, p.Page()
	line := func(text string) string { return layout.Row{}.At(page.Margin, text).In(page.End()) }
	way := func(key, does string, column int) string {
		return layout.Row{}.At(page.Margin, t.Bold(key)).At(column, does).In(page.End())
	}
	body := []string{line(t.Bold(noVessels)), ""}
	for _, says := range whereLooked(p.Sheet) {
		for _, text := range layout.Wrap(says, page.Width) {
			body = append(body, line(text))
		}
	}
	body = append(body, "")
	p.page = page
	for _, w := range ways {
		body = append(body, way(p.KeyName(w.key), layout.CutClauses(w.does, page.End()-p.grid.state), p.grid.state))
		if p.Height >= roomyWhenEmpty {
			body = append(body, "")
		}
	}
	if p.Height < roomyWhenEmpty {
		body = append(body, "")
	}
	body = append(body, line("Or leave with "+t.Bold(p.KeyName(intent.Leave))+" and type"))
	if p.Height >= roomyWhenEmpty {
		body = append(body, "")
	}
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

// ways are what may be pressed while there is no vessel.
var ways = []struct {
	key  intent.Action
	does string
}{
	{intent.New, "a new vessel, by the honey you weighed or the gravity you want"},
	{intent.Store, "note a lot of honey first"},
	{intent.Help, "keys and words"},
}
