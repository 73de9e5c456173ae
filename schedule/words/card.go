package words

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// logged is how many entries of the log a card can show.
const logged = 8

// cardOf is a vessel as a stem with its figures and the end of its log.
func cardOf(v subject, now time.Time) Card {
	return Card{About: about(v.Ferment), Stem: stem(v, now), Figures: figures(v.Course, now), Log: logOf(v.Course, now)}
}

// about is the ferment's name, and its yeast with what its trial differs in.
func about(f ferment.Ferment) []string {
	var made, lines []string
	if y := yeastName(f.Yeast); y != "" {
		made = append(made, y)
	}
	if f.Trial.Differs != "" {
		made = append(made, "differs in "+f.Trial.Differs)
	}
	for _, text := range []string{f.Name, strings.Join(made, "; ")} {
		if text != "" {
			lines = append(lines, text)
		}
	}
	return lines
}

func figures(c course.Course, now time.Time) []Figure {
	pace := "points a day"
	if !c.PaceSince.IsZero() {
		pace += " since " + When(c.PaceSince, now)
	}
	fs := []Figure{
		{"falling", figure(c.Pace, oneDecimal[float64]), pace, "points/d"},
		{"alcohol", figure(c.Alcohol, oneDecimal[measure.Strength]), "% vol", "% vol"},
		{"sugar gone", figure(c.SugarGone, func(s float64) string { return measure.Decimal(100*s, 0) }), "%", "%"},
	}
	if n := c.Nitrogen; n.Wanted.IsKnown() && n.Wanted.Value > 0 {
		wanted := measure.Decimal(n.Wanted.Value.MilligramsPerLitre(), 0) + " mg/L"
		fs = append(fs, Figure{"nitrogen", measure.Decimal(n.Given.MilligramsPerLitre(), 0), "of " + wanted + " wanted", "/" + wanted})
	}
	volume, unit := Unknown, "L"
	if c.Volume.IsKnown() {
		volume, unit = c.Volume.Value.Parts(c.Settings.Units)
	}
	return append(fs, Figure{"volume", volume, unit, unit})
}

func oneDecimal[T ~float64](v T) string { return measure.Decimal(float64(v), 1) }

func logOf(c course.Course, now time.Time) []Logged {
	var ls []Logged
	for i := len(c.Entries) - 1; i >= 0 && len(ls) < logged; i-- {
		if text := EntryLine(*c.Entries[i], c.Settings.Units); text != "" {
			ls = append(ls, Logged{LogTime(c.Entries[i].At, now), text})
		}
	}
	return ls
}

// LogTime is when an entry was made; one of a day alone has no hour.
func LogTime(m ferment.Moment, now time.Time) string {
	if m.DayOnly {
		return Date(m.Time, now)
	}
	return When(m.Time, now)
}
