package export

import (
	"encoding/xml"
	"fmt"
	"strings"
)

// The colours for white paper, as the screens have them on a light ground: each
// stands out from white by 5 to 1 or more.
const (
	ink    = "#1a1a1a"
	pencil = "#5f5f5f"
)

// look is how a series is told from the others: by colour, by the shape of its
// marks and by its dashes.
type look struct{ colour, shape, dash string }

var looks = []look{
	{"#0072B2", "circle", ""}, {"#A84A00", "square", "7 3"}, {"#006B4F", "triangle", "2 3"}, {ink, "diamond", "9 3 2 3"},
}

// mostCurves is how many curves have a look of their own.
var mostCurves = len(looks) * len(looks)

// lookOf is the look of the nth curve: after four the shapes come again in other
// colours.
func lookOf(n int) look {
	l := looks[n%len(looks)]
	l.colour = looks[(n+n/len(looks))%len(looks)].colour
	return l
}

// picture gathers the elements of an SVG.
type picture struct{ text strings.Builder }

func (p *picture) put(format string, args ...any) { fmt.Fprintf(&p.text, format+"\n", args...) }

// say writes a text at a place, from there on, up to there, or around it.
func (p *picture) say(x, y float64, anchor, colour, text string) {
	p.put(`<text x="%.1f" y="%.1f" text-anchor="%s" fill="%s">%s</text>`, x, y, anchor, colour, inXML(text))
}

func (p *picture) line(x1, y1, x2, y2 float64, colour, dash string) {
	p.put(`<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="%s"%s/>`, x1, y1, x2, y2, colour, dashed(dash))
}

// spot is a place in a picture.
type spot struct{ x, y float64 }

func (p *picture) curve(spots []spot, l look) {
	if len(spots) > 1 {
		p.put(`<polyline points="%s" fill="none" stroke="%s" stroke-width="2"%s/>`, spotted(spots), l.colour, dashed(l.dash))
	}
}

// area is what lies between an upper and a lower edge.
func (p *picture) area(upper, lower []spot, colour string) {
	if len(upper) < 2 {
		return
	}
	edge := append([]spot{}, upper...)
	for i := len(lower) - 1; i >= 0; i-- {
		edge = append(edge, lower[i])
	}
	p.put(`<polygon points="%s" fill="%s" fill-opacity="0.15" stroke="%s" stroke-opacity="0.5" stroke-dasharray="1 3"/>`, spotted(edge), colour, colour)
}

// mark is a reading: full, or hollow where it is in doubt.
func (p *picture) mark(at spot, l look, fill string) {
	paint := fmt.Sprintf(`fill="%s" stroke="%s" stroke-width="1.5"`, fill, l.colour)
	x, y := at.x, at.y
	switch l.shape {
	case "square":
		p.put(`<rect x="%.1f" y="%.1f" width="8" height="8" %s/>`, x-4, y-4, paint)
	case "triangle":
		p.put(`<polygon points="%s" %s/>`, spotted([]spot{{x, y - 5.5}, {x + 5, y + 4}, {x - 5, y + 4}}), paint)
	case "diamond":
		p.put(`<polygon points="%s" %s/>`, spotted([]spot{{x, y - 6}, {x + 5, y}, {x, y + 6}, {x - 5, y}}), paint)
	default:
		p.put(`<circle cx="%.1f" cy="%.1f" r="4.5" %s/>`, x, y, paint)
	}
}

func spotted(spots []spot) string {
	texts := make([]string, len(spots))
	for i, s := range spots {
		texts[i] = fmt.Sprintf("%.1f,%.1f", s.x, s.y)
	}
	return strings.Join(texts, " ")
}

func dashed(dash string) string {
	if dash == "" {
		return ""
	}
	return ` stroke-dasharray="` + dash + `"`
}

// inXML is a text as it stands between tags. What XML has no place for is shown
// as �.
func inXML(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text)) // a builder takes everything
	return b.String()
}
