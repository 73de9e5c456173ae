package export

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// Curves is the gravity of one ferment by date, or of several by days since
// their pitches, as a picture (SVG): readings, those in doubt hollow, what is
// expected with the range that holds nine times in ten, breaks and finish. With
// it goes the reason for each ferment that is not drawn.
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

// head opens the picture, and says in words what it shows.
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
	p.put(`<title id="title">%s</title>`, inXML(title))
	p.put(`<desc id="desc">%s</desc>`, inXML(strings.Join(told, " ")))
	p.put(`<rect width="%d" height="%d" fill="white"/>`, pictureWidth, pictureHeight)
	p.put(`<text x="%.1f" y="24" font-size="15" fill="%s">%s</text>`, frameLeft, ink, inXML(layout.Cut(title, 85)))
	p.say(pictureWidth-12, pictureHeight-10, "end", pencil, "as of "+printed(now))
}

// trace draws one ferment: what is expected, what was read, its name.
func (p *plot) trace(t trace, l look) {
	var upper, lower, middle, read []spot
	for _, b := range t.band {
		upper, lower = append(upper, p.at(t, b.At, b.High)), append(lower, p.at(t, b.At, b.Low))
		middle = append(middle, p.at(t, b.At, b.Middle))
	}
	p.area(upper, lower, l.colour)
	p.curve(middle, look{l.colour, "", "4 4"})
	for _, r := range t.readings {
		if r.Doubt == "" && !r.Replaced {
			read = append(read, p.at(t, r.At, r.Gravity))
		}
	}
	p.curve(read, l)
	for _, r := range t.readings {
		at := p.at(t, r.At, r.Gravity)
		if r.Doubt == "" && !r.Replaced {
			p.mark(at, l, l.colour)
			continue
		}
		p.mark(at, l, "white")
		p.say(at.x+8, at.y-5, "start", ink, "?")
	}
}

// named writes what the marks mean: for one ferment above its frame, for several
// at the right, one under the other.
func (p *plot) named(i int, t trace, l look) {
	if p.alone() {
		p.mark(spot{frameLeft + 5, 41}, l, l.colour)
		text := "read"
		if len(t.band) > 0 {
			text += "; dashed what is expected, the field holds it nine times in ten"
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
