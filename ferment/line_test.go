package ferment

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/measure"
)

func lineAt() LineContext {
	return LineContext{Now: time.Date(2026, 9, 14, 7, 15, 0, 0, time.UTC), Zone: time.UTC, Units: measure.Metric}
}

// said writes an entry as its keys and values, in the order of the test.
func said(e Entry) string {
	var b []string
	put := func(key, value string) {
		if value != "" {
			b = append(b, key+"="+value)
		}
	}
	put("gravity", e.Gravity.Text)
	put("brix", e.Brix.Text)
	put("plato", e.Plato.Text)
	put("oechsle", e.Oechsle.Text)
	put("refractometer", e.Refractometer.Text)
	put("sample", e.Sample.Text)
	put("temperature", e.Temperature.Text)
	put("ph", e.PH.Text)
	put("acidity", e.Acidity.Text)
	put("volume", e.Volume.Text)
	put("clarity", string(e.Clarity))
	put("did", string(e.Did))
	put("amount", e.Amount.Text)
	if e.Amount.Unknown {
		put("amount", "unknown")
	}
	put("stock", e.Stock.Text)
	put("of", e.Of)
	put("step", e.Step)
	put("lost", e.Lost.Text)
	put("seen", strings.Join(e.Seen, ","))
	put("smell", e.Smell)
	put("doubt", string(e.Doubt))
	put("to", e.To.Kind)
	put("brimful", e.To.Brimful.Text)
	put("note", e.Note)
	if e.At.Time != lineAt().Now {
		put("at", e.At.Time.Format("02 15:04"))
	}
	return strings.Join(b, " ")
}

func TestLine(t *testing.T) {
	for typed, want := range map[string]string{
		"1.066":                         "gravity=1.066",
		"1066":                          "gravity=1.066",
		"1.050":                         "gravity=1.050",
		"1046.5":                        "gravity=1.0465",
		".996":                          "gravity=0.996",
		"996":                           "gravity=0.996",
		"1,046":                         "gravity=1.046",
		"0.970":                         "gravity=0.970",
		"1.250":                         "gravity=1.250",
		"1250":                          "gravity=1.250",
		"11.4bx":                        "brix=11.4",
		"11.4 Bx":                       "brix=11.4",
		"11.4p":                         "plato=11.4",
		"62oe":                          "oechsle=62",
		"8.6r":                          "refractometer=8.6",
		"1046@23":                       "gravity=1.046 sample=23 °C",
		"1.046 @23C":                    "gravity=1.046 sample=23 °C",
		"1.046 @ 23":                    "gravity=1.046 sample=23 °C",
		"1.046 @73F":                    "gravity=1.046 sample=73 °F",
		"19.5C":                         "temperature=19.5 °C",
		"19.5 C":                        "temperature=19.5 °C",
		"67f":                           "temperature=67 °F",
		"17..24C":                       "temperature=17 °C to 24 °C",
		"ph3.4":                         "ph=3.4",
		"pH 3.4":                        "ph=3.4",
		"ta5.5":                         "acidity=5.5 g/L",
		"vol3.4L":                       "volume=3.4 L",
		"vol 3.4 l":                     "volume=3.4 L",
		"clear":                         "clarity=clear",
		"degas":                         "did=degas",
		"did degas":                     "did=degas",
		"DEGAS":                         "did=degas",
		"nutrient 1.5g":                 "did=nutrient amount=1.5 g",
		"nutrient 1.5 g":                "did=nutrient amount=1.5 g",
		"1,5G nutrient":                 "did=nutrient amount=1.5 g",
		"nutrient unknown":              "did=nutrient amount=unknown",
		"nutrient 14mL stock=10%":       "did=nutrient amount=14 mL stock=10 %",
		"water 2 fl oz":                 "did=water amount=2 fl oz",
		"water 1 imp fl oz":             "did=water amount=1 imp fl oz",
		"nutrient 1.5g of='x y'":        "",
		`nutrient of="ammonium salt"`:   "did=nutrient of=ammonium salt",
		"rack lost=0.2L":                "did=rack lost=0.2 L",
		`rack to="glass jug 3.6L"`:      "did=rack to=glass jug brimful=3.6 L",
		"look seen=film,gas":            "did=look seen=film,gas",
		"smell=bad":                     "smell=bad",
		"1.046 ?":                       "gravity=1.046 doubt=doubtful",
		"1.046 doubt=false":             "gravity=1.046 doubt=confirmed",
		"1.046 -30min":                  "gravity=1.046 at=14 06:45",
		"1.046 -2h":                     "gravity=1.046 at=14 05:15",
		"1.046 −2d":                     "gravity=1.046 at=12 07:15",
		"1.046 06:30":                   "gravity=1.046 at=14 06:30",
		"1.046 18:30":                   "gravity=1.046 at=13 18:30",
		"yesterday 20:00 1.046":         "gravity=1.046 at=13 20:00",
		"2026-09-10 07:15 1.046":        "gravity=1.046 at=10 07:15",
		"1.046 ; bready; a little hot":  "gravity=1.046 note=bready; a little hot",
		"degas; lively":                 "did=degas note=lively",
		`look smell="a; b" ; c`:         "did=look smell=a; b note=c",
		"1.046@23 ph3.4 19.5C -1h ; ok": "gravity=1.046 sample=23 °C temperature=19.5 °C ph=3.4 note=ok at=14 06:15",
	} {
		if want == "" {
			continue
		}
		got, err := ParseLine(typed, lineAt())
		if assert.NoError(t, err, typed) {
			assert.Equal(t, want, said(got.Entry), typed)
		}
	}
}

func TestLineThatCannotBeRead(t *testing.T) {
	for typed, want := range map[string]string{
		"":                      "nothing to keep",
		"12":                    "12 could be 12 °Bx or 1.012: type 12bx or 1.012",
		"12@23":                 "12 could be 12 °Bx or 1.012: type 12bx or 1.012",
		"62":                    "62 could be 62 °Oe or 1.062: type 62oe or 1.062",
		"0.969":                 "0.969 could be",
		"1.251":                 "could be",
		"1251":                  "0.970 to 1.250",
		"nutrent":               "did you mean nutrient?",
		"1.5g":                  "type an act before it, e.g. nutrient 1.5g",
		"1.046 1.047":           "given twice",
		"1.046 seen=elk":        "film",
		"1.046 12x":             "unknown unit",
		"color=red":             "no entry has the key",
		"@23":                   "nothing to keep",
		"ph99":                  "out of range",
		`smell="wet`:            "quotes",
		"hiss=7":                "0 to 5",
		"nutrient 1g stock=10%": "14 mL",
		"overrode=nutrient":     "reason",
		"nan":                   "no act",
	} {
		_, err := ParseLine(typed, lineAt())
		var le *LineError
		if assert.ErrorAs(t, err, &le, typed) {
			assert.Contains(t, err.Error(), want, typed)
		}
	}
}

func TestJoinPartsPutsQuotesBack(t *testing.T) {
	assert.Equal(t, `1.046 smell="wet wool"`, JoinParts([]string{"1.046", "smell=wet wool"}))
	assert.Equal(t, "1.046@23 ph3.4", JoinParts([]string{"1.046@23", "ph3.4"}))
}

func TestLineInUSUnits(t *testing.T) {
	ctx := lineAt()
	ctx.Units = measure.US
	l, err := ParseLine("1.046@73", ctx)
	require.NoError(t, err)
	assert.Equal(t, "73 °F", l.Entry.Sample.Text)
}

func FuzzLine(f *testing.F) {
	for _, s := range []string{"1.046@23 ph3.4 ; bready", "nutrient 14mL stock=10% -30min", `rack to="glass jug 3.6L" lost=0.2L`, "17..24C ?", "yesterday 20:00 degas", "12", ";", "@", `"`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLine(s, lineAt())
		if err != nil {
			return
		}
		if l.Entry.Gravity.Known() {
			again, err := measure.ParseGravity(l.Entry.Gravity.Text)
			require.NoError(t, err, "%q", s)
			assert.InDelta(t, float64(l.Entry.Gravity.Value), float64(again.Value), 1e-12, fmt.Sprintf("%q", s))
		}
		assert.False(t, l.Entry.Empty(), "%q", s)
	})
}
