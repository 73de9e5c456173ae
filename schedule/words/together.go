package words

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// isFirst tells whether a task goes together with another one that has a line:
// done first, it is not listed a second time.
func isFirst(t *schedule.Task, all []schedule.Task) bool {
	for i := range all {
		if o := &all[i]; o.Step != t.Step && slices.Contains(o.Also, ferment.Act(t.Do)) && goesFirst(t, o) {
			return true
		}
	}
	return false
}

// goesFirst tells whether t, which goes before o, needs no line of its own.
func goesFirst(t, o *schedule.Task) bool {
	switch WordOf(*t) {
	case Due, Later, Late:
		return slices.Contains([]Word{Late, Due, Held, Later}, WordOf(*o))
	case Done:
		return wentFirst(t, o)
	}
	return false
}

// wentFirst tells whether t was done within the hour before o was.
func wentFirst(t, o *schedule.Task) bool {
	apart := o.Settled.Sub(t.Settled)
	return o.State == schedule.Done && t.State == schedule.Done && apart >= 0 && apart <= time.Hour
}

// withFirst says under a task that is done what went before it.
func withFirst(l Line, all []schedule.Task, now time.Time) Line {
	if l.Word != Done {
		return l
	}
	for i := range all {
		if t := &all[i]; slices.Contains(l.Task.Also, ferment.Act(t.Do)) && wentFirst(t, &l.Task) {
			l.Reason = past(ferment.Act(t.Do)) + " first, " + When(t.Settled, now)
		}
	}
	return l
}

// counted are the words that the head of the sheet counts.
var counted = []Word{Danger, Stop, Late, Held, Due, AnyDay}

// countsOf counts the lines under those words.
func countsOf(ls []Line) []Count {
	n := map[Word]int{}
	for _, l := range ls {
		n[l.Word]++
	}
	var cs []Count
	for _, w := range counted {
		if n[w] > 0 {
			cs = append(cs, Count{w, n[w]})
		}
	}
	return cs
}

// Shared puts the same task of several vessels of one trial into one line: "LIME-A,B
// nutrient 2 1.4 g each".
func Shared(ls []Line) []Line {
	var out []Line
	for _, l := range ls {
		i := slices.IndexFunc(out, func(o Line) bool {
			_, named := SharedTag(o.Tag, l.Tag)
			return named && l.Trial != "" && l.Trial == o.Trial && l.sameAs(o)
		})
		if i < 0 {
			out = append(out, l)
			continue
		}
		o := &out[i]
		o.Tag, _ = SharedTag(o.Tag, l.Tag)
		o.Others = append(o.Others, l.Subject)
		if o.Amount.Number != "" && len(o.Others) == 1 {
			o.Amount.Unit += " each"
			if o.Stock != nil {
				stock := *o.Stock
				stock.Unit += " each"
				o.Stock = &stock
			}
		}
	}
	return out
}

// IsOf tells whether a line is of a vessel, alone or shared.
func (l Line) IsOf(id string) bool { return l.Subject == id || slices.Contains(l.Others, id) }

// sameAs tells whether two lines differ in nothing but the vessel.
func (l Line) sameAs(o Line) bool {
	each := o.Amount
	if len(o.Others) > 0 {
		each.Unit = strings.TrimSuffix(each.Unit, " each")
	}
	return l.Task.Step == o.Task.Step && l.Word == o.Word && l.Act == o.Act && l.Amount == each && l.Of == o.Of && l.First == o.First &&
		l.Until == o.Until && l.Reason == o.Reason && l.Frees == o.Frees && !l.Danger && l.Word != Done && l.Word != Skipped
}

// SharedTag is one tag for two that differ in their last letter or number:
// "LIME-A,B", and "LIME-A–C" for the third in a row.
func SharedTag(so, next string) (tag string, ok bool) {
	stem, end := cutTag(next)
	first, rest := cutTag(so)
	if stem == "" || stem != first || end == "" {
		return "", false
	}
	switch rs := []rune(rest); {
	case len(rs) == 1:
		return so + "," + end, true
	case len(rs) == 3 && rs[1] == ',' && []rune(end)[0] == rs[2]+1 && rs[2] == rs[0]+1,
		len(rs) == 3 && rs[1] == '–' && []rune(end)[0] == rs[2]+1:
		return stem + string(rs[0]) + "–" + end, true
	}
	return so + "," + end, true
}

// cutTag parts a tag at its last hyphen, where one letter or digit follows, or
// what is already a list of such.
func cutTag(tag string) (stem, end string) {
	i := strings.LastIndex(tag, "-")
	if i < 1 || i == len(tag)-1 {
		return "", ""
	}
	end = tag[i+1:]
	for n, r := range []rune(end) {
		if n%2 == 1 && r != ',' && r != '–' {
			return "", ""
		}
	}
	return tag[:i+1], end
}
