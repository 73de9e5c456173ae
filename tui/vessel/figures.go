package vessel

import (
	"math"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// The columns of the figures: the point of a number, its unit, where it came
// from.
const (
	pointColumn = 18
	unitColumn  = 24
	fromColumn  = 34
)

// figure is one named number with where it came from.
type figure struct {
	name, number, unit, from string
	assumed                  string // becomes a footnote
}

// of is a figure of the course, or a dot with the reason why there is none.
func of[T any](name, unit string, f course.Figure[T], write func(T) string) figure {
	if !f.IsKnown() {
		return figure{name: name, number: words.Unknown, from: f.Unknown}
	}
	return figure{name: name, number: write(f.Value), unit: unit, assumed: f.Assumed}
}

func (f figure) since(text string) figure {
	if f.number != words.Unknown {
		f.from = text
	}
	return f
}

// figures are the numbers of the vessel; what they assume stands under them.
func (p *paper) figures() {
	var notes []string
	for _, f := range p.list() {
		r := layout.Row{}.At(p.page.Margin, f.name).AtPoint(pointColumn, f.number, p.theme.Bold).At(unitColumn, f.unit)
		from := f.from
		if f.assumed != "" {
			notes = append(notes, f.assumed)
			from = strings.TrimSpace(from + " " + superscript(len(notes)))
		}
		p.beside(r, fromColumn, from)
	}
	p.notes(notes)
}

// notes are the footnotes of the figures: what they assume.
func (p *paper) notes(notes []string) {
	if len(notes) > 0 {
		p.blank()
	}
	for i, n := range notes {
		for j, line := range layout.Wrap(n, p.page.Width-2) {
			r := layout.Row{}
			if j == 0 {
				r = r.At(p.page.Margin, p.theme.Faint(superscript(i+1)))
			}
			p.put(r.At(p.page.Margin+2, p.theme.Faint(line)))
		}
	}
}

func (p *paper) list() []figure {
	c := p.vessel.Course
	exact := func(g measure.Gravity) string { return words.Exact(g, c.Settings) }
	points := func(v float64) string { return measure.Decimal(v, 1) }
	strength := func(a measure.Strength) string { return measure.Decimal(float64(a), 1) }
	percent := func(v float64) string { return measure.Decimal(100*v, 0) }
	volume, litre := "", ""
	if c.Volume.IsKnown() {
		volume, litre = c.Volume.Value.Parts(c.Settings.Units)
	}
	list := []figure{
		of("gravity", "", c.Gravity, func(r course.Reading) string { return exact(r.Gravity) }).since(p.when(c.Gravity.Value.At)),
		of("original", "", c.Original.Figure, exact).since(originalFrom[c.Original.Source] + p.disagree()),
		of("finish", "", c.Finish, exact).since("expected"),
		of("alcohol", "% vol", c.Alcohol, strength),
		of("falling", "points a day", c.Pace, points).since(p.sinceWhen(c.PaceSince)),
		of("sugar gone", "%", c.SugarGone, percent),
		of("volume", litre, c.Volume, func(measure.Volume) string { return volume }),
	}
	if p.vessel.Culture != nil {
		list = list[:1]
	}
	return append(list, p.optional()...)
}

// disagree tells of other sources of the original gravity that say something
// else: honey that had not dissolved, a slip of the pen, another vessel.
func (p *paper) disagree() string {
	o, text := p.vessel.Course.Original, ""
	for _, other := range []struct {
		source course.OriginalSource
		says   course.Figure[measure.Gravity]
	}{{course.FromMasses, o.Masses}, {course.FirstReading, o.First}} {
		if o.IsKnown() && other.says.IsKnown() && other.says.Value > 0 && other.source != o.Source &&
			math.Abs(float64(other.says.Value-o.Value)) > disagreement && (other.source == course.FromMasses || !p.fallen()) {
			text += "; " + originalFrom[other.source] + " says " + words.Exact(other.says.Value, p.vessel.Course.Settings)
		}
	}
	return text
}

// disagreement is how far two sources of the original gravity may lie apart:
// the water in the honey alone makes 0.003 of it.
const disagreement = 0.004

// fallen tells whether the first reading was made after fermentation began, so
// that it may well be lower.
func (p *paper) fallen() bool {
	c := p.vessel.Course
	return c.Started.Known && !c.Started.Assumed && len(c.Readings) > 1 && c.Readings[1].At.After(c.Started.At)
}

// optional are the figures that not every vessel has.
func (p *paper) optional() []figure {
	c := p.vessel.Course
	var list []figure
	if c.PH.IsKnown() {
		list = append(list, of("pH", "", c.PH, measure.PH.String).since(p.when(c.PHAt)))
	}
	if c.Temperature.IsKnown() {
		number, unit, _ := strings.Cut(c.Temperature.Value.Middle().In(c.Settings.Units), " ")
		list = append(list, of("temperature", unit, c.Temperature, func(measure.Span[measure.Temperature]) string { return number }).since(p.when(c.TemperatureAt)))
	}
	if n := c.Nitrogen; n.Wanted.IsKnown() && n.Wanted.Value > 0 {
		f := of("nitrogen", "mg/L", n.Wanted, func(measure.Content) string { return measure.Decimal(n.Given.MilligramsPerLitre(), 0) })
		list = append(list, f.since("given of the "+measure.Decimal(n.Wanted.Value.MilligramsPerLitre(), 0)+" wanted"))
	}
	return list
}

var originalFrom = map[course.OriginalSource]string{
	course.Measured: "measured", course.FromMasses: "from the honey weighed", course.FirstReading: "the first reading",
}

// when is a time and how long ago it was.
func (p *paper) when(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return words.When(t, p.now) + ", " + words.Age(p.now.Sub(t)) + " ago"
}

func (p *paper) sinceWhen(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return "since " + words.When(t, p.now)
}

// superscript is the sign of a footnote.
func superscript(n int) string {
	signs := []rune("⁰¹²³⁴⁵⁶⁷⁸⁹")
	if n < len(signs) {
		return string(signs[n])
	}
	return superscript(n/10) + superscript(n%10)
}
