package form

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

func init() { kinds["drink"] = ofBatch(drinking) }

// drinking takes a bottle of a batch off the shelf that is drunk, given away or
// poured away. It is written as an opening that names its bottle, or as a bottle
// dumped; nothing is told of it, so that it is no opening of the plan.
func drinking(b bottled) Form {
	f := Form{Name: "drink", Title: "drink one of " + b.vessel.Label(), Subject: b.vessel.ID()}
	f.Fields = func(Values) []Field {
		return []Field{
			b.field(shelf.Drink, shelf.Keep, shelf.Tasting, shelf.Test),
			{Key: "how", Label: "what of it", Value: drunk, Words: []string{drunk, givenAway, pouredAway}},
			{Key: "note", Label: "note", From: "with whom, with what: any words, or none"},
		}
	}
	f.Work = b.drunk
	return f
}

// What can become of a bottle without a tasting.
const (
	drunk      = "drunk"
	givenAway  = "given away"
	pouredAway = "poured away"
)

func (b bottled) drunk(v Values) Outcome {
	e := ferment.Entry{At: ferment.At(b.snapshot.At), Did: ferment.Open, Bottle: strings.TrimSpace(v["bottle"]), Note: v["note"]}
	switch v["how"] {
	case pouredAway:
		e.Did = ferment.Dump
	case givenAway:
		e.Note = joined("; ", givenAway, v["note"])
	}
	o := Outcome{Wrong: b.wrong(e.Bottle)}
	if e.Did == ferment.Open && !b.of().Still() {
		e = b.mayOpen(&o, e, schedule.Task{Do: string(ferment.Open)}, v)
	}
	t, after := b.taken(e)
	if len(o.Wrong) == 0 && t.Again {
		o.Wrong = []Wrong{{"bottle", t.Code + " is gone already: write another, or what it is for, e.g. drink"}}
	}
	o.Answer = []string{b.less(after) + ", " + after.Left(shelf.Drink).String() + " of them to drink"}
	o.Lines = append(append(o.Lines, b.eats(t)...), b.fromReserve(t)...)
	o.Lines = append(o.Lines, b.care()...)
	o.Deed.Entries = []ferment.Logged{{Subject: b.vessel.ID(), Entries: []ferment.Entry{e}}}
	return o
}

// fromReserve says that a bottle was kept for something else.
func (b bottled) fromReserve(t shelf.Taken) []Line {
	switch t.Purpose {
	case shelf.Test:
		return []Line{{words.Note, "it is one of those for a test: opened with nothing told of it, it tells nothing of the others"}}
	case shelf.Keep:
		return []Line{{words.Note, "it is one of those that are kept"}}
	}
	return nil
}

// care is what to be careful of with a bottle under pressure.
func (b bottled) care() []Line {
	var lines []Line
	if c := schedule.BottledCaution(b.vessel.Course, b.stock, b.batch); c != nil && c.Loud == schedule.Stop {
		lines = append(lines, Line{words.Stop, c.Text})
	}
	if !b.of().Still() {
		lines = append(lines, Line{words.Warn, schedule.CautionOf("open-cool").Text})
	}
	return lines
}

func joined(by string, texts ...string) string {
	var some []string
	for _, t := range texts {
		if t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, by)
}
