package form

import (
	"errors"
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// jug is the vessel that a form is of, in its cellar.
type jug struct {
	s app.Snapshot
	v app.Vessel
}

func (j jug) units() measure.System { return j.s.Cellar.Settings.Units }

func (j jug) litres(v measure.Volume) string { return v.In(j.units()) }

// grams is a dose as it is weighed: two places below a gram.
func (j jug) grams(m measure.Mass) string {
	if m < measure.Grams(1) {
		return measure.Decimal(m.Grams(), 2) + " g"
	}
	return m.In(j.units())
}

func millilitres(v measure.Volume) string {
	if v < 0.0995 {
		return measure.Decimal(v.Millilitres(), 1) + " mL"
	}
	return measure.Decimal(v.Millilitres(), 0) + " mL"
}

// shown is a figure as a field shows it; nothing where it is not known.
func shown[T any](f course.Figure[T], as func(T) string) string {
	if !f.IsKnown() {
		return ""
	}
	return as(f.Value)
}

func percent(s measure.Strength) string { return measure.Decimal(float64(s), 1) + " %" }

// gravity is the latest that is trusted.
func (j jug) gravity() course.Figure[measure.Gravity] {
	g := j.v.Course.Gravity
	return course.Figure[measure.Gravity]{Value: g.Value.Gravity, Unknown: g.Unknown}
}

// volume asks what stands in the vessel.
func (j jug) volume(p *page) measure.Given[measure.Volume] {
	f := Field{Key: "volume", Label: "in the vessel", Value: shown(j.v.Course.Volume, j.litres), From: "by the record"}
	if f.Value == "" {
		f.From = "measure it, e.g. 3.2 L"
	}
	return want(p, f, measure.ParseVolume, "measure what stands in the vessel, e.g. 3.2 L")
}

// alcohol asks for the strength.
func (j jug) alcohol(p *page) measure.Given[measure.Strength] {
	return want(p, j.alcoholField(), measure.ParseStrength, "give its alcohol, e.g. 12 %, or read gravity: it follows from that and the original")
}

func (j jug) alcoholField() Field {
	f := Field{Key: "alcohol", Label: "alcohol", Value: shown(j.v.Course.Alcohol, percent), From: "by its gravities"}
	if f.Value == "" {
		f.From = j.v.Course.Alcohol.Unknown
	}
	return f
}

// mead is what stands in the vessel by the record, as far as that is known.
func (j jug) mead() (honey.Mead, error) {
	c := j.v.Course
	switch {
	case !c.Volume.IsKnown():
		return honey.Mead{}, errors.New(c.Volume.Unknown)
	case !c.Gravity.IsKnown():
		return honey.Mead{}, errors.New(c.Gravity.Unknown + ": read gravity")
	case !c.Alcohol.IsKnown():
		return honey.Mead{}, errors.New(c.Alcohol.Unknown)
	}
	return honey.Mead{Volume: c.Volume.Value, Gravity: c.Gravity.Value.Gravity, Alcohol: c.Alcohol.Value}, nil
}

func (j jug) mixed(m honey.Mead) string {
	return fmt.Sprintf("%s, %s, %s", j.litres(m.Volume), words.Exact(m.Gravity, j.s.Cellar.Settings), m.Alcohol)
}

// gateNamed is a gate of the day as it stands; it is not ok where the day has
// none.
func (j jug) gateNamed(name ferment.Gate) (schedule.Gate, bool) {
	for _, g := range j.v.Day.Gates {
		if g.Name == name {
			return g, true
		}
	}
	return schedule.Gate{}, false
}
