package export

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// Forms returns a page a ferment to print and fill in, with lines that can be typed in as they are; an empty form
// without a ferment.
func Forms(s app.Snapshot) string {
	var pages []string
	for _, v := range s.Vessels {
		steps := slices.DeleteFunc(slices.Clone(v.Plan.Steps), func(s ferment.Step) bool { return s.Culture != (v.Culture != nil) })
		rows := slices.Concat(headOf(v, s.At), planOf(v, s.At), careOf(schedule.CautionsOf(steps, v.Course.Settings.Units)))
		pages = append(pages, page(rows, plain(v.ID()), v.Course.Settings))
	}
	if len(pages) == 0 {
		pages = append(pages, emptyForm(s.Cellar.Settings))
	}
	return strings.Join(pages, formFeed)
}

// emptyForm has room for the name and the must, and the cautions that always apply.
func emptyForm(s ferment.Settings) string {
	var rows []string
	for _, word := range []string{"vessel", "must", "yeast", "original", "pitched"} {
		rows = append(rows, layout.Pad(word, wordColumn)+strings.Repeat("_", pageWidth-wordColumn), "")
	}
	rows = append(rows, careOf(schedule.CautionsOf(nil, s.Units))...)
	return page(rows, "NAME", s)
}

const wordColumn = 10

// page fills a page up with ruled lines, six or more, their parts in the order and with the signs of an entry line.
func page(rows []string, name string, s ferment.Settings) string {
	gravity, degree := "_.____", "C"
	if s.Scale == "brix" {
		gravity = "____bx"
	}
	if s.Units == measure.US {
		degree = "F"
	}
	rows = append(rows, "", "to fill in by hand; the lines can be typed as they are into", "jugkeeper log "+name+" -", "",
		fmt.Sprintf("%-11s%-6s%-*s%-5s%-6s%-12s%-9s; note", "date", "time", layout.Width(gravity), "gravity", "@°"+degree, "room", "did", "amount"))
	for n := max(6, (pageLines-len(rows))/2); n > 0; n-- {
		rows = append(rows, "", fmt.Sprintf("____-__-__ __:__ %s@___ ____%s ___________ ________ ; ______________", gravity, degree))
	}
	return strings.Join(rows, "\n") + "\n"
}

// planOf writes coming tasks, with amounts and dates, in at most 16 lines.
func planOf(v app.Vessel, now time.Time) []string {
	rows := []string{"", "plan"}
	more := 0
	for _, l := range toDo(v, aheadOnPaper, now) {
		text := words.Join(", ", words.Join(" ", l.Act, what(l)), stock(l, v.Course.Settings.Units), l.First)
		lines := hung("  "+string(l.Word), words.Join(": ", text, words.UntilOnPaper(l.Task, v.Course.Settings, now)), wordColumn, pageWidth)
		if len(rows)+len(lines) > 16 {
			more++
			continue
		}
		rows = append(rows, lines...)
	}
	switch {
	case v.Trouble != "":
		rows = append(rows, "  "+plain(v.Trouble)+": it has no plan")
	case len(rows) == 2:
		rows = append(rows, "  nothing is planned for the next "+fmt.Sprint(aheadOnPaper)+" days")
	case more > 0:
		rows = append(rows, fmt.Sprintf("  and %d more: jugkeeper show %s", more, v.ID()))
	}
	return rows
}

// careOf returns cautions as rows under a heading.
func careOf(cs []schedule.Caution) []string {
	warned := func(c schedule.Caution) []string { return hung("  -", c.Text, 4, pageWidth) }
	return append([]string{"", "take care"}, ferment.Flat(cs, warned)...)
}

func headOf(v app.Vessel, now time.Time) []string {
	c := v.Course
	title := layout.Cut(label(v)+"   "+plain(v.Ferment.Name), pageWidth-24)
	rows := []string{layout.Pad(title, pageWidth-23) + layout.Right(printed(now), 23), ""}
	say := func(word, text string) {
		if text != "" {
			rows = append(rows, hung(word, text, wordColumn, pageWidth)...)
		}
	}
	say("must", mustOf(v))
	say("yeast", yeastOf(v.Ferment))
	say("original", origin(v))
	if c.Pitch.Known {
		say("pitched", words.PaperDay(c.Pitch.At, c.Now))
	}
	say("now", nowOf(v, now))
	say("breaks", breaksOf(v))
	return rows
}

func mustOf(v app.Vessel) string {
	m, units := v.Ferment.Must, v.Course.Settings.Units
	mass := func(g measure.Given[measure.Mass]) string {
		if !g.Known() {
			return ""
		}
		return g.Value.In(units)
	}
	var parts []string
	if m.Volume.Known() {
		parts = append(parts, m.Volume.Value.In(units))
	}
	for _, h := range m.Honey {
		text := words.Join(" ", mass(h.Mass), "honey", h.Lot)
		if h.Water.Known() {
			text += fmt.Sprintf(" (%s water)", h.Water.Value)
		}
		parts = append(parts, text)
	}
	parts = append(parts, ferment.Map(m.Fruit, func(f ferment.FruitPart) string { return words.Join(" ", mass(f.Mass), f.Name) })...)
	if m.Water.Known() {
		parts = append(parts, m.Water.Value.In(units)+" water")
	}
	if m.PH.Known() {
		parts = append(parts, "pH "+m.PH.Value.String())
	}
	return words.Join(", ", parts...)
}

func yeastOf(f ferment.Ferment) string {
	y, tolerance := f.Yeast, ""
	if y.Tolerance.Known() {
		tolerance = "up to " + y.Tolerance.Value.String()
	}
	return words.Join("; ", strings.TrimSpace(y.Name+" "+y.Culture), tolerance, y.Temperature.Text)
}

// nowOf writes the state of the ferment, like its row on the board.
func nowOf(v app.Vessel, now time.Time) string {
	c := v.Course
	stage, _ := words.StageOf(v)
	parts := []string{stage + ", day " + words.Day(c, now)}
	if c.Gravity.IsKnown() {
		parts = append(parts, exact(c.Gravity.Value.Gravity, c.Settings)+" on "+words.PaperTime(c.Gravity.Value.Moment, c.Now))
	}
	if c.Alcohol.IsKnown() {
		parts = append(parts, c.Alcohol.Value.String())
	}
	if c.Volume.IsKnown() {
		parts = append(parts, c.Volume.Value.In(c.Settings.Units))
	}
	return words.Join("; ", parts...)
}

func breaksOf(v app.Vessel) string {
	c := v.Course
	var parts []string
	for _, b := range words.Breaks {
		if g := c.Break(b.Share); g.IsKnown() {
			parts = append(parts, b.Name+" "+exact(g.Value, c.Settings))
		}
	}
	if c.Finish.IsKnown() {
		parts = append(parts, "expected finish "+exact(c.Finish.Value, c.Settings))
	}
	return words.Join("; ", parts...)
}
