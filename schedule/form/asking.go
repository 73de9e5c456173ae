package form

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// page is a form while it is laid out: its fields are asked for in their order,
// and each gives what stands in it, so that a later one can hang on an earlier.
type asking struct {
	units  measure.System
	values Values // what stands in the fields
	given  Values // what stood there before a word was typed, of the fields that somebody else knows
	fields []Field
	wrong  []Wrong
}

// laid is a form that a function lays out and, once it can be read, works out.
func laid(f Form, units measure.System, given Values, lay func(*asking) func() Outcome) Form {
	f.Fields = func(values Values) []Field {
		p := &asking{units: units, values: values, given: given}
		lay(p)
		return p.fields
	}
	f.Work = func(values Values) Outcome {
		p := &asking{units: units, values: values, given: given}
		work := lay(p)
		if len(p.wrong) > 0 {
			return Outcome{Wrong: p.wrong}
		}
		return work()
	}
	return f
}

// fill is a text with the quantities in its braces in the units of the cellar.
func (p *asking) fill(text string) string { return measure.Fill(text, p.units) }

// ask puts a field on the page and gives what stands in it.
func (p *asking) ask(f Field) string {
	if text, known := p.given[f.Key]; known {
		f.Value = text
	}
	return p.put(f)
}

// quantity is ask for a value, which stands there in the units of the cellar.
func (p *asking) quantity(f Field) string {
	if text, known := p.given[f.Key]; known {
		f.Value = text
	}
	f.Value = shownValue(f.Value, p.units)
	return p.put(f)
}

func (p *asking) put(f Field) string {
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

// fail says what is wrong with a field; the first thing counts.
func (p *asking) fail(key, text string) {
	if !p.failed(key) {
		p.wrong = append(p.wrong, Wrong{key, text})
	}
}

func (p *asking) failed(key string) bool {
	return slices.ContainsFunc(p.wrong, func(w Wrong) bool { return w.Key == key })
}

// may asks for a value that need not be there.
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

// want asks for a value that must be there; lack says what to do where it is not.
func want[T any](p *asking, f Field, parse func(string) (measure.Given[T], error), lack string) measure.Given[T] {
	v := may(p, f, parse)
	if !v.Known() {
		p.fail(f.Key, lack)
	}
	return v
}

// when asks for the time of what was done; without a word it is now.
func (p *asking) when(now time.Time) ferment.Moment {
	return p.moment("when", p.ask(Field{Key: "when", Label: "when", Value: "now", From: "now, or -2h, yesterday 20:00"}), now)
}

// moment reads a time that is not still to come.
func (p *asking) moment(key, text string, now time.Time) ferment.Moment {
	if text == "" || strings.EqualFold(text, "now") {
		return ferment.At(now)
	}
	at, _, err := ferment.ParseTime(text, now, now.Location())
	switch {
	case err != nil:
		p.fail(key, measure.ErrorIn(err, p.units))
	case at.Earliest().After(now):
		p.fail(key, text+" lies in the future: write it down once it is done, e.g. -2h")
	}
	return at
}

// questions asks what an act asks for, as an entry with the answers; nothing that
// is seen is answered beforehand.
func (j jug) questions(p *asking, act ferment.Act) ferment.Entry {
	var e ferment.Entry
	for _, q := range ferment.Questions(act, j.v.Culture != nil) {
		f := Field{Key: q.Key, Label: q.Label, From: p.fill(q.Hint)}
		if len(q.Answers) > 0 {
			f.Value, f.Words = notSeen, []string{notSeen}
			for _, a := range q.Answers {
				f.Words = append(f.Words, a.Word)
			}
		}
		text := p.ask(f)
		if text == "" || text == notSeen {
			continue
		}
		k, _ := ferment.KeyNamed(q.Key)
		if k.Form == ferment.AQuantity {
			text = measure.WithUnit(text, f.From)
		}
		if err := k.Set(&e, text, j.s.At.Location()); err != nil {
			p.fail(q.Key, err.Error())
		}
	}
	return e
}

const notSeen = "not looked"

// note asks for free words.
func (p *asking) note() string { return p.ask(Field{Key: "note", Label: "note", From: "free words"}) }

// before is a minute before a moment, for what goes first; of a day alone the
// same day, where the order of the file holds.
func before(at ferment.Moment, minutes int) ferment.Moment {
	if at.DayOnly {
		return at
	}
	return ferment.At(at.Time.Add(-time.Duration(minutes) * time.Minute))
}

// id asks for what files and commands call something, which nothing else of its
// kind is called.
func (p *asking) id(noun, likely string, taken []string) string {
	id := p.ask(Field{Key: "id", Label: "id", Value: likely, From: "what files and commands call it"})
	switch {
	case id == "":
		p.fail("id", "give it an id: letters, digits, - and _, e.g. lime-26")
	case !ferment.LegalName(id):
		p.fail("id", strconv.Quote(id)+" is no id: at most 64 letters, digits, - and _, e.g. lime-26")
	case isTaken(taken, id):
		p.fail("id", strconv.Quote(id)+" is a "+noun+" already, e.g. "+freeID(id, taken))
	}
	return id
}

func isTaken(taken []string, id string) bool {
	return slices.ContainsFunc(taken, func(t string) bool { return strings.EqualFold(t, id) })
}

// likelyID is an id made of the first words of a name, small letters and digits,
// with an end that tells it from others.
func likelyID(name, otherwise, end string, taken []string) string {
	first, _, _ := strings.Cut(name, ",")
	stem := strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			return r
		case r == ' ' || r == '-' || r == '_':
			return '-'
		}
		return -1
	}, strings.ToLower(first)), "-")
	if stem == "" {
		stem = otherwise
	}
	id := strings.Trim(stem[:min(len(stem), mostStem)], "-") + end
	if isTaken(taken, id) {
		return freeID(id, taken)
	}
	return id
}

// mostStem is how many letters of a name an id is made of.
const mostStem = 40

// freeID is an id like another that nothing has yet.
func freeID(id string, taken []string) string {
	for n := 2; ; n++ {
		if free := id + "-" + strconv.Itoa(n); !isTaken(taken, free) {
			return free
		}
	}
}
