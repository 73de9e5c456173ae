package schedule

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// BottledCaution is what a batch of bottles wants watched, as loud as what
// stands in the record: too much pressure seen or heard, more than the bottles
// stand, a place that is too hot. Nil where nothing is to be watched.
func BottledCaution(c course.Course, s shelf.Shelf, batch int) *Caution {
	b := s.Batches[batch]
	if sign, has := s.SignOf(c, batch); has {
		said := sign.Says + " on " + dated(sign.At.In(c.Settings.Zone)) + "; "
		if !sign.Chill.IsZero() {
			return &Caution{Name: "in-the-cold", Loud: Warn, Text: said + cautionText("in-the-cold", c.Settings.Units)}
		}
		return &Caution{Name: "overpressure-drill", Loud: Stop, Text: said + cautionText("overpressure-drill", c.Settings.Units)}
	}
	if b.Still() {
		return nil
	}
	return loudest(overStands(c, b), tooHot(c), &Caution{Name: "crate", Loud: Warn, Text: cautionText("crate", c.Settings.Units)})
}

func loudest(cs ...*Caution) *Caution {
	for _, c := range cs {
		if c != nil {
			return c
		}
	}
	return nil
}

// overStands is a pressure over what the weakest of the bottles stands.
func overStands(c course.Course, b shelf.Batch) *Caution {
	p := shelf.PressureOf(c, b)
	if !p.IsKnown() || !p.Value.Stands.IsKnown() || carbonation.LoadOf(p.Value.Hottest, p.Value.Stands.Value) != carbonation.Over {
		return nil
	}
	u := c.Settings.Units
	said := []string{p.Value.Hottest.In(u) + " at " + c.Settings.Hottest.In(u), "the " + p.Value.Kind + " stands " + p.Value.Stands.Value.In(u)}
	return &Caution{Name: "bottle-pressure", Loud: Stop, Text: strings.Join(append(said, cautionText("overpressure-drill", u)), "; ")}
}

// tooHot is a place over the warmest that the bottles are reckoned for.
func tooHot(c course.Course) *Caution {
	why, hot := heatStands(newPlanner(ferment.Protocol{}, c))
	if !hot {
		return nil
	}
	return &Caution{Name: "bottle-heat", Loud: Stop, Text: why + "; " + coolPlace}
}

// wasDrunk tells whether an opened bottle was one to drink or to keep of which
// nothing is told: that is no opening of the plan, and settles none.
func (p *planner) wasDrunk(e *ferment.Entry) bool {
	if e.Did != ferment.Open || e.Bottle == "" || e.Step != "" || tells(e) {
		return false
	}
	for _, t := range shelf.Of(p.c).Taken {
		if t.Entry.Order == e.Order && t.Entry.At.Time.Equal(e.At.Time) {
			return t.Purpose == shelf.Drink || t.Purpose == shelf.Keep
		}
	}
	return false
}

// tells tells whether an opening says anything of its bottle.
func tells(e *ferment.Entry) bool {
	return e.Hiss.Known() || e.Foam.Known() || e.Feel != "" || e.HasDensity() || e.Taste.Palate != ""
}

// strain is what the fizz makes of a bottle in the hottest place, with sugar
// left that nobody has seen.
type strain struct {
	carbonation.Strain
	words string // "4.9 bar at 30 °C with 1 point unfinished; the crown beer bottle stands 5.4 bar"
}

func (s strain) share() float64 { return float64(s.Gauge) / float64(s.Stands) }

// points are the thousandths of unfinished sugar that a bottle must stand: two,
// one after a forced test.
func (p *planner) points() float64 {
	if p.recentTest() {
		return 1
	}
	return 2
}

// strainOf is what a fizz makes of a bottle. It is not ok where no figure says.
func (p *planner) strainOf(b Filled) (strain, bool) {
	points := p.points()
	made, err := b.Bottle.Strain(b.Fizz, carbonation.Liquid{Alcohol: p.c.Alcohol.Value + b.Brings}, p.c.Settings.Hottest, points)
	if err != nil {
		return strain{}, false
	}
	return strain{made, fmt.Sprintf("%s at %s with %s unfinished; the %s stands %s",
		made.Gauge.In(p.units()), p.c.Settings.Hottest.In(p.units()), pointsWords(points), b.Bottle.Kind, made.Stands.In(p.units()))}, true
}

// strain is that of the bottles to be filled, the worst of them. Where nobody
// said which, it is that of the bottle at hand that bears the fizz best, of those
// that may hold it.
func (p *planner) strain() (found strain, ok bool) {
	if p.filled == nil {
		return p.least()
	}
	for _, b := range p.filled {
		if s, is := p.strainOf(b); is && (!ok || s.share() > found.share()) {
			found, ok = s, true
		}
	}
	return found, ok
}

func (p *planner) least() (best strain, ok bool) {
	for _, b := range shelf.Kinds(p.c.Settings) {
		if b.Takes(p.c.Settings.Fizz) != nil {
			continue
		}
		if s, is := p.strainOf(Filled{Bottle: b, Fizz: p.c.Settings.Fizz}); is && (!ok || s.share() < best.share()) {
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

// overPressure is what the fizz would make of the bottles, where they do not
// stand that.
func (p *planner) overPressure() (over string, stands bool) {
	s, ok := p.strain()
	if !ok || s.Gauge <= s.Stands {
		return "", ok
	}
	return s.words, false
}

// nearPressure is the same where it is over four fifths of what they stand.
func (p *planner) nearPressure() (near string, is bool) {
	s, ok := p.strain()
	if !ok || s.Load() != carbonation.Watch {
		return "", false
	}
	return s.words, true
}

// addPressure makes the caution about bottles a warning where the best of them
// comes near to what it stands.
func (p *planner) addPressure(c *Caution) {
	if c.Name != "bottle-pressure" || !p.c.Alcohol.IsKnown() {
		return
	}
	if near, is := p.nearPressure(); is {
		c.Loud, c.Text = Warn, near+"; "+c.Text
	}
}

// stillHolds is the pressure from which a still mead had better lose its gas
// first: what the bottlers' guild CETIE calls still (from memory).
const stillHolds measure.Pressure = 1

// stillCaution is the caution of a step that bottles without fizz.
func (p *planner) stillCaution(s ferment.Step) *Caution {
	if s.Do != string(ferment.Bottle) {
		return nil
	}
	return StillCaution(p.c)
}

// StillCaution says what the gas that is left makes in a bottle without fizz, in
// the hottest place and with 0 to 3 points that nobody has seen: over one bar
// it is to go, or to be waited for. Nil where the alcohol is not known.
func StillCaution(c course.Course) *Caution {
	if !c.Alcohol.IsKnown() {
		return nil
	}
	gauges, err := stillPressure(c)
	if err != nil {
		return nil
	}
	u := c.Settings.Units
	words := fmt.Sprintf("%s at %s; with 1, 2 or 3 points unfinished %s, %s or %s",
		gauges[0].In(u), c.Settings.Hottest.In(u), gauges[1].In(u), gauges[2].In(u), gauges[3].In(u))
	if gauges[0] > stillHolds {
		return &Caution{Name: "still-pressure", Loud: Warn, Text: "gas is left in it: degas it or wait, else " + words}
	}
	return &Caution{Name: "still-pressure", Loud: Note, Text: words}
}

// stillPressure is the gauge pressure in the hottest place of what is bottled
// still, for each of carbonation.Points. The gas is what one atmosphere keeps in
// at the warmest that it has been since the bubbling ended.
func stillPressure(c course.Course) (gauges []measure.Pressure, err error) {
	l := carbonation.Liquid{Alcohol: c.Alcohol.Value}
	left, err := carbonation.Left(l, c.Warmest().Value)
	if err != nil {
		return nil, err
	}
	for _, points := range carbonation.Points {
		made, err := carbonation.InBottle(left, l, c.Settings.Hottest, points)
		if err != nil {
			return nil, err
		}
		gauges = append(gauges, made.Gauge)
	}
	return gauges, nil
}
