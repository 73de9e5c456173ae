package words

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/ferment/tasting"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// ShelfTask is what is to be done with bottles: one line of the day, or one
// tasting of two ferments of a trial.
type ShelfTask struct {
	Subjects []string
	Tags     []string
	Batch    int // of the first of them
	Line     Line
}

// dueOnShelf returns the lines of the day that are about bottles. Acts other than these
// three are about what is left in a vessel, where there is some.
func dueOnShelf(rows []ShelfRow, day Sheet, s app.Snapshot) []ShelfTask {
	var out []ShelfTask
	acts := []string{string(ferment.Open), string(ferment.Taste), string(ferment.Squeeze)}
	for _, l := range day.Tasks {
		v, found := s.Find(l.Subject)
		row, has := rowFor(rows, l)
		if !found || !has || !l.Word.Wants() && l.Word != Option || l.Alarm == nil && !slices.Contains(acts, l.Task.Do) && v.Course.Volume.Value > 0 {
			continue
		}
		if i := slices.IndexFunc(out, func(t ShelfTask) bool { return t.takes(l, v, s) }); i >= 0 {
			first, _ := s.Find(out[i].Subjects[0])
			out[i] = out[i].and(l, []app.Vessel{first, v}, s.At)
			continue
		}
		out = append(out, ShelfTask{[]string{l.Subject}, []string{l.Tag}, row.Batch, bottleLine(l, v, shelf.Of(v.Course).Batches[row.Batch].At)})
	}
	return out
}

// rowFor returns the batch that a line is about: what is opened and squeezed is the
// one with fizz, where there is one.
func rowFor(rows []ShelfRow, l Line) (ShelfRow, bool) {
	var found ShelfRow
	has := false
	for _, r := range rows {
		fizzy := r.Fizz != "still" && l.Task.Do != string(ferment.Taste)
		if r.ID == l.Subject && (!has || fizzy) {
			found, has = r, true
		}
	}
	return found, has
}

// takes reports whether a line is the same tasting of the other ferment of a trial.
func (t ShelfTask) takes(l Line, v app.Vessel, s app.Snapshot) bool {
	first, _ := s.Find(t.Subjects[0])
	mine := t.Line.Task
	return len(t.Subjects) == 1 && l.Task.Do == string(ferment.Taste) && mine.Do == l.Task.Do && mine.Step == l.Task.Step && mine.Occurrence == l.Task.Occurrence &&
		v.Ferment.Trial.Name != "" && v.Ferment.Trial.Name == first.Ferment.Trial.Name
}

// and returns the tasting of both, blind.
func (t ShelfTask) and(l Line, vs []app.Vessel, now time.Time) ShelfTask {
	t.Subjects, t.Tags = append(t.Subjects, l.Subject), append(t.Tags, l.Tag)
	if ranks[l.Word] < ranks[t.Line.Word] {
		t.Line.Word = l.Word
	}
	codes := ferment.Map(tasting.Glasses(TastingSeed(vs, now), t.Subjects), func(g tasting.Glass) string { return fmt.Sprint(g.Code) })
	t.Line.Act = "taste, blind: glasses " + strings.Join(codes, " and ")
	t.Line.Reason = Join("; ", t.Line.Reason, "earlier words stay hidden until these are kept")
	return t
}

// TastingSeed returns what the codes of a tasting are drawn from: the same for the
// same ferments on the same day, in whatever order they are named, and another
// one once something of them was tasted.
func TastingSeed(vs []app.Vessel, now time.Time) uint64 {
	var of []string
	tasted := 0
	for _, v := range vs {
		of, tasted = append(of, v.ID()), tasted+EarlierTastings(v)
	}
	slices.Sort(of)
	h := fnv.New64a()
	fmt.Fprint(h, now.Format(time.DateOnly), of, tasted)
	return h.Sum64()
}

// EarlierTastings returns how often a ferment was tasted up to now.
func EarlierTastings(v app.Vessel) (n int) {
	for _, e := range v.Course.Entries {
		if e.Did == ferment.Taste {
			n++
		}
	}
	return n
}

// TastingOf gives the ferments to taste with a ferment on the shelf: those of the
// tasting that is due, else another of its trial; and the step that it settles,
// empty for none. Nil where the ferment is not on the shelf.
func (w Shelf) TastingOf(id string) (subjects []string, step string) {
	for _, t := range w.Due {
		if t.Line.Task.Do == string(ferment.Taste) && slices.Contains(t.Subjects, id) {
			return t.Subjects, t.Line.Task.Step
		}
	}
	var own ShelfRow
	for _, r := range w.Rows {
		if r.ID == id {
			own, subjects = r, []string{id}
		}
	}
	for _, r := range w.Rows {
		if subjects != nil && r.ID != id && r.Of != "" && r.Of == own.Of {
			return append(subjects, r.ID), ""
		}
	}
	return subjects, ""
}

var ordinals = []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}

// bottleLine returns a line of the day in the words of the shelf: at what age, and
// how.
func bottleLine(l Line, v app.Vessel, from time.Time) Line {
	age := ""
	switch l.Task.Do {
	case string(ferment.Open):
		n := 0
		for _, t := range v.Day.Tasks {
			if t.Do == l.Task.Do && t.State == schedule.Done {
				n++
			}
		}
		if n < len(ordinals) {
			l.Act = "open the " + ordinals[n] + " bottle"
		}
		age = Age(l.Task.Due.Sub(from))
	case string(ferment.Taste):
		age = Months(from, l.Task.Due)
	}
	if age != "" && l.Word == Due {
		say := l.Task.Say
		for _, s := range v.Plan.Steps { // else what the plan says of the act, the first time
			if say == "" && s.Do == l.Task.Do && s.Due.Point.Anchor == string(ferment.Bottle) {
				say = s.Say
			}
		}
		l.Reason = Join("; ", age, say)
	}
	return l
}
