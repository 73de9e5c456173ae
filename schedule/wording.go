package schedule

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// wording says the times of a plan in words.
type wording struct{ c *course.Course }

func label(name string) string { return strings.ReplaceAll(name, "-", " ") }

func (w wording) again(s ferment.Step) string {
	if s.Repeat == nil || s.Repeat.Every.IsZero() {
		return ""
	}
	words := "; every " + offsetWords(s.Repeat.Every)
	if s.Repeat.Every == (ferment.Offset{Number: 1, Unit: ferment.Day}) {
		words = "; daily"
	}
	until := s.Ends
	if until == nil {
		until = s.Repeat.Until
	}
	switch {
	case until == nil:
		return words
	case !until.Offset.IsZero() || len(until.First)+len(until.Last) > 0:
		return words + " until " + w.when(*until)
	}
	return words + " until " + w.point(until.Point)
}

// comes returns what the nth occurrence of a step hangs on.
func (w wording) comes(s ferment.Step, n int) string {
	if r := s.Repeat; r != nil && n > 1 && len(r.At) >= n-1 && r.From != nil {
		return w.when(ferment.When{Point: r.From.Point, Offset: r.At[n-2]})
	}
	if again := w.again(s); n > 1 && again != "" {
		return strings.TrimPrefix(again, "; ")
	}
	return w.when(s.Due)
}

// when returns a point in time of a plan: "2 d after the pitch".
func (w wording) when(t ferment.When) string {
	joined := func(ts []ferment.When, with string) string {
		words := make([]string, len(ts))
		for i, one := range ts {
			words[i] = w.when(one)
		}
		return strings.Join(words, with)
	}
	switch {
	case len(t.First) > 0:
		return joined(t.First, " or ") + ", the sooner"
	case len(t.Last) > 0:
		return joined(t.Last, " and ")
	case t.Offset.IsZero() && w.isState(t.Point):
		return "once " + w.point(t.Point)
	case t.Offset.IsZero():
		return "at " + w.point(t.Point)
	case t.Offset.Number < 0:
		return offsetWords(ferment.Offset{Number: -t.Offset.Number, Unit: t.Offset.Unit}) + " before " + w.point(t.Point)
	}
	return offsetWords(t.Offset) + " after " + w.point(t.Point)
}

// isState reports whether a point is a condition that is no moment.
func (w wording) isState(pt ferment.Point) bool {
	if pt.Condition == nil {
		return false
	}
	_, moment := w.c.PointWords(*pt.Condition)
	return !moment
}

func (w wording) point(pt ferment.Point) string {
	switch {
	case pt.Condition != nil:
		words, _ := w.c.PointWords(*pt.Condition)
		return words
	case pt.EndOf != "":
		return "the end of " + label(pt.EndOf)
	case pt.Last:
		return "the last " + pt.Anchor
	case pt.Anchor == "quiet":
		return "the quiet began"
	case ferment.IsAct(pt.Anchor), strings.Contains(pt.Anchor, " "):
		return "the " + label(pt.Anchor)
	}
	return label(pt.Anchor) // a step has a name: "after nutrient 1"
}

func (w wording) ended(t ferment.When) string {
	if c := t.Point.Condition; c != nil {
		return w.c.PastWords(*c)
	}
	return "over since " + w.point(t.Point)
}

func offsetWords(o ferment.Offset) string { return decimal(o.Number) + " " + string(o.Unit) }
