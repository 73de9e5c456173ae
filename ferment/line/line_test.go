package line

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

func lineAt() Context {
	return Context{Now: time.Date(2026, 9, 14, 7, 15, 0, 0, time.UTC), Zone: time.UTC, Units: measure.Metric}
}

// said writes an entry as its keys and values.
func said(e ferment.Entry) string {
	amount, at, with, remind := e.Amount.Text, "", e.With, ""
	if e.Amount.Unknown {
		amount = "unknown"
	}
	if e.Undegassed {
		with += " undegassed"
	}
	if e.At.DayOnly {
		at = e.At.Time.Format("02 day")
	} else if e.At.Time != lineAt().Now {
		at = e.At.Time.Format("02 15:04")
	}
	if !e.Remind.IsZero() {
		remind = e.Remind.Time.Format(time.DateOnly)
	}
	blind := ""
	if e.Taste.Blind {
		blind = "true"
	}
	var said []string
	for _, kv := range [][2]string{
		{"gravity", e.Gravity.Text}, {"brix", e.Brix.Text}, {"plato", e.Plato.Text}, {"oechsle", e.Oechsle.Text},
		{"refractometer", e.Refractometer.Text}, {"sample", e.Sample.Text}, {"with", with}, {"temperature", e.Temperature.Text},
		{"ph", e.PH.Text}, {"acidity", e.Acidity.Text}, {"volume", e.Volume.Text}, {"lees", e.Lees.Text}, {"clarity", string(e.Clarity)},
		{"seen", strings.Join(e.Seen, ",")}, {"airlock", e.Airlock}, {"smell", e.Smell}, {"feel", e.Feel}, {"label", e.Label},
		{"place", e.Place}, {"lost", e.Lost.Text}, {"doubt", string(e.Doubt)}, {"did", string(e.Did)}, {"step", e.Step},
		{"amount", amount}, {"of", e.Of}, {"stock", e.Stock.Text}, {"lot", e.Lot}, {"water", e.Water.Text}, {"skipped", e.Skipped},
		{"overrode", e.Overrode}, {"because", e.Because}, {"remind", remind}, {"to", e.To.Kind}, {"brimful", e.To.Brimful.Text},
		{"left", e.Left.Text}, {"bottle", e.Bottle}, {"hiss", e.Hiss.Text}, {"foam", e.Foam.Text}, {"look", e.Taste.Look},
		{"nose", e.Taste.Nose}, {"palate", e.Taste.Palate}, {"body", e.Taste.Body}, {"finish", e.Taste.Finish},
		{"faults", strings.Join(e.Taste.Faults, ",")}, {"score", e.Taste.Score.Text}, {"blind", blind}, {"medium", e.Medium.Text},
		{"alcohol", e.Alcohol.Text}, {"verdict", e.Verdict}, {"note", e.Note}, {"at", at},
	} {
		if kv[1] != "" {
			said = append(said, kv[0]+"="+kv[1])
		}
	}
	return strings.Join(said, " ")
}

func TestLine(t *testing.T) {
	for _, c := range []struct{ typed, want string }{
		// Gravity, whole and in thousandths, at both ends of its range.
		{"1.066", "gravity=1.066"},
		{"1066", "gravity=1.066"},
		{"1.050", "gravity=1.050"},
		{"1050", "gravity=1.050"},
		{"1046.5", "gravity=1.0465"},
		{"1046,5", "gravity=1.0465"},
		{".996", "gravity=0.996"},
		{"996", "gravity=0.996"},
		{"998.5", "gravity=0.9985"},
		{"1,046", "gravity=1.046"},
		{"0.970", "gravity=0.970"},
		{"970", "gravity=0.970"},
		{"1.250", "gravity=1.250"},
		{"1250", "gravity=1.250"},
		{"+1.046", "gravity=1.046"},
		{"gravity=1046", "gravity=1.046"},
		{"degas 1.1", "gravity=1.1 did=degas"},
		{"nutrient 1.10", "gravity=1.10 did=nutrient"},
		{"nutrient 2g 1.1", "gravity=1.1 did=nutrient amount=2 g"},
		// Other scales.
		{"11.4bx", "brix=11.4"},
		{"11.4 Bx", "brix=11.4"},
		{"11,4 °bx", "brix=11.4"},
		{"-1.5bx", "brix=-1.5"},
		{"11.4p", "plato=11.4"},
		{"62oe", "oechsle=62"},
		{"8.6r", "refractometer=8.6"},
		{"8.6 R", "refractometer=8.6"},
		{"Brix=11.4", "brix=11.4"},
		{"1.020 8.6r", "gravity=1.020 refractometer=8.6"},
		// Temperature of the sample and of the vessel.
		{"1046@23", "gravity=1.046 sample=23 °C"},
		{"1.046 @23C", "gravity=1.046 sample=23 °C"},
		{"1.046 @ 23", "gravity=1.046 sample=23 °C"},
		{"1.046 @23 C", "gravity=1.046 sample=23 °C"},
		{"1.046 @73F", "gravity=1.046 sample=73 °F"},
		{"1.046@22,5", "gravity=1.046 sample=22.5 °C"},
		{"1.046 sample=23", "gravity=1.046 sample=23 °C"},
		{"19.5C", "temperature=19.5 °C"},
		{"19.5 C", "temperature=19.5 °C"},
		{"19,5°c", "temperature=19.5 °C"},
		{"67f", "temperature=67 °F"},
		{"-2C", "temperature=-2 °C"},
		{"17..24C", "temperature=17 °C to 24 °C"},
		{"17..24 C", "temperature=17 °C to 24 °C"},
		{"17C..24C", "temperature=17 °C to 24 °C"},
		{"temperature=17..24C", "temperature=17 °C to 24 °C"},
		{`temperature="17 °C to 24 °C"`, "temperature=17 °C to 24 °C"},
		{"temperature=19.5 C", "temperature=19.5 °C"},
		// The vessel's other readings.
		{"ph3.4", "ph=3.4"},
		{"pH 3.4", "ph=3.4"},
		{"PH3,4", "ph=3.4"},
		{"pH=3.4", "ph=3.4"},
		{"ta5.5", "acidity=5.5 g/L"},
		{"ta 5.5 g/L", "acidity=5.5 g/L"},
		{"vol3.4L", "volume=3.4 L"}, {"vol75cl", "volume=75 cL"},
		// The key gives the unit of a number alone.
		{"vol3.4", "volume=3.4 L"}, {"lost=0.2", "lost=0.2 L"}, {"lees=1.5", "lees=1.5 cm"}, {"temperature=19.5", "temperature=19.5 °C"},
		{"honey 980g water=18,1", "did=honey amount=980 g water=18.1 %"}, {"nutrient 14mL stock=10", "did=nutrient amount=14 mL stock=10 %"},
		{"vol 3.4 l", "volume=3.4 L"},
		{"vol 1 imp gal", "volume=1 imp gal"},
		{"volume=3.4 L", "volume=3.4 L"},
		{"clear", "clarity=clear"},
		{"HAZY", "clarity=hazy"},
		{"clarity=clearing", "clarity=clearing"},
		{"lees=1cm seen=film airlock=dry", "lees=1 cm seen=film airlock=dry"},
		{"seen=film,gas", "seen=film,gas"},
		{`seen="film, gas"`, "seen=film,gas"},
		{"smell=bad feel=hard label=doubtful place=kitchen", "smell=bad feel=hard label=doubtful place=kitchen"},
		{"1.046 with=hydrometer degassed=false", "gravity=1.046 with=hydrometer undegassed"},
		// Acts and amounts.
		{"degas", "did=degas"},
		{"did degas", "did=degas"},
		{"did=degas", "did=degas"},
		{"DEGAS", "did=degas"},
		{"nutrient 1.5g", "did=nutrient amount=1.5 g"},
		{"nutrient 1.5 g", "did=nutrient amount=1.5 g"},
		{"1,5G nutrient", "did=nutrient amount=1.5 g"},
		{"nutrient .5g", "did=nutrient amount=0.5 g"},
		{"nutrient unknown", "did=nutrient amount=unknown"},
		{"nutrient amount=1.5 g", "did=nutrient amount=1.5 g"},
		{"nutrient 14mL stock=10%", "did=nutrient amount=14 mL stock=10 %"},
		{"stock=10 % nutrient 14 ml", "did=nutrient amount=14 mL stock=10 %"},
		{"nutrient step=nutrient-2", "did=nutrient step=nutrient-2"},
		{"buffer 0.3 g/L", "did=buffer amount=0.3 g/L"},
		{"honey 2 lb 8 oz lot=bell-heather-26 water=18.1%", "did=honey amount=2 lb 8 oz lot=bell-heather-26 water=18.1 %"},
		{"honey 2lb 8oz", "did=honey amount=2 lb 8 oz"},
		{"honey 2lb8oz", "did=honey amount=2 lb 8 oz"},
		{"water 2 fl oz", "did=water amount=2 fl oz"},
		{"water 1fl oz", "did=water amount=1 fl oz"},
		{"water 1 imp fl oz", "did=water amount=1 imp fl oz"},
		{"nutrient 1 tsp", "did=nutrient amount=1 tsp"},
		{"rack lost=0.2 L 3.4L", "lost=0.2 L did=rack amount=3.4 L"},
		{`rack to="glass jug, 3.6 L"`, "did=rack to=glass jug brimful=3.6 L"},
		{`rack to="glass jug 3.6L"`, "did=rack to=glass jug brimful=3.6 L"},
		{`rack to="jug no 3"`, "did=rack to=jug no 3"},
		{"bottle left=0.6L", "did=bottle left=0.6 L"},
		{`open bottle="BH-A 3" hiss=3 foam=2cm`, "did=open bottle=BH-A 3 hiss=3 foam=2 cm"},
		{`taste look=pale nose="wet wool" palate=dry body=thin finish=short faults=vinegar,dull score=72 blind=true`,
			"did=taste look=pale nose=wet wool palate=dry body=thin finish=short faults=vinegar,dull score=72 blind=true"},
		{"passage medium=100mL alcohol=5% 1036 ph4.1", "gravity=1.036 ph=4.1 did=passage medium=100 mL alcohol=5 %"},
		{"verdict verdict=usable", "did=verdict verdict=usable"},
		{"skipped=degas because=away", "skipped=degas because=away"},
		{"nutrient 1.5g overrode=nutrient because=spilled", "did=nutrient amount=1.5 g overrode=nutrient because=spilled"},
		{"remind=2027-02-10 ;taste it", "remind=2027-02-10 note=taste it"},
		// Texts stay as they were typed.
		{`nutrient of="ammonium phosphate"`, "did=nutrient of=ammonium phosphate"},
		{`smell="1,5g"`, "smell=1,5g"},
		{"of=a=b@c nutrient", "did=nutrient of=a=b@c"},
		{`smell="a; b" ; c`, "smell=a; b note=c"},
		{"note=bready 1.046", "gravity=1.046 note=bready"},
		// Doubt.
		{"1.046 ?", "gravity=1.046 doubt=doubtful"},
		{"1.046 doubt=true", "gravity=1.046 doubt=doubtful"},
		{"1.046 doubt=false", "gravity=1.046 doubt=confirmed"},
		// Times.
		{"1.046 -30min", "gravity=1.046 at=14 06:45"},
		{"1.046 -2h", "gravity=1.046 at=14 05:15"},
		{"1.046 -2 h", "gravity=1.046 at=14 05:15"},
		{"1.046 - 2 h", "gravity=1.046 at=14 05:15"},
		{"1.046 −2d", "gravity=1.046 at=12 07:15"},
		{"1.046 07:15", "gravity=1.046"},
		{"1.046 07:16", "gravity=1.046 at=13 07:16"},
		{"yesterday 20:00 1.046", "gravity=1.046 at=13 20:00"},
		{"degas Yesterday", "did=degas at=13 day"},
		{"2026-09-10 07:15 1.046", "gravity=1.046 at=10 07:15"},
		{"2026-09-10 1.046", "gravity=1.046 at=10 day"},
		{"1.046 2026-09-10T07:15:00Z", "gravity=1.046 at=10 07:15"},
		{`1.046 at="yesterday 20:00"`, "gravity=1.046 at=13 20:00"},
		// Notes, and everything at once.
		{"1.046 ; bready; a little hot", "gravity=1.046 note=bready; a little hot"},
		{"degas;lively", "did=degas note=lively"},
		{"; just so", "note=just so"},
		{"  1.046@23   ph3.4 19.5C -1h ; ok ", "gravity=1.046 sample=23 °C temperature=19.5 °C ph=3.4 note=ok at=14 06:15"},
		{"? -1h 19.5C ph3.4 @23 1.046 ; ok", "gravity=1.046 sample=23 °C temperature=19.5 °C ph=3.4 doubt=doubtful note=ok at=14 06:15"},
	} {
		got, err := Parse(c.typed, lineAt())
		if assert.NoError(t, err, c.typed) {
			assert.Equal(t, c.want, said(got.Entry), c.typed)
		}
	}
}

func TestInvalidLines(t *testing.T) {
	for _, c := range []struct {
		typed  string
		column int
		part   string
		want   string
	}{
		{"", 1, "", "there is nothing to keep: type a reading or an act, e.g. 1.046@23 or degas"},
		{" ; ", 1, "", "there is nothing to keep"},
		{"-2h", 1, "", "there is nothing to keep"},
		{"?", 1, "", "there is nothing to keep"},
		{"@23 with=hydrometer", 1, "", "there is nothing to keep"},
		// Bare numbers that are no gravity.
		{"12", 1, "12", "12 could be 12 °Bx or 1.012: type 12bx or 1.012"},
		{"degas 12@23", 7, "12", "12 could be 12 °Bx or 1.012: type 12bx or 1.012"},
		{"23", 1, "23", "23 could be 23 °Bx, 1.023 or 23 °C: type 23bx, 1.023 or 23C"},
		{"3.4", 1, "3.4", "3.4 could be pH 3.4 or 3.4 °Bx: type ph3.4 or 3.4bx"},
		{"62", 1, "62", "62 could be 62 °Oe or 1.062: type 62oe or 1.062"},
		{"nutrient 1.5", 10, "1.5", "1.5 could be 1.5 g or 1.5 mL: type 1.5g or 1.5mL"},
		{"nutrient 1.1", 10, "1.1", "1.1 could be 1.1 g, 1.1 mL or 1.100: type 1.1g, 1.1mL or 1.100"},
		{"-2", 1, "-2", "-2 could be -2 hours: type -2h"},
		{"0.9699", 1, "0.9699", "0.9699 is no gravity: 0.970 to 1.250, or 970 to 1250 (e.g. 1.046 or 1046)"},
		{"1.2501", 1, "1.2501", "is no gravity"},
		{"969.9", 1, "969.9", "is no gravity"},
		{"1250.1", 1, "1250.1", "is no gravity"},
		{"300", 1, "300", "is no gravity"},
		{"12345678901234567890", 1, "12345678901234567890", "is no gravity"},
		// Quantities that need a word with them.
		{"1.5g", 1, "1.5g", "1.5g of what? type an act with it, e.g. nutrient 1.5g"},
		{"1.046 3.4 L", 7, "3.4 L", "3.4 L could be the volume in the vessel or an amount: type vol3.4L, or an act with it, e.g. water 3.4 L"},
		{"5.5g/L", 1, "5.5g/L", "type ta5.5g/L"},
		{"unknown 1.046", 1, "unknown", "unknown of what?"},
		{"14%", 1, "14%", "type stock=14%, water=14% or alcohol=14%"},
		{"14 % vol", 1, "14 % vol", "type alcohol=14%vol"},
		{"1cm", 1, "1cm", "type lees=1cm or foam=1cm"},
		{"6bar", 1, "6bar", "6bar is nothing that an entry keeps"},
		{"degas 2h", 7, "2h", "2h could be a time ago: type -2h"},
		{"17-24C", 1, "17-24C", "type 17..24c"},
		{"1.046 12x", 7, "12x", `has the unknown unit "x"`},
		{"nan", 1, "nan", `"nan" is no act, no reading and no key`},
		{"1e3", 1, "1e3", "unknown unit"},
		// Words and keys.
		{"nutrent", 1, "nutrent", "did you mean nutrient?"},
		{"did stare", 5, "stare", `"stare" is no act, no reading and no key`},
		{"did=nutrent", 1, "did=nutrent", `did "nutrent" is no act (did you mean nutrient?)`},
		{"1.046 sen=film", 7, "sen=film", `no entry has the key "sen" (did you mean seen?)`},
		{"lees 1cm", 1, "lees", "lees needs its value (e.g. lees=1.5cm)"},
		{"lost=", 1, "lost=", "lost= needs its value (e.g. lost=0.2L)"},
		{"honey 1,000 g", 7, "1,000 g", `"1,000 g" could be 1000 g or 1.000 g (write 1000 or 1.000)`},
		{"vol3,600mL", 1, "vol3,600mL", "could be 3600mL or 3.600mL"},
		{"20,200bx", 1, "20,200bx", "could be 20200 or 20.200"},
		{"nutrient 1,200", 10, "1,200", "could be 1200 or 1.200"},
		{"1.046 seen=elk", 7, "seen=elk", "one of foam, gas, sediment, film, mould, flies"},
		{"1.046@", 6, "@", "@ needs its value (e.g. sample=22°C)"},
		{"1.046 @hot", 7, "@hot", "is not a temperature"},
		{"ph14.1", 1, "ph14.1", "0 to 14"},
		{"60.1bx", 1, "60.1bx", "-5 to 60"},
		{"hiss=5.1", 1, "hiss=5.1", "0 to 5"},
		{"24..17C", 1, "24..17C", "is the wrong way round"},
		{"nutrient amount=1.5", 10, "amount=1.5", "needs its unit"},
		{"nutrient amount=14%", 10, "amount=14%", "is not an amount"},
		{"nutrient -1g", 10, "-1g", "is negative"},
		{"1.046 degassed=maybe", 7, "degassed=maybe", "neither true nor false"},
		{"bottles=3", 1, "bottles=3", "bottles has more than a line can say"},
		{"taste=good", 1, "taste=good", "e.g. nose=heather score=72"},
		{"remind=soon", 1, "remind=soon", "is not a time"},
		{`degas smell="wet wool`, 7, `smell="wet wool`, "the quotes are not closed"},
		{`"hello"`, 1, `"hello"`, "is no act"},
		{"1.046 \xff", 1, "1.046 \xff", "no text in UTF-8"},
		{"é=1 @23", 1, "é=1", "no entry has the key"},
		{"smell=é 12", 9, "12", "12 could be"},
		// Things twice, and things that do not go together.
		{"1.046 1.047", 7, "1.047", "gravity is given twice, as 1.046 and 1.047: make two entries"},
		{"1.046@23@24", 9, "@24", "sample is given twice, as @23 and @24"},
		{"degas rack", 7, "rack", "did is given twice, as degas and rack"},
		{"nutrient 1.5g 2g", 15, "2g", "amount is given twice"},
		{"note=x 1.046 ;y", 15, "y", "note is given twice"},
		{"18:30 19:00 degas", 7, "19:00", "at is given twice"},
		{"1.046 11.4bx", 7, "11.4bx", "a density is given in one scale, gravity or brix: make two entries"},
		{"skipped=degas rack", 1, "skipped=degas", "either does something or skips it"},
		{"nutrient 1g stock=10%", 13, "stock=10%", "by its volume"},
		{"buffer 0.3g/L stock=10%", 15, "stock=10%", "by its volume"},
		{"nutrient stock=10%", 10, "stock=10%", "needs its amount"},
		{"nutrient 1g overrode=nutrient", 13, "overrode=nutrient", "needs a reason"},
		// Times.
		{"degas 25:00", 7, "25:00", `at "25:00" is no time of day`},
		{"degas 2026-02-30", 7, "2026-02-30", "is no day of the calendar"},
		{"degas 2026-02-28 25:00", 7, "2026-02-28 25:00", "is no time of day"},
		{"degas 1899-12-31", 7, "1899-12-31", "outside the years 1900 to 2200"},
	} {
		_, err := Parse(c.typed, lineAt())
		var wrong *Error
		if assert.ErrorAs(t, err, &wrong, c.typed) {
			assert.Contains(t, wrong.Message, c.want, c.typed)
			assert.Equal(t, c.column, wrong.Column, c.typed)
			assert.Equal(t, c.part, wrong.Part, c.typed)
		}
	}
}

func TestLineNotices(t *testing.T) {
	l, err := Parse("1.046 18:30", lineAt())
	require.NoError(t, err)
	assert.True(t, l.Timed)
	assert.Equal(t, []string{"18:30 is later than now: yesterday"}, l.Notices)
	l, err = Parse("1.046", lineAt())
	require.NoError(t, err)
	assert.False(t, l.Timed)
	assert.Empty(t, l.Notices)
	assert.Equal(t, lineAt().Now, l.Entry.At.Time)
}

// An entry made now is to the second, in the cellar's zone.
func TestEntryIsDatedNow(t *testing.T) {
	dublin, err := time.LoadLocation("Europe/Dublin")
	require.NoError(t, err)
	now := time.Date(2026, 9, 14, 6, 15, 3, 999, time.UTC)
	l, err := Parse("degas", Context{Now: now, Zone: dublin})
	require.NoError(t, err)
	assert.Equal(t, "2026-09-14T07:15:03+01:00", l.Entry.At.Time.Format(time.RFC3339Nano))
}

// A number alone is a depth in the units of the cellar: an inch of foam is 2.54 cm.
func TestDepthWithoutItsUnit(t *testing.T) {
	for units, want := range map[measure.System]measure.Depth{measure.Metric: 0.5, measure.US: 1.27} {
		c := lineAt()
		c.Units = units
		l, err := Parse("open foam=0.5 lees=5cm", c)
		require.NoError(t, err)
		assert.InDelta(t, float64(want), float64(l.Entry.Foam.Value), 1e-9)
		assert.Equal(t, measure.Depth(5), l.Entry.Lees.Value)
	}
}

func TestLineInUSUnits(t *testing.T) {
	ctx := lineAt()
	ctx.Units = measure.US
	l, err := Parse("1.046@73", ctx)
	require.NoError(t, err)
	assert.Equal(t, "73 °F", l.Entry.Sample.Text)
	_, err = Parse("67", ctx)
	assert.EqualError(t, err, "67 could be 67 °Oe, 1.067 or 67 °F: type 67oe, 1.067 or 67F")
}

func TestEveryKeyShowsAnExampleThatCanBeRead(t *testing.T) {
	for _, name := range keyNames() {
		k, _ := keyFor(name)
		r := lineReader{ctx: lineAt()}
		_, value, _ := strings.Cut(example(k), "=")
		assert.NoError(t, r.give(k, strings.ReplaceAll(value, `"`, "")), name)
	}
}

func TestJoinPartsPutsQuotesBack(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"1.046@23", "ph3.4"}, "1.046@23 ph3.4"},
		{[]string{"1.046", "smell=wet wool"}, `1.046 smell="wet wool"`},
		{[]string{"nutrient", "1.5g", "of=ammonium phosphate"}, `nutrient 1.5g of="ammonium phosphate"`},
		{[]string{"rack", "to=glass jug, 3.6 L"}, `rack to="glass jug, 3.6 L"`},
		{[]string{"open", "bottle=BH-A 3"}, `open bottle="BH-A 3"`},
		{[]string{"temperature=17 °C to 24 °C"}, `temperature="17 °C to 24 °C"`},
		{[]string{"of=ammonium phosphate; lively"}, `of="ammonium phosphate" ; lively`},
		{[]string{"smell=bad ph3.4"}, "smell=bad ph3.4"},
		{[]string{"lost=0.2 L"}, "lost=0.2 L"},
		{[]string{`smell="wet wool" ph3.4`}, `smell="wet wool" ph3.4`},
		{[]string{"1.046@23; a = b"}, "1.046@23; a = b"},
		{[]string{"1.046 ;", "two words=x y"}, "1.046 ; two words=x y"},
		{nil, ""},
	} {
		assert.Equal(t, c.want, Join(c.args))
	}
}

// FuzzLine: a line that parses has an entry, and the entry reads the same from its text in the file.
func FuzzLine(f *testing.F) {
	for _, s := range []string{"1.046@23 ph3.4 ; bready", "nutrient 14mL stock=10% -30min", `rack to="glass jug 3.6L" lost=0.2L`, "17..24C ?",
		"yesterday 20:00 degas", "honey 2 lb 8 oz", "1046,5 ta5.5 vol 1 imp gal", "12", ";", "@", `"`, "seen=film,gas hiss=3", "−1.5bx −2d"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		Join([]string{s})
		l, err := Parse(s, lineAt())
		if err != nil {
			require.ErrorAs(t, err, new(*Error))
			return
		}
		e := l.Entry
		require.False(t, e.Empty())
		require.NoError(t, e.Check())
		readBack(t, e.Gravity, measure.ParseGravity)
		readBack(t, e.Brix, measure.ParseBrix)
		readBack(t, e.Plato, measure.ParseBrix)
		readBack(t, e.Oechsle, measure.ParseOechsle)
		readBack(t, e.Refractometer, measure.ParseRefractometer)
		readBack(t, e.Sample, measure.ParseTemperature)
		readBack(t, e.Temperature, measure.ParseTemperatures)
		readBack(t, e.PH, measure.ParsePH)
		readBack(t, e.Acidity, measure.ParseContent)
		readBack(t, e.Volume, measure.ParseVolume)
		readBack(t, e.Stock, measure.ParseShare)
		readBack(t, e.Lost, measure.ParseVolume)
		if e.Amount.Known() {
			q, err := measure.ParseQuantity(e.Amount.Text)
			require.NoError(t, err)
			require.InDelta(t, q.Value(), e.Amount.Value(), 1e-9)
		}
	})
}

func readBack[T any](t *testing.T, g measure.Given[T], parse func(string) (measure.Given[T], error)) {
	t.Helper()
	if g.Known() {
		again, err := parse(g.Text)
		require.NoError(t, err)
		require.Equal(t, g, again)
	}
}

// A time alone is an entry if the note is given separately.
func TestTimeBeforeAPastedNote(t *testing.T) {
	_, err := Parse("2026-09-13", Context{Now: time.Date(2026, 9, 14, 7, 0, 0, 0, time.UTC), Zone: time.UTC})
	require.ErrorContains(t, err, "there is nothing to keep")
	l, err := Parse("2026-09-13", Context{Now: time.Date(2026, 9, 14, 7, 0, 0, 0, time.UTC), Zone: time.UTC, Noted: true})
	require.NoError(t, err)
	require.True(t, l.Entry.At.DayOnly)
}
