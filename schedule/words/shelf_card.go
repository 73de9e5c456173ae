package words

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/ferment/tasting"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// ShelfCard has the details of a batch.
type ShelfCard struct {
	How      string // "conditioned in the bottle with 3.0 g of honey each; the crate by the stair, 19 °C"
	Kinds    string // "10 × 330 mL crown beer bottle; G 1, G 3"
	Openings []Opening
	Soft     string // "firm"; empty if it was not squeezed
	SoftOn   string // "on Sat 3 Oct"
	Expected string // "2.4 bar at 20 °C, 3.7 bar at 30 °C; the bottle stands 6.0 bar"
	Caution  Line   // its word and its reason; zero for none
}

// Opening is an opened bottle in words.
type Opening struct {
	When   string // "Sun 27 Sep, 7 d"
	Hiss   string
	Foam   string
	Palate string
}

func shelfCard(v app.Vessel, stock shelf.Shelf, i int, now time.Time) ShelfCard {
	b := stock.Batches[i]
	card := ShelfCard{How: howOf(v, stock, b), Kinds: kindsOf(b, v.Course.Settings.Units), Expected: expectedOf(v, b)}
	if c := schedule.BottledCaution(v.Course, stock, i); c != nil {
		card.Caution = Line{Word: Word(c.Loud), Reason: c.Text, Danger: c.Loud == schedule.Stop}
	}
	for _, o := range stock.Openings(i) {
		said := Opening{When: Date(o.At, now) + ", " + fmt.Sprintf("%d d", o.Days), Hiss: Unknown, Foam: Unknown, Palate: o.Palate}
		if o.Hiss.Known() {
			said.Hiss = o.Hiss.Text
		}
		if o.Foam.Known() {
			said.Foam = measure.Shown(o.Foam, v.Course.Settings.Units)
		}
		card.Openings = append(card.Openings, said)
	}
	if f, felt := shelf.FeltLast(v.Course, b.At); felt && !b.Still() {
		card.Soft, card.SoftOn = f.Feel, "on "+Date(f.At.Time, now)
	}
	return card
}

// howOf says how a batch was bottled.
func howOf(v app.Vessel, stock shelf.Shelf, b shelf.Batch) string {
	text := "still"
	if v.Ferment.EndsAs(ferment.Sweetened) {
		text += ", stabilised and sweetened"
	}
	if !b.Still() {
		text = "conditioned in the bottle" + sugarOf(v, b)
	}
	place, at := stock.Place(v.Course)
	warmth := ""
	if at.Known() {
		warmth = measure.Between(at.Value, v.Course.Settings.Units)
	}
	keeps := ""
	if by, has := shelf.DrinkBy(v.Course, b); has {
		keeps = "drink by about " + by.Format("January 2006") + ", taste one first"
	}
	return Join("; ", text, Join(", ", place, warmth), keeps)
}

func sugarOf(v app.Vessel, b shelf.Batch) string {
	var each []string
	for _, l := range b.Lines {
		if l.As.Honey.Known() && !slices.Contains(each, l.As.Honey.Value.In(v.Course.Settings.Units)) {
			each = append(each, l.As.Honey.Value.In(v.Course.Settings.Units))
		}
	}
	if len(each) > 0 {
		return " with " + strings.Join(each, " or ") + " of honey each"
	}
	if e, primed := v.Course.Last(ferment.Prime); primed && e.Amount.Known() {
		return ", primed with " + e.Amount.Quantity.In(v.Course.Settings.Units)
	}
	return ""
}

// kindsOf writes the bottles left by kind, and their codes.
func kindsOf(b shelf.Batch, units measure.System) string {
	var said []string
	for _, l := range b.Lines {
		if !l.Left.Some() {
			continue
		}
		text := l.Left.String() + " ×"
		if l.As.Size.Known() {
			text += " " + measure.AsTyped(l.As.Size, units)
		}
		if l.As.Kind != "" {
			text += " " + l.As.Kind
		}
		if len(l.Codes) > 0 {
			among := map[bool]string{true: "of "}[!l.Left.Unknown && len(l.Codes) > l.Left.N] // some are gone, but not known which
			text += " (" + among + strings.Join(shelf.Runs(l.Codes), ", ") + ")"
		}
		said = append(said, text)
	}
	return strings.Join(said, "; ")
}

func expectedOf(v app.Vessel, b shelf.Batch) string {
	p, s := shelf.PressureOf(v.Course, b), v.Course.Settings
	if !p.IsKnown() {
		return "cannot tell: " + p.Unknown
	}
	bar := func(p measure.Pressure) string { return p.In(s.Units) }
	text := fmt.Sprintf("%s at %s, %s at %s", bar(p.Value.At20), measure.Temperature(20).In(s.Units), bar(p.Value.Hottest), s.Hottest.In(s.Units))
	if p.Value.Points > 0 {
		text += fmt.Sprintf(", if %.0f points of its sugar ferment", p.Value.Points)
	}
	switch {
	case b.Still():
		return text
	case !p.Value.Strain.IsKnown():
		return text + "; " + p.Value.Strain.Unknown
	}
	strain := p.Value.Strain.Value
	text += "; the bottle is made for " + bar(strain.Limit)
	if !strain.Bottle.Rated.Known() {
		text += " of CO₂, of which there are " + bar(strain.Alone())
	}
	return text
}

// ShelfTask is a line about bottles, or one tasting of two ferments of a trial.
type ShelfTask struct {
	Subjects []string
	Batch    int  // batch of the first of them
	Line     Line // with the tags of both
}

// dueOnShelf returns today's lines about bottles. Acts other than these three are about the vessel, if there is
// something in it.
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
		out = append(out, ShelfTask{[]string{l.Subject}, row.Batch, bottleLine(l, v, shelf.Of(v.Course).Batches[row.Batch].At)})
	}
	return out
}

// rowFor returns the batch of a line; for opening and squeezing one with fizz.
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

// takes reports whether a line is the same tasting for the other ferment of a trial.
func (t ShelfTask) takes(l Line, v app.Vessel, s app.Snapshot) bool {
	first, _ := s.Find(t.Subjects[0])
	mine := t.Line.Task
	return len(t.Subjects) == 1 && l.Task.Do == string(ferment.Taste) && mine.Do == l.Task.Do && mine.Step == l.Task.Step && mine.Occurrence == l.Task.Occurrence &&
		v.Ferment.Trial.Name != "" && v.Ferment.Trial.Name == first.Ferment.Trial.Name
}

// and returns a task that is for one more batch.
func (t ShelfTask) and(l Line, vs []app.Vessel, now time.Time) ShelfTask {
	t.Subjects = append(t.Subjects, l.Subject)
	if stem := stemOf(l.Tag); stem != "" && stem == stemOf(t.Line.Tag) {
		t.Line.Tag = sharedTag([]string{t.Line.Tag, l.Tag})
	} else {
		t.Line.Tag += "+" + l.Tag
	}
	if ranks[l.Word] < ranks[t.Line.Word] {
		t.Line.Word = l.Word
	}
	codes := ferment.Map(tasting.Glasses(TastingSeed(vs, now), t.Subjects), func(g tasting.Glass) string { return fmt.Sprint(g.Code) })
	t.Line.Act = "taste, blind: glasses " + strings.Join(codes, " and ")
	t.Line.Reason = Join("; ", t.Line.Reason, "earlier words stay hidden until these are kept")
	return t
}

// TastingSeed returns the seed for the codes of a tasting: the same for the same ferments on the same day, another
// after they were tasted.
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

// TastingOf returns the ferments to taste together with one on the shelf, by the due tasting, else its trial, and the
// step that it settles. Nil if it is not on the shelf.
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

// bottleLine writes a line for the shelf: at what age, and how.
func bottleLine(l Line, v app.Vessel, from time.Time) Line {
	age := ""
	switch l.Task.Do {
	case string(ferment.Open):
		age = Age(l.Task.Due.Sub(from))
	case string(ferment.Taste):
		age = Months(from, l.Task.Due)
	}
	if age != "" && l.Word == Due {
		say := l.Task.Say
		for _, s := range v.Plan.Steps { // else the plan's text for the act, the first time
			if say == "" && s.Do == l.Task.Do && s.Due.Point.Anchor == string(ferment.Bottle) {
				say = s.Say
			}
		}
		l.Reason = Join("; ", age, say)
	}
	return l
}
