package words

import (
	"fmt"
	"math"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// said is something that a record says, in words.
type said struct {
	what string
	of   func(app.Vessel) string
}

var sayings = []said{
	{"yeast", func(v app.Vessel) string { return v.Ferment.Yeast.Name }},
	{"kind of yeast", func(v app.Vessel) string { return string(v.Ferment.Yeast.Kind) }},
	{"culture", func(v app.Vessel) string { return v.Ferment.Yeast.Culture }},
	{"tolerance", func(v app.Vessel) string { return v.Ferment.Yeast.Tolerance.Text }},
	{"honey", honeyOf},
	{"must", func(v app.Vessel) string { return asTyped(v.Ferment.Must.Volume, v) }},
	{"must's gravity", func(v app.Vessel) string { return v.Ferment.Must.Gravity.Text }},
	{"must's pH", func(v app.Vessel) string { return v.Ferment.Must.PH.Text }},
	{"vessel", func(v app.Vessel) string { return v.Ferment.Vessel.Kind }},
	{"protocol", func(v app.Vessel) string { return v.Ferment.Protocol }},
	{"pitched", func(v app.Vessel) string {
		if !v.Course.Pitch.Known {
			return ""
		}
		return v.Course.Pitch.At.Format("2 Jan 2006 15:04")
	}},
	{"yeast pitched", amountsOf(ferment.Pitch)},
	{"nutrient", amountsOf(ferment.Nutrient)},
	{"honey fed", amountsOf(ferment.Honey)},
	{"degassed", timesOf(ferment.Degas)},
	{"racked", timesOf(ferment.Rack)},
	{"temperature", temperaturesOf},
	{"place", placesOf},
	{"ending", func(v app.Vessel) string {
		var out []string
		for _, e := range v.Ferment.Endings {
			out = append(out, string(e))
		}
		return strings.Join(out, ", ")
	}},
}

// asTyped is a value of the record, nothing where there is none.
func asTyped[T interface{ In(measure.System) string }](g measure.Given[T], v app.Vessel) string {
	if !g.Known() {
		return ""
	}
	return measure.AsTyped(g, v.Course.Settings.Units)
}

func honeyOf(v app.Vessel) string {
	var out []string
	for _, h := range v.Ferment.Must.Honey {
		out = append(out, strings.TrimSpace(strings.Join([]string{asTyped(h.Mass, v), h.Lot}, " ")))
	}
	return strings.Join(out, " and ")
}

// amountsOf are the amounts of an act with the day of each.
func amountsOf(act ferment.Act) func(app.Vessel) string {
	return func(v app.Vessel) string {
		var out []string
		for _, e := range v.Course.Entries {
			if e.Did != act || !e.Amount.Given() {
				continue
			}
			amount := e.Amount.Quantity.In(v.Course.Settings.Units)
			if e.Amount.Unknown {
				amount = "unknown"
			}
			if act != ferment.Pitch && v.Course.Pitch.Known {
				amount = fmt.Sprintf("day %.1f, %s", daysIn(v, e.At.Time), amount)
			}
			out = append(out, amount)
		}
		return strings.Join(out, "; ")
	}
}

func timesOf(act ferment.Act) func(app.Vessel) string {
	return func(v app.Vessel) string {
		n := 0
		for _, e := range v.Course.Entries {
			if e.Did == act {
				n++
			}
		}
		if n == 1 {
			return "once"
		}
		return fmt.Sprintf("%d times", n)
	}
}

func temperaturesOf(v app.Vessel) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, e := range v.Course.Entries {
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			low, high = math.Min(low, float64(e.Temperature.Value.Low)), math.Max(high, float64(e.Temperature.Value.High))
		}
	}
	if math.IsInf(low, 1) {
		return ""
	}
	return measure.Between(measure.Span[measure.Temperature]{Low: measure.Temperature(low), High: measure.Temperature(high)}, v.Course.Settings.Units)
}

func placesOf(v app.Vessel) string {
	var out []string
	for _, e := range v.Course.Entries {
		if e.Place != "" && (len(out) == 0 || out[len(out)-1] != e.Place) {
			out = append(out, e.Place)
		}
	}
	return strings.Join(out, ", then ")
}

// differences are what the records say differently, the declared one first.
func differences(vs []app.Vessel, t ferment.Trial) []Difference {
	var declared, others []Difference
	for _, s := range sayings {
		d := Difference{What: s.what}
		differ := false
		for i, v := range vs {
			text := s.of(v)
			if text == "" {
				text = Unknown
			}
			d.Values = append(d.Values, text)
			differ = differ || i > 0 && text != d.Values[0]
		}
		if !differ {
			continue
		}
		if d.Declared = isDeclared(s.what, t); d.Declared {
			declared = append(declared, d)
		} else {
			others = append(others, d)
		}
	}
	return append(declared, others...)
}

// isDeclared tells whether a difference is the one that the trial names.
func isDeclared(what string, t ferment.Trial) bool {
	differs := strings.ToLower(t.Differs)
	if differs == "" {
		return false
	}
	word := strings.Fields(what)
	return strings.Contains(differs, strings.ToLower(word[len(word)-1])) || strings.Contains(strings.ToLower(what), differs)
}
