package form

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// asking asks for a form's fields in order, so that a later field can depend on an earlier one.
type asking struct {
	units  measure.System
	values Values // the text of the fields
	given  Values // the text of fields known beforehand
	fields []Field
	wrong  []Wrong
	early  bool // calculate what is possible while something is missing
}

// form builds a form from one function: it asks for the fields and then computes the outcome.
func (r record) form(f Form, given Values, ask func(*asking) func(*Outcome)) Form {
	f.Fields = func(values Values) []Field {
		p := &asking{units: r.units(), values: values, given: given}
		ask(p)
		return p.fields
	}
	f.Work = func(values Values) (o Outcome) {
		p := &asking{units: r.units(), values: values, given: given}
		if work := ask(p); p.early || len(p.wrong) == 0 {
			work(&o)
		}
		if len(p.wrong) > 0 {
			o.Wrong, o.Change = p.wrong, ferment.Change{}
		}
		return o
	}
	return f
}

func (p *asking) fill(text string) string { return measure.Fill(text, p.units) }

// ask adds a field, and returns what was typed into it, else the value that it proposes.
func (p *asking) ask(f Field) string { return p.put(f, func(text string) string { return text }) }

// quantity is like ask, for a value shown in the units of the cellar.
func (p *asking) quantity(f Field) string {
	return p.put(f, func(text string) string { return shownValue(text, p.units) })
}

// put is ask with the value written as a person reads it.
func (p *asking) put(f Field, shown func(string) string) string {
	if text, known := p.given[f.Key]; known {
		f.Value = text
	}
	f.Value = shown(f.Value)
	p.fields = append(p.fields, f)
	if text, set := p.values[f.Key]; set {
		return strings.TrimSpace(text)
	}
	return f.Value
}

// choose asks for one of the field's words.
func (p *asking) choose(f Field) string {
	text := p.ask(f)
	i := slices.IndexFunc(f.Words, func(w string) bool { return strings.EqualFold(w, text) })
	if i < 0 {
		p.fail(f.Key, "choose one of "+strings.Join(f.Words, ", "))
		i = 0
	}
	return f.Words[i]
}

// none is the answer that leaves something out.
const none = "none"

// chooseAny asks for one of the field's words, empty for none.
func (p *asking) chooseAny(f Field) string {
	if word := p.choose(f); word != none {
		return word
	}
	return ""
}

func (p *asking) fail(key, text string) {
	if !slices.ContainsFunc(p.wrong, func(w Wrong) bool { return w.Key == key }) {
		p.wrong = append(p.wrong, Wrong{key, text})
	}
}

// may asks for a quantity that can be left empty.
func may[T any](p *asking, f Field, parse func(string) (measure.Given[T], error)) measure.Given[T] {
	text := p.quantity(f)
	if text == "" {
		return measure.Given[T]{}
	}
	v, err := parse(measure.WithUnit(text, f.From+" "+shownValue(f.Value, p.units)))
	if err != nil {
		p.fail(f.Key, measure.ErrorIn(err, p.units))
		return measure.Given[T]{}
	}
	if spelled := measure.Spelled(v.Text); spelled != "" {
		v.Text = spelled
	}
	return v
}

// within reads a value that fits, else the error is problem with a hint.
func within[T any](parse func(string) (measure.Given[T], error), fits func(T) bool, problem, hint string) func(string) (measure.Given[T], error) {
	return func(text string) (measure.Given[T], error) {
		v, err := parse(text)
		if err == nil && !fits(v.Value) {
			err = &measure.Error{Text: text, Problem: problem, Hint: hint}
		}
		return v, err
	}
}

// want asks for a required value; lack says what to do without it.
func want[T any](p *asking, f Field, parse func(string) (measure.Given[T], error), lack string) measure.Given[T] {
	v := may(p, f, parse)
	if !v.Known() {
		p.fail(f.Key, lack)
	}
	return v
}

// vessel asks for a vessel by kind and volume; none if left empty.
func (p *asking) vessel(kind, brimful Field) ferment.Vessel {
	v := ferment.Vessel{Kind: p.ask(kind)}
	brimful.From = p.fill("filled to the brim, e.g. {4.1 L}")
	if v.Brimful = may(p, brimful, measure.ParseVolume); v.Brimful.Known() && v.Brimful.Value <= 0 {
		p.fail(brimful.Key, v.Brimful.Text+p.fill(" is not a volume: fill it to the brim and measure, e.g. {4.1 L}"))
	}
	v.Declared = v.Kind != "" || v.Brimful.Known()
	return v
}

// when asks for a time; now if left empty.
func (p *asking) when(now time.Time) ferment.Moment {
	return p.moment("when", p.ask(Field{Key: "when", Label: "when", Value: "now", From: "now, or -2h, yesterday 20:00", More: true}), now)
}

// moment reads a time that is not in the future.
func (p *asking) moment(key, text string, now time.Time) ferment.Moment {
	if text == "" || strings.EqualFold(text, "now") {
		return ferment.At(now)
	}
	at, _, err := ferment.ParseTime(text, now, now.Location())
	switch {
	case err != nil:
		p.fail(key, measure.ErrorIn(err, p.units))
	case at.Earliest().After(now):
		p.fail(key, text+" is in the future: write it down once it is done, e.g. -2h")
	}
	return at
}

// questions asks what an act asks beyond the form; observations are never answered beforehand.
func (j jug) questions(p *asking, act ferment.Act) ferment.Entry {
	var asked []ferment.Question
	var answers []string
	read := func(qs []ferment.Question, answers []string) (ferment.Entry, error) {
		l, err := app.Typed{Line: string(act) + " " + ferment.Answered(qs, answers)}.Read(j.s.Cellar.Settings, j.s.At)
		return l.Entry, err
	}
	for _, q := range ferment.Questions(act, j.v.Culture != nil) {
		f := Field{Key: q.Key, Label: q.Label, From: p.fill(q.Hint), More: q.Key == "sample" || q.Key == "lees" || q.Key == "temperature"}
		if slices.ContainsFunc(p.fields, func(had Field) bool { return had.Key == f.Key }) {
			continue
		}
		if len(q.Answers) > 0 {
			f.Value, f.Words = notSeen, []string{notSeen}
			f.Words = append(f.Words, ferment.Map(q.Answers, func(a ferment.Answer) string { return a.Word })...)
		}
		if text := p.ask(f); text != "" && text != notSeen {
			if _, err := read([]ferment.Question{q}, []string{text}); err != nil {
				p.fail(q.Key, measure.ErrorIn(err, p.units))
			}
			asked, answers = append(asked, q), append(answers, text)
		}
	}
	e, err := read(asked, answers)
	if err != nil && len(asked) > 0 {
		p.fail(asked[0].Key, measure.ErrorIn(err, p.units))
	}
	return e
}

const notSeen = "not looked"

func (p *asking) note() string {
	return p.ask(Field{Key: "note", Label: "note", From: "any words", More: true})
}

// before returns a moment so many minutes earlier; the same for a day alone.
func before(at ferment.Moment, minutes int) ferment.Moment {
	if at.DayOnly {
		return at
	}
	return ferment.At(at.Time.Add(-time.Duration(minutes) * time.Minute))
}
