package export

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

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
