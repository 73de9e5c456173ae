package guide

import (
	"cmp"
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Yours returns what the ferments of the cellar did, by yeast and by honey lot, those like one first: a line a ferment
// after a bar of its days, and what the next may do.
func Yours(s app.Snapshot, like ferment.Ferment) Chapter {
	c := Chapter{Name: "yours", Title: "what your ferments did, once steady, bottled or closed, and what the next one may do; parts of another ferment are left out"}
	glass := func(g measure.Gravity) string { return words.Glass(g, s.Cellar.Settings) }
	seen := map[forecast.Kind]bool{}
	for _, d := range append([]forecast.Did{{Kind: forecast.KindOf(like)}}, s.Experience()...) {
		for _, k := range []forecast.Kind{{Yeast: d.Yeast}, {Honey: d.Honey}} {
			n := forecast.Expect(s.Experience(), ferment.Ferment{Yeast: ferment.Yeast{Name: k.Yeast}, Must: ferment.Must{Honey: []ferment.HoneyPart{{Lot: k.Honey}}}})
			if seen[k] || len(n.Like) == 0 {
				continue
			}
			seen[k] = true
			bar := func(days float64) int { return int(min(days/n.Late, 1) * 11) }
			for _, d := range n.Like {
				days := []rune(strings.Repeat("─", bar(d.Days)) + "●" + strings.Repeat("·", 12))[:12]
				took := "something was added: no days"
				if d.Days > 0 {
					took = fmt.Sprintf("%.0f days", d.Days)
				} else if d.Ended() == forecast.Early {
					took = "no days"
				}
				text := fmt.Sprintf("%s %s to %s, %.1f %%, %s, %s, %s", string(days), glass(d.Original), glass(d.Finish), float64(d.Alcohol), took, d.Pitched.Format("Jan 06"), d.Ended())
				c.Parts = append(c.Parts, Part{Head: d.ID, Text: strings.TrimSuffix(text, ", dry")})
			}
			text := fmt.Sprintf("%s%s○%s┤ %.0f to %.0f days, near %s (%s to %s); a racking loses %s", strings.Repeat("·", bar(n.Early)), "├"+strings.Repeat("─", bar(n.Days)-bar(n.Early)),
				strings.Repeat("─", bar(n.Late)-bar(n.Days)-1), n.Early, n.Late, glass(n.Finish), glass(n.Low), glass(n.High), n.Lost.In(s.Cellar.Settings.Units))
			if n.Reached {
				text += "; the yeast reaches " + n.Tolerance.String()
			}
			c.Parts = append(c.Parts, Part{Head: "next", Text: text}, Part{Text: fmt.Sprintf("(from %d of yours with %s, adjusted toward what is usual)", len(n.Like), cmp.Or(k.Yeast, k.Honey))}, Part{})
		}
	}
	return c
}
