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
