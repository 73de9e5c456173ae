package board

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// Plain returns the day in sentences, one after the other, without signs or colours:
// to be read aloud, or by a program.
func Plain(s words.Sheet, width int) string {
	var counts []string
	for _, c := range s.Counts {
		counts = append(counts, fmt.Sprintf("%d %s", c.N, string(c.Word)))
	}
	rows := []string{words.Join(": ", s.FullTitle(), strings.Join(counts, ", ")), ""}
	if s.Calm() {
		rows = append(rows, widget.Spoken("", plainCalm(s), 0, width)...)
	}
	room := longestTag(s)
	say := func(l words.Line) []string {
		head := fmt.Sprintf("%-*s  %-8s", room, l.Tag, strings.ToUpper(string(l.Word)))
		return widget.Spoken(head, l.Spoken(), room+10, width)
	}
	for _, l := range s.Today() {
		rows = append(rows, say(l)...)
	}
	rows = append(rows, daysAhead(s, width, slices.Clone, layout.As, say)...)
	if len(s.Vessels) > 0 {
		rows = append(rows, "")
	}
	for _, r := range s.Vessels {
		head := fmt.Sprintf("%-*s  ", room, r.Tag)
		rows = append(rows, widget.Spoken(head, plainVessel(r), room+2, width)...)
	}
	return sheetOf(append(rows, plainLast(s, width)...))
}

func plainCalm(s words.Sheet) string {
	switch {
	case s.Empty():
		return noVessels + " " + strings.Join(whereLooked(s), " ") + " Or type: " + waysOn[0][0] + ", " + waysOn[0][1] + "; " + waysOn[1][0] + ", " + waysOn[1][1] + "."
	case s.Next == "":
		return "Nothing to do today."
	}
	return "Nothing to do today. Next: " + s.Next + "."
}

// plainLast returns the honey to know of and the files that were left out.
func plainLast(s words.Sheet, width int) []string {
	var rows []string
	say := func(blank bool, text string) {
		if blank {
			rows = append(rows, "")
		}
		rows = append(rows, widget.Spoken("", text, 2, width)...)
	}
	for i, l := range s.Honey {
		say(i == 0, "honey "+l.String())
	}
	for i, b := range s.Broken {
		say(i == 0, b.String())
	}
	return rows
}

// plainVessel returns a vessel in sentences. A condition stands in capitals.
func plainVessel(r words.Row) string {
	stage := r.Stage
	if r.Condition != "" {
		stage = strings.ToUpper(stage)
	}
	head := stage + ", day " + r.Day
	if r.Told() {
		return words.Sentences(head+", "+r.Until, next(r))
	}
	return words.Sentences(head, plainFigures(r), next(r))
}

func plainFigures(r words.Row) string {
	if r.Gravity == words.Unknown {
		return "No gravity yet"
	}
	text := "Gravity " + r.Gravity
	if r.Doubtful {
		text += " in doubt"
	}
	text += ", " + r.Ago + " ago"
	if r.Pace != words.Unknown {
		text += ", " + r.Pace + " points a day"
	}
	if r.Alcohol != words.Unknown {
		text += ", " + r.Alcohol + " % vol"
	}
	return text
}

func next(r words.Row) string {
	if r.Next == "" {
		return ""
	}
	return "Next: " + r.Next
}

// longestTag returns the room for the tags; none is cut.
func longestTag(s words.Sheet) int {
	room := usualTag
	for _, l := range s.Tasks {
		room = max(room, layout.Width(l.Tag))
	}
	for _, r := range s.Vessels {
		room = max(room, layout.Width(r.Tag))
	}
	return room
}
