package words

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// Receipts writes one line for each write; for several only the act.
func Receipts(s app.Snapshot, receipts []ferment.Receipt) []string {
	var parts []string
	for _, r := range receipts {
		v, ok := s.Find(r.Subject)
		if !ok {
			v.Ferment.ID = r.Subject
		}
		says := Kept
		if len(receipts) > 1 {
			says = heads
		}
		parts = append(parts, written(v, r, says(v, entriesIn(r), s.At)))
	}
	return parts
}

// Change writes how far a reading is from the one before it, and since when: "-26.0", "points since Mon 18:00". There
// must be one before it.
func Change(p app.Preview, now time.Time) (points, since string) {
	points = measure.Decimal(p.Points, 1)
	if p.Points > 0 {
		points = "+" + points
	}
	return points, "points since " + When(p.Since.At, now)
}

// Written writes a receipt: "BH-A nutrient, 1.5 g, 07:15", "lot lime-26", "BH-A closed".
func Written(v app.Vessel, r ferment.Receipt, now time.Time) string {
	return written(v, r, Kept(v, entriesIn(r), now))
}

// entriesIn returns the entries of a receipt that its words are about.
func entriesIn(r ferment.Receipt) []ferment.Entry {
	if len(r.Instead) > 0 {
		return r.Instead
	}
	return r.Entries
}

// written says in a few words what an act wrote, for the undo.
func written(v app.Vessel, r ferment.Receipt, kept string) string {
	switch {
	case r.Moved != "":
		return v.Label() + " closed"
	case len(r.Instead) > 0:
		return v.Label() + " corrected:" + strings.TrimPrefix(kept, v.Label())
	case r.Struck:
		return v.Label() + " removed:" + strings.TrimPrefix(kept, v.Label())
	case len(r.Lots) > 0:
		return "lot " + namesOf(r.Lots, func(l ferment.Lot) string { return l.ID })
	case len(r.Uses) > 0:
		return "of lot " + r.Subject + " " + namesOf(r.Uses, func(u ferment.Use) string { return Join(", ", cmp.Or(u.Mass.Text, "some"), u.For) })
	case len(r.Cultures) > 0:
		return "culture " + namesOf(r.Cultures, func(c ferment.Culture) string { return c.ID })
	case r.Made:
		return strings.TrimSpace("new " + kept)
	}
	return kept
}

func namesOf[T any](items []T, name func(T) string) string {
	return strings.Join(ferment.Map(items, name), " and ")
}

// Kept writes what was logged: "LIME-A degas and nutrient 2, 1.0 g, 07:04", and what the last entry has besides its
// act: "3.10 L, 0.20 L lost; cloudy".
func Kept(v app.Vessel, entries []ferment.Entry, now time.Time) string {
	text := heads(v, entries, now)
	if n := len(entries); n > 0 && entries[n-1].Did != "" {
		e := entries[n-1]
		e.Did, e.Step, e.Amount, e.Of, e.Stock = "", "", ferment.Amount{}, "", measure.Given[measure.Share]{}
		return Join("; ", text, EntryLine(e, v.Plan, v.Course.Settings.Units))
	}
	return text
}

// heads writes only the acts, with the time of the last.
func heads(v app.Vessel, entries []ferment.Entry, now time.Time) string {
	var what []string
	var last time.Time
	for _, e := range entries {
		what = append(what, entryHead(e, v.Plan, v.Course.Settings.Units))
		last = e.At.Time
	}
	text := v.Label() + " " + strings.Join(what, " and ")
	if last.IsZero() {
		return text
	}
	return text + ", " + When(last, now)
}

// entryHead writes the act of an entry with its amount, else what was measured.
func entryHead(e ferment.Entry, plan ferment.Protocol, units measure.System) string {
	if e.Did != ferment.Choose {
		e.Of = "" // the amount is enough in a message
	}
	if done := actOf(e, plan, units); done != "" {
		return done
	}
	if m := told(e, ferment.Measured, units); len(m) > 0 {
		return strings.Join(m, ", ")
	}
	return "a note"
}

// EntryLine writes an entry of a plan in one line, in the units of the cellar: the act with its keys, measurements,
// observations, other keys, and the note as written.
func EntryLine(e ferment.Entry, plan ferment.Protocol, units measure.System) string {
	var parts []string
	if done := actOf(e, plan, units); done != "" {
		parts = append(parts, done)
	}
	kinds := []ferment.Kind{ferment.Done, ferment.Measured, ferment.Seen, ferment.Aside}
	parts = append(parts, ferment.Flat(kinds, func(k ferment.Kind) []string { return told(e, k, units) })...)
	return Join("; ", strings.Join(parts, ", "), ferment.Harmless(e.Note))
}

// told writes the keys of one kind in an entry, except an act's own and the note.
func told(e ferment.Entry, kind ferment.Kind, units measure.System) []string {
	var parts []string
	keys := ferment.Keys()
	for i := range keys {
		if k := &keys[i]; k.Kind == kind && k.In == "" {
			if text := k.Say(&e, units); text != "" {
				parts = append(parts, text)
			}
		}
	}
	return parts
}

// Noticed writes what was seen, smelt, felt and tasted, and whether it is in doubt.
func Noticed(e ferment.Entry, units measure.System) []string {
	parts := told(e, ferment.Seen, units)
	if e.Doubt == ferment.Doubtful {
		parts = append(parts, "in doubt")
	}
	return parts
}

func actOf(e ferment.Entry, plan ferment.Protocol, units measure.System) string {
	switch {
	case e.Skipped != "":
		return "skipped: " + cmp.Or(titleOf(e.Skipped, plan, true), ferment.Spaced(e.Skipped))
	case e.Did == "" && e.Step != "":
		return "done: " + cmp.Or(titleOf(e.Step, plan, true), ferment.Spaced(e.Step))
	case e.Did == "":
		return ""
	}
	text := ferment.Spaced(string(e.Did))
	if e.Step != "" && e.Did != ferment.Started && !strings.HasPrefix(e.Step, schedule.AlarmStep) { // a start has no number
		text = ActLabel(schedule.Task{Step: e.Step, Do: string(e.Did), Title: titleOf(e.Step, plan, false)})
	}
	switch {
	case e.Amount.Unknown:
		text += ", amount unknown"
	case e.Amount.Known():
		text += ", " + e.Amount.Quantity.In(units)
	}
	if e.Stock.Known() {
		text += " of the " + measure.Decimal(float64(e.Stock.Value), 0) + " % solution"
	}
	switch {
	case e.Of == "":
		return text
	case e.Did == ferment.Choose:
		return text + " " + e.Of
	}
	return text + " of " + e.Of
}

// titleOf returns the title of a remedy or of a step; of a step whose act says it, without every, only a culture's.
func titleOf(step string, plan ferment.Protocol, every bool) string {
	s, _ := ferment.FirstWhere(plan.Steps, func(s ferment.Step) bool { return s.Name == step && (every || s.Culture) })
	return cmp.Or(schedule.StepTitle(step), s.Title)
}

// signs replaces signs of screens and equations by words.
var signs = strings.NewReplacer(
	"≈", "about", "×", "x", "…", "...", "⅓", "1/3", "½", "1/2", "⅔", "2/3", "−", "-", "±", "give or take ",
	"→", "->", "–", "-", "°Bx", "Bx", "°Bé", "Be", "°P", "P", "°Oe", "Oe", "°", "",
	"₂", "2", "²", "2", "³", "3", "·", "unknown", "ρ", "rho", "γ", "gamma", "ń", "n",
)

// Aloud replaces signs in a text by words, for reading aloud and for --plain: "about 20 C", "1/3".
func Aloud(text string) string { return signs.Replace(text) }

// Sentences joins parts that are not empty, each with its full stop.
func Sentences(parts ...string) string {
	var out []string
	for _, s := range parts {
		switch {
		case strings.HasSuffix(s, "?"):
			out = append(out, s)
		case s != "":
			out = append(out, strings.TrimSuffix(s, ".")+".")
		}
	}
	return strings.Join(out, " ")
}

// Join joins parts that are not empty.
func Join(between string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), between)
}

// Capital writes the first letter of a text in upper case.
func Capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// Spoken writes a task in sentences: what, how much, until when, why, what frees it.
func (l Line) Spoken() string {
	head := l.Act
	if l.Alarm != nil {
		return Sentences(head, l.Alarm.Long, "It is over when "+l.Alarm.Ends)
	}
	what := strings.TrimSpace(l.Amount.String() + " " + l.Of)
	if l.Amount.Words != "" {
		what = Join(", ", l.Amount.Words, l.Of)
	}
	head = Join(": ", head, what)
	sentences := []string{head, Capital(l.First), Capital(l.Until)}
	if l.Stock != nil {
		sentences = append(sentences, "Or "+l.Stock.String()+" "+l.StockOf)
	}
	switch {
	case l.Reason == "":
	case l.Word != Stop && l.Word != Late && l.Word != Held && l.Word != Lapsed:
		sentences = append(sentences, Capital(l.Reason))
	default:
		sentences = append(sentences, "Why: "+l.Reason)
	}
	if l.Instead != "" {
		sentences = append(sentences, "Do: "+l.Instead)
	}
	return Sentences(sentences...)
}

// OneLine writes the day in one line, for a prompt or a status bar: dangers, else how many tasks are late, due today,
// held or open, with the first of them: "1 late: LIME-A nutrient 2, 1.4 g; 3 today".
func (s Sheet) OneLine() string {
	lines := Shared(s.Tasks)
	var parts []string
	for _, l := range lines {
		if l.Danger {
			parts = append(parts, "danger: "+l.brief())
		}
	}
	named := len(parts) > 0
	for _, w := range []Word{Late, Due, Held, AnyDay} {
		n, first := 0, ""
		for _, l := range lines {
			if l.Word != w || l.Danger {
				continue
			}
			if n++; n == 1 {
				first = l.brief()
			}
		}
		switch {
		case n > 0 && !named:
			parts, named = append(parts, fmt.Sprintf("%d %s: %s", n, string(w), first)), true
		case n > 0:
			parts = append(parts, fmt.Sprintf("%d %s", n, string(w)))
		}
	}
	return cmp.Or(strings.Join(parts, "; "), "nothing to do today")
}

func (l Line) brief() string {
	return strings.TrimSuffix(l.Tag+" "+l.Act+", "+l.Amount.String(), ", ")
}

// Urgent reports whether there is a danger, and whether a task is late.
func (s Sheet) Urgent() (danger, late bool) {
	for _, l := range s.Tasks {
		danger, late = danger || l.Danger, late || l.Word == Late
	}
	return danger, late
}
