package export

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

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
