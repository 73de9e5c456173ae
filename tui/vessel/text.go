package vessel

import (
	"strings"
	"time"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Page is everything that the page of a vessel says, as lines of a text that
// is so many columns wide. The needs are what the day asks for.
func Page(t theme.Theme, width int, v app.Vessel, needs []words.Line, now time.Time) string {
	page, text := layout.PageOf(width), strings.Builder{}
	head := layout.Row{}.At(page.Margin, t.Bold(v.Label())).At(12, v.Ferment.Name).Until(page.End(), stageOf(v, now))
	text.WriteString(head.In(page.End()) + "\n\n")
	v, f := app.Foreseen(v)
	for _, r := range pageOf(t, width, v, f, needs, now, asCurve) {
		text.WriteString(strings.TrimRight(r.text, " ") + "\n")
	}
	return text.String()
}
