package words

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// Kept says what was written into the log of a vessel, whole: "LIME-A degas and
// nutrient 2, 1.0 g, 07:04", and what the last one carries besides its act.
func Kept(v app.Vessel, entries []ferment.Entry, now time.Time) string {
	text := heads(v, entries, now)
	if n := len(entries); n > 0 {
		text = strings.TrimSuffix(text+"; "+withAct(entries[n-1], v.Course.Settings.Units), "; ")
	}
	return text
}

// heads are the acts alone, with the time of the last.
func heads(v app.Vessel, entries []ferment.Entry, now time.Time) string {
	var what []string
	var last time.Time
	for _, e := range entries {
		what = append(what, entryHead(e, v.Course.Settings.Units))
		last = e.At.Time
	}
	text := v.Label() + " " + strings.Join(what, " and ")
	if last.IsZero() {
		return text
	}
	return text + ", " + When(last, now)
}

// withAct is what an entry of an act carries with it: "3.10 L, 0.20 L lost;
// cloudy".
func withAct(e ferment.Entry, units measure.System) string {
	if e.Did == "" {
		return ""
	}
	e.Did, e.Step, e.Amount, e.Of, e.Stock = "", "", ferment.Amount{}, "", measure.Given[measure.Share]{}
	return EntryLine(e, units)
}

// entryHead is the act of an entry with its amount, else what it measured.
func entryHead(e ferment.Entry, units measure.System) string {
	if e.Did != ferment.Choose {
		e.Of = "" // the amount says enough in a message
	}
	if done := actOf(e, units); done != "" {
		return done
	}
	if m := measured(e, units); len(m) > 0 {
		return strings.Join(m, ", ")
	}
	return "a note"
}

// EntryLine is an entry of a log in one line, in the units of the cellar: what
// was done and with what, what was measured, what was seen, what else is known
// of it, the note as it was written.
func EntryLine(e ferment.Entry, units measure.System) string {
	var parts []string
	if done := actOf(e, units); done != "" {
		parts = append(parts, done)
	}
	for _, kind := range []ferment.Kind{ferment.Done, ferment.Measured, ferment.Seen, ferment.Aside} {
		parts = append(parts, told(e, kind, units)...)
	}
	text := strings.Join(parts, ", ")
	switch {
	case e.Note == "":
		return text
	case text == "":
		return ferment.Harmless(e.Note)
	}
	return text + "; " + ferment.Harmless(e.Note)
}

// told is what an entry says of one kind, in words. What an act was done with
// and the note have words of their own.
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

// measured is what an entry measured.
func measured(e ferment.Entry, units measure.System) []string {
	return told(e, ferment.Measured, units)
}

// Noticed is what was seen, smelt, felt and tasted, and whether it is in doubt.
func Noticed(e ferment.Entry, units measure.System) []string {
	parts := told(e, ferment.Seen, units)
	if e.Doubt == ferment.Doubtful {
		parts = append(parts, "in doubt")
	}
	return parts
}

func actOf(e ferment.Entry, units measure.System) string {
	switch {
	case e.Skipped != "":
		return spaced(e.Skipped) + " passed over"
	case e.Did == "" && e.Step != "":
		return spaced(e.Step) + " done"
	case e.Did == "":
		return ""
	}
	text := spaced(string(e.Did))
	if e.Step != "" {
		text = ActLabel(schedule.Task{Step: e.Step, Do: string(e.Did)})
	}
	switch {
	case e.Amount.Unknown:
		text += ", amount unknown"
	case e.Amount.Known():
		text += ", " + e.Amount.Quantity.In(units)
	}
	if e.Stock.Known() {
		text += " of the " + measure.Decimal(float64(e.Stock.Value), 0) + " % stock"
	}
	switch {
	case e.Of == "":
		return text
	case e.Did == ferment.Choose:
		return text + " " + e.Of
	}
	return text + " of " + e.Of
}
