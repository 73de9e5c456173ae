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

// Filled is a kind of bottle with the gas that is aimed at; none is a still one.
type Filled struct {
	Bottle carbonation.Bottle
	Fizz   measure.Content
	Brings measure.Strength // alcohol that its sugar makes
	Test   bool             // kept for a test
}

func (f Filled) still() bool { return f.Fizz <= 0 }

// softTest tells whether a bottle is the soft one that shows how hard the others
// are.
func (f Filled) softTest() bool { return f.Test && strings.Contains(f.Bottle.Kind, "soft") }

// filling is a record and the bottles that are to be filled with fizz.
type filling struct {
	*record
	bottles []Filled // nil where nobody said
}

// fizzes tells whether some of it is to be conditioned: of the bottles to be
// filled, else by the ending.
func (f filling) fizzes() bool {
	if f.bottles != nil {
		return len(f.bottles) > 0
	}
	return f.c.Ferment.EndsAs(ferment.BottleConditioned)
}

// strain is what the fizz makes of a bottle in the hottest place, with sugar
// left that nobody has seen.
type strain struct {
	carbonation.Strain
	words string // "4.9 bar at 30 °C with 1 point unfinished; the crown beer bottle stands 5.4 bar"
}

func (s strain) share() float64 { return float64(s.Gauge) / float64(s.Stands) }

// strainOf is what a fizz makes of a bottle, with two thousandths of unfinished sugar,
// one after a forced test. It is not ok where no figure says.
func (f filling) strainOf(b Filled) (strain, bool) {
	points := 2.0
	if f.recentTest() {
		points = 1
	}
	made, err := b.Bottle.Strain(b.Fizz, carbonation.Liquid{Alcohol: f.c.Alcohol.Value + b.Brings}, f.c.Settings.Hottest, points)
	if err != nil {
		return strain{}, false
	}
	return strain{made, fmt.Sprintf("%s at %s with %s unfinished; the %s stands %s",
		made.Gauge.In(f.units()), f.c.Settings.Hottest.In(f.units()), pointsWords(points), b.Bottle.Kind, made.Stands.In(f.units()))}, true
}

// strain is that of the bottles to be filled, the worst of them. Where nobody
// said which, it is that of the bottle at hand that bears the fizz best, of those
// that may hold it.
func (f filling) strain() (found strain, ok bool) {
	for _, b := range f.bottles {
		if s, is := f.strainOf(b); is && (!ok || s.share() > found.share()) {
			found, ok = s, true
		}
	}
	if f.bottles != nil {
		return found, ok
	}
	for _, b := range shelf.Kinds(f.c.Settings) {
		if b.Takes(f.c.Settings.Fizz) != nil {
			continue
		}
		if s, is := f.strainOf(Filled{Bottle: b, Fizz: f.c.Settings.Fizz}); is && (!ok || s.share() < found.share()) {
			found, ok = s, true
		}
	}
	return found, ok
}

// overPressure is what the fizz would make of the bottles, where they do not
// stand that.
func (f filling) overPressure() (over string, stands bool) {
	s, ok := f.strain()
	if !ok || s.Gauge <= s.Stands {
		return "", ok
	}
	return s.words, false
}

// nearPressure is the same where it is over four fifths of what they stand.
func (f filling) nearPressure() (near string, is bool) {
	if s, ok := f.strain(); ok && s.Load() == carbonation.Watch && f.c.Alcohol.IsKnown() {
		return s.words, true
	}
	return "", false
}

// stillHolds is the pressure from which a still mead had better lose its gas
// first: what the bottlers' guild CETIE calls still (from memory).
const stillHolds measure.Pressure = 1

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
