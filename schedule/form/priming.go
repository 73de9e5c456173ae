package form

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// How the sugar is added.
const (
	inBatch = "in the batch"
	inEach  = "in each bottle"
)

type priming struct {
	alcohol measure.Strength
	warmest measure.Temperature
	sugar   carbonation.Sugar
	from    source
	batch   bool
	volume  measure.Volume // to be primed
	dose    carbonation.Dose
	given   map[int]portion // by row; the batch has the key whole
}

func (pr *priming) isHoney() bool { return pr != nil && pr.sugar == carbonation.Honey }

// prime asks for the sugar, for the whole batch or for each bottle.
func (f filling) prime(p *asking) *priming {
	pr := &priming{given: map[int]portion{}}
	pr.alcohol = f.alcohol(p).Value
	w := f.v.Course.Warmest()
	warmest := Field{Key: "warmest", Label: "warmest", Value: w.Value.In(f.units()), From: cmp.Or(w.Assumed, "since the bubbling ended"), More: true}
	pr.warmest = want(p, warmest, measure.ParseTemperature, p.fill("the warmest that it has been since the bubbling ended, e.g. {19 °C}")).Value
	pr.sugar = carbonation.Sugar(p.choose(Field{Key: "sugar", Label: "sugar", Value: string(carbonation.Honey), More: true,
		Words: []string{string(carbonation.Honey), string(carbonation.Sucrose), string(carbonation.Glucose), string(carbonation.GlucoseMonohydrate)}}))
	if pr.isHoney() {
		pr.from = f.source(p, true)
	}
	how := Field{Key: "dose", Label: "goes", Value: inBatch, Words: []string{inBatch, inEach}, More: true}
	if !f.alike() || f.left.Known() {
		how.Value = inEach
	}
	pr.batch = p.choose(how) == inBatch
	fizz := f.rows[f.firstFizz()].fizz.Value
	if pr.batch && slices.ContainsFunc(f.rows, func(r row) bool { return r.fizzes() && r.fizz.Value != fizz }) {
		p.fail("dose", "rows with different fizz are dosed bottle by bottle")
	}
	f.portions(p, pr)
	return pr
}

func (f filling) alike() bool {
	return !slices.ContainsFunc(f.rows, func(r row) bool { return !r.fizzes() || r.fizz.Value != f.rows[0].fizz.Value })
}

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

// doses says how much sugar is added, and the pressure that it makes.
func (f filling) doses(o *Outcome) {
	pr := f.priming
	if pr == nil {
		return
	}
	sum := pr.given[whole].mass
	if g, batch := pr.given[whole]; batch {
		r := f.rows[f.firstFizz()]
		in := ""
		if water := pr.dose.Dissolved; water > 0 {
			in = fmt.Sprintf("in %s of boiled water ", water.Small(f.units()))
		}
		o.answer(fmt.Sprintf("%s %s %sinto %s: %s in a bottle of %s", g.text, pr.what(g), in, f.litres(pr.volume-pr.dose.Dissolved), f.grams(pr.inBottle(0, r)), measure.AsTyped(r.size, f.units())))
	} else {
		o.answer(pr.words(f.rows))
		for i, r := range f.rows {
			sum += pr.given[i].mass * measure.Mass(r.count)
		}
	}
	o.say("", fmt.Sprintf("%s/L and %s in all; there are %s of CO₂ in it; the sugar makes %s of alcohol, %s in the end", f.grams(sum/measure.Mass(pr.volume)), f.grams(sum),
		pr.dose.Left, pr.dose.Alcohol, pr.dose.Strength))
	for _, a := range pr.dose.Assumed {
		if a != "the bottle is made for this pressure" { // the gate checks that
			o.say("", measure.Fill(a, f.units()))
		}
	}
	for _, g := range pr.given {
		if g.stock {
			weigh := max(measure.Grams(10), 10*f.s.Cellar.Settings.Weighs, sum*1.1)
			o.sayf(words.Note, "syrup: %s %s, with boiled water to %s, cooled and stirred", f.grams(weigh), pr.sugar, syrupOf(weigh).Small(measure.Metric))
			if rest := pr.dose.Dissolved - syrupOf(sum); pr.batch && rest > 0 {
				o.sayf(words.Note, "with what is measured of it add %s of boiled water", rest.Small(measure.Metric))
			}
			break
		}
	}
	if pr.batch && (f.left.Known() || !f.alike()) {
		o.say(words.Warn, "draw off what is to be conditioned before the sugar goes in: what is left, and what stays still, gets none")
	}
	for i, r := range f.rows {
		if got := pr.reached(i, r); r.fizzes() && got != r.fizz.Value {
			o.sayf(words.Warn, "what is weighed makes %s in the %s, not %s", got, r.bottle.Kind, r.fizz.Value)
		}
	}
	f.uses(o, pr.from, sum)
	f.pressures(o)
	o.warn(schedule.Warning("bottle-pressure"))
}

// syrup is the solution for small doses of sugar: 50 g in 100 mL (common practice, no source).
var syrup = measure.Give[measure.Share](50, "50 %")

// whole is the key of the portion for the whole batch.
const whole = -1

type portion struct {
	text  string
	mass  measure.Mass
	stock bool // as syrup
}

// portions asks for the sugar as weighed: for the batch, or for each row of bottles.
func (f filling) portions(p *asking, pr *priming) {
	for i, r := range f.rows {
		if !r.fizzes() || !r.size.Known() || r.count < 1 {
			continue
		}
		pr.volume += r.volume()
		if pr.batch {
			continue
		}
		d, err := f.dose(pr, r, r.volume(), measure.Give[measure.Volume](0, "0 mL"))
		pr.dose = d
		f.portion(p, pr, i, fmt.Sprintf("each of row %d", i+1), d.PerBottle, err)
	}
	if !pr.batch || pr.volume <= 0 {
		return
	}
	if f.alike() && !f.left.Known() { // the rest in the vessel gets its sugar too
		pr.volume = max(pr.volume, f.holds)
	}
	r := f.rows[f.firstFizz()]
	d, err := f.dose(pr, r, pr.volume, measure.Given[measure.Volume]{})
	water := may(p, Field{Key: "dissolved", Label: "dissolved in", Value: d.Dissolved.Small(measure.Metric), From: "of boiled water, which gets its sugar too", More: true}, measure.ParseVolume)
	if err == nil {
		d, err = f.dose(pr, r, pr.volume, water)
	}
	pr.dose, pr.volume = d, pr.volume+d.Dissolved
	f.portion(p, pr, whole, "the batch", d.Batch, err)
}

func (f filling) firstFizz() int { return max(slices.IndexFunc(f.rows, row.fizzes), 0) }

// dose calculates the sugar. The gate compares it with the bottle's limit.
func (f filling) dose(pr *priming, r row, volume measure.Volume, water measure.Given[measure.Volume]) (carbonation.Dose, error) {
	return carbonation.Prime(carbonation.Priming{Volume: volume, Dissolved: water, Liquid: carbonation.Liquid{Alcohol: pr.alcohol}, Warmest: pr.warmest,
		Target: r.fizz.Value, Size: r.size.Value, Sugar: pr.sugar, Water: pr.from.water, Left: f.v.Course.Limits.GasLeft})
}

// portion asks for one portion, proposed by its figure, weighed or as syrup.
func (f filling) portion(p *asking, pr *priming, at int, label string, mass measure.Mass, err error) {
	key := "portion"
	if at != whole {
		key = fmt.Sprintf("portion-%d", at+1)
	}
	field := Field{Key: key, Label: label, From: p.fill("e.g. {3.0 g}, or mL of a 50 % syrup")}
	weighs := f.s.Cellar.Settings.Weighs
	switch {
	case err != nil && len(p.wrong) == 0:
		p.fail(key, measure.ErrorIn(err, p.units))
	case err != nil:
	case nutrient.TooSmall(mass, weighs):
		field.Value, field.From = syrupOf(mass).Small(measure.Metric), "of the syrup, "+f.grams(mass)+": the scale is too coarse"
	default:
		field.Value, field.From = f.grams(mass), "or "+syrupOf(mass).Small(measure.Metric)+" of a 50 % syrup"
	}
	field.More = field.Value != ""
	text := p.quantity(field)
	q, err := measure.ParseQuantity(text)
	m, isMass := q.Mass()
	v, isVolume := q.Volume()
	if isVolume && err == nil {
		m, err = nutrient.FromStock(v, syrup.Value)
	}
	if err != nil || !isMass && !isVolume || m <= 0 || m > 100 {
		p.fail(key, fmt.Sprintf(p.fill("%q is no sugar for the bottles: grams, or mL of the syrup, e.g. {3.0 g}"), text))
		return
	}
	pr.given[at] = portion{measure.Spelled(text), m, isVolume}
}

func syrupOf(m measure.Mass) measure.Volume {
	return measure.Millilitres(m.Grams() * 100 / float64(syrup.Value))
}

func (pr *priming) inBottle(i int, r row) measure.Mass {
	if pr.batch {
		return pr.given[whole].mass * measure.Mass(r.size.Value/pr.volume)
	}
	return pr.given[i].mass
}

// each returns the honey in each bottle of a row, as it is written.
func (pr *priming) each(i int) measure.Given[measure.Mass] {
	if !pr.isHoney() || pr.batch {
		return measure.Given[measure.Mass]{}
	}
	g := pr.given[i]
	if g.stock {
		g.text = measure.Of(math.Round(g.mass.Grams()*100)/100, "g").Text
	}
	return measure.Give(g.mass, g.text)
}

// reached returns the CO₂ that the sugar of a row makes; the target, if the sugar is within 3 % of its figure, because
// grams are rounded.
func (pr *priming) reached(i int, r row) measure.Content {
	made, err := carbonation.Primed(pr.dose.Left, pr.inBottle(i, r), pr.sugar, pr.from.wet(), r.size.Value)
	if err != nil || math.Abs(float64(made-r.fizz.Value)) <= 0.03*float64(r.fizz.Value) {
		return r.fizz.Value
	}
	return made
}

// wish returns the sugar of a batch as an act; batch is false if the bottles get it.
func (pr *priming) wish(at ferment.Moment) (w app.Wish, batch bool) {
	g, batch := pr.given[whole]
	if !batch {
		return w, false
	}
	q, _ := measure.ParseQuantity(g.text) // it was read as one
	w = app.Wish{Step: string(ferment.Prime), Entry: ferment.Entry{At: at, Amount: ferment.Amount{Quantity: q}, Of: string(pr.sugar),
		Lot: pr.from.lot, Water: pr.from.water, Medium: measure.Give(pr.dose.Dissolved, pr.dose.Dissolved.Small(measure.Metric))}}
	if g.stock {
		w.Entry.Stock = syrup
	}
	return w, true
}

// pressures shows the gauge pressure at 4 °C, 20 °C and in the hottest place, with 0 to 3 points of unfinished sugar,
// and the limits of the bottles.
func (f filling) pressures(o *Outcome) {
	if f.s.Cellar.Settings.Unread {
		o.say(words.Warn, "the pressure is not known: "+ferment.Unlimited)
		return
	}
	told, filling := map[measure.Content]bool{}, shelf.FilledAt(f.v.Course, f.v.Course.Now)
	for i, r := range f.rows {
		if !r.fizzes() {
			continue
		}
		co2, l := f.priming.reached(i, r), carbonation.Liquid{Alcohol: f.priming.dose.Strength}
		table, err := filling.Value.Table(co2, l, f.s.Cellar.Settings.Hottest)
		if err != nil {
			o.say(words.Note, "the pressure is not known: "+measure.ErrorIn(err, f.units()))
			continue
		}
		if !told[co2] {
			told[co2] = true
			o.say("", fmt.Sprintf("pressure of %s over the air, with 0, 1, 2 and 3 points of sugar unfinished, %s:", co2,
				cmp.Or(filling.Assumed, "filled at "+filling.Value.At.In(f.units()))))
			for _, t := range table {
				gauges := ferment.Map(t.ByPoints, func(p carbonation.Pressure) string { return p.Gauge.In(f.units()) })
				last := len(gauges) - 1
				o.say("", fmt.Sprintf("at %s: %s and %s", t.At.In(f.units()), strings.Join(gauges[:last], ", "), gauges[last]))
			}
		}
		f.strain(o, r, filling.Value, co2, l)
	}
}

// strain shows from how many points of sugar the bottle's limit is exceeded.
func (f filling) strain(o *Outcome, r row, in carbonation.Filling, co2 measure.Content, l carbonation.Liquid) {
	for _, points := range carbonation.Points {
		s, err := r.bottle.Strain(in, co2, l, f.s.Cellar.Settings.Hottest, points)
		switch {
		case err != nil:
			o.say(words.Note, measure.ErrorIn(err, f.units()))
			return
		case s.Load() == carbonation.Over:
			o.say(words.Warn, "too much: "+s.In(f.units()))
			return
		case points == carbonation.Points[len(carbonation.Points)-1]:
			o.say(words.Note, s.In(f.units()))
		}
	}
}
