package export

import (
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// The colours for white paper, those of the screens on a light ground: a contrast of 5 to 1 or more.
const (
	ink    = "#1a1a1a"
	pencil = "#5f5f5f"
)

// look distinguishes a series: colour, marks and dashes.
type look struct{ colour, shape, dash string }

var looks = []look{
	{theme.Accent.OnWhite(), "circle", ""}, {theme.Warn.OnWhite(), "square", "7 3"}, {theme.Good.OnWhite(), "triangle", "2 3"}, {ink, "diamond", "9 3 2 3"},
}

var mostCurves = len(looks) * len(looks)

// lookOf returns the look of the nth curve: after four the shapes repeat in other colours.
func lookOf(n int) look {
	l := looks[n%len(looks)]
	l.colour = looks[(n+n/len(looks))%len(looks)].colour
	return l
}

type picture struct{ text strings.Builder }

func (p *picture) put(format string, args ...any) { fmt.Fprintf(&p.text, format+"\n", args...) }

// say writes a text at a place, starting, ending or centred there.
func (p *picture) say(x, y float64, anchor, colour, text string) {
	p.put(`<text x="%.1f" y="%.1f" text-anchor="%s" fill="%s">%s</text>`, x, y, anchor, colour, escapeXML(text))
}

func (p *picture) line(x1, y1, x2, y2 float64, colour, dash string) {
	p.put(`<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="%s"%s/>`, x1, y1, x2, y2, colour, dashed(dash))
}

type spot struct{ x, y float64 }

func (p *picture) curve(spots []spot, l look) {
	if len(spots) > 1 {
		p.put(`<polyline points="%s" fill="none" stroke="%s" stroke-width="2"%s/>`, pointsOf(spots), l.colour, dashed(l.dash))
	}
}

func (p *picture) area(upper, lower []spot, colour string) {
	if len(upper) < 2 {
		return
	}
	edge := slices.Concat(upper, lower)
	slices.Reverse(edge[len(upper):])
	p.put(`<polygon points="%s" fill="%s" fill-opacity="0.15" stroke="%s" stroke-opacity="0.5" stroke-dasharray="1 3"/>`, pointsOf(edge), colour, colour)
}

// mark draws a reading: filled, or hollow if in doubt.
func (p *picture) mark(at spot, l look, fill string) {
	paint := fmt.Sprintf(`fill="%s" stroke="%s" stroke-width="1.5"`, fill, l.colour)
	x, y := at.x, at.y
	switch l.shape {
	case "square":
		p.put(`<rect x="%.1f" y="%.1f" width="8" height="8" %s/>`, x-4, y-4, paint)
	case "triangle":
		p.put(`<polygon points="%s" %s/>`, pointsOf([]spot{{x, y - 5.5}, {x + 5, y + 4}, {x - 5, y + 4}}), paint)
	case "diamond":
		p.put(`<polygon points="%s" %s/>`, pointsOf([]spot{{x, y - 6}, {x + 5, y}, {x, y + 6}, {x - 5, y}}), paint)
	default:
		p.put(`<circle cx="%.1f" cy="%.1f" r="4.5" %s/>`, x, y, paint)
	}
}

func pointsOf(spots []spot) string {
	return strings.Join(ferment.Map(spots, func(s spot) string { return fmt.Sprintf("%.1f,%.1f", s.x, s.y) }), " ")
}

func dashed(dash string) string {
	if dash == "" {
		return ""
	}
	return ` stroke-dasharray="` + dash + `"`
}

func escapeXML(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text)) // a builder has no errors
	return b.String()
}

// The page, and the frame of the curves in it.
const (
	pictureWidth, pictureHeight = 800, 450
	frameLeft, frameRight       = 70.0, 680.0
	frameTop, frameBottom       = 60.0, 400.0
)

type plot struct {
	picture
	traces              []trace
	first, last         float64 // days at the edges
	low, high, distance float64 // gravities at the edges, and between two lines
}

// plotOf returns the plot, with the ranges of days and gravities that all curves need.
func plotOf(traces []trace) *plot {
	p := &plot{traces: traces, last: 3, low: math.Inf(1), high: math.Inf(-1)}
	reach := func(g measure.Gravity) { p.low, p.high = min(p.low, float64(g)), max(p.high, float64(g)) }
	for _, t := range traces {
		for _, r := range t.readings {
			reach(r.Gravity)
			p.first, p.last = min(p.first, t.days(r.At)), max(p.last, t.days(r.At)*1.03)
		}
		for _, b := range t.band {
			reach(b.Low)
			p.last = max(p.last, t.days(b.At))
		}
		if f := t.vessel.Course.Finish; f.IsKnown() {
			reach(f.Value)
		}
	}
	p.distance = every(p.high-p.low, 0.050, 0.002, 0.005, 0.010, 0.020)
	p.low = math.Floor(p.low/p.distance) * p.distance
	p.high = math.Ceil(p.high/p.distance+1e-9) * p.distance
	return p
}

// every returns the first distance that divides a span into at most nine, else otherwise.
func every(span, otherwise float64, distances ...float64) float64 {
	if i := slices.IndexFunc(distances, func(d float64) bool { return span/d <= 9 }); i >= 0 {
		return distances[i]
	}
	return otherwise
}

func (p *plot) alone() bool { return len(p.traces) == 1 }

func (p *plot) x(day float64) float64 {
	return frameLeft + (day-p.first)/(p.last-p.first)*(frameRight-frameLeft)
}

func (p *plot) y(g float64) float64 {
	return frameTop + (p.high-g)/(p.high-p.low)*(frameBottom-frameTop)
}

func (p *plot) at(t trace, when time.Time, g measure.Gravity) spot {
	return spot{p.x(t.days(when)), p.y(float64(g))}
}

// trace is one ferment as drawn, with days from the pitch, else from the first reading.
type trace struct {
	vessel   app.Vessel
	from     time.Time
	readings []course.Reading
	band     []forecast.Point
	finish   string // expected finish in words
}

// traceOf returns a ferment with its forecast for at most 14 days after the last reading.
func traceOf(v app.Vessel) trace {
	v, f := app.Foreseen(v)
	c := v.Course
	t := trace{vessel: v, readings: ferment.Where(c.Readings, func(r course.Reading) bool { return r.From != course.FromStart })}
	if len(t.readings) == 0 {
		return t
	}
	t.from = t.readings[0].At
	if c.Pitch.Known {
		t.from = c.Pitch.At
	}
	if c.Finish.IsKnown() {
		t.finish = "expected finish " + exact(c.Finish.Value, c.Settings)
	}
	if f.Unknown == "" && c.Stage != course.Bottled && c.Gravity.IsKnown() {
		last := c.Gravity.Value.At
		days := 14
		if !f.Done.Late.IsZero() {
			days = max(3, min(days, int(f.Done.Late.Sub(last).Hours()/24)+2))
		}
		t.band = f.Band(last, days)
	}
	return t
}

func (t trace) days(at time.Time) float64 { return at.Sub(t.from).Hours() / 24 }

// words writes the readings of a ferment, for people who cannot see the picture.
func (t trace) words(now time.Time) string {
	var parts []string
	for _, r := range t.readings {
		text := words.PaperTime(r.Moment, now) + " " + exact(r.Gravity, t.vessel.Course.Settings)
		if r.Doubt != "" {
			text += " in doubt"
		}
		parts = append(parts, text)
	}
	if t.finish != "" {
		parts = append(parts, t.finish)
	}
	return label(t.vessel) + ": " + strings.Join(parts, "; ") + "."
}

// Curves draws the gravity of one ferment by date, or of several by days since the pitch, as SVG: readings (doubtful
// ones hollow), the 90 % range, breaks and finish; and says which are not drawn, and why.
func Curves(s app.Snapshot) (text string, missing []string) {
	var traces []trace
	for _, v := range s.Vessels {
		t := traceOf(v)
		switch {
		case len(t.readings) == 0:
			missing = append(missing, label(v)+": no reading to draw yet")
		case !v.Course.Pitch.Known && len(s.Vessels) > 1:
			missing = append(missing, label(v)+": no pitch is recorded to count its days from")
		case len(traces) == mostCurves:
			missing = append(missing, fmt.Sprintf("%s: more than %d curves cannot be told apart", label(v), mostCurves))
		default:
			traces = append(traces, t)
		}
	}
	if len(traces) == 0 {
		return "", missing
	}
	p := plotOf(traces)
	p.head(s.At)
	p.grid()
	if p.alone() {
		p.levels()
	}
	for i, t := range traces {
		p.trace(t, lookOf(i))
		p.named(i, t, lookOf(i))
	}
	p.put("</svg>")
	return p.text.String(), missing
}

func (p *plot) head(now time.Time) {
	var names, told []string
	for _, t := range p.traces {
		names = append(names, label(t.vessel))
		told = append(told, t.words(now))
	}
	title := strings.Join(names, ", ") + ": gravity by days since the pitch"
	if p.alone() {
		title = words.Join(", ", names[0], plain(p.traces[0].vessel.Ferment.Name)) + ": gravity"
	}
	p.put(`<?xml version="1.0" encoding="UTF-8"?>`)
	p.put(`<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img" aria-labelledby="title desc" font-family="sans-serif" font-size="12">`,
		pictureWidth, pictureHeight, pictureWidth, pictureHeight)
	p.put(`<title id="title">%s</title>`, escapeXML(title))
	p.put(`<desc id="desc">%s</desc>`, escapeXML(strings.Join(told, " ")))
	p.put(`<rect width="%d" height="%d" fill="white"/>`, pictureWidth, pictureHeight)
	p.put(`<text x="%.1f" y="24" font-size="15" fill="%s">%s</text>`, frameLeft, ink, escapeXML(layout.Cut(title, 85)))
	p.say(pictureWidth-12, pictureHeight-10, "end", pencil, "as of "+printed(now))
}

// trace draws one ferment: forecast, readings, name.
func (p *plot) trace(t trace, l look) {
	var upper, lower, middle, read []spot
	for _, b := range t.band {
		upper, lower = append(upper, p.at(t, b.At, b.High)), append(lower, p.at(t, b.At, b.Low))
		middle = append(middle, p.at(t, b.At, b.Middle))
	}
	p.area(upper, lower, l.colour)
	p.curve(middle, look{l.colour, "", "4 4"})
	for _, r := range t.readings {
		if r.Trusted() {
			read = append(read, p.at(t, r.At, r.Gravity))
		}
	}
	p.curve(read, l)
	for _, r := range t.readings {
		at := p.at(t, r.At, r.Gravity)
		if r.Trusted() {
			p.mark(at, l, l.colour)
			continue
		}
		p.mark(at, l, "white")
		p.say(at.x+8, at.y-5, "start", ink, "?")
	}
}

// named writes the legend: for one ferment above its frame, for several at the right.
func (p *plot) named(i int, t trace, l look) {
	if p.alone() {
		p.mark(spot{frameLeft + 5, 41}, l, l.colour)
		text := "read"
		if len(t.band) > 0 {
			text += "; the dashed line is the forecast, and nine of ten readings should be in the band"
		}
		p.say(frameLeft+16, 45, "start", ink, text)
		return
	}
	each := min(34, (frameBottom-frameTop)/float64(len(p.traces)))
	y := frameTop + 10 + each*float64(i)
	p.mark(spot{frameRight + 14, y - 4}, l, l.colour)
	p.say(frameRight+24, y, "start", ink, layout.Cut(label(t.vessel), 13))
	if f := t.vessel.Course.Finish; f.IsKnown() && each >= 28 {
		p.say(frameRight+24, y+14, "start", pencil, "finish "+words.Exact(f.Value, t.vessel.Course.Settings))
	}
}
