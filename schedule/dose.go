package schedule

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// doses are the planned doses of nutrient, and those given.
type doses struct {
	unknown   string // why there are none
	need      nutrient.Need
	volume    measure.Volume
	plan      nutrient.Doses
	part      map[int]int // step → its dose in the plan
	assumed   string
	given     nutrient.Given
	guessed   int // of unknown amount
	lastGiven time.Time
	units     measure.System
}

// nutrientOf returns the nutrient of a step: its own, else the ferment's, else ammonium phosphate.
func (r *record) nutrientOf(s ferment.Step) nutrient.Nutrient {
	if strings.Contains(s.Kind, "organic") || strings.Contains(s.Kind, "yeast-derived") {
		n, has := ferment.FirstWhere(r.c.Settings.Nutrients, ferment.NutrientKind.Organic)
		switch {
		case has:
			return course.NutrientOf(n)
		case len(r.c.Settings.Nutrients) == 0:
			return nutrient.YeastDerived
		}
		s.Kind = "" // there is none of it in the cellar
	}
	return r.c.Nutrient(s.Of, s.Kind, r.c.Ferment.Nutrient.Kind)
}

func newDoses(r *record, steps []ferment.Step) doses {
	d := doses{part: map[int]int{}, lastGiven: r.c.Nitrogen.Last, units: r.units()}
	switch {
	case !r.c.Original.IsKnown():
		d.unknown = r.c.Original.Unknown
	case !r.c.Volume.IsKnown():
		d.unknown = r.c.Volume.Unknown
	default:
		if err := d.workOut(r, steps); err != nil {
			d.unknown = err.Error()
		}
	}
	return d
}

func (d *doses) workOut(r *record, steps []ferment.Step) (err error) {
	f := r.c.Ferment
	must := nutrient.Must{Demand: nutrient.Demand(f.Yeast.Demand), Own: f.Nutrient.Own, Target: f.Nutrient.Target}
	if must.Sugar, err = gravity.ToBrix(r.c.Original.Value); err != nil {
		return err
	}
	if d.need, err = nutrient.NeedOf(must); err != nil {
		return err
	}
	d.volume, d.assumed = r.c.Volume.Value, strings.Join(d.need.Assumed, "; ")
	var parts []nutrient.Part
	for i, s := range steps {
		if s.Do == string(ferment.Nutrient) && s.Share > 0 && !s.Option {
			d.part[i] = len(parts)
			parts = append(parts, nutrient.Part{Share: measure.Share(100 * s.Share), Of: r.nutrientOf(s)})
		}
	}
	if d.plan, err = nutrient.Plan(d.need.Add, d.volume, parts); err != nil {
		return err
	}
	d.given = nutrient.Given{Nitrogen: r.c.Nitrogen.Given, Ammonium: r.c.Nitrogen.Salt}
	d.guessed = r.c.Nitrogen.Guessed
	if n := len(parts); n > 0 { // a dose of unknown amount counts as the mean of the planned ones
		d.given.Nitrogen += measure.Content(d.guessed) * d.plan.Possible / measure.Content(n)
	}
	return nil
}

// allGiven reports whether the wanted nitrogen was given, to a hundredth.
func (d doses) allGiven() bool {
	return d.unknown == "" && d.need.Add > 0 && d.given.Nitrogen >= 0.99*d.need.Add
}

func (d doses) givenWords() string {
	return fmt.Sprintf("%.0f of %.0f mg/L of nitrogen are given", d.given.Nitrogen.MilligramsPerLitre(), d.need.Add.MilligramsPerLitre())
}

// amount returns a step's dose times a factor, limited by the caps.
func (d doses) amount(step int, times float64, weighs measure.Mass) *Amount {
	i, planned := d.part[step]
	if d.unknown != "" || !planned {
		return &Amount{Unknown: d.unknown}
	}
	one := d.plan.Each[i]
	a := d.of(one.Of, measure.Mass(times)*one.Mass, weighs)
	a.How = fmt.Sprintf("%s of %.0f mg/L in %s", part(float64(one.Wanted/d.need.Add)), d.need.Add.MilligramsPerLitre(), d.volume.In(d.units))
	if times != 1 {
		a.How = "one and a half doses: the one before was missed; a dose is " + a.How
	}
	if cut := d.plan.Explain(); cut != "" {
		a.How += "; " + cut
	}
	return a
}

// inKind returns the nitrogen of one planned dose in another nutrient.
func (d doses) inKind(step int, n nutrient.Nutrient, weighs measure.Mass) *Amount {
	i, planned := d.part[step]
	if d.unknown != "" || !planned {
		return &Amount{Of: n.Name, Unknown: d.unknown}
	}
	one, err := nutrient.Plan(d.plan.Each[i].Nitrogen, d.volume, []nutrient.Part{{Share: 100, Of: n}})
	if err != nil {
		return &Amount{Of: n.Name, Unknown: err.Error()}
	}
	return d.of(n, one.Total, weighs)
}

// of returns an amount of a nutrient, limited by the caps.
func (d doses) of(n nutrient.Nutrient, dose, weighs measure.Mass) *Amount {
	room, _, err := nutrient.Room(d.need.Add, d.given, n, d.volume)
	if err != nil {
		return &Amount{Of: n.Name, Unknown: err.Error()}
	}
	dose = min(dose, room)
	a := &Amount{Known: true, Number: dose.Grams(), Unit: "g", Of: n.Name, Assumed: d.assumed, Before: d.given.Nitrogen, Wanted: d.need.Add}
	if after, err := d.given.With(dose, n, d.volume); err == nil {
		a.Reached = after.Nitrogen
	}
	if d.guessed > 0 {
		a.Assumed = strings.TrimPrefix(a.Assumed+"; "+fmt.Sprintf("%d of unknown amount counted as one planned dose each", d.guessed), "; ")
	}
	a.Stock = stockOf(dose, weighs)
	return a
}

// stockOf returns a dose as a stock solution, if the scale is too coarse for it.
func stockOf(dose, weighs measure.Mass) *Stock {
	if dose <= 0 || weighs <= 0 || !nutrient.TooSmall(dose, weighs) {
		return nil
	}
	s, err := nutrient.StockFor(dose, weighs)
	if err != nil {
		return nil
	}
	return &Stock{Volume: s.Give, Percent: 10}
}

// part writes a share in words: "half", "a third", else in percent.
func part(share float64) string {
	names := []struct {
		share float64
		name  string
	}{{1, "all"}, {0.5, "half"}, {0.25, "a quarter"}, {0.2, "a fifth"}, {1.0 / 3, "a third"}, {2.0 / 3, "two thirds"}}
	for _, n := range names {
		if share > n.share-0.005 && share < n.share+0.005 {
			return n.name
		}
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}
