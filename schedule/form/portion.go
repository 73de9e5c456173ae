package form

import (
	"fmt"
	"math"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
	"cellar/jugkeeper/schedule/app"
)

// syrup is the solution that sugar too little for the scale is measured by: 50 g
// in 100 mL (common practice, no source).
var syrup = measure.Give[measure.Share](50, "50 %")

// whole is the place of the portion that goes into the whole batch.
const whole = -1

// portion is sugar as it is weighed or measured.
type portion struct {
	text  string
	mass  measure.Mass
	stock bool // by its syrup
}

// portions asks for the sugar as it is weighed: one for the batch, or one for
// each row of bottles.
func (f filling) portions(p *page, pr *priming) {
	for i, r := range f.rows {
		if !r.fizzes() || !r.size.Known() || r.count < 1 {
			continue
		}
		pr.volume += r.volume()
		if pr.batch {
			continue
		}
		d, err := f.dose(pr, r, r.volume())
		pr.dose = d
		f.portion(p, pr, i, fmt.Sprintf("each of row %d", i+1), d.PerBottle, err)
	}
	if !pr.batch || pr.volume <= 0 {
		return
	}
	r := f.rows[f.firstFizz()]
	d, err := f.dose(pr, r, pr.volume)
	pr.dose = d
	f.portion(p, pr, whole, "the batch", d.Batch, err)
}

func (f filling) firstFizz() int {
	for i, r := range f.rows {
		if r.fizzes() {
			return i
		}
	}
	return 0
}

// dose is the figure of the sugar. What the bottle may hold is the gate's to say.
func (f filling) dose(pr *priming, r row, volume measure.Volume) (carbonation.Dose, error) {
	return carbonation.Prime(carbonation.Priming{Volume: volume, Liquid: carbonation.Liquid{Alcohol: pr.alcohol}, Warmest: pr.warmest,
		Target: r.fizz.Value, Size: r.size.Value, Sugar: pr.sugar, Water: pr.from.water})
}

// portion asks for one portion, proposed by its figure: weighed, or by its syrup
// where the scale is too coarse.
func (f filling) portion(p *page, pr *priming, at int, label string, mass measure.Mass, err error) {
	key := "portion"
	if at != whole {
		key = fmt.Sprintf("portion-%d", at+1)
	}
	field := Field{Key: key, Label: label, From: "e.g. 3.0 g, or mL of a 50 % syrup"}
	weighs := f.s.Cellar.Settings.Weighs
	switch {
	case err != nil && len(p.wrong) == 0:
		p.fail(key, err.Error())
	case err != nil:
	case nutrient.TooSmall(mass, weighs):
		field.Value, field.From = millilitres(syrupOf(mass)), "of the syrup, "+f.grams(mass)+": the scale is too coarse"
	default:
		field.Value, field.From = f.grams(mass), "or "+millilitres(syrupOf(mass))+" of a 50 % syrup"
	}
	text := p.ask(field)
	q, err := measure.ParseQuantity(text)
	m, isMass := q.Mass()
	v, isVolume := q.Volume()
	if isVolume && err == nil {
		m, err = nutrient.FromStock(v, syrup.Value)
	}
	if err != nil || !isMass && !isVolume || m <= 0 || m > 100 {
		p.fail(key, fmt.Sprintf("%q is no sugar for the bottles: grams, or mL of the syrup, e.g. 3.0 g", text))
		return
	}
	pr.given[at] = portion{ferment.Spelled(text), m, isVolume}
}

// syrupOf is the volume of the syrup that holds an amount of sugar.
func syrupOf(m measure.Mass) measure.Volume {
	return measure.Millilitres(m.Grams() * 100 / float64(syrup.Value))
}

// inBottle is the sugar that comes into one bottle of a row.
func (pr *priming) inBottle(i int, r row) measure.Mass {
	if pr.batch {
		return pr.given[whole].mass * measure.Mass(r.size.Value/pr.volume)
	}
	return pr.given[i].mass
}

// each is what is written of a bottle of a row: honey that went into each of them.
func (pr *priming) each(i int) measure.Given[measure.Mass] {
	if !pr.isHoney() || pr.batch {
		return measure.Given[measure.Mass]{}
	}
	g, dosed := pr.given[i]
	switch {
	case !dosed:
		return measure.Given[measure.Mass]{}
	case g.stock:
		return measure.Give(g.mass, measure.Of(math.Round(g.mass.Grams()*100)/100, "g").Text)
	}
	return measure.Give(g.mass, g.text)
}

// weighedAlike is how far the sugar may lie from its figure and still be what is
// aimed at: grams are rounded.
const weighedAlike = 0.03

// reached is the fizz that the sugar of a row makes: what is aimed at, where it
// was weighed by the figure.
func (pr *priming) reached(i int, r row) measure.Content {
	made, err := carbonation.Primed(pr.dose.Left, pr.inBottle(i, r), pr.sugar, pr.from.wet(), r.size.Value)
	if err != nil || math.Abs(float64(made-r.fizz.Value)) <= weighedAlike*float64(r.fizz.Value) {
		return r.fizz.Value
	}
	return made
}

// wish is the sugar of a batch as something that is done; it is not where it goes
// into each bottle.
func (pr *priming) wish(at ferment.Moment) (w app.Wish, batch bool) {
	g, batch := pr.given[whole]
	if !batch {
		return w, false
	}
	q, _ := measure.ParseQuantity(g.text) // it was read as one
	w = app.Wish{Step: string(ferment.Prime), At: at, Amount: ferment.Amount{Quantity: q}, Of: string(pr.sugar),
		Entry: ferment.Entry{Lot: pr.from.lot, Water: pr.from.water}}
	if g.stock {
		w.Stock = syrup
	}
	return w, true
}
