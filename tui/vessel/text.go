package vessel

import (
	"strings"
	"time"

	"cellar/jugkeeper/schedule/desk"
	"cellar/jugkeeper/schedule/sheet"
	"cellar/jugkeeper/tui/theme"
)

// Page is everything that the page of a vessel says, as lines of a text that
// is so many columns wide. The needs are what the day asks for.
func Page(t theme.Theme, width int, v desk.Vessel, needs []sheet.Line, now time.Time) string {
	var text strings.Builder
	v, f := desk.Foreseen(v)
	for _, r := range pageOf(t, width, v, f, needs, now, asCurve) {
		text.WriteString(strings.TrimRight(r.text, " ") + "\n")
	}
	return text.String()
}
