package ferment

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

func setAt(l *Line, value string, ctx LineContext) error {
	at, notice, err := ParseTime(value, ctx.Now, ctx.Zone)
	if err != nil {
		return err
	}
	l.Entry.At, l.Timed = at, true
	if notice != "" {
		l.Notices = append(l.Notices, notice)
	}
	return nil
}

func setRemind(l *Line, value string, ctx LineContext) (err error) {
	l.Entry.Remind, err = ParseMoment(value, ctx.Zone)
	return err
}

// setSample reads the temperature of a sample; a plain number is in the
// cellar's unit.
func setSample(l *Line, value string, ctx LineContext) error {
	unit := "°C"
	if ctx.Units == measure.US {
		unit = "°F"
	}
	t, err := measure.ParseTemperature(withUnit(value, unit))
	l.Entry.Sample = measure.Give(t.Value, Spelled(t.Text))
	return err
}

// setAcidity reads titratable acidity; a plain number is in g/L.
func setAcidity(l *Line, value string, _ LineContext) error {
	a, err := measure.ParseContent(withUnit(value, "g/L"))
	l.Entry.Acidity = measure.Give(a.Value, Spelled(a.Text))
	return err
}

// setTemperature reads the temperature of the vessel, or the day's lowest and
// highest: "17..24C".
func setTemperature(l *Line, value string, _ LineContext) error {
	t, err := measure.ParseTemperatures(strings.Replace(value, "..", " to ", 1))
	low, high, both := strings.Cut(Spelled(t.Text), " to ")
	if both {
		_, unit, _ := strings.Cut(high, " ")
		low = withUnit(low, unit) + " to " + high
	}
	l.Entry.Temperature = measure.Give(t.Value, low)
	return err
}

func setDegassed(l *Line, value string, _ LineContext) error {
	is, err := truth(value)
	l.Entry.Undegassed = !is
	return err
}

func setBlind(l *Line, value string, _ LineContext) (err error) {
	l.Entry.Taste.Blind, err = truth(value)
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
	switch strings.ToLower(value) {
	case "true", "yes":
		return true, nil
	case "false", "no":
		return false, nil
	}
	return false, fmt.Errorf("%q is neither true nor false", value)
}

func setSeen(l *Line, value string, _ LineContext) error {
	l.Entry.Seen = listed(strings.ToLower(strings.Join(strings.Fields(value), ",")))
	for _, word := range l.Entry.Seen {
		if err := OneOf(word, SeenWords); err != nil {
			return err
		}
	}
	return nil
}

func setFaults(l *Line, value string, _ LineContext) error {
	l.Entry.Taste.Faults = listed(value)
	return nil
}

// listed are the things of a list, with commas between.
func listed(value string) []string {
	var things []string
	for thing := range strings.SplitSeq(value, ",") {
		if thing = strings.TrimSpace(thing); thing != "" {
			things = append(things, thing)
		}
	}
	return things
}

func setDid(l *Line, value string, _ LineContext) error {
	word := strings.ToLower(value)
	if !IsAct(word) {
		return fmt.Errorf("%q is no act%s", value, DidYouMean(word, actNames()))
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
	if err != nil {
		return err
	}
	const hint = "a mass, a volume or a content, e.g. 1.5 g, 14 mL or 0.3 g/L"
	q.Text = Spelled(q.Text)
	switch of := q.Dimension(); {
	case of == measure.OfNothing:
		return &measure.Error{Text: value, Problem: "needs its unit", Hint: hint}
	case of != measure.OfMass && of != measure.OfVolume && of != measure.OfContent:
		return &measure.Error{Text: value, Problem: "is not an amount", Hint: hint}
	case q.Number < 0:
		return &measure.Error{Text: value, Problem: "is less than nothing", Hint: hint}
	}
	l.Entry.Amount = Amount{Quantity: q}
	return nil
}

// A vessel's kind with what it holds to the brim behind it.
var kindAndBrimful = Pattern(`^(.*?)[,\s]*(` + number + `\s*[[:alpha:]][[:alpha:] ]*)$`)

// setTo reads the vessel that something goes into: "glass jug, 3.6 L". What is
// no volume at the end belongs to its kind.
func setTo(l *Line, value string, _ LineContext) error {
	l.Entry.To = Vessel{Kind: value, Declared: true}
	if m := kindAndBrimful().FindStringSubmatch(value); m != nil {
		if v, err := measure.ParseVolume(m[2]); err == nil {
			l.Entry.To.Kind = m[1]
			l.Entry.To.Brimful = measure.Give(v.Value, Spelled(v.Text))
		}
	}
	return nil
}

// amountOfWhat says what a quantity that no act goes with may have meant.
func amountOfWhat(typed string, a Amount) string {
	glued := strings.ReplaceAll(typed, " ", "")
	switch a.Dimension() {
	case measure.OfVolume:
		return fmt.Sprintf("%s could be the volume in the vessel or an amount: type vol%s, or an act with it, e.g. water %s", typed, glued, typed)
	case measure.OfContent:
		return fmt.Sprintf("%s could be the acidity or an amount: type ta%s, or an act with it, e.g. buffer %s", typed, glued, typed)
	}
	return fmt.Sprintf("%s of what? type an act with it, e.g. nutrient %s", typed, typed)
}

// withUnit gives a number without a unit one.
func withUnit(value, unit string) string {
	if _, err := measure.ParseNumber(value); err == nil {
		return value + " " + unit
	}
	return value
}

var numberAndUnit = Pattern(`(` + number + `)\s*([^\d.,]*)`)

// Spelled writes quantities as a file has them: "1.5 g" for "1,5G", "2 lb 8 oz"
// for "2lb8oz".
func Spelled(text string) string {
	if low, high, both := strings.Cut(text, " to "); both {
		return Spelled(low) + " to " + Spelled(high)
	}
	var words []string
	for _, m := range numberAndUnit().FindAllStringSubmatch(text, -1) {
		words = append(words, plainNumber(m[1]))
		if unit, known := measure.UnitNamed(m[2]); known {
			words = append(words, unit)
		}
	}
	return strings.Join(words, " ")
}
