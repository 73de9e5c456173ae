package export

import (
	"time"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

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
