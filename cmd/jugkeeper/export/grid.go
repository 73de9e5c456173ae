package export

import (
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
)

// grid is the frame with gravities at the left and days under it.
func (p *plot) grid() {
	settings := p.traces[0].vessel.Course.Settings
	for g := p.low; g < p.high+p.distance/2; g += p.distance {
		p.line(frameLeft, p.y(g), frameRight, p.y(g), "#e4e4e4", "")
		p.say(frameLeft-8, p.y(g)+4, "end", ink, words.Glass(measure.Gravity(g), settings))
	}
	p.line(frameLeft, frameTop, frameLeft, frameBottom, ink, "")
	p.line(frameLeft, frameBottom, frameRight, frameBottom, ink, "")
	every := dayEvery(p.last - p.first)
	for d := math.Ceil(p.first/every) * every; d <= p.last; d += every {
		p.line(p.x(d), frameBottom, p.x(d), frameBottom+5, ink, "")
		p.say(p.x(d), frameBottom+19, "middle", ink, p.dayName(d))
	}
	if !p.alone() {
		p.say((frameLeft+frameRight)/2, frameBottom+37, "middle", pencil, "days since the pitch")
	}
}

func (p *plot) dayName(d float64) string {
	if !p.alone() {
		return fmt.Sprintf("%.0f", d)
	}
	at := p.traces[0].from.AddDate(0, 0, int(d))
	if d == 0 {
		return at.Format("2 Jan 2006")
	}
	return at.Format("2 Jan")
}

// dayEvery is how many days lie between two names, so that there are at most
// ten.
func dayEvery(span float64) float64 {
	for _, s := range []float64{1, 2, 7, 14, 28, 91, 182} {
		if span/s <= 9 {
			return s
		}
	}
	return 365 * math.Ceil(span/365/9)
}

// levels are the breaks and the expected finish of one ferment, with their names
// at the right; where two would touch the lower one goes down.
func (p *plot) levels() {
	c, under := p.traces[0].vessel.Course, 0.0
	name := func(g measure.Gravity, text string) {
		y := p.y(float64(g))
		p.line(frameLeft, y, frameRight, y, pencil, "2 4")
		under = max(y+4, under+14)
		p.say(frameRight+6, under, "start", ink, text+" "+exact(g, c.Settings))
	}
	for _, b := range words.Breaks {
		if g := c.Break(b.Share); g.IsKnown() {
			name(g.Value, b.Name)
		}
	}
	if c.Finish.IsKnown() {
		name(c.Finish.Value, "finish")
	}
}
