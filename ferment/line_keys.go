package ferment

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// keyRule is how the value of one key of an entry is read on a line.
type keyRule struct {
	example string
	set     func(l *Line, value string, ctx LineContext) error
}

// entryKeys are the keys of an entry that a line can give.
var entryKeys = map[string]keyRule{
	"at":            {"18:30", setAt},
	"gravity":       {"1.046", into(measure.ParseGravity, func(e *Entry) *measure.Given[measure.Gravity] { return &e.Gravity })},
	"brix":          {"11.4", into(scaled[measure.Brix]("Brix reading", -5, 60, "11.4"), func(e *Entry) *measure.Given[measure.Brix] { return &e.Brix })},
	"plato":         {"11.4", into(scaled[measure.Brix]("Plato reading", -5, 60, "11.4"), func(e *Entry) *measure.Given[measure.Brix] { return &e.Plato })},
	"oechsle":       {"62", into(scaled[float64]("reading in degrees Oechsle", -30, 250, "62"), func(e *Entry) *measure.Given[float64] { return &e.Oechsle })},
	"refractometer": {"8.6", into(scaled[measure.Brix]("refractometer reading", 0, 90, "8.6"), func(e *Entry) *measure.Given[measure.Brix] { return &e.Refractometer })},
	"sample":        {"23C", into(measure.ParseTemperature, func(e *Entry) *measure.Given[measure.Temperature] { return &e.Sample })},
	"with":          {"hydrometer", text(func(e *Entry) *string { return &e.With })},
	"degassed":      {"false", setDegassed},
	"temperature":   {"19.5C", into(measure.ParseTemperatures, func(e *Entry) *measure.Given[measure.Span[measure.Temperature]] { return &e.Temperature })},
	"ph":            {"3.4", into(measure.ParsePH, func(e *Entry) *measure.Given[measure.PH] { return &e.PH })},
	"acidity":       {"5.5g/L", into(measure.ParseContent, func(e *Entry) *measure.Given[measure.Content] { return &e.Acidity })},
	"volume":        {"3.4L", into(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Volume })},
	"lees":          {"1.5cm", into(measure.ParseDepth, func(e *Entry) *measure.Given[measure.Depth] { return &e.Lees })},
	"clarity":       {"clear", one(ClarityWords, func(e *Entry, w string) { e.Clarity = Clarity(w) })},
	"seen":          {"film", setSeen},
	"airlock":       {"working", one(AirlockWords, func(e *Entry, w string) { e.Airlock = w })},
	"smell":         {"clean", text(func(e *Entry) *string { return &e.Smell })},
	"feel":          {"firm", one(FeelWords, func(e *Entry, w string) { e.Feel = w })},
	"label":         {"doubtful", one([]string{"doubtful"}, func(e *Entry, w string) { e.Label = w })},
	"place":         {"cellar", text(func(e *Entry) *string { return &e.Place })},
	"lost":          {"0.2L", into(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Lost })},
	"doubt":         {"true", setDoubt},
	"did":           {"degas", setDid},
	"step":          {"nutrient-2", text(func(e *Entry) *string { return &e.Step })},
	"amount":        {"1.5g", setAmount},
	"of":            {"'ammonium phosphate'", text(func(e *Entry) *string { return &e.Of })},
	"stock":         {"10%", into(measure.ParseShare, func(e *Entry) *measure.Given[measure.Share] { return &e.Stock })},
	"lot":           {"bell-heather-26", text(func(e *Entry) *string { return &e.Lot })},
	"water":         {"18.1%", into(measure.ParseShare, func(e *Entry) *measure.Given[measure.Share] { return &e.Water })},
	"skipped":       {"degas", text(func(e *Entry) *string { return &e.Skipped })},
	"overrode":      {"nutrient", text(func(e *Entry) *string { return &e.Overrode })},
	"because":       {"away", text(func(e *Entry) *string { return &e.Because })},
	"remind":        {"2027-02-10", setRemind},
	"note":          {"bready", text(func(e *Entry) *string { return &e.Note })},
	"to":            {"'glass jug'", setTo},
	"left":          {"0.6L", into(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Left })},
	"bottle":        {"'BH-A 3'", text(func(e *Entry) *string { return &e.Bottle })},
	"hiss":          {"3", into(scaled[float64]("hiss", 0, 5, "3"), func(e *Entry) *measure.Given[float64] { return &e.Hiss })},
	"foam":          {"2cm", into(measure.ParseDepth, func(e *Entry) *measure.Given[measure.Depth] { return &e.Foam })},
	"medium":        {"100mL", into(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Medium })},
	"alcohol":       {"5%", into(measure.ParseStrength, func(e *Entry) *measure.Given[measure.Strength] { return &e.Alcohol })},
	"verdict":       {"usable", one(VerdictWords, func(e *Entry, w string) { e.Verdict = w })},
}

func into[T any](parse func(string) (measure.Given[T], error), place func(*Entry) *measure.Given[T]) func(*Line, string, LineContext) error {
	return func(l *Line, value string, _ LineContext) error {
		g, err := parse(value)
		if err == nil {
			*place(&l.Entry) = g
		}
		return err
	}
}

func scaled[T ~float64](name string, low, high T, example string) func(string) (measure.Given[T], error) {
	return func(s string) (measure.Given[T], error) { return measure.ParseScale[T](s, name, low, high, example) }
}

func text(place func(*Entry) *string) func(*Line, string, LineContext) error {
	return func(l *Line, value string, _ LineContext) error {
		if !isText(value) {
			return fmt.Errorf("%q is no text in UTF-8", value)
		}
		*place(&l.Entry) = value
		return nil
	}
}

func one(known []string, set func(*Entry, string)) func(*Line, string, LineContext) error {
	return func(l *Line, value string, _ LineContext) error {
		word := strings.ToLower(value)
		if err := oneOf(word, known); err != nil {
			return err
		}
		set(&l.Entry, word)
		return nil
	}
}

func setAt(l *Line, value string, ctx LineContext) error {
	at, notice, err := ParseTime(value, ctx.Now.In(ctx.Zone), ctx.Zone)
	if err != nil {
		return err
	}
	at.Time = at.Time.Truncate(time.Second)
	l.Entry.At, l.Timed = at, true
	if notice != "" {
		l.Notices = append(l.Notices, notice)
	}
	return nil
}

func setRemind(l *Line, value string, ctx LineContext) error {
	at, err := ParseMoment(value, ctx.Zone)
	if err == nil {
		l.Entry.Remind = at
	}
	return err
}

func setDegassed(l *Line, value string, _ LineContext) error {
	is, err := truth(value)
	l.Entry.Undegassed = !is
	return err
}

func setDoubt(l *Line, value string, _ LineContext) error {
	is, err := truth(value)
	l.Entry.Doubt = Confirmed
	if is {
		l.Entry.Doubt = Doubtful
	}
	return err
}

func truth(value string) (bool, error) {
	is, err := strconv.ParseBool(strings.ToLower(value))
	if err != nil || len(value) < 4 {
		return false, fmt.Errorf("%q is neither true nor false", value)
	}
	return is, nil
}

func setSeen(l *Line, value string, _ LineContext) error {
	var seen []string
	for _, w := range strings.FieldsFunc(strings.ToLower(value), func(c rune) bool { return c == ',' || c == ' ' }) {
		if err := oneOf(w, SeenWords); err != nil {
			return err
		}
		seen = append(seen, w)
	}
	l.Entry.Seen = seen
	return nil
}

func setDid(l *Line, value string, _ LineContext) error {
	word := strings.ToLower(value)
	if !IsAct(word) {
		return fmt.Errorf("%q is no act%s", value, didYouMean(word, actNames()))
	}
	l.Entry.Did = Act(word)
	return nil
}

func actNames() []string {
	names := make([]string, len(acts))
	for i, a := range acts {
		names[i] = string(a)
	}
	return names
}

func setAmount(l *Line, value string, _ LineContext) error {
	if strings.EqualFold(value, "unknown") {
		l.Entry.Amount = Amount{Unknown: true}
		return nil
	}
	q, err := measure.ParseQuantity(value)
	switch {
	case err != nil:
		return err
	case q.Dimension() == measure.OfNothing:
		return &measure.Error{Text: value, Problem: "needs its unit", Hint: "e.g. 1.5g or 14mL"}
	case q.Value() < 0:
		return &measure.Error{Text: value, Problem: "is less than nothing", Hint: "e.g. 1.5g"}
	}
	l.Entry.Amount = Amount{Quantity: q}
	return nil
}

// setTo reads the vessel that something goes into: its kind, and how much it
// holds to the brim.
func setTo(l *Line, value string, _ LineContext) error {
	kind, brimful := strings.TrimSpace(value), ""
	if i := strings.IndexAny(value, "0123456789"); i >= 0 {
		kind, brimful = strings.TrimSpace(value[:i]), value[i:]
	}
	to := Vessel{Kind: kind, Declared: true}
	if brimful != "" {
		v, err := measure.ParseVolume(tidy(brimful))
		if err != nil {
			return err
		}
		to.Brimful = v
	}
	l.Entry.To = to
	return nil
}

// amountOfWhat says what a quantity that no act goes with may have meant.
func amountOfWhat(typed string, a Amount) string {
	if _, is := a.Volume(); is {
		return fmt.Sprintf("%s of what? type an act before it, e.g. water %s, or vol%s for what stands in the vessel", typed, typed, typed)
	}
	return fmt.Sprintf("%s of what? type an act before it, e.g. nutrient %s", typed, typed)
}
