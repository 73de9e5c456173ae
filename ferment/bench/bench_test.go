package bench

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// work calculates a figure from a command line.
func work(line string) (Answer, error) {
	words := strings.Fields(line)
	f, err := Find(words[0])
	if err != nil {
		return Answer{}, err
	}
	values, last := map[string]string{}, ""
	for _, w := range words[1:] {
		if key, value, is := strings.Cut(w, "="); is {
			values[key], last = value, key
		} else {
			values[last] += " " + w
		}
	}
	for k, v := range values {
		values[k] = strings.Trim(v, "'")
	}
	return f.Work(values, ferment.DefaultSettings(time.UTC))
}

func (a Answer) value(name string) float64 {
	for _, r := range a.Results {
		if r.Name == name {
			return r.Value
		}
	}
	return math.NaN()
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		line, result string
		want, within float64
		source       string
	}{
		{"scale from=23.8bx", "sg", 1.1001, 0.0002, "NBS C440 table 114"},
		{"scale from=1.062", "oechsle", 62, 1e-9, "definition"},
		{"scale from=1.062", "brix", 15.21, 0.03, "NBS C440 table 114"},
		{"hydrometer reads=1.084 sample=30C", "gravity", 1.0872, 0.0002, "the liquid expands more than water alone, whose 1.0865 it exceeds; SPS-4"},
		{"hydrometer reads=1.084 sample=20C", "gravity", 1.084, 1e-9, "nothing to correct"},
		{"refractometer original=23.8 reads=8.6", "gravity", 0.996, 0.003, "worked example"},
		{"refractometer original=23.8 reads=23.8", "gravity", 1.1001, 0.0002, "the start, exactly"},
		{"alcohol og=1.100 fg=0.996", "alcohol", 14.04, 0.25, "excise factor 0.135, from memory"},
		{"alcohol og=1.045 fg=0.998", "alcohol", 6.16, 0.2, "excise factor 0.131, from memory"},
		{"finish og=1.080", "gravity", 0.9965, 0.0005, "worked mass balance"},
		{"finish og=1.120 tolerance=14%", "alcohol", 14, 0.05, "the tolerance ends it"},
		{"finish og=1.160", "alcohol", 16, 0.05, "no tolerance: 16 % vol is assumed (common practice, no source)"},
		{"finish og=1.100", "gravity", 0.9962, 0.0005, "the dry finish comes first"},
		{"must honey=1474g into=3785mL water=17.2%", "gravity", 1.0976, 0.004, "extension leaflet, 3.25 lb in a US gallon"},
		{"must gravity=1.080 volume=1L water=17.2%", "honey", 252, 1, "worked by hand"},
		{"correct volume=3.6L gravity=1.112 to=1.100", "water", 437.5, 1, "worked by hand from NBS C440 table 114"},
		{"correct volume=3.6L gravity=1.092 to=1.100", "honey", 116.9, 0.35, "worked by hand from NBS C440 table 114"},
		{"honey refractive-index=1.4966", "water", 16.0, 0.03, "Wedmore 1955, AOAC 969.38"},
		{"honey water=17%", "sg", 1.4237, 0.0005, "White 1975, from memory"},
		{"yeast volume=3.6L gravity=1.090", "dry", 0.9, 1e-9, "AWRI"},
		{"yeast volume=3.6L gravity=1.090", "starter", 180, 1e-6, "AWRI"},
		{"spirit volume=200mL to=5% spirit=40%", "spirit", 28.57, 0.01, "definition"},
		{"spirit volume=87.5mL to=5% spirit=40%", "citric_acid", 0.19, 0.005, "100 mL of malt at 1.9 g/L, from memory"},
		{"spirit volume=87.5mL to=5% spirit=40% made=honey", "nutrient", 0.05, 0.005, "100 mL at 0.5 g/L, from memory"},
		{"mixture alcohol=12%", "density", 982.35, 0.02, "OIML R 22"},
		{"mixture alcohol=40%", "mass", 33.30, 0.01, "OIML R 22"},
		{"nutrient volume=3.6L gravity=1.0875 demand=medium target=200mg/L own=20mg/L", "need", 180, 0.5, "definition"},
		{"nutrient volume=3.6L gravity=1.0875 demand=medium target=200mg/L own=20mg/L", "total", 180 * 3.6 / 212, 0.01, "212 mg in a gram, atomic weights"},
		{"prime volume=3.2L alcohol=6.1% warmest=19C target=5g/L bottle='crown beer bottle 330mL' water=17.2%", "per_bottle", 2.99, 0.06, "worked by hand, CO₂ left by the EU method"},
		{"pressure co2=5g/L alcohol=12% at=20C headspace=0", "gauge", 2.45, 0.05, "EU wine method, the gas alone"},
		{"pressure co2=5g/L alcohol=12% at=20C", "gauge", 3.1, 0.05, "with the air, mole balance by hand"},
		{"pressure co2=5g/L alcohol=12% at=20C", "air", 0.79, 0.005, "the nitrogen of the air as it was filled"},
		{"pressure co2=1.46g/L alcohol=12% at=30C filled=5C", "gauge", 1.45, 0.06, "mole balance by hand"},
		{"pressure co2=11.5g/L alcohol=12.5% at=10C sugar=10g/L", "co2", 5.6, 0.6, "Champagne, Liger-Belair"},
		{"prime volume=3.2L alcohol=6.1% warmest=19C target=5g/L bottle=330mL left=0.5g/L water=17.2%", "per_bottle", 4.5 * 0.33 / 0.3722, 0.01, "0.372 g of gas from a gram of honey, stoichiometry"},
		{"sweeten volume=1L gravity=0.997 to=1.0125 alcohol=12% water=17.2%", "honey", 50, 1.5, "common practice, no source"},
		{"blend a=3.45L,0.996,13.9% b=0.15L,1.000,0%", "alcohol", 13.32, 0.01, "worked by hand"},
		{"blend a=14% b=9% to=12%", "parts_a", 1.5, 1e-9, "rectangle"},
		{"sulphite ph=3.4 volume=3.3L", "free", 31.9, 0.5, "printed table at pK 1.81: 32"},
		{"sulphite ph=3.4 volume=3.3L alcohol=10%", "pk", 1.916, 0.02, "OIV table 2, from memory"},
		{"sorbate volume=1L alcohol=12%", "sorbic", 150, 0.1, "from memory"},
		{"acid from=4.5g/L to=5.5g/L volume=1L kind=tartaric", "salt", 1, 0.01, "definition"},
		{"buffer from=7g/L to=6g/L volume=1L", "salt", 1.33, 0.014, "stoichiometry"},
		{"bottles volume=2.91L size=330mL", "count", 8, 1e-9, "definition"},
		{"bottles volume=2.91L size=330mL", "left", 270, 1e-6, "definition"},
		{"gas cools-from=20C to=4C volume=3.5L alcohol=12%", "drawn_in", 2.1, 0.11, "worked by hand"},
		{"triangle tastings=12", "needed", 8, 1e-9, "binomial tail"},
		{"paired tastings=12", "needed", 10, 1e-9, "binomial tail"},
		{"cost honey=1.135kg price=12 bottles=8 yeast=2 nutrient=0.6 caps=2.8", "each", 2.3775, 0.001, "definition"},
		{"room jugs=6 volume=4L fall=10 room=20m3", "co2", 252, 3, "1.05 g/L a point"},
	} {
		a, err := work(c.line)
		if assert.NoError(t, err, c.line) {
			assert.InDelta(t, c.want, a.value(c.result), c.within, "%s: %s, by %s", c.line, c.result, c.source)
		}
	}
}

func TestEveryFigureHasItsSource(t *testing.T) {
	for _, f := range Figures() {
		for _, text := range []string{f.Use, f.Equation, f.Source, f.Range, f.Within, f.Uncertainty} {
			assert.NotEmpty(t, text, f.Name)
		}
		for _, w := range f.Ways {
			a, err := work(w.example(f.Name))
			if assert.NoError(t, err, w.example(f.Name)) {
				assert.NotEmpty(t, a.Results, f.Name)
			}
			for _, r := range a.Results {
				assert.False(t, math.IsNaN(r.Value) || math.IsInf(r.Value, 0), "%s %s", f.Name, r.Name)
			}
		}
	}
}

// For any text in place of a quantity, the answer is an error.
func TestImpossibleValuesAreRefused(t *testing.T) {
	for _, f := range Figures() {
		for _, w := range f.Ways {
			for _, k := range w.Keys {
				for _, bad := range []string{"-5", "NaN", "inf", "1e9", "99999999", "12 parsecs", "x", "1,2,3,4", "-3L"} {
					values := map[string]string{}
					for _, other := range w.Keys {
						if !other.Optional {
							values[other.Name] = other.ExampleIn(measure.Metric)
						}
					}
					values[k.Name] = bad
					_, err := f.Work(values, ferment.DefaultSettings(time.UTC))
					assert.Error(t, err, "%s %s=%s", f.Name, k.Name, bad)
				}
			}
		}
	}
}

func TestWrongValuesAreExplained(t *testing.T) {
	for line, want := range map[string]string{
		"pressure co2=5g/L alcohol=12% at=20C headspace=60%": "headspace",
		"alcohol og=1.100":                     "alcohol needs fg",
		"alcohol og=1.100 fg=0.996 foo=1":      `no key "foo"`,
		"must volume=3.6L":                     "e.g. must",
		"hydrometer reads=1.084 sample=30":     "needs its unit",
		"hydrometer reads=1.084 sample=30L":    "not a temperature",
		"pressure co2=5g/L alcohol=12% at=45C": "40",
		"prime volume=3L alcohol=6% warmest=19C target=5g/L bottle='still-wine bottle 750mL'": "still",
		"nosuch og=1": "no figure is called",
	} {
		_, err := work(line)
		assert.ErrorContains(t, err, want, line)
	}
}

// The cellar's own bottles and its hottest place are used instead of the built-in ones.
func TestCellarsOwnBottles(t *testing.T) {
	s := ferment.DefaultSettings(time.UTC)
	s.Hottest = 24
	s.Bottles = []ferment.BottleKind{
		{Kind: "crown beer bottle", Size: measure.Give(measure.Volume(0.5), "500 mL"), Stands: measure.Give(measure.Pressure(1), "1 bar")},
		{Kind: "stoneware flask", Holds: measure.Give(measure.Content(6), "6 g/L"), Stands: measure.Give(measure.Pressure(9), "9 bar")},
	}
	prime, err := Find("prime")
	require.NoError(t, err)
	values := map[string]string{"volume": "3.05L", "alcohol": "11.5%", "warmest": "19C", "target": "5g/L", "bottle": "crown beer bottle"}
	a, err := prime.Work(values, s)
	require.NoError(t, err)
	assert.Equal(t, "stop", a.Cautions[0].Loud)
	assert.Contains(t, a.Cautions[0].Text, "at 24 °C with 2 points unfinished; the crown beer bottle is made for 1.0 bar")
	assert.Contains(t, a.Assumed, "hottest place of the bottles: 24 °C")
	assert.Equal(t, "24 °C", a.Table.Rows[2][0])
	assert.InDelta(t, a.value("per_litre")/2, a.value("per_bottle"), 1e-9, "its own size")

	closed, err := Find("pressure")
	require.NoError(t, err)
	b, err := closed.Work(map[string]string{"co2": "5g/L", "alcohol": "11.5%", "at": "20C", "bottle": "crown beer bottle"}, s)
	require.NoError(t, err)
	assert.Equal(t, "stop", b.Cautions[0].Loud)
	assert.Contains(t, b.Cautions[0].Text, "at 24 °C with 2 points unfinished; the crown beer bottle is made for 1.0 bar")

	values["bottle"] = "stoneware flask 330mL"
	a, err = prime.Work(values, s)
	require.NoError(t, err)
	assert.NotEqual(t, "stop", a.Cautions[0].Loud)
	values["bottle"] = "thermos 330mL"
	_, err = prime.Work(values, s)
	assert.ErrorContains(t, err, "stoneware flask")
}

// Uncertainty is stated: an assumed tolerance, a strong must, an instrument outside its checked range.
func TestUncertainValuesAreExplained(t *testing.T) {
	for line, want := range map[string]string{
		"finish og=1.160":                       "16 ± 2 % vol is assumed for the yeast",
		"finish og=1.140 tolerance=18%":         "over 1.130",
		"alcohol og=1.140 fg=1.010":             "this is on the high side",
		"refractometer original=1.130 reads=12": "over 1.120",
	} {
		a, err := work(line)
		require.NoError(t, err, line)
		assert.Contains(t, fmt.Sprint(a.Assumed, a.Cautions), want, line)
	}
	for line, not := range map[string]string{
		"finish og=1.100 tolerance=14%": "16 ± 2", "alcohol og=1.100 fg=0.996": "high side", "refractometer original=1.100 reads=9": "over 1.120",
	} {
		a, err := work(line)
		require.NoError(t, err, line)
		assert.NotContains(t, fmt.Sprint(a.Assumed, a.Cautions), not, line)
	}
}
