package schedule

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
)

// strain is what the fizz makes of a bottle in the hottest place, with sugar
// left that nobody has seen.
type strain struct {
	bottle        string
	gauge, stands measure.Pressure
	words         string // "4.9 bar at 30 °C with 1 point unfinished; the crown beer bottle stands 5.4 bar"
}

func (s strain) share() float64 { return float64(s.gauge) / float64(s.stands) }

// least is the strain of the bottle at hand that bears the fizz best, of those
// that may hold it.
func (p *planner) least() (best strain, ok bool) {
	points := 2.0
	if p.recentTest() {
		points = 1
	}
	for _, b := range p.bottles() {
		if b.Takes(p.c.Settings.Fizz) != nil {
			continue
		}
		made, err := carbonation.InBottle(p.c.Settings.Fizz, carbonation.Liquid{Alcohol: p.c.Alcohol.Value}, p.c.Settings.Hottest, points)
		limit, err2 := b.Stands()
		if err != nil || err2 != nil {
			continue
		}
		s := strain{b.Kind, made.Gauge, limit, fmt.Sprintf("%s at %s with %s unfinished; the %s stands %s",
			made.Gauge, p.c.Settings.Hottest, pointsWords(points), b.Kind, limit)}
		if !ok || s.share() < best.share() {
			best, ok = s, true
		}
	}
	return best, ok
}

func pointsWords(points float64) string {
	if points == 1 {
		return "1 point"
	}
	return decimal(points) + " points"
}

// overPressure is what the fizz would make in the best of the bottles that may
// hold it, where none of them stands that.
func (p *planner) overPressure() (over string, stands bool) {
	s, ok := p.least()
	if !ok || s.gauge <= s.stands {
		return "", ok
	}
	return s.words, false
}

// addPressure makes the caution about bottles a warning where the best of them
// comes near to what it stands.
func (p *planner) addPressure(c *Caution) {
	if c.Name != "bottle-pressure" || !p.c.Alcohol.IsKnown() {
		return
	}
	if near, ok := p.least(); ok && carbonation.LoadOf(near.gauge, near.stands) == carbonation.Watch {
		c.Loud, c.Text = Warn, near.words+"; "+c.Text
	}
}

// stillHolds is the pressure from which a still mead had better lose its gas
// first (common practice, no source).
const stillHolds measure.Pressure = 0.5

// stillCaution says what the gas that is left makes in a bottle without fizz:
// over half a bar it is to go, or to be waited for.
func (p *planner) stillCaution(s ferment.Step) *Caution {
	if s.Do != string(ferment.Bottle) || !p.c.Alcohol.IsKnown() {
		return nil
	}
	gauges, words, err := p.stillPressure()
	if err != nil {
		return nil
	}
	if gauges[0] > stillHolds {
		return &Caution{Name: "still-pressure", Loud: Warn, Text: "gas is left in it: degas it or wait, else " + words}
	}
	return &Caution{Name: "still-pressure", Loud: Note, Text: words}
}

// stillPressure is the gauge pressure in the hottest place of what is bottled
// still, with 0 to 3 points that nobody has seen. The gas is what one
// atmosphere keeps in at the warmest that was recorded of it.
func (p *planner) stillPressure() (gauges []measure.Pressure, words string, err error) {
	warmest, hottest := roomTemperature, p.c.Settings.Hottest
	if t := p.c.Temperature; t.IsKnown() {
		warmest = t.Value.High
	}
	l := carbonation.Liquid{Alcohol: p.c.Alcohol.Value}
	left, err := carbonation.Left(l, warmest)
	if err != nil {
		return nil, "", err
	}
	for _, points := range carbonation.Points {
		made, err := carbonation.InBottle(left, l, hottest, points)
		if err != nil {
			return nil, "", err
		}
		gauges = append(gauges, made.Gauge)
	}
	return gauges, fmt.Sprintf("%s at %s; with 1, 2 or 3 points unfinished %s, %s or %s", gauges[0], hottest, gauges[1], gauges[2], gauges[3]), nil
}
