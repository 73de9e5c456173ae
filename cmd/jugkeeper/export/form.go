package export

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// Lines of a form: the fewest that are left to fill in by hand, and the most
// that the plan takes.
const (
	leastRuled = 6
	mostPlan   = 16
)

// Forms are pages to print, one a ferment: what it is, what is to come, what to
// take care of, and lines to fill in by hand that can be typed in as they stand.
// Without a ferment it is one empty form.
func Forms(s app.Snapshot) string {
	var pages []string
	for _, v := range s.Vessels {
		pages = append(pages, form(v, s.At))
	}
	if len(pages) == 0 {
		pages = append(pages, emptyForm(s.Cellar.Settings))
	}
	return strings.Join(pages, formFeed)
}

func form(v app.Vessel, now time.Time) string {
	rows := headOf(v, now)
	rows = append(rows, planOf(v, now)...)
	rows = append(rows, careOf(schedule.CautionsOf(stepsOf(v), v.Course.Settings.Units))...)
	return page(rows, plain(v.ID()), v.Course.Settings)
}

// emptyForm has room for the name and the must, and the cautions that always
// hold.
func emptyForm(s ferment.Settings) string {
	rows := []string{}
	for _, word := range []string{"vessel", "must", "yeast", "original", "pitched"} {
		rows = append(rows, layout.Pad(word, wordColumn)+strings.Repeat("_", pageWidth-wordColumn), "")
	}
	rows = append(rows, careOf(schedule.CautionsOf(nil, s.Units))...)
	return page(rows, "NAME", s)
}

const wordColumn = 10

// page fills a page up with ruled lines.
func page(rows []string, name string, s ferment.Settings) string {
	rows = append(rows, "", "to fill in by hand; typed in as they stand the lines are read by", "jugkeeper log "+name+" -", "", ruledHead(s))
	for n := max(leastRuled, (pageLines-len(rows))/2); n > 0; n-- {
		rows = append(rows, "", ruled(s))
	}
	return strings.Join(rows, "\n") + "\n"
}

// planOf is what is to come, with amounts and dates.
func planOf(v app.Vessel, now time.Time) []string {
	rows := []string{"", "plan"}
	more := 0
	for _, l := range toDo(v, aheadOnPaper, now) {
		text := words.Join(", ", words.Join(" ", l.Act, what(l)), stock(l, v.Course.Settings.Units), l.First)
		lines := hung("  "+string(l.Word), words.Join(": ", text, words.UntilOnPaper(l.Task, v.Course.Settings, now)), wordColumn, pageWidth)
		if len(rows)+len(lines) > mostPlan {
			more++
			continue
		}
		rows = append(rows, lines...)
	}
	switch {
	case v.Trouble != "":
		rows = append(rows, "  "+plain(v.Trouble)+": it has no plan")
	case len(rows) == 2:
		rows = append(rows, "  nothing is to come in "+fmt.Sprint(aheadOnPaper)+" days")
	case more > 0:
		rows = append(rows, fmt.Sprintf("  and %d more: jugkeeper show %s", more, v.ID()))
	}
	return rows
}

// stepsOf are the steps of the plan that are meant for the vessel.
func stepsOf(v app.Vessel) []ferment.Step {
	var out []ferment.Step
	for _, s := range v.Plan.Steps {
		if s.Culture == (v.Culture != nil) {
			out = append(out, s)
		}
	}
	return out
}

// careOf are cautions, each under the other.
func careOf(cs []schedule.Caution) []string {
	rows := []string{"", "take care"}
	for _, c := range cs {
		rows = append(rows, hung("  -", c.Text, 4, pageWidth)...)
	}
	return rows
}

// headOf is what the ferment is and where it stands.
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
	var parts []string
	if m.Volume.Known() {
		parts = append(parts, m.Volume.Value.In(units))
	}
	for _, h := range m.Honey {
		text := "honey"
		if h.Lot != "" {
			text += " " + h.Lot
		}
		if h.Mass.Known() {
			text = h.Mass.Value.In(units) + " " + text
		}
		if h.Water.Known() {
			text += fmt.Sprintf(" (%s water)", h.Water.Value)
		}
		parts = append(parts, text)
	}
	for _, f := range m.Fruit {
		text := f.Name
		if f.Mass.Known() {
			text = f.Mass.Value.In(units) + " " + text
		}
		parts = append(parts, text)
	}
	if m.Water.Known() {
		parts = append(parts, m.Water.Value.In(units)+" water")
	}
	if m.PH.Known() {
		parts = append(parts, "pH "+m.PH.Value.String())
	}
	return words.Join(", ", parts...)
}

func yeastOf(f ferment.Ferment) string {
	y := f.Yeast
	bears, warm := "", ""
	if y.Tolerance.Known() {
		bears = "bears " + y.Tolerance.Value.String()
	}
	if y.Temperature.Known() {
		warm = y.Temperature.Text
	}
	return words.Join("; ", strings.TrimSpace(y.Name+" "+y.Culture), bears, warm)
}

// nowOf is where the ferment stands, as its row on the board says it.
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
