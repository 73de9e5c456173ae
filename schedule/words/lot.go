package words

import (
	"fmt"

	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// LotCard is one lot of honey in words.
type LotCard struct {
	ID, Name string
	Left     string // "4.62 kg", "·"
	Water    string // "20.4 %", "·"
	Word     Word   // of what presses; empty for what can wait
	Keeps    string // "use it now"
	Age      string // "3 mo", "·"
	Facts    []Fact
	Makes    []Fact // by gravity
	Takes    []Took
	Cautions []Said
	Line     int
}

// Took is honey that went somewhere.
type Took struct{ When, Who, For, Mass string }

// presses say in a few words what becomes of a lot.
var presses = map[larder.Press]struct {
	word  Word
	keeps string
}{
	larder.Wash: {Warn, "a day or two"}, larder.AtOnce: {Warn, "now"}, larder.First: {Warn, "first"}, larder.ThisYear: {"", "this year"},
	larder.Unmeasured: {Ask, "how wet?"}, larder.CanWait: {"", "keeps"}, larder.Asked: {Warn, "treated hive"}, larder.Gone: {"", "used up"},
}

// classes are how long honey keeps by its water.
var classes = map[honey.Keeping]string{
	honey.Keeps:      "under 17.1 %: no yeast grows in it",
	honey.KeepsClean: "17.1 to 18.0 %: keeps while few yeasts are in it",
	honey.ThisYear:   "18.1 to 18.6 %: use it this year",
	honey.First:      "18.7 to 20 %: it likely ferments; mead first, or into the cold",
	honey.AtOnce:     "over 20 %: it ferments by itself; no table honey by Codex, heather to 23 %",
}

// KeepingWords says how long honey keeps by its water.
func KeepingWords(water measure.Share) string { return classes[honey.KeepingOf(water)] }

func (r room) lot(a larder.Account) LotCard {
	p := presses[a.Presses()]
	c := LotCard{ID: a.Lot.ID, Name: a.Lot.Name, Left: r.left(a.Left), Water: Unknown, Word: p.word, Keeps: p.keeps, Age: Unknown,
		Makes: r.makes(a), Takes: r.takes(a), Cautions: cautioned(schedule.LotCautions(a)), Line: a.Lot.Line}
	if a.Water.Known() {
		c.Water = water(a.Water)
	}
	if a.Age > 0 {
		c.Age = Age(a.Age)
	}
	if a.Left.Overdrawn() {
		c.Word, c.Keeps = Warn, "overdrawn"
		c.Cautions = append([]Said{{Warn, "overdrawn by " + kilos(-a.Left.Mass, r.settings.Units) + ": one of the masses is wrong"}}, c.Cautions...)
	}
	c.Facts = facts(
		Fact{"taken", r.on(a.Lot.Taken.Time)}, Fact{"harvest", r.mass(a.Lot.Mass)}, Fact{"left", r.leftInFull(a.Left)},
		Fact{"water", r.waterInFull(a)}, Fact{"keeps", keeps(a)}, Fact{"state", spaced(a.Lot.State)}, Fact{"treated", a.Lot.Treated}, Fact{"note", a.Lot.Note})
	return c
}

func keeps(a larder.Account) string {
	if a.IsWash() || !a.Water.Known() {
		return ""
	}
	return KeepingWords(a.Water.Share)
}

func water(w larder.Water) string { return measure.Decimal(float64(w.Share), 1) + " %" }

// waterInFull is the water and where it is known from.
func (r room) waterInFull(a larder.Account) string {
	w := a.Water
	switch {
	case !w.Known():
		if a.IsWash() {
			return w.Unknown
		}
		return w.Unknown + "; what it makes is worked out for " + measure.Decimal(float64(honey.Typical), 1) + " %"
	case w.From == larder.Measured:
		return water(w) + ", measured"
	}
	text := fmt.Sprintf("%s, by the refractive index %s at %s", water(w), a.Lot.RefractiveIndex.Text, w.At.In(r.settings.Units))
	if w.Assumed {
		text += ", assumed"
	}
	return text
}

// kilos is a mass in kg from one kilogram on.
func kilos(m measure.Mass, s measure.System) string {
	if s == measure.Metric && m >= 1 {
		return measure.Decimal(float64(m), 2) + " kg"
	}
	return m.In(s)
}

func (r room) mass(m measure.Given[measure.Mass]) string {
	if !m.Known() {
		return ""
	}
	return kilos(m.Value, r.settings.Units)
}

// left is what is left, in a column.
func (r room) left(l larder.Left) string {
	switch {
	case !l.Weighed:
		return Unknown
	case l.Gone():
		return "0"
	case l.Blind > 0:
		return "<" + kilos(l.Mass, r.settings.Units)
	}
	return kilos(l.Mass, r.settings.Units)
}

// leftInFull is what is left and how sure that is.
func (r room) leftInFull(l larder.Left) string {
	blind := map[bool]string{true: "1 amount is unknown", false: fmt.Sprintf("%d amounts are unknown", l.Blind)}[l.Blind == 1]
	switch {
	case !l.Weighed:
		return "unknown: nobody weighed the harvest"
	case l.Overdrawn():
		return "nothing: " + kilos(-l.Mass, r.settings.Units) + " more is written as taken than there was"
	case l.Gone():
		return "nothing"
	case l.Blind > 0:
		return "at most " + kilos(l.Mass, r.settings.Units) + ": " + blind
	}
	return kilos(l.Mass, r.settings.Units) + ", ±" + l.Within.In(r.settings.Units)
}

// makes are the musts that what is left is enough for.
func (r room) makes(a larder.Account) []Fact {
	made, err := a.Makes(r.vessel)
	if err != nil {
		return []Fact{{"", err.Error()}}
	}
	var fs []Fact
	for _, m := range made {
		volume, vessels := r.filled(m)
		fs = append(fs, Fact{Glass(m.Gravity, r.settings), volume + ", " + vessels})
	}
	return fs
}

// purposes are what honey went for.
var purposes = map[larder.Purpose]string{
	larder.ForMust: "must", larder.ForFeeding: "fed later", larder.ForSweetening: "sweetening", larder.ForPriming: "priming", larder.ForBottles: "in the bottles",
}

func (r room) takes(a larder.Account) []Took {
	var out []Took
	for _, t := range a.Takes {
		took := Took{When: Unknown, Who: r.label(t.By), For: purposes[t.For], Mass: "unknown"}
		if t.For == larder.Elsewhere {
			took.Who, took.For = "elsewhere", t.Words
		}
		if !t.At.IsZero() {
			took.When = Date(t.At, r.at)
		}
		if t.Known {
			took.Mass = kilos(t.Mass, r.settings.Units)
		}
		if t.Spoon {
			took.Mass = "≈ " + took.Mass
		}
		if t.Past {
			took.For += ", closed"
		}
		out = append(out, took)
	}
	return out
}
