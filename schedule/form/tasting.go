package form

import (
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Tasting is the result of tasting one glass or two.
type Tasting struct {
	Snapshot app.Snapshot
	Glasses  []Poured
	Step     string // the task that it settles; empty for none
	Blind    bool
	At       measure.Given[measure.Span[measure.Temperature]] // when poured
	Again    int                                              // index of the glass the taster would pour again; negative for neither
}

// Poured is a glass with its result.
type Poured struct {
	Vessel app.Vessel
	Bottle string // the bottle as named in its entry; empty for the vessel or an open bottle
	Found  ferment.Tasting
	Why    string // why the mead should be made again, or not
}

// Change returns an entry for each glass.
func (t Tasting) Change() ferment.Change {
	var d ferment.Change
	for i, g := range t.Glasses {
		e := t.entry(g)
		e.Taste = g.Found
		e.Taste.Blind, e.Note = t.Blind, g.Why
		if t.Again == i && len(t.Glasses) == 2 {
			e.Note = words.Join("; ", e.Note, "preferred to "+t.Glasses[1-i].Vessel.Label())
		}
		d.Entries = append(d.Entries, ferment.Logged{Subject: g.Vessel.ID(), Entries: []ferment.Entry{e}})
	}
	return d
}

func (t Tasting) entry(g Poured) ferment.Entry {
	return ferment.Entry{At: ferment.At(t.Snapshot.At), Did: ferment.Taste, Step: t.Step, Temperature: t.At, Bottle: g.Bottle}
}

// Triangle returns the change of a triangle test, in the log of the first; the second's records its bottle.
func (t Tasting) Triangle(codes []int, odd, said int, why string) ferment.Change {
	first, second := t.entry(t.Glasses[0]), t.entry(t.Glasses[1])
	first.Taste.Blind, second.Taste.Blind = true, true
	first.Triangle = ferment.Triangle{With: t.Glasses[1].Vessel.ID(), Codes: codes, Odd: odd, Said: said}
	first.Note, second.Note = why, "a triangle test with "+t.Glasses[0].Vessel.Label()
	return ferment.Change{Entries: []ferment.Logged{
		{Subject: t.Glasses[0].Vessel.ID(), Entries: []ferment.Entry{first}},
		{Subject: t.Glasses[1].Vessel.ID(), Entries: []ferment.Entry{second}},
	}}
}

// Pour returns a glass: of a tasting bottle, of one opened the same evening, or of the vessel.
func Pour(s app.Snapshot, v app.Vessel) Poured {
	stock := shelf.Of(v.Course)
	g := Poured{Vessel: v}
	plain := ferment.Entry{At: ferment.At(s.At), Did: ferment.Taste}
	after := stock.With(plain)
	if n := len(after.Taken); n == len(stock.Taken) || after.Taken[n-1].Again {
		return g
	}
	for _, purpose := range []string{shelf.Tasting, shelf.Drink, shelf.Test, shelf.Keep} {
		for batch := range stock.Batches {
			if g.Bottle = stock.Name(batch, purpose); g.Bottle != "" {
				return g
			}
		}
	}
	return g
}

// Takes says which bottle a glass takes: "CLO-W: 5 of 6 left"; empty for none.
func (g Poured) Takes(s app.Snapshot) string {
	stock := shelf.Of(g.Vessel.Course)
	after := stock.With(ferment.Entry{At: ferment.At(s.At), Did: ferment.Taste, Bottle: g.Bottle})
	if before, left := stock.Left(), after.Left(); before != left {
		return fmt.Sprintf("%s: %s of %s left", g.Vessel.Label(), left, before)
	}
	return ""
}

// Knows reports whether the glass's ferment has a bottle of that name.
func (g Poured) Knows(bottle string) bool { return shelf.Of(g.Vessel.Course).Knows(bottle) }

// MayTaste returns the cautions before a tasting, and whether it is allowed: not for an unproved culture or mould.
func MayTaste(s app.Snapshot, vs []app.Vessel) (lines []words.Said, may bool) {
	may = true
	for _, v := range vs {
		l, is := mayTaste(s, v)
		lines, may = append(lines, l...), may && is
	}
	return append(lines, words.Said{Word: words.Note, Text: strength(vs) + schedule.CautionOf("alcohol", s.Cellar.Settings.Units).Text}), may
}

func mayTaste(s app.Snapshot, v app.Vessel) (lines []words.Said, may bool) {
	if no := schedule.Refusal(schedule.Task{Do: string(ferment.Taste)}, v.Day, v.Course); no != nil {
		return []words.Said{{Word: words.Stop, Text: words.Join("; ", append(no.Why, no.Instead)...)}}, false
	}
	switch {
	case v.Culture != nil && !slices.ContainsFunc(v.Course.Entries, func(e *ferment.Entry) bool { return e.Did == ferment.Prove }):
		return []words.Said{{Word: words.Stop, Text: schedule.CautionOf("do-not-taste", s.Cellar.Settings.Units).Text}}, false
	case v.Culture != nil || v.Ferment.Yeast.IsWild() && course.VerdictOf(record{s}.culture(v.Ferment.Yeast.Culture), s.At) != "usable":
		return []words.Said{{Word: words.Warn, Text: schedule.CautionOf("first-taste", s.Cellar.Settings.Units).Text}}, true
	}
	return nil, true
}

// strength writes the highest strength, "11.9 % vol; ".
func strength(vs []app.Vessel) string {
	var most measure.Strength
	for _, v := range vs {
		most = max(most, v.Course.Alcohol.Value) // 0 where it is not known
	}
	if most == 0 {
		return ""
	}
	return most.String() + "; "
}
