package form

import (
	"slices"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// Open is the form of that name, of a ferment, a lot or a culture, with values
// that stand in it already. It is not ok where the name or the subject is none.
func Open(name string, s app.Snapshot, subject string, given Values) (Form, bool) {
	kind, known := kinds[name]
	if !known {
		return Form{}, false
	}
	f, ok := kind(s, subject, given)
	if units := s.Cellar.Settings.Units; ok && units == measure.US {
		return f.in(units), true
	}
	return f, ok
}

// in is a form whose sentences and examples are in the units of the settings.
func (f Form) in(units measure.System) Form {
	fields, work := f.Fields, f.Work
	f.Fields = func(v Values) []Field {
		out := slices.Clone(fields(v))
		for i := range out {
			out[i].From, out[i].Value = measure.Prose(out[i].From, units), shownValue(out[i].Value, units)
		}
		return out
	}
	f.Work = func(v Values) Outcome {
		o := work(v)
		o.Answer, o.Lines, o.Wrong = slices.Clone(o.Answer), slices.Clone(o.Lines), slices.Clone(o.Wrong)
		for i := range o.Answer {
			o.Answer[i] = measure.Prose(o.Answer[i], units)
		}
		for i := range o.Lines {
			o.Lines[i].Text = measure.Prose(o.Lines[i].Text, units)
		}
		for i := range o.Wrong {
			o.Wrong[i].Text = measure.Prose(o.Wrong[i].Text, units)
		}
		return o
	}
	return f
}

// shownValue is what stands in a field, in the units of the settings. What is
// under a fluid ounce stays in mL: that is what a syringe for doses shows.
func shownValue(text string, units measure.System) string {
	q, err := measure.ParseQuantity(text)
	if v, is := q.Volume(); err == nil && is && v < measure.LitresPerUSGallon/128 {
		return text
	}
	return measure.Turned(text, units)
}

// A kind makes a form of its subject.
type kind func(s app.Snapshot, subject string, given Values) (Form, bool)

// kinds are the forms by name.
var kinds = map[string]kind{
	"rack":   ofVessel(Rack),
	"bottle": ofVessel(Bottle),
	"new":    newKind,
}

// ofVessel is a kind of form that a ferment has.
func ofVessel(make func(app.Snapshot, app.Vessel, Values) Form) kind {
	return func(s app.Snapshot, subject string, given Values) (Form, bool) {
		v, is := s.Find(subject)
		if !is || v.Culture != nil {
			return Form{}, false
		}
		return make(s, v, given), true
	}
}
