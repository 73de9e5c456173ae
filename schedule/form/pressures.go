package form

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
)

// pressures tells of the gauge pressure at 4 °C, 20 °C and in the hottest place,
// with 0 to 3 points of sugar that nobody has seen, and what the bottles stand.
func (f filling) pressures(o *Outcome) {
	told := map[measure.Content]bool{}
	for i, r := range f.rows {
		if !r.fizzes() {
			continue
		}
		co2 := f.priming.reached(i, r)
		table, err := carbonation.Table(co2, carbonation.Liquid{Alcohol: f.priming.alcohol + f.priming.dose.Alcohol}, f.s.Cellar.Settings.Hottest)
		if err != nil {
			o.say(words.Note, "the pressure is not known: "+err.Error())
			continue
		}
		if !told[co2] {
			told[co2] = true
			o.say("", fmt.Sprintf("pressure of %s over the air, with 0, 1, 2 and 3 points of sugar unfinished:", co2))
			for _, t := range table {
				o.say("", fmt.Sprintf("at %s: %s", t.At.In(f.units()), f.gauges(t)))
			}
		}
		f.stands(o, r, table[len(table)-1])
	}
}

func (f filling) gauges(t carbonation.Row) string {
	var out []string
	for _, p := range t.ByPoints {
		out = append(out, p.Gauge.In(f.units()))
	}
	return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}

// stands compares what the bottle stands with the pressure in the hottest place.
func (f filling) stands(o *Outcome, r row, hottest carbonation.Row) {
	stands, err := r.bottle.Stands()
	if err != nil {
		o.say(words.Note, err.Error())
		return
	}
	says := fmt.Sprintf("the %s stands %s", r.bottle.Kind, stands.In(f.units()))
	for i, p := range hottest.ByPoints {
		if carbonation.LoadOf(p.Gauge, stands) == carbonation.Over {
			o.say(words.Warn, fmt.Sprintf("%s: too little at %s with %s unfinished", says, hottest.At.In(f.units()), pointWords(carbonation.Points[i])))
			return
		}
	}
	o.say(words.Note, says)
}

func pointWords(n float64) string {
	if n == 1 {
		return "1 point"
	}
	return measure.Decimal(n, 0) + " points"
}
