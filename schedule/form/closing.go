package form

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// closing puts the ferment away, and says what would still be to do with it.
func (j jug) closing(p *page) func() Outcome {
	at, note := p.when(j.s.At), p.note()
	return func() Outcome {
		var o Outcome
		o.answer(j.v.Label() + " is closed: its file goes to past, and it has no tasks any more")
		j.still(&o)
		o.Deed.Closes = []string{j.v.ID()}
		j.write(&o, p.values, j.settle(&o, app.Wish{Step: string(ferment.Close), At: at, Note: note})...)
		return o
	}
}

// still says what is left to do before a ferment is closed.
func (j jug) still(o *Outcome) {
	bottles := shelf.Of(j.v.Course)
	var left []string
	for _, purpose := range []string{shelf.Test, shelf.Tasting} {
		if n := bottles.Left(purpose); n.Some() {
			left = append(left, fmt.Sprintf("%s for %s", n, map[string]string{shelf.Test: "a test", shelf.Tasting: "tasting"}[purpose]))
		}
	}
	if len(left) > 0 {
		o.say(words.Warn, "bottles are left, "+strings.Join(left, " and ")+": open and taste them first, nothing asks for them afterwards")
	}
	if v := j.v.Course.Volume; v.IsKnown() && v.Value > drop && !j.v.Course.Over() {
		o.say(words.Warn, j.litres(v.Value)+" stand in the vessel by the record: bottle or dump them first")
	}
	for _, t := range j.v.Day.Tasks {
		if t.State == schedule.Late || t.State == schedule.Due && !t.Option {
			o.say(words.Note, "still to do: "+words.ActLabel(t))
		}
	}
	if rest := bottles.Left(); rest.Some() && len(left) == 0 {
		o.say(words.Note, fmt.Sprintf("%s bottles of it are left to drink or keep", rest))
	}
}

// dumping pours away what stands in the vessel. Where nothing of it is in bottles
// the ferment is closed with it.
func (j jug) dumping(p *page) func() Outcome {
	at, note := p.when(j.s.At), p.ask(Field{Key: "note", Label: "why", From: "free words: it helps the next one"})
	return func() Outcome {
		var o Outcome
		away := "what stands in the vessel"
		if v := j.v.Course.Volume; v.IsKnown() {
			away = j.litres(v.Value)
		}
		o.answer(away + " of " + j.v.Label() + " are poured away")
		j.write(&o, p.values, j.settle(&o, app.Wish{Step: string(ferment.Dump), At: at, Note: note})...)
		if after, ok := j.after(o.Deed, j.v.ID()); ok && !after.Course.Over() {
			o.say(words.Note, "its bottles stay on the shelf, with their tasks")
			return o
		}
		o.Deed.Closes = []string{j.v.ID()}
		o.say(words.Note, "it is closed: its file goes to past")
		if n := shelf.Of(j.v.Course).Left(); n.Some() {
			o.say(words.Warn, n.String()+" bottles of it are poured away with it")
		}
		return o
	}
}
