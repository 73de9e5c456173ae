package export

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// The paper: a page holds so many lines; two cards stand beside each other.
const (
	pageLines = 60
	pageWidth = 78
	cardWidth = 35
)

// formFeed parts pages.
const formFeed = "\f"

// cut is the line that cards are cut apart along.
var cut = strings.TrimRight(strings.Repeat("+ "+strings.Repeat("- ", (cardWidth+1)/2), 2), " ") + " +"

// cards lays cards out on pages, two in a row, with the marks to cut along.
func cards(all [][]string) string {
	var b strings.Builder
	used := 0
	for i := 0; i < len(all); i += 2 {
		pair := all[i:min(i+2, len(all))]
		row := cardRow(pair)
		if used > 0 && used+len(row)+2 > pageLines {
			b.WriteString(cut + "\n" + formFeed)
			used = 0
		}
		b.WriteString(cut + "\n" + strings.Join(row, "\n") + "\n")
		used += len(row) + 1
	}
	if used > 0 {
		b.WriteString(cut + "\n")
	}
	return b.String()
}

// cardRow is one or two cards beside each other, both as tall as the taller.
func cardRow(pair [][]string) []string {
	tall := 0
	for _, c := range pair {
		tall = max(tall, len(c))
	}
	rows := make([]string, tall)
	for y := range rows {
		for _, c := range pair {
			text := ""
			if y < len(c) {
				text = c[y]
			}
			rows[y] += ": " + layout.Pad(text, cardWidth) + " "
		}
		rows[y] += ":"
	}
	return rows
}

// written is a text in the lines of a card.
func written(texts ...string) []string {
	var out []string
	for _, t := range texts {
		out = append(out, layout.Wrap(plain(t), cardWidth)...)
	}
	return out
}

// hung is a word, and what it says beside it in the lines of a card.
func hung(word, text string, indent, width int) []string {
	var out []string
	for i, line := range layout.Wrap(plain(text), width-indent) {
		if i > 0 {
			word = ""
		}
		out = append(out, layout.Pad(word, indent)+line)
	}
	return out
}

// nextOnTag is how many dates to come stand on a tag.
const nextOnTag = 4

// Tags are paper tags to hang on the vessels, several to a page.
func Tags(s app.Snapshot) string {
	var all [][]string
	for _, v := range s.Vessels {
		all = append(all, tag(v, s.At))
	}
	return cards(all)
}

// tag is the short code to be read from afar, what is in the vessel, and what
// comes next.
func tag(v app.Vessel, now time.Time) []string {
	c := v.Course
	rows := append(big(label(v)), "")
	rows = append(rows, written(v.Ferment.Name, "in commands: "+v.ID())...)
	rows = append(rows, hung("original", origin(v), 10, cardWidth)...)
	volume := words.Unknown
	if c.Volume.IsKnown() {
		volume = c.Volume.Value.In(c.Settings.Units)
	}
	rows = append(rows, hung("volume", volume+", "+c.Now.Format("2 Jan"), 10, cardWidth)...)
	pitched := "not yet"
	if c.Pitch.Known {
		pitched = words.PaperDay(c.Pitch.At, c.Now)
	}
	rows = append(rows, hung("pitched", words.Join(", ", pitched, v.Ferment.Yeast.Name), 10, cardWidth)...)
	word := "next"
	for _, l := range nextOf(v, now) {
		rows = append(rows, hung(word, words.Join(", ", l.Act, what(l), stands(l.Word), words.UntilOnPaper(l.Task, c.Settings, c.Now)), 10, cardWidth)...)
		word = ""
	}
	return rows
}

// origin is the original gravity, and where it is from where nobody measured
// it.
func origin(v app.Vessel) string {
	o := v.Course.Original
	if !o.IsKnown() {
		return words.Unknown
	}
	return words.Join(", ", exact(o.Value, v.Course.Settings), o.Assumed)
}

// nextOf are the next tasks of a vessel, of each step the first.
func nextOf(v app.Vessel, now time.Time) []words.Line {
	var out []words.Line
	have := map[string]bool{}
	for _, l := range toDo(v, aheadOnPaper, now) {
		if !have[l.Task.Step] && len(out) < nextOnTag {
			out = append(out, l)
		}
		have[l.Task.Step] = true
	}
	return out
}

// aheadOnPaper is how many days ahead paper looks, which nobody reloads.
const aheadOnPaper = 60

// Labels are labels for every bottle that was filled, several to a page, and the
// reason for each ferment that has none.
func Labels(s app.Snapshot) (text string, missing []string) {
	var all [][]string
	for _, v := range s.Vessels {
		n := len(all)
		for _, e := range v.Course.Entries {
			if e.Did != ferment.Bottle {
				continue
			}
			for _, b := range e.Bottles {
				for _, code := range codes(b) {
					all = append(all, bottleLabel(v, e, b, code))
				}
			}
		}
		if len(all) == n {
			missing = append(missing, label(v)+": nothing is bottled yet, or its entry names no bottles")
		}
	}
	return cards(all), missing
}

// bottleLabel is what stands on one bottle: what it is, how strong, when and
// which, what it contains, who may not have it, and how to open it.
func bottleLabel(v app.Vessel, e *ferment.Entry, b ferment.Bottles, code string) []string {
	c := v.Course
	strength := "strength not known"
	if c.Alcohol.IsKnown() {
		strength = "about " + c.Alcohol.Value.String()
	}
	name := v.Ferment.Name
	if name == "" {
		name = v.Label()
	}
	lines := written(name, "mead, "+strength, words.Join(", ", "bottled "+words.PaperDay(e.At.Time, c.Now), size(b, c.Settings.Units)))
	if code == "" {
		code = v.Label()
	}
	lines = append(lines, written("batch "+code)...)
	if what := ferment.Contains(v.Ferment, c.Entries); len(what) > 0 {
		lines = append(lines, written("contains "+strings.Join(what, ", "))...)
	}
	if _, blended := c.First(ferment.Blend); blended {
		lines = append(lines, written("blended: what the other part contains is on its own label")...)
	}
	lines = append(lines, "")
	lines = append(lines, written("an alcoholic drink for adults; not for children under twelve months: it is made of honey")...)
	if hasFizz(b, c) {
		lines = append(lines, written(capital(schedule.CautionOf("open-cool", c.Settings.Units).Text))...)
	}
	return append(lines, written(schedule.CautionOf("own-law", c.Settings.Units).Text)...)
}

// capital sets a warning off from what stands around it.
func capital(text string) string {
	what, do, _ := strings.Cut(text, ": ")
	return strings.ToUpper(what) + ": " + do
}
