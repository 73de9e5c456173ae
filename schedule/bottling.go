package schedule

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Filled is a kind of bottle with the gas that is aimed at; none is a still one.
type Filled struct {
	Bottle carbonation.Bottle
	Fizz   measure.Content
	Brings measure.Strength // alcohol that its sugar makes
	Test   bool             // kept for a test
}

func (f Filled) still() bool { return f.Fizz <= 0 }

// Bottling is what the record says to filling some bottles.
type Bottling struct {
	Gates []Gate   // those that the bottles have to pass: still, conditioning, or both
	Stop  *No      // a danger in the record, or a pressure over what a bottle stands; nil for none
	Near  string   // over four fifths of what a bottle stands, in words; empty for less
	Still *Caution // of bottles without fizz
}

// BottlingOf is what stands against filling these bottles now: a danger in the
// record, a pressure over what one of them stands, a gate that is shut. The gate
// of conditioning looks at these bottles and no others.
func BottlingOf(c course.Course, bottles []Filled) Bottling {
	p := newPlanner(ferment.Protocol{}, c)
	p.filled = []Filled{}
	var b Bottling
	for _, f := range bottles {
		if f.still() {
			b.Still = StillCaution(c)
			continue
		}
		p.filled = append(p.filled, f)
	}
	if b.Still != nil || len(p.filled) < len(bottles) {
		b.Gates = append(b.Gates, p.gate(ferment.StillGate))
	}
	if len(p.filled) > 0 {
		b.Gates = append(b.Gates, p.gate(ferment.ConditioningGate))
		if c.Alcohol.IsKnown() {
			b.Near, _ = p.nearPressure()
		}
	}
	if h, stops := p.stopped(string(ferment.Bottle)); stops {
		b.Stop = refusalOf(h, Day{})
	}
	return b
}

// fizzes tells whether some of it is to be conditioned: of the bottles to be
// filled, else by the ending.
func (p *planner) fizzes() bool {
	if p.filled != nil {
		return len(p.filled) > 0
	}
	return p.c.Ferment.EndsAs(ferment.BottleConditioned)
}

// softTest tells whether a bottle is the soft one that shows how hard the others
// are.
func (f Filled) softTest() bool { return f.Test && strings.Contains(f.Bottle.Kind, "soft") }
