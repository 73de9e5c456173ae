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

// strainOf is what a fizz makes of a bottle in the hottest place, with two
// thousandths of unfinished sugar, one after a forced test. It is not ok where no
// figure says.
func (f filling) strainOf(b Filled) (carbonation.Strain, bool) {
	if f.c.Settings.Unread {
		return carbonation.Strain{}, false
	}
	points := 2.0
	if f.recentTest() {
		points = 1
	}
	s, err := b.Bottle.Strain(shelf.FilledAt(f.c, f.c.Now).Value, b.Fizz, carbonation.Liquid{Alcohol: f.c.Alcohol.Value + b.Brings}, f.c.Settings.Hottest, points)
	return s, err == nil
}

// strain is that of the bottles to be filled, the worst of them. Where nobody
// said which, it is that of the bottle at hand that bears the fizz best, of those
// that may hold it.
func (f filling) strain() (found carbonation.Strain, ok bool) {
	for _, b := range f.bottles {
		if s, is := f.strainOf(b); is && (!ok || s.Share() > found.Share()) {
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
		if s, is := f.strainOf(Filled{Bottle: b, Fizz: f.c.Settings.Fizz}); is && (!ok || s.Share() < found.Share()) {
			found, ok = s, true
		}
	}
	return found, ok
}

// loaded is what the fizz makes of the bottles, with what was assumed of the
// filling, where it is that near to what they stand. It is not known without the
// alcohol, or a bottle.
func (f filling) loaded(as carbonation.Load) (says string, is, known bool) {
	s, known := f.strain()
	if known = known && f.c.Alcohol.IsKnown(); !known || s.Load() != as {
		return "", false, known
	}
	return strings.TrimSuffix(s.In(f.units())+"; "+shelf.FilledAt(f.c, f.c.Now).Assumed, "; "), true, true
}

// stillHolds is the gauge pressure of its own gas from which a still mead had
// better lose that first (common practice, no source).
const stillHolds measure.Pressure = 0.5

// StillCaution says what a bottle without fizz comes to in the hottest place, with
// 0 to 3 points that nobody has seen. The gas is what one atmosphere keeps in at
// the warmest that it has been since the bubbling ended; where that alone comes to
// more than stillHolds, it is to go, or to be waited for. Nil where the alcohol is
// not known.
func StillCaution(c course.Course) *Caution {
	l, filling := carbonation.Liquid{Alcohol: c.Alcohol.Value}, shelf.FilledAt(c, c.Now)
	left, err := carbonation.Left(l, c.Warmest().Value)
	if err != nil || !c.Alcohol.IsKnown() {
		return nil
	}
	left = c.Limits.GasLeft.Or(left)
	u, alone := c.Settings.Units, measure.Pressure(0)
	var gauges []any
	for i, points := range carbonation.Points {
		made, err := filling.Value.InBottle(left, l, c.Settings.Hottest, points)
		if err != nil {
			return nil
		}
		gauges = append(gauges, made.Gauge.In(u))
		if i == 0 {
			alone = made.Alone()
		}
	}
	at := c.Settings.Hottest.In(u)
	words := strings.TrimSuffix(fmt.Sprintf("%s at "+at+" with the air; with 1, 2 or 3 points unfinished %s, %s or %s", gauges...)+"; "+filling.Assumed, "; ")
	if alone > stillHolds {
		return &Caution{Name: "still-pressure", Loud: Warn, Text: fmt.Sprintf("its gas alone makes %s at %s: degas it or wait, else %s", alone.In(u), at, words)}
	}
	return &Caution{Name: "still-pressure", Loud: Note, Text: words}
}
