package words

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
)

// PastCard is one closed ferment in words.
type PastCard struct {
	ID, Name, File  string
	Closed          string // "12 Mar 26"
	Strength, Score string // "11.2", "78" of the last tasting that has one
	Again           string // "with changes", of the last tasting that says so
	Honey, Yeast    string
	Facts           []Fact

	at              time.Time
	strength, score float64
}

// PastBy are what closed ferments can be sorted by.
var PastBy = []string{"date", "score", "strength", "honey", "yeast"}

// SortPast puts closed ferments in order by one of PastBy: the latest, the best and the
// strongest first, words by the alphabet.
func SortPast(cards []PastCard, by string) {
	order := map[string]func(a, b PastCard) int{
		"score":    func(a, b PastCard) int { return cmp.Compare(b.score, a.score) },
		"strength": func(a, b PastCard) int { return cmp.Compare(b.strength, a.strength) },
		"honey":    func(a, b PastCard) int { return cmp.Compare(a.Honey, b.Honey) },
		"yeast":    func(a, b PastCard) int { return cmp.Compare(a.Yeast, b.Yeast) },
		"date":     func(a, b PastCard) int { return b.at.Compare(a.at) },
	}
	slices.SortStableFunc(cards, func(a, b PastCard) int { return cmp.Or(order[by](a, b), b.at.Compare(a.at)) })
}

func (r room) past(v app.Vessel) PastCard {
	f, c := v.Ferment, v.Course
	exact := func(g measure.Gravity) string { return Exact(g, r.settings) }
	end, _ := c.Last(ferment.Close)
	card := PastCard{ID: v.ID(), Name: f.Name, File: f.File, Closed: Unknown, Honey: honeysOf(f, r.snapshot.Cellar.Lots), Yeast: yeastName(f.Yeast),
		Strength: figure(c.Alcohol, oneDecimal[measure.Strength]), Score: Unknown, score: -1, strength: float64(c.Alcohol.Value)}
	if end != nil {
		card.at, card.Closed = end.At.Time, end.At.Time.In(r.at.Location()).Format("2 Jan 06")
	}
	for _, e := range c.Entries {
		if t := e.Taste; t.Score.Known() {
			card.Score, card.score = measure.Decimal(t.Score.Value, 0), t.Score.Value
		}
	}
	again, why := f.Again()
	card.Again = cmp.Or(again, Unknown)
	left := ""
	if n := shelf.Of(c).Left(); n.Some() {
		left = n.String() + " left, on the shelf"
	}
	card.Facts = facts(Fact{"closed", r.on(card.at)}, Fact{"again", Join(": ", again, why)}, Fact{"honey", card.Honey}, Fact{"yeast", card.Yeast},
		Fact{"must", Join(" at ", asTyped(f.Must.Volume, v), figure(c.Original.Figure, exact))},
		Fact{"became", Join(", ", figure(c.Present, exact), figure(c.Alcohol, measure.Strength.String))}, Fact{"bottles", left})
	for i, t := range tastings([]app.Vessel{v}) {
		card.Facts = append(card.Facts, Fact{map[int]string{0: "tasted"}[i], t.Name + ": " + t.Values[0]})
	}
	return card
}

// looking returns how many ferments are closed, and which are to be made again.
func looking(cards []PastCard) string {
	again := ferment.Where(cards, func(c PastCard) bool { return c.Again == ferment.AgainWords[0] || c.Again == ferment.AgainWords[1] })
	if len(cards) == 0 {
		return "no closed ferments"
	}
	text := Plural(len(cards), "ferment") + " closed"
	if len(again) > 0 {
		text += "; to make again: " + strings.Join(ferment.Map(again, func(c PastCard) string { return c.ID }), ", ")
	}
	return text
}
