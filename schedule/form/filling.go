package form

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// filling is a bottling as it is filled in.
type filling struct {
	jug
	volume  measure.Given[measure.Volume] // typed, if it was
	holds   measure.Volume
	rows    []row
	left    measure.Given[measure.Volume] // in the vessel, whose plan then goes on
	priming *priming                      // nil where no row has fizz
	at      ferment.Moment
	note    string
	values  Values
}

// toFill asks for the volume. What was measured since the last racking stands
// there; else the record's counts until somebody measures it.
func (j jug) toFill(p *page) (typed measure.Given[measure.Volume], holds measure.Volume) {
	f := Field{Key: "volume", Label: "in the vessel", From: "measure it, e.g. 3.2 L"}
	c := j.v.Course
	if c.Volume.IsKnown() {
		f.From = j.litres(c.Volume.Value) + " by the record, not measured since it was racked"
		if j.measuredSinceRacking() {
			f.Value, f.From = j.litres(c.Volume.Value), "measured since it was racked"
		}
	}
	typed = may(p, f, measure.ParseVolume)
	switch {
	case typed.Known() && typed.Value <= 0:
		p.fail("volume", typed.Text+" fill no bottle: measure what stands in the vessel, e.g. 3.2 L")
	case typed.Text == f.Value && typed.Known():
		return measure.Given[measure.Volume]{}, c.Volume.Value
	case !typed.Known() && c.Volume.IsKnown():
		return typed, c.Volume.Value
	case !typed.Known():
		p.fail("volume", "measure what stands in the vessel, e.g. 3.2 L")
	}
	return typed, typed.Value
}

// measuredSinceRacking tells whether the record's volume was measured after the
// last racking, or with it.
func (j jug) measuredSinceRacking() bool {
	for _, e := range slices.Backward(j.v.Course.Entries) {
		if e.Volume.Known() && !e.Did.ApartFromCourse() {
			return true
		}
		if e.Did == ferment.Rack {
			return false
		}
	}
	return false
}

func (f filling) filled() (sum measure.Volume) {
	for _, r := range f.rows {
		sum += r.volume()
	}
	return sum
}

// overfull is how much more than was measured may come out of a vessel: a
// measure reads no better (common practice, no source).
const overfull = 1.05

// nothing is left in the vessel.
const nothing = "nothing"

// leaves asks what stays in the vessel, whose plan then goes on.
func (f filling) leaves(p *page) measure.Given[measure.Volume] {
	rest := max(f.holds-f.filled(), 0)
	field := Field{Key: "left", Label: "left", Value: nothing, From: "in the vessel, if its plan goes on"}
	if size, ok := f.smallest(); ok && rest >= size {
		field.Value = f.litres(rest)
	}
	left := may(p, field, func(text string) (measure.Given[measure.Volume], error) {
		if strings.EqualFold(text, nothing) {
			return measure.Given[measure.Volume]{}, nil
		}
		return measure.ParseVolume(text)
	})
	if n := len(f.rows); n > 0 && f.holds > 0 && f.filled()+left.Value > f.holds*overfull {
		p.fail(fmt.Sprintf("count-%d", n), fmt.Sprintf("%s in bottles and vessel are more than the %s that are there: fill fewer",
			f.litres(f.filled()+left.Value), f.litres(f.holds)))
	}
	if left.Value <= 0 {
		return measure.Given[measure.Volume]{}
	}
	return left
}

// smallest is the smallest of the bottles.
func (f filling) smallest() (size measure.Volume, ok bool) {
	for _, r := range f.rows {
		if !ok || r.size.Value < size {
			size, ok = r.size.Value, true
		}
	}
	return size, ok
}

// course is what the log says once what was typed as measured is in it.
func (f filling) course(measured []ferment.Entry) course.Course {
	v := f.v
	if len(measured) > 0 {
		if with, ok := f.after(ferment.Deed{Entries: []ferment.Logged{{Subject: f.v.ID(), Entries: measured}}}, f.v.ID()); ok {
			v = with
		}
	}
	c := v.Course
	if f.priming != nil {
		c.Alcohol = course.Known(f.priming.alcohol)
	}
	return c
}
