package form_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	entryline "cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/schedule/words"
)

// filled is the day of the bottling of an invented mead.
var filled = time.Date(2026, 9, 20, 11, 0, 0, 0, time.UTC)

// gorse returns a conditioned mead so many days after bottling, with a log such as "7 open hiss=1 | 8 squeeze
// feel=firm".
func gorse(t *testing.T, days int, log string) app.Snapshot {
	t.Helper()
	crown := ferment.Bottles{Kind: "crown beer bottle", Size: measure.Give(measure.Volume(0.33), "330 mL"), Fizz: measure.Give(measure.Content(5), "5 g/L")}
	line := func(n int, codes, purpose string) ferment.Bottles {
		b := crown
		b.Count, b.Codes, b.For = n, codes, purpose
		return b
	}
	f := ferment.Ferment{ID: "gorse", Tag: "GORSE", Endings: []ferment.Ending{ferment.BottleConditioned}}
	f.Must.Gravity = measure.Give(measure.Gravity(1.052), "1.052")
	f.Log = []ferment.Entry{
		{At: ferment.At(filled.AddDate(0, 0, -60)), Did: ferment.Pitch},
		{At: ferment.At(filled.AddDate(0, 0, -1)), Gravity: measure.Give(measure.Gravity(0.998), "0.998")},
		{At: ferment.At(filled), Did: ferment.Bottle, Bottles: []ferment.Bottles{line(5, "G 1-5", ""), line(2, "G 6-7", "tasting"), line(2, "", "test")}},
	}
	for _, part := range strings.Split(log, "|") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		day, typed, _ := strings.Cut(part, " ")
		d, err := time.ParseDuration(day + "h")
		require.NoError(t, err)
		at := filled.Add(24 * d)
		l, err := entryline.Parse(typed, entryline.Context{Now: at, Zone: time.UTC})
		require.NoError(t, err)
		l.Entry.At = ferment.At(at)
		f.Log = append(f.Log, l.Entry)
	}
	for i := range f.Log {
		f.Log[i].Order = i
	}
	c := ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC), Protocols: journal.Plans(protocols.Files()), Ferments: []ferment.Ferment{f}}
	now := filled.AddDate(0, 0, days).Add(time.Hour)
	return app.Snapshot{At: now, Cellar: c, Vessels: []app.Vessel{app.Plan(f, c, now)}}
}

func opened(t *testing.T, name string, s app.Snapshot) form.Form {
	t.Helper()
	f, ok := form.Open(name, s, "gorse", form.Values{form.Batch: "0"})
	require.True(t, ok)
	return f
}

func said(o form.Outcome, w words.Word) string {
	var texts []string
	for _, l := range o.Lines {
		if l.Word == w {
			texts = append(texts, l.Text)
		}
	}
	return strings.Join(texts, "|")
}

func written(t *testing.T, o form.Outcome) ferment.Entry {
	t.Helper()
	require.Empty(t, o.Wrong)
	require.Len(t, o.Change.Entries, 1)
	require.Len(t, o.Change.Entries[0].Entries, 1)
	assert.Equal(t, "gorse", o.Change.Entries[0].Subject)
	return o.Change.Entries[0].Entries[0]
}

func TestOpenATestBottle(t *testing.T) {
	f := opened(t, "open", gorse(t, 7, ""))
	fields, o := f.Outcome(nil)
	assert.Equal(t, "test", fields[0].Value, "one of those for a test, which have no codes")
	assert.Equal(t, "hiss", o.Wrong[0].Key, "nothing told is nothing to keep")

	_, o = f.Outcome(form.Values{"hiss": "1", "foam": "0,5", "palate": "a little", "gravity": "0.998", "note": "cold"})
	e := written(t, o)
	assert.Equal(t, []string{"GORSE: 8 of 9 bottles left"}, o.Answer)
	assert.Equal(t, ferment.Open, e.Did)
	assert.Equal(t, "open-1", e.Step)
	assert.Equal(t, []any{1.0, measure.Depth(0.5), "a little", measure.Gravity(0.998), "cold", "test"},
		[]any{e.Hiss.Value, e.Foam.Value, e.Taste.Palate, e.Gravity.Value, e.Note, e.Bottle})

	for key, bad := range map[string]string{"hiss": "6", "foam": "high", "gravity": "9.98", "bottle": "X 9"} {
		_, o = f.Outcome(form.Values{"palate": "dry", key: bad})
		require.NotEmpty(t, o.Wrong, key)
		assert.Equal(t, key, o.Wrong[0].Key)
	}
}

func TestOpeningShowsWhatFollows(t *testing.T) {
	_, o := opened(t, "open", gorse(t, 14, "7 open hiss=3")).Outcome(form.Values{"hiss": "3"})
	assert.Contains(t, said(o, words.Due), "store the bottles cool", "two openings equal")
	_, o = opened(t, "open", gorse(t, 14, "7 open hiss=1")).Outcome(form.Values{"hiss": "1"})
	assert.Contains(t, said(o, words.Due), "warm the bottles again")
	_, o = opened(t, "open", gorse(t, 14, "7 open hiss=3")).Outcome(form.Values{"hiss": "5"})
	assert.Contains(t, said(o, words.Stop), "keep everyone away, wear goggles and gloves")
	assert.NotEmpty(t, written(t, o).Hiss.Text, "what has happened is kept")
}

// Bottles that were warmer than the hottest place are not opened without a reason.
func TestHotBottlesNeedAReason(t *testing.T) {
	for _, name := range []string{"open", "drink"} {
		f := opened(t, name, gorse(t, 7, "6 34C"))
		_, o := f.Outcome(form.Values{"hiss": "1"})
		assert.Equal(t, "bottle-heat", o.Closed, name)
		require.NotEmpty(t, o.Wrong, name)
		_, o = f.Outcome(form.Values{"hiss": "1", form.Because: "chilled since"})
		e := written(t, o)
		assert.Equal(t, []string{"bottle-heat", "chilled since"}, []string{e.Overrode, e.Because}, name)
	}
}

func TestDrinkOne(t *testing.T) {
	f := opened(t, "drink", gorse(t, 40, ""))
	fields, o := f.Outcome(nil)
	assert.Equal(t, "G 1", fields[0].Value)
	e := written(t, o)
	assert.Equal(t, []string{"open", "G 1", ""}, []string{string(e.Did), e.Bottle, e.Step})
	assert.False(t, e.Hiss.Known())
	assert.Equal(t, []string{"GORSE: 8 of 9 bottles left, 4 of them to drink"}, o.Answer)

	_, o = f.Outcome(form.Values{"how": "given away", "note": "to the neighbour"})
	assert.Equal(t, "given away; to the neighbour", written(t, o).Note)
	_, o = f.Outcome(form.Values{"how": "poured away"})
	assert.Equal(t, ferment.Dump, written(t, o).Did)

	_, o = opened(t, "drink", gorse(t, 40, `39 open bottle="G 1"`)).Outcome(form.Values{"bottle": "G 1"})
	require.NotEmpty(t, o.Wrong)
	assert.Contains(t, o.Wrong[0].Text, "G 1 is gone already")
	for _, batch := range []string{"3", "-1"} {
		_, ok := form.Open("drink", gorse(t, 40, ""), "gorse", form.Values{form.Batch: batch})
		assert.False(t, ok, "no batch "+batch)
	}
	_, ok := form.Open("drink", gorse(t, 40, "39 dump"), "gorse", nil)
	assert.False(t, ok, "none left")
}

// The plan tastes twice, and two of the nine bottles are reserved for it; taking one of them is warned of.
func TestDrinkingReservedBottlesNeedsAReason(t *testing.T) {
	for _, c := range []struct {
		what, log, bottle string
		days              int
		want              string
	}{
		{"seven for two tastings", "", "", 40, ""},
		{"one of the tastings", "", "G 6", 40, "2 tastings still planned, and this is one of the 2 bottles kept for them"},
		{"three for two", `31 open bottle="G 1-4"`, "", 40, ""},
		{"two for two", `31 open bottle="G 1-5"`, "", 40, "2 tastings still planned, and this is one of the 2 bottles kept for them"},
		{"one is tasted", `30 taste bottle="G 6"|31 open bottle="G 1-5"`, "", 40, "1 tasting still planned, and this is one of the 1 bottle kept for them"},
		{"one is tasted, of one to drink", `30 taste bottle="G 1"|31 open bottle="G 2"`, "", 40, ""},
	} {
		v := form.Values{}
		if c.bottle != "" {
			v["bottle"] = c.bottle
		}
		_, o := opened(t, "drink", gorse(t, c.days, c.log)).Outcome(v)
		eats := strings.Split(said(o, words.Warn), "|")[0]
		if c.want == "" {
			assert.NotContains(t, eats, "still to come", c.what)
			continue
		}
		assert.Contains(t, eats, c.want, c.what)
	}
}
