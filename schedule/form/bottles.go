package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

type bottled struct {
	jug
	stock shelf.Shelf
	batch int
}

// Batch is the key of the batch that a form is about: its index.
const Batch = "batch"

// ofBatch makes a kind of form for a batch of bottles, by default the first with some left.
func ofBatch(name, title string, ask func(bottled, *asking) func(*Outcome)) kind {
	return func(s app.Snapshot, subject string, given Values) (Form, bool) {
		v, found := s.Find(subject)
		b := bottled{jug{record{s}, v}, shelf.Of(v.Course), 0}
		n, err := strconv.Atoi(given[Batch])
		if err != nil {
			n = slices.IndexFunc(b.stock.Batches, func(b shelf.Batch) bool { return b.Left().Some() })
		}
		if b.batch = n; !found || n < 0 || n >= len(b.stock.Batches) || !b.of().Left().Some() {
			return Form{}, false
		}
		return b.form(Form{Name: name, Title: title + v.Label(), Subject: v.ID()}, given, func(p *asking) func(*Outcome) { return ask(b, p) }), true
	}
}

func (b bottled) of() shelf.Batch { return b.stock.Batches[b.batch] }

// ask asks for a bottle, proposed by a purpose that has some left.
func (b bottled) ask(p *asking, purposes ...string) string {
	f := Field{Key: "bottle", Label: "bottle", From: "its code, or what it is for: " + strings.Join(ferment.ForWords, ", ")}
	for i := 0; i < len(purposes) && f.Value == ""; i++ {
		f.Value = b.stock.Name(b.batch, purposes[i])
	}
	name := p.ask(f)
	if !b.stock.Knows(name) {
		right := shelf.Drink
		if l, coded := ferment.FirstWhere(b.of().Lines, func(l shelf.Line) bool { return len(l.Codes) > 0 }); coded {
			right = l.Codes[0]
		}
		p.fail("bottle", fmt.Sprintf("no bottle of %s is called %q: write its code or what it is for, e.g. %s", b.v.Label(), name, right))
	}
	return name
}

// taken returns the bottle that an entry takes, the shelf after it, and the answer: "GORSE: 9 of 10 bottles left".
func (b bottled) taken(e ferment.Entry) (t shelf.Taken, after shelf.Shelf, says string) {
	after = b.stock.With(e)
	if n := len(after.Taken); n > len(b.stock.Taken) {
		t = after.Taken[n-1]
	}
	return t, after, fmt.Sprintf("%s: %s of %s bottles left", b.v.Label(), after.Left(), b.stock.Left())
}

// warnReserved warns if too few bottles would be left for the tastings to come.
func (b bottled) warnReserved(o *Outcome, t shelf.Taken) {
	toCome := words.TastingsToCome(b.v, b.of(), b.s.At)
	if t.Again || t.Batch != b.batch || t.Purpose == "" || !b.of().LeavesTooFew(t.Purpose, toCome) {
		return
	}
	left := words.Plural(b.of().Left(shelf.Tasting, shelf.Drink).N-1, "bottle") + " left for them"
	if t.Purpose == shelf.Tasting {
		left = "this is one of the " + words.Plural(b.of().Left(shelf.Tasting).N, "bottle") + " kept for them"
	}
	o.sayf(words.Warn, "%s still planned, and %s: take another batch, or plan one tasting less", words.Plural(toCome, "tasting"), left)
}

// What can be done with a bottle without tasting it.
const (
	drunk      = "drunk"
	givenAway  = "given away"
	pouredAway = "poured away"
)

// drinking takes a bottle off the shelf that is drunk, given away or dumped. It has no hiss or foam, so it settles no
// opening.
func (b bottled) drinking(p *asking) func(*Outcome) {
	e := ferment.Entry{At: ferment.At(b.s.At), Did: ferment.Open, Bottle: b.ask(p, shelf.Drink, shelf.Keep, shelf.Tasting, shelf.Test)}
	how := p.choose(Field{Key: "how", Label: "it is", Value: drunk, Words: []string{drunk, givenAway, pouredAway}})
	e.Note = p.ask(Field{Key: "note", Label: "note", From: "with whom, with what: any words, or none"})
	switch how {
	case pouredAway:
		e.Did = ferment.Dump
	case givenAway:
		e.Note = words.Join("; ", givenAway, e.Note)
	}
	t, after, says := b.taken(e)
	if t.Again {
		p.fail("bottle", t.Code+" is gone already: write another, or what it is for, e.g. drink")
	}
	return func(o *Outcome) {
		if e.Did == ferment.Open && !b.of().Still() {
			o.refuseForbidden(schedule.Task{Do: string(ferment.Open)}, b.v)
		}
		o.answer(says + ", " + after.Left(shelf.Drink).String() + " of them to drink")
		b.warnReserved(o, t)
		switch t.Purpose {
		case shelf.Test:
			o.say(words.Note, "it is a test bottle: write how it opened, or it says nothing about the others")
		case shelf.Keep:
			o.say(words.Note, "it is one of those that are kept")
		}
		b.care(o)
		b.write(o, p.values, e)
	}
}

// care warns before a bottle is opened or moved.
func (b bottled) care(o *Outcome) {
	if c := schedule.BottledCaution(b.v.Course, b.stock, b.batch); c != nil && c.Loud == schedule.Stop {
		o.warn(*c)
	}
	if !b.of().Still() {
		o.say(words.Warn, schedule.CautionOf("open-cool", b.units()).Text)
	}
}

// opening opens a bottle as a test: its hiss, foam and sweetness.
func (b bottled) opening(p *asking) func(*Outcome) {
	bottle := b.ask(p, shelf.Test, shelf.Drink, shelf.Tasting, shelf.Keep)
	e := b.questions(p, ferment.Open)
	e.At, e.Did, e.Bottle, e.Note = ferment.At(b.s.At), ferment.Open, bottle, p.note()
	if !e.Hiss.Known() && !e.Foam.Known() && e.Taste.Palate == "" {
		p.fail("hiss", "nothing is written of it yet: write how loudly it hissed, 0 to 5, e.g. 3")
	}
	return func(o *Outcome) {
		task, planned := ferment.FirstWhere(b.v.Day.Tasks, func(t schedule.Task) bool {
			return t.Do == string(ferment.Open) && isOpen(t)
		})
		if !planned {
			task = schedule.Task{Do: string(ferment.Open)}
		}
		e.Step = task.Step
		o.refuseForbidden(task, b.v)
		_, after, says := b.taken(e)
		o.answer(says)
		if e.Hiss.Known() {
			b.follows(o, e, after)
		}
		b.care(o)
		b.write(o, p.values, e)
	}
}

// follows says what follows from an opening: a danger, and tasks that become due.
func (b bottled) follows(o *Outcome, e ferment.Entry, after shelf.Shelf) {
	c := *b.v.Course
	c.Entries = append(c.Entries[:len(c.Entries):len(c.Entries)], &e)
	if now := schedule.BottledCaution(&c, after, b.batch); now != nil && now.Loud == schedule.Stop {
		o.warn(*now)
	}
	for _, effect := range app.Meaning(b.s, b.v, e).Effects {
		if t := effect.Task; t.State == schedule.Due || t.State == schedule.Late {
			o.say(words.WordOf(t), words.Join(": ", words.ActLabel(t), t.Say))
		}
	}
}
