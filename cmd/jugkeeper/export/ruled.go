package export

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/tui/layout"
)

// The parts of a ruled line stand in the order, and with the signs, that an entry
// line is typed with: what is left empty is left out.
func ruled(s ferment.Settings) string {
	return fmt.Sprintf("____-__-__ __:__ %s@___ ____%s ___________ ________ ; ______________", gap(s), degree(s))
}

func ruledHead(s ferment.Settings) string {
	return fmt.Sprintf("%-11s%-6s%-*s%-5s%-6s%-12s%-9s; note", "date", "time", layout.Width(gap(s)), "gravity", "@°"+degree(s), "room", "did", "amount")
}

// gap is where a gravity goes.
func gap(s ferment.Settings) string {
	if s.Scale == "brix" {
		return "____bx"
	}
	return "_.____"
}

func degree(s ferment.Settings) string {
	if s.Units == measure.US {
		return "F"
	}
	return "C"
}
