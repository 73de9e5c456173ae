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
// was measured, what was done, what was seen, the note as it was written.
func EntryLine(e ferment.Entry, units measure.System) string {
	parts := measured(e, units)
	if done := actOf(e, units); done != "" {
		parts = append([]string{done}, parts...)
	}
	parts = append(parts, Noticed(e, units)...)
	text := strings.Join(parts, ", ")
	switch {
	case e.Note == "":
		return text
	case text == "":
		return ferment.Harmless(e.Note)
	}
	return text + "; " + ferment.Harmless(e.Note)
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

// measured is what an entry measured.
func measured(e ferment.Entry, units measure.System) []string {
	var parts []string
	add := func(known bool, text string) {
		if known {
			parts = append(parts, text)
		}
	}
	sample := ""
	if e.Sample.Known() {
		sample = " at " + measure.Shown(e.Sample, units)
	}
	add(e.Gravity.Known(), e.Gravity.Value.Places(max(decimals(e.Gravity.Text), 3))+sample)
	add(e.Brix.Known(), e.Brix.Value.String()+sample)
	add(e.Plato.Known(), measure.Decimal(float64(e.Plato.Value), 1)+" °P"+sample)
	add(e.Oechsle.Known(), measure.Decimal(e.Oechsle.Value, 0)+" °Oe"+sample)
	add(e.Refractometer.Known(), e.Refractometer.Value.String()+" by refractometer"+sample)
	add(e.Temperature.Known(), spanned(e.Temperature.Value).In(units))
	add(e.PH.Known(), "pH "+e.PH.Value.String())
	add(e.Acidity.Known(), "acidity "+e.Acidity.Value.String())
	add(e.Volume.Known(), measure.Shown(e.Volume, units))
	add(e.Lost.Known(), measure.Shown(e.Lost, units)+" lost")
	add(e.Lees.Known(), "lees "+measure.Shown(e.Lees, units))
	return parts
}

// spanned is a span of temperatures as it is written.
type spanned measure.Span[measure.Temperature]

func (t spanned) In(s measure.System) string {
	if t.Low == t.High {
		return t.Low.In(s)
	}
	low, _, _ := strings.Cut(t.Low.In(s), " ")
	return low + " to " + t.High.In(s)
}

// decimals are the places after the decimal sign of a number as it was typed.
// A gravity typed in thousandths, 1046.5, has three more.
func decimals(text string) int {
	n := 0
	i := strings.IndexAny(text, ".,")
	if i >= 0 {
		n = len(text) - i - 1
	}
	if i > 1 || i < 0 && len(text) > 1 {
		n += 3
	}
	return min(n, 4)
}

// Noticed is what was seen, smelt, felt and doubted.
func Noticed(e ferment.Entry, units measure.System) []string {
	var parts []string
	add := func(text string) {
		if text != "" {
			parts = append(parts, text)
		}
	}
	add(string(e.Clarity))
	add(strings.Join(e.Seen, ", "))
	if e.Airlock != "" {
		add("airlock " + e.Airlock)
	}
	add(e.Smell)
	if e.Feel != "" {
		add("bottle " + e.Feel)
	}
	for _, text := range glass(e, units) {
		add(text)
	}
	if e.Doubt == ferment.Doubtful {
		add("in doubt")
	}
	return parts
}

// glass is what an opened bottle showed and what was found in the glass.
func glass(e ferment.Entry, units measure.System) []string {
	var parts []string
	add := func(known bool, text string) {
		if known {
			parts = append(parts, text)
		}
	}
	add(e.Bottle != "", "bottle "+e.Bottle)
	add(e.Hiss.Known(), "hiss "+e.Hiss.Text)
	add(e.Foam.Known(), "foam "+measure.Shown(e.Foam, units))
	add(e.Taste.Score.Known(), "score "+measure.Decimal(e.Taste.Score.Value, 0))
	add(true, Tasted(e.Taste))
	if t := e.Triangle; t.Odd > 0 && t.Said > 0 {
		found := map[bool]string{true: "the odd one found", false: "the odd one not found"}[t.Odd == t.Said]
		add(true, "triangle with "+t.With+", "+found)
	}
	return parts
}
