package remark_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/remark"
)

var now = time.Date(2026, time.November, 1, 9, 0, 0, 0, time.UTC)

// entries parses lines of "2026-10-05 07:00:00 1.066" and numbers them from 10.
func entries(t *testing.T, text string) []ferment.Entry {
	t.Helper()
	var log []ferment.Entry
	for i, one := range strings.Split(text, "|") {
		date, rest, _ := strings.Cut(strings.TrimSpace(one), " ")
		clock, what, _ := strings.Cut(rest, " ")
		at, err := time.Parse("2006-01-02 15:04:05", date+" "+clock)
		require.NoError(t, err)
		l, err := line.Parse(what, line.Context{Now: at, Zone: time.UTC})
		require.NoError(t, err)
		l.Entry.At, l.Entry.Order, l.Entry.Line = ferment.At(at), i, 10+i
		log = append(log, l.Entry)
	}
	return log
}

func cellar(fs ...ferment.Ferment) ferment.Cellar {
	return ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC), Ferments: fs}
}

func jug(log []ferment.Entry) ferment.Ferment {
	return ferment.Ferment{ID: "heath", File: "ferments/heath.yaml", Log: log, Lines: map[string]int{"must": 4, "vessel": 3}}
}

// told returns the places of remarks.
func told(ps []ferment.Problem) string {
	var places []string
	for _, p := range ps {
		places = append(places, fmt.Sprintf("%s:%d", strings.TrimSuffix(p.File[strings.LastIndex(p.File, "/")+1:], ".yaml"), p.Line))
	}
	return strings.Join(places, " ")
}

// What counts as typed twice and what does not: both sides of every boundary
// (a minute, the spacing of doses, midnight).
func TestEntryTwice(t *testing.T) {
	for _, c := range []struct{ what, log, want string }{
		{"the same reading within a minute", "2026-10-05 07:00:00 1.066|2026-10-05 07:00:59 1.066", "heath:11"},
		{"after a minute", "2026-10-05 07:00:00 1.066|2026-10-05 07:01:00 1.066", ""},
		{"another value", "2026-10-05 07:00:00 1.066|2026-10-05 07:00:00 1.065", ""},
		{"in any order of the file", "2026-10-05 07:00:30 1.066|2026-10-05 07:00:00 1.066", "heath:10"},
		{"of other instruments", "2026-10-05 07:00:00 1.066|2026-10-05 07:00:00 16.1bx", ""},
		{"three times", "2026-10-05 07:00:00 1.066|2026-10-05 07:00:30 1.066|2026-10-05 07:01:00 1.066", "heath:11 heath:12"},
		{"of two glasses", "2026-10-05 07:00:00 open 1.000|2026-10-05 07:00:00 open 1.000", ""},
		{"a dose within twelve hours", "2026-10-05 07:00:00 nutrient 1g|2026-10-05 18:59:59 nutrient 2g", "heath:11"},
		{"after twelve hours", "2026-10-05 07:00:00 nutrient 1g|2026-10-05 19:00:00 nutrient 2g", ""},
		{"the same dose later on one day", "2026-10-05 07:00:00 nutrient 1g|2026-10-05 19:00:00 nutrient 1000mg", "heath:11"},
		{"the same dose on two days", "2026-10-05 20:00:00 nutrient 1g|2026-10-06 08:00:00 nutrient 1g", ""},
		{"two nutrients at once", "2026-10-05 07:00:00 nutrient 1g of=salt|2026-10-05 07:01:00 nutrient 1g of=hulls", ""},
		{"acid by steps", "2026-10-05 07:00:00 acid 1g|2026-10-05 07:30:00 acid 0.5g", ""},
		{"acid the same", "2026-10-05 07:00:00 acid 1g|2026-10-05 23:30:00 acid 1g", "heath:11"},
		{"against advice", "2026-10-05 07:00:00 nutrient 1g|2026-10-05 08:00:00 nutrient 1g overrode=spacing because=spilt", ""},
		{"of now", "2026-11-01 09:00:00 degas", ""},
		{"of a second later", "2026-11-01 09:00:01 degas", "heath:10"},
	} {
		assert.Equal(t, c.want, told(remark.Of(cellar(jug(entries(t, c.log))), now)), c.what)
	}
}

func TestCulturesAndClosedOnesCount(t *testing.T) {
	c := cellar()
	c.Past = []ferment.Ferment{jug(entries(t, "2026-10-05 07:00:00 1.066|2026-10-05 07:00:00 1.066"))}
	c.Cultures = []ferment.Culture{{ID: "hawthorn-3", Log: entries(t, "2026-10-05 07:00:00 1.030|2026-10-05 07:00:00 1.030|2026-12-05 07:00:00 passage")}}
	assert.Equal(t, "cultures:11 cultures:12 heath:11", told(remark.Of(c, now)))
}

func TestVolumeOverTheBrim(t *testing.T) {
	litres := func(text string) measure.Given[measure.Volume] {
		v, err := measure.ParseVolume(text)
		require.NoError(t, err)
		return v
	}
	for _, c := range []struct{ what, brimful, must, log, want string }{
		{"as full as it can be", "4.1 L", "4.1 L", "2026-10-05 07:00:00 pitch", ""},
		{"too much must", "4.1 L", "4.2 L", "2026-10-05 07:00:00 pitch", "heath:4"},
		{"nobody says what it holds", "", "9 L", "2026-10-05 07:00:00 pitch", ""},
		{"a volume measured", "4.1 L", "4.0 L", "2026-10-05 07:00:00 pitch|2026-10-06 07:00:00 vol5L", "heath:11"},
		{"topped up past the brim", "4.1 L", "4.0 L", "2026-10-05 07:00:00 pitch|2026-10-06 07:00:00 top-up 0.2L", "heath:3"},
		{"topped up to the brim", "4.1 L", "4.0 L", "2026-10-05 07:00:00 pitch|2026-10-06 07:00:00 top-up 0.1L", ""},
		{"poured away first", "4.1 L", "4.0 L", "2026-10-05 07:00:00 pitch lost=1L|2026-10-06 07:00:00 top-up 0.2L", ""},
	} {
		f := jug(entries(t, c.log))
		f.Must.Volume = litres(c.must)
		if c.brimful != "" {
			f.Vessel.Brimful = litres(c.brimful)
		}
		assert.Equal(t, c.want, told(remark.Of(cellar(f), now)), c.what)
	}
	f := jug(entries(t, "2026-10-05 07:00:00 pitch|2026-10-20 07:00:00 rack|2026-10-21 07:00:00 vol4L"))
	f.Must.Volume, f.Vessel.Brimful = litres("4.0 L"), litres("4.1 L")
	f.Log[1].To.Brimful = litres("3.8 L")
	assert.Equal(t, "heath:12", told(remark.Of(cellar(f), now)), "the smaller jug it was racked to")
}

func TestHoneyOverdrawn(t *testing.T) {
	kilos := func(v float64) measure.Given[measure.Mass] {
		return measure.Give(measure.Mass(v), measure.Decimal(v, 3)+" kg")
	}
	c := cellar(jug(entries(t, "2026-10-05 07:00:00 honey 100g lot=moor-26")))
	c.Ferments[0].Must.Honey = []ferment.HoneyPart{{Lot: "moor-26", Mass: kilos(0.5)}}
	c.Past = []ferment.Ferment{{ID: "lime", File: "ferments/past/lime.yaml", Must: ferment.Must{Honey: []ferment.HoneyPart{{Lot: "moor-26", Mass: kilos(0.3)}}}}}
	c.Lots = []ferment.Lot{{ID: "moor-26", Line: 7, Mass: kilos(1), Used: []ferment.Use{{Mass: kilos(0.1), For: "table"}}}}
	assert.Empty(t, remark.Of(c, now), "used to the last drop")
	c.Lots[0].Used[0].Mass = kilos(0.101)
	got := remark.Of(c, now)
	require.Equal(t, "honey:7", told(got))
	assert.Equal(t, `lot "moor-26": 1.000 kg was taken and 1001 g is used, by lime 300 g, table 101 g, heath 500 g, heath 100 g (one of these is wrong)`, got[0].Message)
	c.Lots[0].Mass = measure.Given[measure.Mass]{}
	assert.Empty(t, remark.Of(c, now), "nobody weighed it")
}

func TestCodesTwice(t *testing.T) {
	for _, c := range []struct{ one, two, want string }{
		{"BH-A 1-8", "BH-A 9-12", ""},
		{"BH-A 1-8", "BH-A 8-12", `"BH-A 8"`},
		{"BH-A 1-8", "BH-B 1-8", ""},
		{"BH-A 1-3, 7", "bh-a 7", `"bh-a 7"`},
		{"BH-A 1–3", "BH-A 2", `"BH-A 2"`},
		{"red cap", "Red cap", `"Red cap"`},
		{"2026-1", "2026-2", ""},
		{"A1, A2, 3", "A3", `"A3"`},
		{"7", "1-9", `"7"`},
		{"", "", ""},
		{"A 1-9999", "A 9999", `"A 9999"`},
	} {
		f := jug([]ferment.Entry{{At: ferment.At(now), Line: 10, Bottles: []ferment.Bottles{{Codes: c.one}, {Codes: c.two}}}})
		got := remark.Of(cellar(f), now)
		if c.want == "" {
			assert.Empty(t, got, c.one)
			continue
		}
		require.Len(t, got, 1, c.one)
		assert.Contains(t, got[0].Message, "the bottle code "+c.want+" is that of ferments/heath.yaml:10 too")
	}
}

// Text from a file is escaped in remarks.
func TestRemarksAreHarmless(t *testing.T) {
	f := jug([]ferment.Entry{{At: ferment.At(now), Line: 10, Bottles: []ferment.Bottles{{Codes: "\x1b[31m"}, {Codes: "\x1b[31m"}}}})
	c := cellar(f)
	c.Lots = []ferment.Lot{{ID: "a\u202e\x1b", Line: 7, Mass: measure.Give(measure.Mass(1), "1 kg"),
		Used: []ferment.Use{{Mass: measure.Give(measure.Mass(2), "2 kg"), For: "\x1b[2J"}}}}
	got := remark.Of(c, now)
	require.Len(t, got, 2)
	for _, p := range got {
		assert.NotContains(t, p.Message, "\x1b")
	}
}

// TestAlcoholBeyondTheTolerance: a must over 1.130, or with more sugar than the yeast tolerates, gets a remark while
// something can still be done about it.
func TestAlcoholBeyondTheTolerance(t *testing.T) {
	for _, c := range []struct {
		what      string
		gravity   measure.Gravity
		tolerance measure.Given[measure.Strength]
		log, says string
	}{
		{"a light must", 1.084, measure.Given[measure.Strength]{}, "2026-10-05 07:00:00 pitch", ""},
		{"a strong must", 1.140, measure.Give[measure.Strength](20, "20 %"), "2026-10-05 07:00:00 pitch", "over 1.130 many yeasts"},
		{"too much for its yeast", 1.115, measure.Give[measure.Strength](14, "14 %"), "2026-10-05 07:00:00 pitch", "the sugar could make 16.3 % vol, and the yeast is said to reach 14.0 % vol"},
		{"the same, past the two-thirds break", 1.115, measure.Give[measure.Strength](14, "14 %"), "2026-10-05 07:00:00 pitch|2026-10-20 07:00:00 1.020", ""},
	} {
		f := jug(entries(t, c.log))
		f.Must.Gravity, f.Yeast.Tolerance = measure.Give(c.gravity, "given"), c.tolerance
		found := remark.Of(cellar(f), now)
		if c.says == "" {
			assert.Empty(t, found, c.what)
			continue
		}
		require.Len(t, found, 1, c.what)
		assert.Contains(t, found[0].Message, c.says, c.what)
		assert.Equal(t, "heath:4", told(found), c.what)
	}
}

// A must differs from its honey from 0.0041 on, whoever measured it; 980 g of honey with 17.2 % of water in 3.6 L make
// 1.0864 (calculated in ferment/honey).
func TestMustGravityDiffersFromItsHoney(t *testing.T) {
	for _, c := range []struct {
		what, gravity, log string
		fruit              []ferment.FruitPart
		want               string
	}{
		{"as its honey", "1.0864", "2026-10-05 07:00:00 pitch", nil, ""},
		{"4 points over", "1.0904", "2026-10-05 07:00:00 pitch", nil, ""},
		{"more", "1.0905", "2026-10-05 07:00:00 pitch", nil, "the must was read at 1.091, and its honey in 3.6 L comes to 1.086"},
		{"more under", "1.0823", "2026-10-05 07:00:00 pitch", nil, "the must was read at 1.082"},
		{"read in the log", "", "2026-10-05 07:00:00 1.068@20|2026-10-05 08:00:00 pitch", nil, "the must was read at 1.068"},
		{"not read", "", "2026-10-05 07:00:00 pitch", nil, ""},
		{"with fruit", "1.1000", "2026-10-05 07:00:00 pitch", []ferment.FruitPart{{Name: "bramble", Mass: measure.Give(measure.Mass(0.5), "500 g")}}, ""},
	} {
		f := jug(entries(t, c.log))
		f.Must = ferment.Must{Volume: measure.Give(measure.Volume(3.6), "3.6 L"), Fruit: c.fruit,
			Honey: []ferment.HoneyPart{{Mass: measure.Give(measure.Mass(0.98), "980 g"), Water: measure.Give(measure.Share(17.2), "17.2 %")}}}
		if c.gravity != "" {
			f.Must.Gravity, _ = measure.ParseGravity(c.gravity)
		}
		found := remark.Of(cellar(f), now)
		if c.want == "" {
			assert.Empty(t, found, c.what)
			continue
		}
		if assert.Len(t, found, 1, c.what) {
			assert.Contains(t, found[0].Message, c.want, c.what)
			assert.Equal(t, "heath:4", told(found), c.what)
		}
	}
}

// Honey cannot be used before its harvest, but it can on the same day.
func TestHoneyBeforeItsHarvest(t *testing.T) {
	for day, want := range map[string]string{"2026-08-19": `lot "moor-26" was taken on 2026-08-20, and heath has honey of it from 2026-08-19: which date is wrong?`, "2026-08-20": ""} {
		f := jug(entries(t, day+" 07:00:00 mix"))
		f.Must.Honey = []ferment.HoneyPart{{Lot: "moor-26", Mass: measure.Give(measure.Mass(0.98), "980 g")}}
		c := cellar(f)
		c.Lots = []ferment.Lot{{ID: "moor-26", Line: 7, Taken: ferment.At(time.Date(2026, 8, 20, 0, 0, 0, 0, time.UTC)), Mass: measure.Give(measure.Mass(5), "5 kg")}}
		found := remark.Of(c, now)
		if want == "" {
			assert.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Equal(t, want, found[0].Message)
		assert.Equal(t, "honey:7", told(found))
	}
}

// More of a culture cannot be pitched than there was of its medium, also if it has another medium since.
func TestMoreOfACulturePitchedThanThereWas(t *testing.T) {
	for log, want := range map[string]string{
		"2026-10-05 07:00:00 pitch 180mL":                               "",
		"2026-10-05 07:00:00 pitch 120.4mL":                             "",
		"2026-10-05 07:00:00 pitch 121mL":                               `culture "sloe-1": 1.0 mL more was pitched than there was, by HEATH 121 mL, LIME 180 mL (one of these is wrong)`,
		"2026-10-05 07:00:00 starter 200mL|2026-10-05 08:00:00 pitch":   "",
		"2026-10-08 07:00:00 pitch 180mL":                               "", // of the next medium
		"2026-10-05 07:00:00 pitch 400mL|2026-10-06 07:00:00 pitch 1 L": `culture "sloe-1": 280 mL more was pitched than there was, by HEATH 400 mL, LIME 180 mL (one of these is wrong)`,
	} {
		f, other := jug(entries(t, log)), jug(entries(t, "2026-10-04 07:00:00 pitch 180mL"))
		f.Yeast.Culture, f.Tag = "sloe-1", "HEATH"
		other.ID, other.File, other.Tag, other.Yeast.Culture = "lime", "ferments/lime.yaml", "LIME", "sloe-1"
		if strings.Contains(log, "180mL") {
			other.Log = nil
		}
		c := cellar(f, other)
		c.Cultures = []ferment.Culture{{ID: "sloe-1", Line: 3, Log: entries(t, "2026-10-01 07:00:00 passage medium=300mL|2026-10-07 07:00:00 passage medium=200mL")}}
		found := remark.Of(c, now)
		if want == "" {
			assert.Empty(t, found, log)
			continue
		}
		require.Len(t, found, 1, log)
		assert.Equal(t, want, found[0].Message)
		assert.Equal(t, "cultures:3", told(found))
	}
}
