package words

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// HoneyRoom is the honey room in words: which lot first, what each makes, cultures, the closed.
type HoneyRoom struct {
	Answer   []string // which first and why; what it makes
	Growing  string   // which culture needs something first
	Lots     []LotCard
	Cultures []CultureCard
	Closed   string // how many are, and which to make again
	Past     []PastCard
}

// Fact is a labelled line of a card.
type Fact struct{ Name, Says string }

// Said is a sentence after a word.
type Said struct {
	Word Word
	Text string
}

// HoneyRoomOf writes the honey room of a snapshot with closed ferments.
func HoneyRoomOf(s app.Snapshot) HoneyRoom {
	r := room{at: s.At, settings: s.Cellar.Settings, snapshot: s, vessel: larder.UsualVessel(s.Cellar.Ferments)}
	as := larder.ByUrgency(larder.All(s.Cellar.Lots, s.Cellar.OpenAndPast(), s.At))
	// What the logs of all ferments say, open and closed.
	courses := ferment.Map(slices.Concat(s.Vessels, s.Past), func(v app.Vessel) *course.Course { return v.Course })
	cultures := ferment.Map(s.Cultures, func(v app.Vessel) CultureCard { return r.culture(v, courses) })
	past := ferment.Map(s.Past, r.past)
	SortPast(past, PastBy[0])
	return HoneyRoom{r.answer(as), growing(cultures), ferment.Map(as, r.lot), cultures, looking(past), past}
}

// room has what the words are made from.
type room struct {
	at       time.Time
	settings ferment.Settings
	snapshot app.Snapshot
	vessel   measure.Volume // the usual one
}

func (r room) label(id string) string {
	if f, is := ferment.FirstWhere(r.snapshot.Cellar.Ferments, func(f ferment.Ferment) bool { return f.ID == id }); is {
		return f.Label()
	}
	return id
}

// answer says which honey to use first, why, and what it makes.
func (r room) answer(as []larder.Account) []string {
	if len(as) == 0 || as[0].Urgency() == larder.Gone {
		return []string{"No honey in store."}
	}
	a := as[0]
	lines := []string{a.Lot.ID + " comes first: " + strings.ReplaceAll(r.because(a), ": ", ", ")}
	if made, err := a.Makes(r.vessel); err == nil && len(made) > 1 {
		volume, vessels := r.filled(made[1])
		lines = append(lines, "enough for "+volume+" of must at "+Glass(made[1].Gravity, r.settings)+" ("+vessels+")")
	}
	return lines
}

func (r room) because(a larder.Account) string {
	if says, keepsNot := schedule.WhyNotKept(a); keepsNot && a.Urgency() < larder.ThisYear {
		return says
	}
	switch a.Urgency() {
	case larder.ThisYear:
		return water(a.Water) + " water: use it this year"
	case larder.Unmeasured:
		return "its water is not known: measure it"
	case larder.Asked:
		return "only if the treatment of its hive allows it; there is no other lot"
	}
	if a.Age == 0 {
		return "no hurry"
	}
	return "it is the oldest, " + Age(a.Age) + ", but there is no hurry"
}

// filled returns a volume, and how many vessels that is.
func (r room) filled(m larder.Made) (volume, vessels string) {
	volume, each := m.Volume.In(r.settings.Units), r.vessel.In(r.settings.Units)
	if m.Vessels == 0 {
		return volume, "less than one vessel of " + each
	}
	return volume, Plural(m.Vessels, "vessel") + " of " + each
}

// cautioned returns cautions as texts, each with its severity as the mark.
func cautioned(cs []schedule.Caution) []Said {
	return ferment.Map(cs, func(c schedule.Caution) Said { return Said{Word(c.Loud), c.Text} })
}

func facts(fs ...Fact) []Fact {
	return slices.DeleteFunc(fs, func(f Fact) bool { return strings.TrimSpace(f.Says) == "" })
}

// on writes a day and how long ago it was.
func (r room) on(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return Date(t, r.at) + ", " + Age(r.at.Sub(t)) + " ago"
}

// LotCard is one lot of honey in words.
type LotCard struct {
	ID, Name string
	Left     string // "4.62 kg", "·"
	Water    string // "20.4 %", "·"
	Word     Word   // for a lot to use soon; empty for others
	Keeps    string // "use it now"
	Age      string // "3 mo", "·"
	Facts    []Fact
	Makes    []Fact // by gravity
	Takes    []Took
	Cautions []Said
	Line     int
}

// Took is honey taken from a lot.
type Took struct{ When, Who, For, Mass string }

// urgencies say in a few words how soon to use a lot.
var urgencies = map[larder.Urgency]struct {
	word  Word
	keeps string
}{
	larder.Wash: {Warn, "a day or two"}, larder.AtOnce: {Warn, "now"}, larder.First: {Warn, "first"}, larder.ThisYear: {"", "this year"},
	larder.Unmeasured: {Ask, "measure it"}, larder.CanWait: {"", "keeps"}, larder.Asked: {Warn, "treated hive"}, larder.Gone: {"", "used up"},
}

var classes = map[honey.Keeping]string{
	honey.Keeps:      "under 17.1 %: no yeast grows in it",
	honey.KeepsClean: "17.1 to 18.0 %: keeps while few yeasts are in it",
	honey.ThisYear:   "18.1 to 18.6 %: use it this year",
	honey.First:      "18.7 to 20 %: it probably ferments; use it first, or keep it cold",
	honey.AtOnce:     "over 20 %: it ferments by itself; too wet for table honey (Codex; heather to 23 %)",
}

// KeepingWords says how long honey keeps by its water.
func KeepingWords(water measure.Share) string { return classes[honey.KeepingOf(water)] }

func (r room) lot(a larder.Account) LotCard {
	p := urgencies[a.Urgency()]
	c := LotCard{ID: a.Lot.ID, Name: a.Lot.Name, Left: r.left(a.Left), Water: Unknown, Word: p.word, Keeps: p.keeps, Age: Unknown,
		Makes: r.makes(a), Takes: r.takes(a), Cautions: cautioned(schedule.LotCautions(a)), Line: a.Lot.Line}
	keeps := ""
	if a.Water.Known() {
		c.Water = water(a.Water)
		if !a.IsWash() {
			keeps = KeepingWords(a.Water.Share)
		}
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
		Fact{"water", r.waterInFull(a)}, Fact{"keeps", keeps}, Fact{"ferments", r.fermentable(a.Lot)}, Fact{"state", ferment.Spaced(a.Lot.State)}, Fact{"treated", a.Lot.Treated}, Fact{"note", a.Lot.Note})
	return c
}

// fermentable says the fermentable share of a lot as given, and what its ferments suggest.
func (r room) fermentable(l ferment.Lot) string {
	given := ""
	if l.Fermentable.Known() {
		given = l.Fermentable.Text + " of its solids, as given"
	}
	return Join("; ", given, r.snapshot.SuggestedShare(l.ID))
}

func water(w larder.Water) string { return measure.Decimal(float64(w.Share), 1) + " %" }

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

// kilos writes a mass in kg from one kilogram on.
func kilos(m measure.Mass, s measure.System) string {
	if s == measure.Metric && m >= 1 {
		return measure.Decimal(float64(m), 2) + " kg"
	}
	return m.In(s)
}

// mass writes a mass that was weighed, nothing for one that was not.
func (r room) mass(m measure.Given[measure.Mass]) string {
	if !m.Known() {
		return ""
	}
	return kilos(m.Value, r.settings.Units)
}

func (r room) left(l larder.Left) string {
	switch {
	case !l.Weighed:
		return Unknown
	case l.Gone():
		return "0"
	case l.Unweighed > 0:
		return "<" + kilos(l.Mass, r.settings.Units)
	}
	return kilos(l.Mass, r.settings.Units)
}

func (r room) leftInFull(l larder.Left) string {
	switch {
	case !l.Weighed:
		return "unknown: the harvest was never weighed"
	case l.Overdrawn():
		return "nothing: " + kilos(-l.Mass, r.settings.Units) + " more is written as taken than there was"
	case l.Gone():
		return "nothing"
	case l.Unweighed > 0:
		return "at most " + kilos(l.Mass, r.settings.Units) + ": " + Plural(l.Unweighed, "amount") + " unknown"
	}
	return kilos(l.Mass, r.settings.Units) + ", ±" + l.Within.In(r.settings.Units)
}

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
