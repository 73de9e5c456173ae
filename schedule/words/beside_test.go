package words

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// twin returns one of two invented ferments of one must.
func twin(id, yeast string, fall float64, tasted ...string) app.Vessel {
	pitched := time.Date(2026, 10, 3, 11, 0, 0, 0, time.UTC)
	f := ferment.Ferment{ID: id, Trial: ferment.Trial{Name: "lime", Differs: "yeast"}, Yeast: ferment.Yeast{Name: yeast},
		Must: ferment.Must{Volume: measure.Give(measure.Volume(3.6), "3.6 L"), Gravity: measure.Give(measure.Gravity(1.080), "1.080")}}
	f.Log = append(f.Log, ferment.Entry{At: ferment.At(pitched), Did: ferment.Pitch},
		ferment.Entry{At: ferment.At(pitched.AddDate(0, 0, 2)), Gravity: measure.Give(measure.Gravity(1.080-fall), "typed")})
	for i, t := range tasted {
		f.Log = append(f.Log, ferment.Entry{At: ferment.At(pitched.AddDate(0, 0, 30*(i+1))), Did: ferment.Taste, Taste: ferment.Tasting{Nose: t}})
	}
	settings := ferment.DefaultSettings(time.UTC)
	return app.Vessel{Ferment: f, Course: course.Of(f, settings, settings.Limits, pitched.AddDate(0, 4, 0))}
}

func TestSideBySide(t *testing.T) {
	b := SideBySide([]app.Vessel{twin("lime-a", "white-wine yeast", 0.030, "hay"), twin("lime-b", "hawthorn 3", 0.010, "wax", "honey")})
	assert.Equal(t, []string{"lime-a", "lime-b"}, b.Labels)
	figures := map[string]Compared{}
	for _, f := range b.Figures {
		figures[f.Name] = f
	}
	assert.Equal(t, Compared{"gravity", []string{"1.0500", "1.0700"}, "0.0200"}, figures["gravity"])
	assert.Equal(t, []string{"15.0", "5.0"}, figures["fastest, /d"].Values)
	assert.Equal(t, Unknown, figures["⅓ break, day"].Values[1], "not reached yet")
	_, has := figures["mean °C"]
	assert.False(t, has, "what neither record has is left out")

	require.NotEmpty(t, b.Differs)
	assert.Equal(t, Difference{"yeast", []string{"white-wine yeast", "hawthorn 3"}, Declared}, b.Differs[0], "the declared one first")
	for _, d := range b.Differs[1:] {
		assert.NotEqual(t, Declared, d.Says, d.What)
	}
	assert.Equal(t, []Compared{{"1 month", []string{"hay", "wax"}, ""}, {"2 months", []string{Unknown, "honey"}, ""}}, b.Aged[0].Rows)
}

// TestEqualDays: gravities are subtracted on the last day for which both were read, and the printed numbers add up.
func TestEqualDays(t *testing.T) {
	a, b := twin("a", "x", 0.0204), twin("b", "x", 0.01006)
	late := ferment.Entry{At: ferment.At(a.Course.Pitch.At.AddDate(0, 0, 4)), Gravity: measure.Give(measure.Gravity(1.0396), "1.0396")}
	a.Ferment.Log = append(a.Ferment.Log, late)
	a.Course = course.Of(a.Ferment, a.Course.Settings, a.Course.Limits, a.Course.Now)
	figures := map[string]Compared{}
	for _, f := range SideBySide([]app.Vessel{a, b}).Figures {
		figures[f.Name] = f
	}
	assert.Equal(t, Compared{"gravity", []string{"1.0396", "1.0699"}, ""}, figures["gravity"])
	assert.Equal(t, Compared{"gravity, day 2.0", []string{"1.0596", "1.0699"}, "0.0103"}, figures["gravity, day 2.0"])
	assert.Empty(t, figures["% vol"].Apart)
}

// TestWhatATrialDeclares: by the files of all its ferments; the vessel and the minute need no declaration.
func TestWhatATrialDeclares(t *testing.T) {
	a, b := twin("a", "x", 0.02), twin("b", "y", 0.02)
	b.Ferment.Trial.Differs = "nutrient"
	a.Ferment.Yeast.Tolerance = measure.Give(measure.Strength(14), "14 %")
	b.Ferment.Vessel.Kind, b.Ferment.Protocol = "demijohn", "other"
	fed := func(v *app.Vessel, at time.Duration, amount string) {
		q, _ := measure.ParseQuantity(amount)
		for _, act := range []ferment.Act{ferment.Nutrient, ferment.Honey} {
			v.Ferment.Log = append(v.Ferment.Log, ferment.Entry{At: ferment.At(v.Course.Pitch.At.Add(at)), Did: act, Amount: ferment.Amount{Quantity: q}})
		}
		v.Course = course.Of(v.Ferment, v.Course.Settings, v.Course.Limits, v.Course.Now)
	}
	fed(&a, 24*time.Hour, "1.4 g")
	fed(&b, 27*time.Hour, "1.4 g")
	says := map[string]string{}
	for _, d := range SideBySide([]app.Vessel{a, b}).Differs {
		says[d.What] = d.Says
	}
	assert.Equal(t, map[string]string{"yeast": Declared, "yeast tolerance": Declared, "nutrient": Declared,
		"vessel": "", "honey fed": "", "protocol": "not declared"}, says)
}

func TestIdenticalRecordsHaveNoDifference(t *testing.T) {
	assert.Empty(t, SideBySide([]app.Vessel{twin("a", "x", 0.02), twin("b", "x", 0.02)}).Differs)
}

// How bottles opened is next to each other by days since they were filled; invented logs.
func TestOpeningsByAge(t *testing.T) {
	opened := func(id string, hiss map[int]float64) app.Vessel {
		v := twin(id, "x", 0.05)
		filled := v.Course.Pitch.At.AddDate(0, 0, 40)
		v.Ferment.Log = append(v.Ferment.Log, ferment.Entry{At: ferment.At(filled), Did: ferment.Bottle,
			Bottles: []ferment.Bottles{{Kind: "crown beer bottle", Size: measure.Give(measure.Volume(0.33), "330 mL"), Count: 9, Fizz: measure.Give(measure.Content(5), "5 g/L")}}})
		for days, h := range hiss {
			v.Ferment.Log = append(v.Ferment.Log, ferment.Entry{At: ferment.At(filled.AddDate(0, 0, days)), Did: ferment.Open,
				Hiss: measure.Give(h, measure.Decimal(h, 0)), Foam: measure.Give(measure.Depth(2), "2 cm")})
		}
		v.Course = course.Of(v.Ferment, v.Course.Settings, v.Course.Limits, v.Course.Now)
		return v
	}
	b := SideBySide([]app.Vessel{opened("a", map[int]float64{7: 1, 14: 3}), opened("b", map[int]float64{14: 2})})
	require.Len(t, b.Aged, 1)
	assert.Equal(t, Aged{"opened, by age", []Compared{{"7 d", []string{"hiss 1, foam 2.0 cm", Unknown}, ""}, {"14 d", []string{"hiss 3, foam 2.0 cm", "hiss 2, foam 2.0 cm"}, ""}}}, b.Aged[0])
}
