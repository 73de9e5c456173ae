package ferment

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

func temperatures(k Key) Key {
	k = k.measured(
		func(e *Entry, s string) error {
			t, err := measure.ParseTemperatures(s)
			if err == nil {
				e.Temperature = t
			}
			return err
		},
		func(e *Entry) string { return e.Temperature.Text }, nil)
	k.Numbers = func(e *Entry) []float64 {
		switch t := e.Temperature.Value; {
		case !e.Temperature.Known():
			return nil
		case t.Low == t.High:
			return []float64{float64(t.Low)}
		default:
			return []float64{float64(t.Low), float64(t.High)}
		}
	}
	k.Value = func(e *Entry) any {
		if !e.Temperature.Known() {
			return nil
		}
		return map[string]float64{"low": float64(e.Temperature.Value.Low), "high": float64(e.Temperature.Value.High)}
	}
	k.Say = func(e *Entry, units measure.System) string {
		if !e.Temperature.Known() {
			return ""
		}
		return measure.Between(e.Temperature.Value, units)
	}
	return k
}

const unknownAmount = "unknown"

// amounts makes the row of an amount: a mass, a volume, a content, or unknown.
func amounts(k Key) Key {
	k.Form = AQuantity
	k.Set = func(e *Entry, s string, _ *time.Location) error {
		if s == unknownAmount {
			e.Amount = Amount{Unknown: true}
			return nil
		}
		q, err := measure.ParseQuantity(s)
		if err != nil {
			return err
		}
		switch of := q.Dimension(); {
		case of == measure.OfNothing:
			return &measure.Error{Text: s, Problem: "needs its unit", Hint: "e.g. amount: 1.5 g, or amount: unknown"}
		case of != measure.OfMass && of != measure.OfVolume && of != measure.OfContent:
			return &measure.Error{Text: s, Problem: "is not an amount", Hint: "a mass, a volume or a content, e.g. amount: 1.5 g"}
		case q.Number < 0:
			return &measure.Error{Text: s, Problem: "is negative", Hint: "e.g. amount: 1.5 g"}
		}
		e.Amount = Amount{Quantity: q}
		return nil
	}
	k.Text = func(e *Entry) string {
		if e.Amount.Unknown {
			return unknownAmount
		}
		return e.Amount.Text
	}
	k.Value = func(e *Entry) any {
		switch {
		case e.Amount.Unknown:
			return unknownAmount
		case e.Amount.Known():
			return map[string]any{"value": e.Amount.Number, "unit": e.Amount.Unit}
		}
		return nil
	}
	return k.silent()
}

func setDoubt(e *Entry, is bool) {
	e.Doubt = Confirmed
	if is {
		e.Doubt = Doubtful
	}
}

// group makes the row of a key that contains other keys and has its own parser in files.
func group(k Key, has func(*Entry) bool, value func(*Entry) any, say func(*Entry, measure.System) string) Key {
	k.Form = AGroup
	k.Text = func(e *Entry) string { return say(e, measure.Metric) }
	k.Value = func(e *Entry) any {
		if !has(e) {
			return nil
		}
		return value(e)
	}
	k.Say = func(e *Entry, units measure.System) string {
		if !has(e) {
			return ""
		}
		return say(e, units)
	}
	return k
}

func toValue(e *Entry) any {
	out := map[string]any{}
	put(out, "kind", e.To.Kind, e.To.Kind != "")
	put(out, "brimful", float64(e.To.Brimful.Value), e.To.Brimful.Known())
	return out
}

func put(out map[string]any, key string, value any, known bool) {
	if known {
		out[key] = value
	}
}

func toWords(e *Entry, units measure.System) string {
	text := "to"
	if e.To.Kind != "" {
		text += " " + Harmless(e.To.Kind)
	}
	if e.To.Brimful.Known() {
		text += " (" + measure.Shown(e.To.Brimful, units) + ")"
	}
	return text
}

func bottlesValue(e *Entry) any {
	var out []map[string]any
	for _, b := range e.Bottles {
		one := map[string]any{}
		put(one, "kind", b.Kind, b.Kind != "")
		put(one, "size", float64(b.Size.Value), b.Size.Known())
		put(one, "count", b.Count, b.Count > 0)
		put(one, "codes", b.Codes, b.Codes != "")
		put(one, "fizz", float64(b.Fizz.Value), b.Fizz.Known())
		put(one, "honey", float64(b.Honey.Value)*1000, b.Honey.Known())
		put(one, "for", b.For, b.For != "")
		out = append(out, one)
	}
	return out
}

func bottlesWords(e *Entry, units measure.System) string {
	return strings.Join(Map(e.Bottles, func(b Bottles) string { return b.In(units) }), "; ")
}

// In writes bottles in words: "8 × 330 mL crown beer bottle, BH-A 1-8, 5.0 g/L CO₂, keep".
func (b Bottles) In(units measure.System) string {
	what := []string{fmt.Sprintf("%d ×", b.Count), "", b.Kind}
	if b.Size.Known() {
		what[1] = b.Size.Value.In(units)
	}
	fizz := ""
	switch {
	case b.Fizz.Known() && b.Fizz.Value <= 0:
		fizz = "still"
	case b.Fizz.Known():
		fizz = b.Fizz.Value.String() + " CO₂"
	}
	var parts []string
	for _, p := range []string{strings.Join(strings.Fields(strings.Join(what, " ")), " "), b.Codes, fizz, b.For} {
		if p != "" {
			parts = append(parts, Harmless(p))
		}
	}
	return strings.Join(parts, ", ")
}

// tasteValue returns the parts of a tasting by name, nil for none.
func tasteValue(e *Entry) any {
	out := map[string]any{}
	for i := range tasteRows {
		if v := tasteRows[i].Value(e); v != nil {
			out[tasteRows[i].Name] = v
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

func tasteWords(e *Entry, _ measure.System) string {
	var parts []string
	if t := e.Taste; t.Score.Known() {
		parts = append(parts, "score "+measure.Decimal(t.Score.Value, 0))
	}
	if found := e.Taste.Found(); found != "" {
		parts = append(parts, found)
	}
	if e.Taste.Blind {
		parts = append(parts, "blind")
	}
	if e.Taste.Again != "" {
		parts = append(parts, e.Taste.Again)
	}
	return strings.Join(parts, ", ")
}

// Found writes a taster's words in the order of tasting.
func (t Tasting) Found() string {
	var parts []string
	for _, found := range append([]string{t.Look, t.Nose, t.Palate, t.Body, t.Finish}, t.Faults...) {
		if found != "" {
			parts = append(parts, Harmless(found))
		}
	}
	return strings.Join(parts, ", ")
}

func triangleValue(e *Entry) any {
	t := e.Triangle
	return map[string]any{"with": t.With, "codes": t.Codes, "odd": t.Odd, "said": t.Said}
}

func triangleWords(e *Entry, _ measure.System) string {
	t := e.Triangle
	if t.Odd == 0 || t.Said == 0 {
		return ""
	}
	found := map[bool]string{true: "the odd one found", false: "the odd one not found"}[t.Odd == t.Said]
	return "triangle with " + Harmless(t.With) + ", " + found
}
