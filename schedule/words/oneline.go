package words

import (
	"cmp"
	"fmt"
	"strings"
)

// OneLine returns the day in one line, for a prompt or a status bar: what is dangerous,
// else how much is late, due today, held or open, with the first of it: "1 late:
// LIME-A nutrient 2, 1.4 g; 3 today".
func (s Sheet) OneLine() string {
	lines := Shared(s.Tasks)
	var parts []string
	for _, l := range lines {
		if l.Danger {
			parts = append(parts, "danger: "+l.brief())
		}
	}
	named := len(parts) > 0
	for _, w := range []Word{Late, Due, Held, AnyDay} {
		n, first := 0, ""
		for _, l := range lines {
			if l.Word != w || l.Danger {
				continue
			}
			if n++; n == 1 {
				first = l.brief()
			}
		}
		switch {
		case n > 0 && !named:
			parts, named = append(parts, fmt.Sprintf("%d %s: %s", n, string(w), first)), true
		case n > 0:
			parts = append(parts, fmt.Sprintf("%d %s", n, string(w)))
		}
	}
	return cmp.Or(strings.Join(parts, "; "), "nothing to do today")
}

func (l Line) brief() string {
	return strings.TrimSuffix(l.Tag+" "+l.Act+", "+l.Amount.String(), ", ")
}

// Urgent reports whether a task of the day is dangerous, and whether one is late.
func (s Sheet) Urgent() (danger, late bool) {
	for _, l := range s.Tasks {
		danger, late = danger || l.Danger, late || l.Word == Late
	}
	return danger, late
}
