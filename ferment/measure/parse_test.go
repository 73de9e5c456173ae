package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/measure"
)

// reader adapts a parser to return a float64.
func reader[T ~float64](parse func(string) (measure.Given[T], error)) func(string) (float64, string, error) {
	return func(s string) (float64, string, error) {
		g, err := parse(s)
		return float64(g.Value), g.Text, err
	}
}

var readers = map[string]func(string) (float64, string, error){
	"mass":        reader(measure.ParseMass),
	"volume":      reader(measure.ParseVolume),
	"temperature": reader(measure.ParseTemperature),
	"share":       reader(measure.ParseShare),
	"strength":    reader(measure.ParseStrength),
	"content":     reader(measure.ParseContent),
	"yield":       reader(measure.ParseYield),
	"carbonation": reader(measure.ParseCarbonation),
	"pressure":    reader(measure.ParsePressure),
	"depth":       reader(measure.ParseDepth),
	"gravity":     reader(measure.ParseGravity),
	"ph":          reader(measure.ParsePH),
	"brix":        reader(measure.ParseBrix),
	"oechsle":     reader(measure.ParseOechsle),
	"hiss":        reader(measure.ParseHiss),
	"score":       reader(measure.ParseScore),
}

func TestParsersAtTheEdgesOfTheirRanges(t *testing.T) {
	for _, c := range []struct {
		what, text string
		want       float64
	}{
		{"mass", "0 g", 0}, {"mass", "980 g", 0.98}, {"mass", "1000 kg", 1000}, {"mass", "2 lb 8 oz", 1.133980925},
		{"volume", "0 L", 0}, {"volume", "2000 L", 2000}, {"volume", "1 gal", 3.785411784}, {"volume", "1 tsp", 0.00492892159375},
		{"temperature", "-30 °C", -30}, {"temperature", "120 °C", 120}, {"temperature", "-22 °F", -30}, {"temperature", "248 F", 120},
		{"share", "0 %", 0}, {"share", "100 %", 100},
		{"strength", "14 %", 14}, {"strength", "14 % vol", 14}, {"strength", "100 %", 100},
		{"content", "5.5 g/L", 5.5}, {"content", "200 mg/L", 0.2}, {"content", "200 ppm", 0.2}, {"content", "2000 g/L", 2000},
		{"yield", "212 mg/g", 212}, {"yield", "1000 mg/g", 1000},
		{"carbonation", "5 g/L", 5}, {"carbonation", "2 volumes", 3.954}, {"carbonation", "30 g/L", 30},
		{"pressure", "6 bar", 6}, {"pressure", "100 bar", 100}, {"pressure", "600 kPa", 6},
		{"depth", "1 cm", 1}, {"depth", "1 in", 2.54}, {"depth", "200 cm", 200},
		{"gravity", "0.970", 0.970}, {"gravity", "1.250", 1.250}, {"gravity", "1,046", 1.046}, {"gravity", ".996", 0.996}, {"gravity", "1.0465", 1.0465},
		{"ph", "0", 0}, {"ph", "14", 14}, {"ph", "3,4", 3.4},
		{"brix", "-5", -5}, {"brix", "60", 60},
		{"oechsle", "-30", -30}, {"oechsle", "250", 250},
		{"mass", "1,5 g", 0.0015}, {"mass", "0,500 kg", 0.5}, {"mass", ",500 kg", 0.5}, {"mass", "1,0005 kg", 1.0005}, {"volume", "3,60 L", 3.6},
		{"volume", "75cl", 0.75}, {"volume", "33 cL", 0.33}, {"volume", "5 dl", 0.5}, {"volume", "16 fl oz", 0.473176473},
		{"hiss", "0", 0}, {"hiss", "5", 5}, {"score", "0", 0}, {"score", "100", 100},
	} {
		got, text, err := readers[c.what](c.text)
		require.NoError(t, err, c)
		assert.InDelta(t, c.want, got, 1e-9, c)
		assert.Equal(t, c.text, text, "the digits typed are kept")
	}
}

func TestParsersRefuse(t *testing.T) {
	for _, c := range []struct{ what, text, want string }{
		{"mass", "1.5", `"1.5" needs its unit (a number and g, kg, mg, oz or lb, e.g. 980 g)`},
		{"mass", "1.5 L", `"1.5 L" is not a mass (a number and g, kg, mg, oz or lb, e.g. 980 g)`},
		{"mass", "much", `"much" is not a mass`},
		{"mass", "-1 g", "is out of range for a mass"},
		{"mass", "1001 kg", "is out of range for a mass"},
		{"volume", "3.6", "e.g. 3.6 L"},
		{"volume", "3.6 kg", "is not a volume"},
		{"volume", "2001 L", "is out of range for a volume"},
		{"temperature", "19.5", "e.g. 19.5 °C"},
		{"temperature", "-30.1 °C", "is out of range for a temperature"},
		{"temperature", "120.1 °C", "is out of range for a temperature"},
		{"temperature", "249 °F", "is out of range for a temperature"},
		{"share", "18.1", "e.g. 18.1 %"},
		{"share", "101 %", "is out of range for a share"},
		{"share", "-1 %", "is out of range for a share"},
		{"share", "14 % vol", "is not a share"},
		{"strength", "101 %", "is out of range for a strength"},
		{"content", "5 g", "is not a content"},
		{"content", "2 volumes", "is not a content"},
		{"yield", "21 %", "is not a nitrogen content"},
		{"yield", "1001 mg/g", "is out of range"},
		{"carbonation", "31 g/L", "is out of range for a carbonation"},
		{"carbonation", "16 volumes", "is out of range for a carbonation"},
		{"pressure", "6", "e.g. 6 bar"},
		{"pressure", "101 bar", "is out of range for a pressure"},
		{"depth", "1", "e.g. 1.5 cm"},
		{"depth", "201 cm", "is out of range for a depth"},
		{"mass", "1,000 g", `"1,000 g" could be 1000 g or 1.000 g (write 1000 or 1.000)`},
		{"mass", "2 lb 1,000 oz", "could be 2 lb 1000 oz or 2 lb 1.000 oz"},
		{"mass", "12,500 kg", "could be 12500 kg or 12.500 kg"}, {"volume", "3,600mL", "could be 3600mL or 3.600mL"},
		{"temperature", "-1,000 °C", "could be -1000 °C or -1.000 °C"},
		{"brix", "20,200", "could be 20200 or 20.200"}, {"ph", "3,400", "could be 3400 or 3.400"},
		{"gravity", "1,0555", `"1,0555" is not a density (use a point and three or four decimals, e.g. 1.055)`},
		{"gravity", "1,05", "is not a density"},
		{"gravity", "0.9699", "is not a density"},
		{"gravity", "1.2501", "is not a density"},
		{"gravity", "1046", "is not a density"},
		{"gravity", "1.046 SG", "is not a density"},
		{"gravity", "NaN", "is not a density"},
		{"gravity", "", "is not a density"},
		{"gravity", "1.0.46", "is not a density"},
		{"ph", "14.1", `"14.1" is out of range for a pH (0 to 14, e.g. 3.4)`},
		{"ph", "-0.1", "is out of range for a pH"},
		{"ph", "sour", `"sour" is not a pH (a plain number, e.g. 3.4)`},
		{"ph", "3.4 g", "is not a pH"},
		{"brix", "60.1", "is out of range"}, {"brix", "-5.1", "is out of range"},
		{"oechsle", "251", "is out of range"}, {"oechsle", "-31", "is out of range"},
		{"hiss", "5.1", "0 to 5"}, {"hiss", "-1", "0 to 5"},
		{"score", "100.5", "0 to 100"}, {"score", "-1", "0 to 100"},
	} {
		_, _, err := readers[c.what](c.text)
		assert.ErrorContains(t, err, c.want, c)
	}
}

func TestParseTemperatures(t *testing.T) {
	for _, c := range []struct {
		text      string
		low, high float64
	}{
		{"19.5 °C", 19.5, 19.5},
		{"17 °C to 24 °C", 17, 24},
		{"17 to 24 °C", 17, 24},
		{"59 °F to 25 °C", 15, 25},
		{"-2 °C to 0 °C", -2, 0},
		{"20 °C to 20 °C", 20, 20},
	} {
		got, err := measure.ParseTemperatures(c.text)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.low, float64(got.Value.Low), 1e-9, c.text)
		assert.InDelta(t, c.high, float64(got.Value.High), 1e-9, c.text)
		assert.Equal(t, c.text, got.Text)
	}
	for text, want := range map[string]string{
		"24 °C to 17 °C": `"24 °C to 17 °C" is the wrong way round (the lower one first, e.g. 17 °C to 24 °C)`,
		"17 to 24":       "needs its unit",
		"17 °C to":       "is not a temperature",
		"warm to 24 °C":  "is not a temperature",
		"17 °C to 24 mL": "is not a temperature",
		"17 °C to 121 C": "is out of range",
	} {
		got, err := measure.ParseTemperatures(text)
		assert.ErrorContains(t, err, want, text)
		assert.False(t, got.Known(), text)
	}
	assert.InDelta(t, 20.5, float64(measure.Span[measure.Temperature]{Low: 17, High: 24}.Middle()), 1e-12)
}

// A number alone takes the unit of an example, and nothing else does.
func TestWithUnit(t *testing.T) {
	for _, c := range []struct{ text, example, want string }{
		{"3.6", "3.4 L", "3.6 L"}, {"3.6", "in all, e.g. 3.60 L", "3.6 L"}, {"3,6", "e.g. 0.95 gal", "3,6 gal"},
		{"980", "e.g. 980 g", "980 g"}, {"6", "of its mass, e.g. 6 %; or by the table", "6 %"}, {"6", "16 fl oz (US)", "6 fl oz"},
		{"19", "17 °C to 24 °C", "19 °C"}, {"-2", "19.5 °C", "-2 °C"},
		{"1.084", "wanted, e.g. 1.084", "1.084"}, {"3.6 gal", "3.4 L", "3.6 gal"}, {"much", "3.4 L", "much"}, {"", "3.4 L", ""},
		{"1,000", "980 g", "1,000 g"},
		{"1.5", "in all or a litre, e.g. 1.5 g, 0.5 g/L", "1.5"},
	} {
		assert.Equal(t, c.want, measure.WithUnit(c.text, c.example), c)
	}
}

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{"3.4": 3.4, "3,4": 3.4, " -2 ": -2, "−2": -2, "+.5": 0.5} {
		got, err := measure.ParseNumber(text)
		assert.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-12, text)
	}
	for _, text := range []string{"", "3.4 g", "three", "1e3", "NaN", "--2", "1 2"} {
		_, err := measure.ParseNumber(text)
		assert.ErrorContains(t, err, "is not a number", text)
	}
}

func TestGiven(t *testing.T) {
	var none measure.Given[measure.PH]
	assert.False(t, none.Known())
	assert.Equal(t, measure.PH(3.6), none.Or(3.6))
	given := measure.Give(measure.PH(0), "0")
	assert.True(t, given.Known(), "a zero that was typed is known")
	assert.Equal(t, measure.PH(0), given.Or(3.6))
}
