package form

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// A vessel of 4.1 L is shown as 1.08 gal, and what the form shows is written.
func TestFormInUSUnits(t *testing.T) {
	us := func(s *ferment.Settings) { s.Units = measure.US }
	f, ok := Open("rack", cellar(60, us, lime("lime-a", atRest)), "lime-a", nil)
	require.True(t, ok)
	fields, o := f.Outcome(Values{"after": "3.0 L"})
	brimful := fields[slices.IndexFunc(fields, func(f Field) bool { return f.Key == "brimful" })]
	assert.Equal(t, []string{"1.08 gal", "filled to the brim, e.g. 1.08 gal"}, []string{brimful.Value, brimful.From})
	require.NotEmpty(t, o.Change.Entries)
	assert.Equal(t, "1.08 gal", o.Change.Entries[0].Entries[0].To.Brimful.Text)
}

// A person's words stay unchanged: a note, a name, why something was used.
func TestOwnWordsAreNotConverted(t *testing.T) {
	const own = "spilled 2 L, the jug stood at 30 cm"
	s := cellar(60, func(s *ferment.Settings) { s.Units = measure.US }, lime("lime-a", atRest, func(f *ferment.Ferment) { f.Tag = "4 L" }))
	for name, given := range map[string]Values{
		"lot": {"name": own, "treated": own, "note": own}, "use": {"for": own}, "culture": {"name": own, "source": own, "note": own},
		"new": {"name": own, "yeast": own, "vessel": own}, "rack": {"note": own, "to": own},
	} {
		f, ok := Open(name, s, map[string]string{"rack": "lime-a", "use": "lime-26"}[name], given)
		require.True(t, ok, name)
		fields, o := f.Outcome(nil)
		for key := range given {
			i := slices.IndexFunc(fields, func(f Field) bool { return f.Key == key })
			require.GreaterOrEqual(t, i, 0, "%s %s", name, key)
			assert.Equal(t, own, fields[i].Value, "%s %s", name, key)
		}
		assert.NotContains(t, said(o), "0.53 gal", name)
	}
}

func TestShownValue(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "4.1 L": "1.08 gal", "12 fl oz": "12 fl oz", "3.0 mL": "3.0 mL", "100 mL": "3.4 fl oz", "980 g": "2.16 lb", "3.0 g": "3.0 g",
		"20 °C": "68 °F", "15 °C to 22 °C": "59 °F to 71.6 °F", "glass jug": "glass jug", "1.084": "1.084", "5.0 g/L": "5.0 g/L", "none": "none",
	} {
		assert.Equal(t, want, shownValue(text, measure.US), text)
	}
}

// A bare number has the unit of its field.
func TestNumberWithoutItsUnit(t *testing.T) {
	for _, c := range []struct {
		from, value, typed string
		want               measure.Volume
	}{
		{"in all, e.g. 3.6 L", "", "3.6", 3.6}, {"of one, e.g. 330 mL", "", "500", 0.5}, {"by the record", "3.20 L", "3,1", 3.1},
		{"in all, e.g. 3.6 L", "", "2 gal", 7.570823568},
	} {
		p := &asking{units: measure.Metric, values: Values{"volume": c.typed}}
		got := may(p, Field{Key: "volume", From: c.from, Value: c.value}, measure.ParseVolume)
		assert.InDelta(t, float64(c.want), float64(got.Value), 1e-9, c.typed)
		assert.Empty(t, p.wrong)
	}
	p := &asking{units: measure.Metric, values: Values{"volume": "3,600"}}
	may(p, Field{Key: "volume", From: "e.g. 3.6 L"}, measure.ParseVolume)
	assert.Equal(t, []Wrong{{"volume", `"3,600 L" could be 3600 L or 3.600 L (write 3600 or 3.600)`}}, p.wrong)
}
