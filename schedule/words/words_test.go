package words_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Weekdays by the Gregorian calendar: 7 October 2026 is a Wednesday (from memory, and the
// standard library agrees).
func TestWhen(t *testing.T) {
	for _, c := range []struct {
		at   time.Time
		want string
	}{
		{at(7, 19, 0), "19:00"}, {at(7, 0, 0), "00:00"}, {at(8, 0, 0), "Thu 00:00"}, {at(6, 18, 40), "Tue 18:40"},
		{at(13, 6, 0), "Tue 06:00"}, {at(14, 6, 0), "Wed 14 Oct"}, {at(1, 7, 0), "Thu 07:00"}, {at(-1, 7, 0), "Tue 29 Sep"},
		{time.Date(2026, 12, 6, 1, 0, 0, 0, time.UTC), "Sun 6 Dec"}, {time.Date(2026, 12, 7, 1, 0, 0, 0, time.UTC), "7 Dec"},
		{time.Date(2027, 1, 1, 7, 0, 0, 0, time.UTC), "1 Jan"}, {time.Date(2027, 4, 17, 7, 0, 0, 0, time.UTC), "17 Apr 27"},
		{time.Date(2026, 2, 1, 7, 0, 0, 0, time.UTC), "1 Feb"}, {time.Date(2025, 2, 1, 7, 0, 0, 0, time.UTC), "1 Feb 25"},
	} {
		assert.Equal(t, c.want, words.When(c.at, now))
	}
}

// On 25 October 2026 the clocks of Europe go back (EU directive 2000/84/EC, article 3):
// the day has 25 hours and is one day all the same.
func TestWhenAcrossAClockChange(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	midnight := time.Date(2026, 10, 25, 0, 5, 0, 0, zone)
	assert.Equal(t, "23:55", words.When(time.Date(2026, 10, 25, 23, 55, 0, 0, zone), midnight))
	assert.Equal(t, "Mon 00:05", words.When(time.Date(2026, 10, 26, 0, 5, 0, 0, zone), midnight))
	assert.Equal(t, "02:30", words.When(time.Date(2026, 10, 25, 1, 30, 0, 0, time.UTC), midnight), "in the zone of now")
}

func TestAge(t *testing.T) {
	day := 24 * time.Hour
	for d, want := range map[time.Duration]string{
		-time.Hour: "0 min", 59 * time.Second: "0 min", 119 * time.Minute: "119 min", 2 * time.Hour: "2 h", 48 * time.Hour: "48 h",
		49 * time.Hour: "2 d", 99 * day: "99 d", 100 * day: "3 mo", 729 * day: "23 mo", 730 * day: "2 y",
	} {
		assert.Equal(t, want, words.Age(d))
	}
}

func TestActLabel(t *testing.T) {
	for _, c := range []struct{ step, do, long, short string }{
		{"nutrient-2", "nutrient", "nutrient 2", "nutrient 2"}, {"nutrient", "nutrient", "nutrient", "nutrient"},
		{"look", "look", "look at the airlock", "airlock"}, {"w1-look", "look", "w1 look", "w1 look"},
		{"steady-reading", "gravity", "gravity", "gravity"}, {"ph-check", "ph", "pH", "pH"},
		{"rack-clear", "rack", "rack clear", "rack clear"}, {"forced-test", "forced-test", "forced test", "forced test"},
		{"", "degas", "degas", "degas"},
	} {
		task := schedule.Task{Step: c.step, Do: c.do}
		assert.Equal(t, c.long, words.ActLabel(task))
		assert.Equal(t, c.short, words.ShortLabel(task))
	}
	assert.Equal(t, "rack", words.ShortLabel(schedule.Task{Step: "rack-clear", Do: "rack", Title: "rack the clear mead"}))
	assert.Equal(t, "open the monthly bottle", words.ActLabel(schedule.Task{Step: "open-monthly", Do: "open"}))
	assert.Equal(t, "open test bottle 2", words.ActLabel(schedule.Task{Step: "open-2", Do: "open"}))
}

func TestMarksDifferInShape(t *testing.T) {
	for word, want := range map[words.Word]string{
		words.Due: "● today", words.AnyDay: "○ any day", words.Later: "○ later", words.Late: "▲ late", words.Held: "◆ held", words.Stop: "◆ stop", words.Done: "✓ done",
		words.Skipped: "– skipped", words.Lapsed: "× missed", words.Warn: "△ warn", words.Note: "· note", words.Do: "→ do", "": "",
	} {
		assert.Equal(t, want, word.String())
	}
}

func TestGravityAsShown(t *testing.T) {
	s := ferment.DefaultSettings(time.UTC)
	assert.Equal(t, "1.057", words.Glass(1.0567, s))
	assert.Equal(t, "1.0567", words.Exact(1.0567, s))
	s.Scale = "brix"
	// The density of 20 °Bx by ICUMSA SPS-4, 1080.977 kg/m³, over that of water at 20 °C.
	assert.Equal(t, "20.0", words.Glass(1.08292, s))
	assert.Equal(t, "20.00", words.Exact(1.08292, s))
}

func amount(t *testing.T, text string) ferment.Amount {
	q, err := measure.ParseQuantity(text)
	require.NoError(t, err)
	return ferment.Amount{Quantity: q}
}

func TestEntryLine(t *testing.T) {
	for _, c := range []struct {
		entry ferment.Entry
		want  string
	}{
		{ferment.Entry{Gravity: measure.Give[measure.Gravity](1.056, "1.056"), Sample: measure.Give[measure.Temperature](23, "23 °C"), PH: measure.Give[measure.PH](3.5, "3.5")}, "1.056 at 23 °C, pH 3.5"},
		{ferment.Entry{Gravity: measure.Give[measure.Gravity](1.0465, "1046.5")}, "1.0465"},
		{ferment.Entry{Gravity: measure.Give[measure.Gravity](1.05, "1.05")}, "1.050"},
		{ferment.Entry{Did: ferment.Degas, Note: "lively"}, "degas; lively"},
		{ferment.Entry{Did: ferment.Nutrient, Step: "nutrient-1", Amount: amount(t, "1.0g"), Of: "ammonium phosphate"}, "nutrient 1, 1.0 g of ammonium phosphate"},
		{ferment.Entry{Did: ferment.Nutrient, Amount: amount(t, "14 mL"), Stock: measure.Give[measure.Share](10, "10 %")}, "nutrient, 14 mL of the 10 % solution"},
		{ferment.Entry{Did: ferment.Rack, Amount: ferment.Amount{Unknown: true}}, "rack, amount unknown"},
		{ferment.Entry{Skipped: "nutrient-3"}, "skipped: nutrient 3"},
		{ferment.Entry{Step: schedule.Reminder}, "done: reminder"},
		{ferment.Entry{Did: ferment.Choose, Of: "still"}, "choose still"},
		{ferment.Entry{Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 17, High: 24}, "17..24 °C"), Clarity: ferment.Hazy}, "17 to 24 °C, hazy"},
		{ferment.Entry{Note: "the window was open"}, "the window was open"},
		{ferment.Entry{}, ""},
	} {
		assert.Equal(t, c.want, words.EntryLine(c.entry, ferment.Protocol{}, measure.Metric))
	}
}

// 64.4 °F, 0.82 gal, 0.7 in and 6.8 fl oz by their definitions; a dose stays in
// the grams that a scale for doses shows.
func TestEntryLineInUSUnits(t *testing.T) {
	for _, c := range []struct {
		entry ferment.Entry
		want  string
	}{
		{ferment.Entry{Gravity: measure.Give[measure.Gravity](1.056, "1.056"), Sample: measure.Give[measure.Temperature](18, "18 °C")}, "1.056 at 64.4 °F"},
		{ferment.Entry{Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 17, High: 24}, "17..24 °C")}, "62.6 to 75.2 °F"},
		{ferment.Entry{Did: ferment.Rack, Volume: measure.Give[measure.Volume](3.1, "3.1 L"), Lost: measure.Give[measure.Volume](0.2, "200 mL")}, "rack, 0.82 gal, 6.8 fl oz lost"},
		{ferment.Entry{Did: ferment.Rack, Volume: measure.Give[measure.Volume](3.22, "3.4 qt"), Lees: measure.Give[measure.Depth](1.8, "18 mm")}, "rack, 3.4 qt, lees 0.7 in"},
		{ferment.Entry{Did: ferment.Nutrient, Amount: amount(t, "0.55g"), Of: "ammonium phosphate"}, "nutrient, 0.55 g of ammonium phosphate"},
		{ferment.Entry{Did: ferment.Pitch, Amount: amount(t, "40 mL"), Of: "slurry"}, "pitch, 1.4 fl oz of slurry"},
		{ferment.Entry{Did: ferment.Honey, Amount: amount(t, "1.2 kg"), Note: "from the 5 L pail"}, "honey, 2.65 lb; from the 5 L pail"},
		{ferment.Entry{Did: ferment.Open, Foam: measure.Give[measure.Depth](2, "2 cm")}, "open, foam 0.8 in"},
	} {
		assert.Equal(t, c.want, words.EntryLine(c.entry, ferment.Protocol{}, measure.US))
	}
}

func TestKept(t *testing.T) {
	v := app.Unplanned(ferment.Ferment{ID: "lime-a", Tag: "LIME-A"})
	dose := ferment.Entry{At: ferment.At(at(7, 7, 4)), Did: ferment.Nutrient, Step: "nutrient-2", Amount: amount(t, "1.0 g")}
	first := ferment.Entry{At: ferment.At(at(7, 7, 3)), Did: ferment.Degas}
	assert.Equal(t, "LIME-A degas and nutrient 2, 1.0 g, 07:04", words.Kept(v, []ferment.Entry{first, dose}, now))
	assert.Equal(t, "LIME-A 1.046, 07:04", words.Kept(v, []ferment.Entry{{At: ferment.At(now), Gravity: measure.Give[measure.Gravity](1.046, "1.046")}}, now))
	assert.Equal(t, "LIME-A a note", words.Kept(v, []ferment.Entry{{Note: "quiet"}}, now))
}
