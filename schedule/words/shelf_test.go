package words

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
)

func shelved(now time.Time, fs ...ferment.Ferment) app.Snapshot {
	s := app.Snapshot{At: now, Cellar: ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC), Ferments: fs}}
	for _, f := range fs {
		s.Vessels = append(s.Vessels, app.Plan(f, s.Cellar, now))
	}
	return s
}

// jarred returns an invented mead of so many litres in bottles, pitched on a day.
func jarred(id string, pitched time.Time, litres float64, bs ...ferment.Bottles) ferment.Ferment {
	f := ferment.Ferment{ID: id, Must: ferment.Must{Volume: measure.Give(measure.Volume(litres), "given")}}
	f.Log = []ferment.Entry{{At: ferment.At(pitched), Did: ferment.Pitch}}
	if len(bs) > 0 {
		f.Log = append(f.Log, ferment.Entry{At: ferment.At(pitched.AddDate(0, 3, 0)), Did: ferment.Bottle, Bottles: bs})
	}
	return f
}

func TestShelfOf(t *testing.T) {
	now := time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)
	pitched := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	none, fizz := measure.Give(measure.Content(0), "none"), measure.Give(measure.Content(5), "5 g/L")
	size := measure.Give(measure.Volume(0.5), "500 mL")
	split := jarred("split", pitched, 3.6, ferment.Bottles{Size: size, Count: 3, Fizz: none}, ferment.Bottles{Size: size, Count: 1, Codes: "S 9", Fizz: fizz, For: "keep"})
	uncounted := jarred("uncounted", pitched, 2, ferment.Bottles{})
	drunk := jarred("drunk", pitched, 1, ferment.Bottles{Count: 1, Fizz: none})
	drunk.Log = append(drunk.Log, ferment.Entry{At: ferment.At(now.AddDate(0, 0, -1)), Did: ferment.Open, Bottle: "drink"})
	s := shelved(now, split, uncounted, drunk, jarred("working", pitched, 4))
	closed := jarred("closed", pitched.AddDate(-1, 0, 0), 10)
	s.Cellar.Past = []ferment.Ferment{closed}
	w := ShelfOf(s, Of(s))
	require.Len(t, w.Rows, 3, "a batch each, and none where nothing is left")
	assert.Equal(t, []string{"split", "split", "uncounted"}, []string{w.Rows[0].ID, w.Rows[1].ID, w.Rows[2].ID})
	assert.Equal(t, []string{"still", "5.0 g/L", "1", "0"}, []string{w.Rows[0].Fizz, w.Rows[1].Fizz, w.Rows[1].Keep.String(), w.Rows[1].Drink.String()})
	assert.Equal(t, "1 × 500 mL (S 9)", w.Rows[1].Card.Kinds)
	assert.Equal(t, Unknown, w.Rows[2].Left.String())
	assert.Equal(t, "4 bottles and some that nobody counted", w.Total)
	assert.Equal(t, "made this year: 10.6 L, 2.8 US gal; last year: 10.0 L, 2.6 US gal; check your local law", w.Made)
	assert.Contains(t, w.Rows[1].Card.Expected, "cannot tell: the alcohol is not known")
}

func TestSeedOfATasting(t *testing.T) {
	now := time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)
	a, b := jarred("a", now.AddDate(0, -6, 0), 1), jarred("b", now.AddDate(0, -6, 0), 1)
	s := shelved(now, a, b)
	seed := TastingSeed([]app.Vessel{s.Vessels[0], s.Vessels[1]}, now)
	assert.Equal(t, seed, TastingSeed([]app.Vessel{s.Vessels[1], s.Vessels[0]}, now.Add(time.Hour)), "in whatever order, all day")
	assert.NotEqual(t, seed, TastingSeed(s.Vessels, now.AddDate(0, 0, 1)))
	a.Log = append(a.Log, ferment.Entry{At: ferment.At(now), Did: ferment.Taste})
	assert.NotEqual(t, seed, TastingSeed(shelved(now, a, b).Vessels, now), "a second one on that day is blind again")
}

// Until when a batch is to be drunk: common practice, no source.
func TestDrinkBy(t *testing.T) {
	b := shelf.Batch{At: time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)}
	for _, c := range []struct {
		alcohol   measure.Strength
		sulphited bool
		says      string
	}{{6, true, "drink by about May 2027, taste one first"}, {11, false, "drink by about May 2028, taste one first"}, {11, true, ""}, {15, false, ""}, {0, false, ""}} {
		k := &course.Course{Alcohol: course.Known(c.alcohol)}
		if c.alcohol == 0 {
			k.Alcohol = course.Unknown[measure.Strength]("no reading yet")
		}
		if c.sulphited {
			k.Entries = []*ferment.Entry{{Did: ferment.Sulphite}}
		}
		says := ""
		if by, has := shelf.DrinkBy(k, b); has {
			says = "drink by about " + by.Format("January 2006") + ", taste one first"
		}
		assert.Equal(t, c.says, says)
	}
}
