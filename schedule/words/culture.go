package words

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/lineage"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// CultureCard is one culture in words.
type CultureCard struct {
	ID, Name   string
	Generation string // "2"
	Verdict    string // "trying", "usable", "discarded", "·"
	Word       Word   // that of the most severe caution; empty for none
	Reached    string // "8.0 % vol", "not tested"
	Left       string // "320 mL", "nothing", "·"
	Age        string // since it was stored
	Line       int
	Facts      []Fact
	Tree       []Branch
	Tasks      []Line
	Passages   []Medium
	Made       []Made
	Cautions   []Said
}

// Branch is a culture in a family tree.
type Branch struct {
	Depth int
	ID    string
	Says  string // its name and verdict
	Self  bool
}

// Medium is a passage in words.
type Medium struct {
	Word               Word
	When, What, Became string
}

// Made is a ferment that was pitched with a culture, and how it went.
type Made struct{ Who, Says string }

func (r room) culture(v app.Vessel, courses []*course.Course) CultureCard {
	k, c := *v.Culture, v.Course
	card := CultureCard{ID: k.ID, Name: k.Name, Reached: "not tested", Age: Unknown, Line: k.Line,
		Generation: measure.Decimal(float64(lineage.Generation(k, r.snapshot.Cellar.Cultures)), 0),
		Tree:       r.tree(k), Passages: r.media(v), Made: r.madeBy(k.ID, courses), Cautions: cautioned(schedule.CultureCautions(c))}
	card.Verdict = cmp.Or(course.VerdictOf(k, r.at), Unknown)
	if len(card.Cautions) > 0 && card.Cautions[0].Word != Note {
		card.Word = card.Cautions[0].Word
	}
	proof, proved := lineage.ProofOf(c)
	if proved {
		card.Reached = "in its test"
		if proof.Alcohol.IsKnown() {
			card.Reached = proof.Alcohol.Value.String()
		}
	}
	card.Left, _, _ = strings.Cut(cmp.Or(inTheJar(v, r.at), Unknown), " left")
	stored := ""
	if at, ok := lineage.Stored(c); ok && !c.Over() {
		card.Age, stored = Age(r.at.Sub(at)), "since "+r.on(at)
	}
	card.Tasks = linesOf(arranged(shown(&v, r.at)), r.at)
	from := c.Culture.Source
	if e, ok := c.First(ferment.Collect); ok {
		from = Join("; ", from, "collected "+r.on(e.At.Time))
	}
	card.Facts = facts(Fact{"from", from}, Fact{"path", pathOf(v, r.at)}, Fact{"in the jar", inTheJar(v, r.at)}, Fact{"tested", r.proof(proof, proved)}, Fact{"verdict", card.Verdict},
		Fact{"stored", stored}, Fact{"note", k.Note})
	return card
}

// CultureFacts says of a culture where it is on its way, and how much of it there is.
func CultureFacts(v app.Vessel, now time.Time) []Fact {
	return facts(Fact{"path", pathOf(v, now)}, Fact{"in the jar", inTheJar(v, now)})
}

// pathOf writes a culture's way through its plan: "start the culture Sat 10 Oct → now: step up the culture → judge the
// culture".
func pathOf(v app.Vessel, now time.Time) string {
	if e, over := v.Course.First(ferment.Discard); over {
		return "thrown away " + Date(e.At.Time, now)
	}
	ends, ended := ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return t.Do == string(ferment.Discard) && WordOf(t).Wants() })
	var parts []string
	is, on := "now: ", []ferment.Act{ferment.Passage, ferment.Prove, ferment.Verdict}
	for _, s := range v.Plan.Steps {
		t, _ := ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return t.Step == s.Name })
		title := ActLabel(schedule.Task{Step: s.Name, Do: s.Do, Title: s.Title})
		switch {
		case !s.Culture || s.Repeat != nil || !slices.Contains(on, ferment.Act(s.Do)):
		case t.State == schedule.Done || t.State == schedule.Skipped:
			parts = append(parts, title+" "+Date(t.Settled, now))
		case ended:
			return Join(" → ", append(parts, is+ActLabel(ends))...)
		default:
			parts, is = append(parts, is+title), ""
		}
	}
	return strings.Join(parts, " → ")
}

// inTheJar writes how much of a culture there is: "320 mL left; 180 mL into LIME-A Sun 29 Nov".
func inTheJar(v app.Vessel, now time.Time) string {
	s, units := v.Course.Ferment.Yeast.Stock, v.Course.Settings.Units
	if s == nil || !s.Known {
		return ""
	}
	text := s.Left.Small(units) + " left"
	if s.Left.Millilitres() < 0.5 {
		text = "nothing left"
	}
	for _, p := range s.Pitched {
		e := p.Entries[0]
		text += "; " + cmp.Or(e.Amount.Text, "an unknown amount") + " into " + p.Subject + " " + Date(e.At.Time, now)
	}
	return text
}

func (r room) proof(p lineage.Proof, proved bool) string {
	switch {
	case !proved:
		return "not yet: it is not known how dry it gets"
	case !p.Lowest.IsKnown():
		return "started " + r.on(p.Entry.At.Time) + "; " + p.Lowest.Unknown
	}
	text := Exact(p.Lowest.Value.Gravity, r.settings)
	if p.Start.IsKnown() {
		text = "from " + Exact(p.Start.Value, r.settings) + " to " + text
	}
	text += " in " + Age(p.Followed)
	if p.Alcohol.IsKnown() {
		text += ", " + p.Alcohol.Value.String()
	}
	if p.Steady {
		return text + ", then steady"
	}
	return text + "; it may have been falling still"
}

// tree returns the family tree: ancestors, the culture, its children.
func (r room) tree(k ferment.Culture) []Branch {
	parents, lost := lineage.Ancestors(k, r.snapshot.Cellar.Cultures)
	var out []Branch
	if lost != "" {
		out = append(out, Branch{ID: lost, Says: "in no file"})
	}
	for _, p := range append(parents, k) {
		out = append(out, Branch{Depth: len(out), ID: p.ID, Says: r.branch(p), Self: p.ID == k.ID})
	}
	below := len(out)
	for _, child := range lineage.Children(k.ID, r.snapshot.Cellar.Cultures) {
		out = append(out, Branch{Depth: below, ID: child.ID, Says: r.branch(child)})
	}
	return out
}

// branch returns a culture of the tree of descent.
func (r room) branch(k ferment.Culture) string {
	return Join(", ", k.Name, string(course.VerdictOf(k, r.at)))
}

var outcomes = map[lineage.Outcome]struct {
	word Word
	says string
}{
	lineage.Passed: {Done, "passed"}, lineage.Failed: {No, "failed"}, lineage.Idle: {No, "nothing moved in 14 days"},
	lineage.Untold: {Note, "stepped up"}, lineage.Working: {Course, "under way"},
}

func (r room) media(v app.Vessel) []Medium {
	var out []Medium
	for _, p := range slices.Backward(lineage.Passages(v.Course)) {
		o := outcomes[p.Outcome]
		became := o.says
		if p.Fell {
			became += ", its gravity fell"
		}
		if noticed := strings.Join(p.Seen, ", "); noticed != "" {
			became += ": " + noticed
		}
		if p.Smell != "" {
			became += "; smell " + p.Smell
		}
		out = append(out, Medium{Word: o.word, When: Date(p.Entry.At.Time, r.at), What: medium(p.Entry, v.Plan, r.settings.Units), Became: became})
	}
	return out
}

func medium(e *ferment.Entry, plan ferment.Protocol, units measure.System) string {
	parts := []string{cmp.Or(titleOf(e.Step, plan, false), string(e.Did))}
	add := func(known bool, text string) {
		if known {
			parts = append(parts, text)
		}
	}
	add(e.Medium.Known(), e.Medium.Value.Small(units))
	add(e.Gravity.Known(), e.Gravity.Text)
	add(e.Alcohol.Known(), e.Alcohol.Value.String())
	add(e.PH.Known(), "pH "+e.PH.Text)
	return strings.Join(parts, ", ")
}

func (r room) madeBy(id string, courses []*course.Course) []Made {
	var out []Made
	for _, m := range lineage.MadeBy(id, courses) {
		lag := "lag "
		if m.AtMost {
			lag += "at most "
		}
		says := []string{lag + or(m.Lag, Age), "down to " + or(m.Lowest, func(x course.Reading) string { return Exact(x.Gravity, r.settings) })}
		if m.Alcohol.IsKnown() {
			says = append(says, m.Alcohol.Value.String())
		}
		if !m.Second.IsZero() {
			says = append(says, "another yeast from "+Date(m.Second, r.at)+" on")
		}
		if len(m.Faults) > 0 {
			says = append(says, "faults: "+strings.Join(m.Faults, ", "))
		}
		label := m.Course.Ferment.Label()
		if m.Course.Ferment.Past {
			label = m.Course.Ferment.ID
		}
		out = append(out, Made{label, strings.Join(says, "; ")})
	}
	return out
}

// or writes a figure, or the reason for its absence.
func or[T any](f course.Figure[T], write func(T) string) string {
	if !f.IsKnown() {
		return "unknown: " + f.Unknown
	}
	return write(f.Value)
}

// growing says which culture needs something first, and what; a stop comes first.
func growing(cards []CultureCard) string {
	if len(cards) == 0 {
		return "No culture is kept."
	}
	if c, is := ferment.FirstWhere(cards, func(c CultureCard) bool { return c.Word == Stop }); is {
		return c.ID + ": " + c.Cautions[0].Text
	}
	tasks := ferment.Flat(cards, func(c CultureCard) []Line { return c.Tasks })
	tasks = ferment.Where(tasks, func(l Line) bool { return ranks[l.Word] <= ranks[Due] })
	if len(tasks) == 0 {
		return "No culture needs anything now."
	}
	first := slices.MinFunc(tasks, func(a, b Line) int { return ranks[a.Word] - ranks[b.Word] })
	when := first.Until
	if when == "" || first.Word != Due {
		when = string(first.Word)
	}
	return first.Tag + ": " + strings.TrimSpace(first.Act+" "+first.Amount.String()) + ", " + when
}

// YeastOf returns the culture pitched into a ferment and its verdict; empty for a bought yeast.
func YeastOf(v app.Vessel) string {
	y := v.Ferment.Yeast
	if v.Culture != nil || y.Culture == "" {
		return ""
	}
	if y.From == nil {
		return "culture " + y.Culture + ", which is in no file of this cellar"
	}
	verdict := cmp.Or(course.VerdictOf(*y.From, v.Course.Now), "no verdict yet")
	text := Join(", ", "culture "+y.Culture, y.From.Name) + ": " + verdict
	if !v.Course.Finish.IsKnown() && y.IsWild() {
		text += "; nobody knows how dry it gets"
	}
	return text
}
