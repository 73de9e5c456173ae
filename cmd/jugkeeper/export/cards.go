package export

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// The size of a page and a card, in lines and columns; pages end with a form feed.
const (
	pageLines = 60
	pageWidth = 78
	cardWidth = 35
	formFeed  = "\f"
)

var cut = strings.TrimRight(strings.Repeat("+ "+strings.Repeat("- ", (cardWidth+1)/2), 2), " ") + " +"

// cards arranges cards on pages, two in a row, with cut marks.
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

// cardRow writes one or two cards next to each other, with equal height.
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

func written(texts ...string) []string {
	return ferment.Flat(texts, func(t string) []string { return layout.Wrap(plain(t), cardWidth) })
}

// hung wraps a text behind a word, its further lines indented.
func hung(word, text string, indent, width int) []string {
	return layout.Row{}.At(0, word).Wrapped(indent, width, plain(text), layout.Unstyled)
}

// Tags writes paper tags for the vessels, several to a page.
func Tags(s app.Snapshot) string {
	return cards(ferment.Map(s.Vessels, func(v app.Vessel) []string { return tag(v, s.At) }))
}

// tag writes the short code in large letters, the contents, and the next four steps.
func tag(v app.Vessel, now time.Time) []string {
	c := v.Course
	rows := append(big(label(v)), "")
	rows = append(rows, written(v.Ferment.Name, "in commands: "+v.ID())...)
	say := func(word, text string) { rows = append(rows, hung(word, text, 10, cardWidth)...) }
	say("original", origin(v))
	volume := words.Unknown
	if c.Volume.IsKnown() {
		volume = c.Volume.Value.In(c.Settings.Units)
	}
	say("volume", volume+", "+c.Now.Format("2 Jan"))
	pitched := "not yet"
	if c.Pitch.Known {
		pitched = words.PaperDay(c.Pitch.At, c.Now)
	}
	say("pitched", words.Join(", ", pitched, v.Ferment.Yeast.Name))
	word, have := "next", map[string]bool{}
	for _, l := range toDo(v, aheadOnPaper, now) {
		if have[l.Task.Step] || len(have) == 4 {
			continue
		}
		state := ""
		if slices.Contains([]words.Word{words.Danger, words.Held, words.Late, words.Stop}, l.Word) {
			state = string(l.Word)
		}
		say(word, words.Join(", ", l.Act, what(l), state, words.UntilOnPaper(l.Task, c.Settings, c.Now)))
		word, have[l.Task.Step] = "", true
	}
	return rows
}

// origin writes the original gravity, and its source unless it was measured.
func origin(v app.Vessel) string {
	o := v.Course.Original
	if !o.IsKnown() {
		return words.Unknown
	}
	return words.Join(", ", exact(o.Value, v.Course.Settings), o.Assumed)
}

const aheadOnPaper = 60

// Labels writes labels for all bottles, and why a ferment has none.
func Labels(s app.Snapshot) (text string, missing []string) {
	var all [][]string
	for _, v := range s.Vessels {
		n := len(all)
		for _, e := range v.Course.Entries {
			if e.Did != ferment.Bottle {
				continue
			}
			for _, b := range e.Bottles {
				codes := shelf.Codes(b.Codes) // one by one if there are as many as bottles
				if count := max(b.Count, 1); len(codes) != count {
					codes = slices.Repeat([]string{b.Codes}, count)
				}
				all = append(all, ferment.Map(codes, func(code string) []string { return bottleLabel(v, e, b, code) })...)
			}
		}
		if len(all) == n {
			missing = append(missing, label(v)+": nothing is bottled yet, or its entry names no bottles")
		}
	}
	return cards(all), missing
}

// bottleLabel writes the label of one bottle: contents, strength, date and code, what to declare, who must avoid it,
// and how to open it.
func bottleLabel(v app.Vessel, e *ferment.Entry, b ferment.Bottles, code string) []string {
	c := v.Course
	strength := "strength not known"
	if a := c.InBottles(); a.IsKnown() {
		strength = "about " + a.Value.String()
	}
	bottled := "bottled " + words.PaperDay(e.At.Time, c.Now)
	if b.Size.Known() {
		bottled += ", " + b.Size.Value.In(c.Settings.Units)
	}
	texts := []string{cmp.Or(v.Ferment.Name, v.Label()), "mead, " + strength, bottled, "batch " + cmp.Or(code, v.Label())}
	if what := ferment.Allergens(v.Ferment, c.Entries); len(what) > 0 {
		texts = append(texts, "contains "+strings.Join(what, ", "))
	}
	if _, blended := c.First(ferment.Blend); blended {
		texts = append(texts, "blended: what the other part contains is on its own label")
	}
	lines := append(written(texts...), "")
	texts = []string{"an alcoholic drink for adults; not for children under twelve months: it is made of honey"}
	if hasFizz(b, c) {
		what, do, _ := strings.Cut(schedule.CautionOf("open-cool", c.Settings.Units).Text, ": ")
		texts = append(texts, strings.ToUpper(what)+": "+do)
	}
	return append(lines, written(append(texts, schedule.CautionOf("own-law", c.Settings.Units).Text)...)...)
}
