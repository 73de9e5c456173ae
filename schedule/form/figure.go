package form

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Figure makes a form of a figure of the bench: the fields are the keys of one of its ways, with values from a
// ferment's record. Other values are examples, and marked so.
func Figure(f bench.Figure, way int, s app.Snapshot, subject string) Form {
	v, has := s.Find(subject)
	if has {
		s.Cellar.Settings.Limits = v.Course.Limits // a plan may change some limits
	}
	g := figured{record{s}, f, v, has}
	var fields []Field
	for _, k := range f.Ways[way].Keys {
		field := Field{Key: k.Name, Label: ferment.Spaced(k.Name), Does: k.Does}
		if take, known := sources[k.Name]; known && has {
			field.Value, field.From = take(g), v.Label()
		}
		switch {
		case field.Value != "":
		case k.Optional:
			field.From = ""
			if k.Name == "share" && has {
				field.From = g.fermentable(v.Ferment.Must.Honey...).From
			}
		default:
			field.Value, field.From = k.ExampleIn(g.units()), "an example"
		}
		fields = append(fields, field)
	}
	return Form{Name: f.Name, Title: f.Use, Subject: subject, Fields: func(Values) []Field { return slices.Clone(fields) }, Work: g.work}
}

// figured is a figure with the ferment of its values.
type figured struct {
	record
	bench.Figure
	vessel app.Vessel
	has    bool
}

// sources has the keys that a record can give a value for.
var sources = map[string]func(figured) string{
	"volume":     func(g figured) string { return shown(g.log().Volume, g.litres) },
	"og":         figured.original,
	"original":   figured.original,
	"fg":         figured.gravity,
	"alcohol":    func(g figured) string { return shown(g.log().Alcohol, percent) },
	"warmest":    figured.warmest,
	"cools-from": figured.temperature,
	"filled":     figured.filled,
	"sample":     figured.temperature,
	"ph":         func(g figured) string { return shown(g.log().PH, measure.PH.String) },
	"tolerance":  func(g figured) string { return g.vessel.Ferment.Yeast.Tolerance.Text },
	"hottest":    func(g figured) string { return g.log().Settings.Hottest.In(g.units()) },
	"demand":     func(g figured) string { return string(g.vessel.Ferment.Yeast.Demand) },
	"own":        func(g figured) string { return g.vessel.Ferment.Nutrient.Own.Text },
	"gravity": func(g figured) string {
		if slices.Contains([]string{"yeast", "nutrient", "must"}, g.Name) {
			return g.original()
		}
		return g.gravity()
	},
	"share": func(g figured) string { return g.vessel.Ferment.Must.Fermentable.Text },
	"left":  func(g figured) string { return g.s.Cellar.Settings.Limits.GasLeft.Text },
	"at": func(g figured) string {
		if g.Name != "sulphite" {
			return ""
		}
		return g.s.Cellar.Settings.Limits.StoredAt.Text
	},
	"kind": func(g figured) string {
		if g.Name != "nutrient" {
			return ""
		}
		return g.vessel.Ferment.Nutrient.Kind
	},
	"target": func(g figured) string {
		if g.Name == "nutrient" {
			return g.vessel.Ferment.Nutrient.Target.Text
		}
		return measure.Decimal(float64(g.log().Settings.Fizz), 1) + " g/L"
	},
	"water": func(g figured) string { return g.vessel.Ferment.Must.HoneyWater.Text },
}

func (g figured) log() *course.Course { return g.vessel.Course }

// original returns the original gravity of the record for a field; empty if unknown.
func (g figured) original() string {
	return shown(g.log().Original.Figure, func(v measure.Gravity) string { return fmt.Sprintf("%.4f", float64(v)) })
}

func (g figured) gravity() string {
	return shown(g.log().Gravity, func(r course.Reading) string { return fmt.Sprintf("%.4f", float64(r.Gravity)) })
}

func (g figured) temperature() string {
	return shown(g.log().Temperature, func(t measure.Span[measure.Temperature]) string { return t.Middle().In(g.units()) })
}

func (g figured) warmest() string {
	if !g.log().Temperature.IsKnown() {
		return ""
	}
	return g.log().Warmest().Value.In(g.units())
}

// filled returns how cold the bottles were filled by the record; empty if that is only assumed.
func (g figured) filled() string {
	if f := shelf.FilledAt(g.log(), g.log().Now); f.Assumed == "" {
		return f.Value.At.In(g.units())
	}
	return ""
}

// work works the figure out from what was typed.
func (g figured) work(values Values) Outcome {
	given := maps.Clone(values)
	maps.DeleteFunc(given, func(_, text string) bool { return text == "" })
	answer, err := g.Work(given, g.s.Cellar.Settings)
	if err != nil {
		return Outcome{Wrong: []Wrong{{"", measure.ErrorIn(err, g.units())}}, Rests: g.source()}
	}
	var o Outcome
	for _, r := range answer.Results {
		if len(g.Axis.Of) > 1 && slices.Contains(g.Axis.Of, r.Name) {
			continue // several in one drawing are told by it, and by the cautions
		}
		number, unit := r.In(g.units())
		label := r.Label()
		if slices.Contains([]string{"sg", "brix", "plato", "oechsle", "baume"}, label) {
			label = "" // the unit says it
		}
		o.Numbers = append(o.Numbers, Number{strings.TrimSpace(number + " " + unit), label})
	}
	if len(answer.Table.Rows) > 0 {
		o.Table = append([][]string{answer.Table.Head}, answer.Table.Rows...)
	}
	o.Curves = g.Over(given, g.s.Cellar.Settings)
	g.conditioning(&o)
	for _, c := range answer.Cautions {
		o.say(words.Word(c.Loud), c.Text)
	}
	o.Rests = append(o.Rests, ferment.Map(answer.Assumed, func(text string) Basis { return Basis{"assumed", text} })...)
	o.Rests = append(o.Rests, g.source()...)
	o.Log, _ = answer.Entry(g.units())
	return o
}

// source returns the source of the figure and its uncertainty.
func (g figured) source() []Basis {
	return []Basis{{"accuracy", g.Uncertainty}, {"equation", g.Equation}, {"source", g.Source}, {"range", g.Range}, {"checked to", g.Within}}
}

// conditioning warns that the ferment may not be bottled with sugar yet.
func (g figured) conditioning(o *Outcome) {
	if !g.has || g.Name != "prime" && g.Name != "pressure" {
		return
	}
	for _, gate := range g.vessel.Day.Gates {
		if gate.Name == ferment.ConditioningGate && !gate.Open {
			o.say(words.Stop, "bottle-conditioning is not ready for "+g.vessel.Label()+": "+gate.Says)
		}
	}
}
