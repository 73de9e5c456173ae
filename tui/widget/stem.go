package widget

import (
	"slices"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Stem draws the notches of a plan on the stem of a hydrometer in so many rows
// and columns: what has been fallen through, where it floats, what happens
// further down. It needs two rows at least.
func Stem(t theme.Theme, notches []words.Notch, w, rows int) []string {
	notches = thinned(notches, rows)
	if len(notches) < 2 {
		return nil
	}
	g := stemColumns(w)
	out := make([]string, rows)
	places := place(notches, rows)
	now := slices.IndexFunc(notches, func(n words.Notch) bool { return n.Kind == words.Now })
	next := 0
	for y := range out {
		gone := now >= 0 && y <= places[now]
		if next < len(places) && places[next] == y {
			out[y] = g.notch(t, notches[next], gone).In(w)
			next++
			continue
		}
		out[y] = layout.Row{}.At(g.stem, rod(t, gone)).In(w)
	}
	return out[:places[len(places)-1]+1]
}

// stemGrid are the columns of a stem.
type stemGrid struct {
	brk, number, stem, says int
	short                   bool
}

// roomyStem is the width from which a stem has room for sentences.
const roomyStem = 40

func stemColumns(w int) stemGrid {
	if w < roomyStem {
		return stemGrid{0, 2, 9, 12, true}
	}
	return stemGrid{1, 4, 11, 14, false}
}

func (g stemGrid) notch(t theme.Theme, n words.Notch, gone bool) layout.Row {
	says := n.Says
	if g.short && n.Short != "" {
		says = n.Short
	}
	number := n.Number
	if n.Kind == words.Now {
		number, says = t.Bold(number), t.Bold(says)
	}
	return layout.Row{}.At(g.brk, n.Break).At(g.number, number).At(g.stem, sign(t, n.Kind, gone)).At(g.says, says)
}

var signs = map[words.NotchKind]string{
	words.Original: "┬", words.Now: "●", words.AtBreak: "┼", words.AtLimit: "├", words.Finish: "┴",
}

func sign(t theme.Theme, k words.NotchKind, gone bool) string {
	if gone {
		return t.In(theme.Accent, signs[k])
	}
	return signs[k]
}

func rod(t theme.Theme, gone bool) string {
	if gone {
		return t.In(theme.Accent, "┃")
	}
	return "│"
}

// thinned drops limits, then breaks, until each notch has a row of its own.
func thinned(notches []words.Notch, rows int) []words.Notch {
	out := slices.Clone(notches)
	for _, kind := range []words.NotchKind{words.AtLimit, words.AtBreak, words.Now} {
		for i := len(out) - 1; i >= 0 && len(out) > rows; i-- {
			if out[i].Kind == kind {
				out = slices.Delete(out, i, i+1)
			}
		}
	}
	if len(out) > rows {
		return nil
	}
	return out
}

// place gives each notch a row by its gravity, in order and never two in one.
func place(notches []words.Notch, rows int) []int {
	top, bottom := notches[0].Gravity, notches[len(notches)-1].Gravity
	at := make([]int, len(notches))
	for i, n := range notches {
		if top > bottom {
			at[i] = int((top-n.Gravity)/(top-bottom)*float64(rows-1) + 0.5)
		}
		if i > 0 {
			at[i] = max(at[i], at[i-1]+1)
		}
	}
	for i := len(at) - 1; i >= 0; i-- {
		at[i] = min(at[i], rows-len(at)+i)
	}
	return at
}
