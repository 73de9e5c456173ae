package form

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// How the sugar goes in.
const (
	inBatch = "in the batch"
	inEach  = "in each bottle"
)

// priming is the sugar that brings the fizz.
type priming struct {
	alcohol measure.Strength
	warmest measure.Temperature
	sugar   carbonation.Sugar
	from    source
	batch   bool
	volume  measure.Volume // that is primed
	dose    carbonation.Dose
	given   map[int]portion // by row; that of the batch at whole
}

func (pr *priming) isHoney() bool { return pr != nil && pr.sugar == carbonation.Honey }

// prime asks for what the fizz takes.
func (f filling) prime(p *page) *priming {
	pr := &priming{given: map[int]portion{}}
	pr.alcohol = f.alcohol(p).Value
	pr.warmest = f.warmest(p)
	pr.sugar = carbonation.Sugar(p.choose(Field{Key: "sugar", Label: "sugar", Value: string(carbonation.Honey),
		Words: []string{string(carbonation.Honey), string(carbonation.Sucrose), string(carbonation.Glucose), string(carbonation.GlucoseMonohydrate)}}))
	if pr.isHoney() {
		pr.from = f.source(p)
	}
	how := Field{Key: "dose", Label: "goes", Value: inBatch, Words: []string{inBatch, inEach}}
	if !f.alike() || f.left.Known() {
		how.Value = inEach
	}
	pr.batch = p.choose(how) == inBatch
	if _, same := f.fizz(); pr.batch && !same {
		p.fail("dose", "rows of unlike fizz are dosed in each bottle")
	}
	f.portions(p, pr)
	return pr
}

// alike tells whether all that is filled takes one dose.
func (f filling) alike() bool {
	for _, r := range f.rows {
		if !r.fizzes() || r.fizz.Value != f.rows[0].fizz.Value {
			return false
		}
	}
	return true
}

// fizz is the one that the rows with any aim at; not the same where they differ.
func (f filling) fizz() (fizz measure.Content, same bool) {
	same = true
	for _, r := range f.rows {
		if r.fizzes() {
			same = same && (fizz == 0 || fizz == r.fizz.Value)
			fizz = r.fizz.Value
		}
	}
	return fizz, same
}

func (f filling) warmest(p *page) measure.Temperature {
	w := f.v.Course.Warmest()
	field := Field{Key: "warmest", Label: "warmest", Value: w.Value.In(f.units()), From: "since the bubbling ended"}
	if w.Assumed != "" {
		field.From = w.Assumed
	}
	return want(p, field, measure.ParseTemperature, "the warmest that it has been since the bubbling ended, e.g. 19 °C").Value
}

// words are the sugar of each row in words.
func (pr *priming) words(rows []row) string {
	var out []string
	for i, r := range rows {
		g, dosed := pr.given[i]
		text := fmt.Sprintf("%s %s in each bottle of %s", g.text, pr.what(g), r.size.Text)
		if dosed && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return strings.Join(out, ", ")
}

func (pr *priming) what(g portion) string {
	if g.stock {
		return string(pr.sugar) + " syrup"
	}
	return string(pr.sugar)
}

// doses tells of the sugar, and of the pressure that it makes.
func (f filling) doses(o *Outcome) {
	pr := f.priming
	if pr == nil {
		return
	}
	sum := pr.given[whole].mass
	if g, batch := pr.given[whole]; batch {
		r := f.rows[f.firstFizz()]
		o.answer(fmt.Sprintf("%s %s into %s, %s in a bottle of %s", g.text, pr.what(g), f.litres(pr.volume), f.grams(pr.inBottle(0, r)), r.size.Text))
	} else {
		o.answer(pr.words(f.rows))
		for i, r := range f.rows {
			sum += pr.given[i].mass * measure.Mass(r.count)
		}
	}
	o.say("", fmt.Sprintf("%s/L and %s in all; it holds %s of CO₂ and gets %s stronger", f.grams(sum/measure.Mass(pr.volume)), f.grams(sum), pr.dose.Left, pr.dose.Alcohol))
	for _, a := range pr.dose.Assumed {
		if a != "the bottle is made for this pressure" { // the gate looks at that
			o.say("", a)
		}
	}
	f.tellSyrup(o, sum)
	if pr.batch && (f.left.Known() || !f.alike()) {
		o.say(words.Warn, "draw off what is to be conditioned before the sugar goes in: what is left, and what stays still, gets none")
	}
	for i, r := range f.rows {
		if got := pr.reached(i, r); r.fizzes() && got != r.fizz.Value {
			o.say(words.Warn, fmt.Sprintf("what is weighed makes %s in the %s, not %s", got, r.bottle.Kind, r.fizz.Value))
		}
	}
	f.uses(o, pr.from, sum)
	f.pressures(o)
	o.warn(schedule.Warning("bottle-pressure"))
}

// tellSyrup says how the syrup is made, where some is.
func (f filling) tellSyrup(o *Outcome, sum measure.Mass) {
	for _, g := range f.priming.given {
		if !g.stock {
			continue
		}
		weigh := max(measure.Grams(10), 10*f.s.Cellar.Settings.Weighs, sum*1.1)
		o.say(words.Note, fmt.Sprintf("syrup: %s %s, with boiled water to %s, cooled and stirred", f.grams(weigh), f.priming.sugar, millilitres(syrupOf(weigh))))
		return
	}
}
