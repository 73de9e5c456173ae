package board

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/schedule/sheet"
	"cellar/jugkeeper/tui/layout"
)

// plainly are the signs of the screen as they are read aloud.
var plainly = strings.NewReplacer(
	"≈", "about", "×", "x", "⅓", "1/3", "½", "1/2", "⅔", "2/3", "−", "-", "±", "give or take ",
	"…", "...", "→", "->", "–", "-", "°C", "C", "°F", "F", "°Bx", "Bx", "₂", "2", "·", "unknown",
)

// Plain is the day in sentences, one after the other, without signs or colours:
// to be read aloud, or by a program.
func Plain(s sheet.Sheet, width int) string {
	rows := []string{plainHead(s), ""}
	if s.Calm() {
		rows = append(rows, plainWrap("", plainCalm(s), 0, width)...)
	}
	room := tagRoom(s)
	for _, l := range s.Tasks {
		head := fmt.Sprintf("%-*s  %-8s", room, layout.Cut(l.Tag, room), strings.ToUpper(string(l.Word)))
		rows = append(rows, plainWrap(head, plainTask(l), room+10, width)...)
	}
	if len(s.Vessels) > 0 {
		rows = append(rows, "")
	}
	for _, r := range s.Vessels {
		head := fmt.Sprintf("%-*s  ", room, layout.Cut(r.Tag, room))
		rows = append(rows, plainWrap(head, plainVessel(r), room+2, width)...)
	}
	return sheetOf(append(rows, plainFoot(s, width)...))
}

func plainHead(s sheet.Sheet) string {
	parts := make([]string, len(s.Counts))
	for i, c := range s.Counts {
		parts[i] = fmt.Sprintf("%d %s", c.N, string(c.Word))
	}
	if len(parts) == 0 {
		return s.FullTitle()
	}
	return s.FullTitle() + ": " + strings.Join(parts, ", ")
}

func plainCalm(s sheet.Sheet) string {
	switch {
	case len(s.Vessels) == 0:
		return "No vessels yet."
	case s.Next == "":
		return "Nothing to do today."
	}
	return "Nothing to do today. Next: " + s.Next + "."
}

// plainFoot is the honey to know of and the files that were left out.
func plainFoot(s sheet.Sheet, width int) []string {
	var rows []string
	for i, l := range s.Honey {
		if i == 0 {
			rows = append(rows, "")
		}
		rows = append(rows, plainWrap("", "honey "+l.String(), 2, width)...)
	}
	for i, b := range s.Broken {
		if i == 0 {
			rows = append(rows, "")
		}
		rows = append(rows, plainWrap("", b.String(), 2, width)...)
	}
	return rows
}

// plainTask is a task in sentences.
func plainTask(l sheet.Line) string {
	head := l.Act
	if what := strings.TrimSpace(amountOf(l)); what != "" {
		head += ": " + what
	}
	sentences := []string{head, capital(l.First), capital(l.Until)}
	if l.Stock != nil {
		sentences = append(sentences, "Or "+l.Stock.String()+" "+l.StockOf)
	}
	switch {
	case l.Reason == "":
	case l.Word != sheet.Stop && l.Word != sheet.Late && l.Word != sheet.Held && l.Word != sheet.Lapsed:
		sentences = append(sentences, capital(l.Reason))
	default:
		sentences = append(sentences, "Why: "+l.Reason)
	}
	if l.Frees != "" {
		sentences = append(sentences, "Frees it: "+l.Frees)
	}
	if l.Instead != "" {
		sentences = append(sentences, "Do: "+l.Instead)
	}
	return joined(sentences)
}

func amountOf(l sheet.Line) string {
	if l.Amount.Words != "" && l.Of != "" {
		return l.Amount.Words + ", " + l.Of
	}
	return l.Amount.String() + " " + l.Of
}

// plainVessel is a vessel in sentences. A condition stands in capitals.
func plainVessel(r sheet.Row) string {
	stage := r.Stage
	if r.Condition != "" {
		stage = strings.ToUpper(stage)
	}
	head := stage + ", day " + r.Day
	if r.Quiet {
		return joined([]string{head + ", " + r.Until, next(r)})
	}
	return joined([]string{head, plainFigures(r), next(r)})
}

// plainFigures are the figures that are known.
func plainFigures(r sheet.Row) string {
	if r.Gravity == sheet.Unknown {
		return "No gravity yet"
	}
	text := "Gravity " + r.Gravity
	if r.Doubtful {
		text += " in doubt"
	}
	text += ", " + r.Ago + " ago"
	if r.Pace != sheet.Unknown {
		text += ", " + r.Pace + " points a day"
	}
	if r.Alcohol != sheet.Unknown {
		text += ", " + r.Alcohol + " % vol"
	}
	return text
}

func next(r sheet.Row) string {
	if r.Next == "" {
		return ""
	}
	return "Next: " + r.Next
}

func joined(sentences []string) string {
	var out []string
	for _, s := range sentences {
		if s != "" {
			out = append(out, strings.TrimSuffix(s, ".")+".")
		}
	}
	return strings.Join(out, " ")
}

func capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// plainWrap breaks sentences into lines, all but the first indented.
func plainWrap(head, text string, indent, width int) []string {
	lines := layout.WrapWords(plainly.Replace(text), max(width-indent, 20))
	for i, line := range lines {
		if i == 0 && head != "" {
			lines[i] = head + line
		} else if i > 0 {
			lines[i] = strings.Repeat(" ", indent) + line
		}
	}
	return lines
}
