package schedule

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// Filled is a kind of bottle with its target of CO₂; 0 is a still one.
type Filled struct {
	Bottle carbonation.Bottle
	Fizz   measure.Content
	Brings measure.Strength // alcohol from its sugar, less what the water of a syrup takes
	Test   bool             // reserved for a test
}

// filling is a record with the bottles to be filled with fizz.
type filling struct {
	*record
	bottles []Filled // nil if unknown
}

// fizzes reports whether some of it is to be conditioned: by the bottles, else by the ending.
func (f filling) fizzes() bool {
	if f.bottles != nil {
		return len(f.bottles) > 0
	}
	return f.c.Ferment.EndsAs(ferment.BottleConditioned)
}

// strain returns the pressure in the hottest place compared with the limit, with two thousandths of unfinished sugar,
// or one after a forced test: for the worst of the bottles to be filled, else for the best of those at hand.
func (f filling) strain() (found carbonation.Strain, err error) {
	bottles, points := f.bottles, 2.0
	for _, b := range shelf.Kinds(f.c.Settings) {
		if f.bottles == nil && b.CheckFizz(f.c.Settings.Fizz) == nil {
			bottles = append(bottles, Filled{Bottle: b, Fizz: f.c.Settings.Fizz})
		}
	}
	if f.recentTest() {
		points = 1
	}
	if f.c.Settings.Unread {
		return found, errors.New("cellar.yaml cannot be read, so it is not known what the bottles can take")
	}
	err = errors.New("no bottle at hand is made for this fizz")
	for _, b := range bottles {
		s, wrong := b.Bottle.Strain(shelf.FilledAt(f.c, f.c.Now).Value, b.Fizz, carbonation.Liquid{Alcohol: f.c.Alcohol.Value + b.Brings}, f.c.Settings.Hottest, points)
		switch {
		case wrong != nil && found.Limit == 0:
			err = wrong
		case wrong == nil && (err != nil || s.Share() > found.Share() == (f.bottles != nil)):
			found, err = s, nil
		}
	}
	return found, err
}

// atLoad reports whether the pressure is that near to the limit, and says so with what was assumed of the filling. If
// it cannot be calculated it is not known, and says gives the reason.
func (f filling) atLoad(as carbonation.Load) (says string, is, known bool) {
	s, err := f.strain()
	switch {
	case !f.c.Alcohol.IsKnown():
		return "the alcohol is not known: " + f.c.Alcohol.Unknown, false, false
	case err != nil:
		return measure.ErrorIn(err, f.units()), false, false
	case s.Load() != as:
		return "", false, true
	}
	return strings.TrimSuffix(s.In(f.units())+"; "+shelf.FilledAt(f.c, f.c.Now).Assumed, "; "), true, true
}

// stillHolds is the gauge pressure from which a still mead should lose its gas first (common practice, no source).
const stillHolds measure.Pressure = 0.5

// StillCaution says what a bottle without fizz comes to in the hottest place, with 0 to 3 points left. Its gas is what
// one atmosphere keeps in at the warmest since the bubbling ended; over stillHolds it is to go, or to be waited for.
// Nil if the alcohol is not known.
func StillCaution(c *course.Course) *Caution {
	if !c.Alcohol.IsKnown() {
		return nil
	}
	l, filling, u := carbonation.Liquid{Alcohol: c.Alcohol.Value}, shelf.FilledAt(c, c.Now), c.Settings.Units
	left, err := carbonation.GasLeft(l, c.Warmest().Value)
	rows, err2 := filling.Value.Table(c.Limits.GasLeft.Or(left), l, c.Settings.Hottest)
	if err := cmp.Or(err, err2); err != nil {
		return &Caution{Name: "still-pressure", Loud: Note, Text: "the pressure in the bottles is not known: " + measure.ErrorIn(err, u)}
	}
	p, at := rows[len(rows)-1].ByPoints, c.Settings.Hottest.In(u)
	words := strings.TrimSuffix(fmt.Sprintf("%s at %s with the air; with 1, 2 or 3 points of sugar left %s, %s or %s; %s",
		p[0].Gauge.In(u), at, p[1].Gauge.In(u), p[2].Gauge.In(u), p[3].Gauge.In(u), filling.Assumed), "; ")
	if p[0].Alone() > stillHolds {
		return &Caution{Name: "still-pressure", Loud: Warn, Text: fmt.Sprintf("its gas alone makes %s at %s: degas it or wait, else %s", p[0].Alone().In(u), at, words)}
	}
	return &Caution{Name: "still-pressure", Loud: Note, Text: words}
}
