package vessel

import (
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// figure is a named number with its unit or source; its assumption is a footnote.
type figure struct{ name, number, unit, note string }

// of returns a figure of the course, or a dot and the reason for its absence.
func of[T any](name, unit string, f course.Figure[T], write func(T) string) figure {
	if !f.IsKnown() {
		return figure{name: name, number: words.Unknown, unit: f.Unknown}
	}
	return figure{name, write(f.Value), unit, f.Assumed}
}

// figureRows returns the figures in rows of a width, with the marks of their footnotes.
func (c content) figureRows(width int) (rows []string) {
	var notes []string
	for _, f := range c.figures() {
		whole, _ := layout.Point(f.number)
		r := layout.Row{}.At(0, f.name).AtPoint(max(13, len(f.name)+1+len(whole)), f.number, c.theme.Bold)
		unit := f.unit
		if f.note != "" {
			i := slices.Index(notes, f.note)
			if i < 0 {
				i, notes = len(notes), append(notes, f.note)
			}
			unit = strings.TrimSpace(unit + " " + superscript(i+1))
		}
		column := max(18, r.End()+1)
		for i, text := range layout.Wrap(unit, max(width-column, 8)) {
			if i > 0 {
				rows, r = append(rows, r.In(width)), layout.Row{}
			}
			r = r.At(column, text)
		}
		rows = append(rows, r.In(width))
	}
	if len(notes) > 0 {
		rows = append(rows, "")
	}
	for i, n := range notes {
		mark := superscript(i + 1)
		for _, line := range layout.Wrap(n, width-2) {
			rows, mark = append(rows, layout.Row{}.At(0, c.theme.Faint(mark)).At(2, c.theme.Faint(line)).In(width)), ""
		}
	}
	return rows
}

func (c content) figures() []figure {
	k := c.vessel.Course
	glass := func(g measure.Gravity) string { return words.Glass(g, k.Settings) }
	volume, litre := "", ""
	if k.Volume.IsKnown() {
		volume, litre = k.Volume.Value.Parts(k.Settings.Units)
	}
	share, gone := k.SugarGone.Value.Parts()
	list := []figure{of("gravity", c.when(k.Gravity.Value.At), k.Gravity, func(r course.Reading) string { return glass(r.Gravity) })}
	if c.vessel.Culture == nil {
		pace := of("falling", "points/d", k.Pace, func(v float64) string { return measure.Decimal(v, 1) })
		if k.Pace.IsKnown() && !k.PaceSince.IsZero() {
			pace.note = words.Join("; ", "since "+words.When(k.PaceSince, c.now), pace.note)
		}
		list = append(list,
			of("original", originalFrom[k.Original.Source]+c.disagree(), k.Original.Figure, glass),
			of("finish", "expected", k.Finish, glass),
			of("alcohol", "% vol", k.Alcohol, func(a measure.Strength) string { return measure.Decimal(float64(a), 1) }),
			pace,
			of("sugar gone", gone, k.SugarGone, func(course.Gone) string { return share }),
			of("volume", litre, k.Volume, func(measure.Volume) string { return volume }))
	}
	if n := k.Nitrogen; n.Wanted.IsKnown() && n.Wanted.Value > 0 {
		f := of("nitrogen", "of "+measure.Decimal(n.Wanted.Value.MilligramsPerLitre(), 0), n.Wanted,
			func(measure.Content) string { return measure.Decimal(n.Given.MilligramsPerLitre(), 0) })
		f.note = words.Join("; ", "mg/L", f.note)
		list = append(list, f)
	}
	if k.PH.IsKnown() {
		list = append(list, of("pH", c.when(k.PHAt), k.PH, measure.PH.String))
	}
	if k.Temperature.IsKnown() {
		number, unit, _ := strings.Cut(k.Temperature.Value.Middle().In(k.Settings.Units), " ")
		list = append(list, of("room", unit+" "+c.when(k.TemperatureAt), k.Temperature, func(measure.Span[measure.Temperature]) string { return number }))
	}
	return list
}

// disagree names other sources of the original gravity that differ.
func (c content) disagree() string {
	k := c.vessel.Course
	o, text := k.Original, ""
	for _, other := range []struct {
		source course.OriginalSource
		says   course.Figure[measure.Gravity]
	}{{course.FromMasses, o.Masses}, {course.FirstReading, o.First}} {
		// A first reading after the start may well be lower.
		fallen := other.source == course.FirstReading && k.Started.Known && !k.Started.Assumed && len(k.Readings) > 1 && k.Readings[1].At.After(k.Started.At)
		if o.IsKnown() && other.says.IsKnown() && other.says.Value > 0 && other.source != o.Source && !fallen &&
			math.Abs(float64(other.says.Value-o.Value)) > disagreement {
			text += "; " + originalFrom[other.source] + " says " + words.Exact(other.says.Value, k.Settings)
		}
	}
	return text
}

// disagreement is the most that two sources may differ: the water in honey explains 0.003.
const disagreement = 0.004

var originalFrom = map[course.OriginalSource]string{
	course.Measured: "measured", course.FromMasses: "worked out from its honey", course.FirstReading: "the first reading",
}

func (c content) when(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return words.When(t, c.now)
}

// superscript returns the sign of a footnote, up to 9.
func superscript(n int) string { return string([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹")[min(n, 9)]) }
