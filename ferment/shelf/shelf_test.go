package shelf_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// filled is the day of the bottling in every log here.
var filled = time.Date(2026, 9, 20, 11, 0, 0, 0, time.UTC)

func bottles(kind string, count int, codes, fizz, purpose string) ferment.Bottles {
	b := ferment.Bottles{Kind: kind, Count: count, Codes: codes, For: purpose, Size: measure.Give(measure.Volume(0.33), "330 mL")}
	switch fizz {
	case "":
	case "none":
		b.Fizz = measure.Give(measure.Content(0), "none")
	default:
		c, err := measure.ParseCarbonation(fizz)
		if err != nil {
			panic(err)
		}
		b.Fizz = c
	}
	return b
}

const crown = "crown beer bottle"

func bottled(bs ...ferment.Bottles) *ferment.Entry {
	return &ferment.Entry{At: ferment.At(filled), Did: ferment.Bottle, Bottles: bs}
}

// logged parses entries by the day since the bottling: "7 open hiss=3 | 7.1 taste".
func logged(t *testing.T, text string) (log []*ferment.Entry) {
	t.Helper()
	for _, part := range strings.Split(text, "|") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		var days float64
		day, typed, _ := strings.Cut(part, " ")
		_, err := fmt.Sscanf(day, "%g", &days)
		require.NoError(t, err, part)
		at := filled.Add(time.Duration(days * 24 * float64(time.Hour))).Round(time.Second)
		line, err := line.Parse(typed, line.Context{Now: at, Zone: time.UTC})
		require.NoError(t, err, part)
		line.Entry.At = ferment.At(at)
		log = append(log, &line.Entry)
	}
	return log
}

func courseOf(log []*ferment.Entry, change ...func(*course.Course)) *course.Course {
	c := &course.Course{Settings: ferment.DefaultSettings(time.UTC), Entries: log, Alcohol: course.Known(measure.Strength(11.9))}
	for _, f := range change {
		f(c)
	}
	return c
}

// gorse returns a bottling with bottles for every purpose, one of the test bottles soft.
func gorse() *ferment.Entry {
	return bottled(bottles(crown, 6, "G 1-6", "5.0 g/L", ""), bottles(crown, 2, "G 7-8", "5.0 g/L", "tasting"),
		bottles("soft-drink bottle", 1, "", "5.0 g/L", "test"), bottles(crown, 2, "", "5.0 g/L", "test"), bottles(crown, 1, "G 12", "5.0 g/L", "keep"))
}

func TestWhatIsLeft(t *testing.T) {
	for _, c := range []struct {
		what, log string
		want      string // drink, keep, tasting, test
	}{
		{"all of them", "", "6 1 2 3"},
		{"an opening is a test", "7 open hiss=1", "6 1 2 2"},
		{"three openings", "7 open hiss=1|14 open hiss=3|28 open hiss=3", "6 1 2 0"},
		{"without a test bottle it is one to drink", "7 open|14 open|28 open|58 open", "5 1 2 0"},
		{"a tasting is one of the tastings", "30 taste nose=hay", "6 1 1 3"},
		{"after them one to drink", "30 taste|90 taste|180 taste", "5 1 0 3"},
		{"opened and tasted is once", "7 open hiss=1|7.1 taste nose=hay", "6 1 2 2"},
		{"opened, tasted by two", "7 open hiss=1|7.1 taste nose=hay|7.2 taste nose=lemon", "6 1 2 2"},
		{"tasted the day after is another", "7 open hiss=1|8 taste nose=hay", "6 1 1 2"},
		{"two opened on one day are two", "7 open hiss=1|7.1 open hiss=1", "6 1 2 1"},
		{"one to drink by its word", "7 open bottle=drink", "5 1 2 3"},
		{"one that was kept", "7 open bottle=keep", "6 0 2 3"},
		{"by its code", `7 open bottle="G 3"`, "5 1 2 3"},
		{"by its code in another hand", "7 open bottle=g3", "5 1 2 3"},
		{"by its number", "7 open bottle=12", "6 0 2 3"},
		{"two codes in one entry", `7 open bottle="G 3-4"`, "4 1 2 3"},
		{"the same code again", `7 open bottle="G 3"|9 taste bottle="G 3"`, "5 1 2 3"},
		{"a tasting by a code to drink", `30 taste bottle="G 1"`, "5 1 2 3"},
		{"by its kind", `7 open bottle="soft-drink bottle"`, "6 1 2 2"},
		{"by a code of no bottle here", `7 open bottle="X 99"`, "6 1 2 2"},
		{"squeezed only", "2 squeeze feel=firm", "6 1 2 3"},
		{"one that burst", `7 dump bottle="G 3"`, "5 1 2 3"},
		{"all poured away", "7 dump", "0 0 0 0"},
		{"before they were filled", "-9 open|-8 taste", "6 1 2 3"},
		{"more than there were", strings.Repeat("7 open bottle=keep|", 3), "6 0 2 3"},
	} {
		log := logged(t, c.log)
		at := 0
		for at < len(log) && log[at].At.Time.Before(filled) {
			at++
		}
		log = append(append(log[:at:at], gorse()), log[at:]...)
		s := shelf.Of(courseOf(log))
		got := fmt.Sprint(s.Left(shelf.Drink), s.Left(shelf.Keep), s.Left(shelf.Tasting), s.Left(shelf.Test))
		assert.Equal(t, c.want, got, c.what)
	}
}

func TestCodesThatAreLeft(t *testing.T) {
	s := shelf.Of(courseOf(append([]*ferment.Entry{gorse()}, logged(t, `7 open bottle="G 2"|8 open bottle="G 5-6"`)...)))
	assert.Equal(t, []string{"G 1", "G 3", "G 4"}, s.Batches[0].Lines[0].Codes)
	assert.Equal(t, shelf.Count{N: 9}, s.Left())
	v, known := s.Batches[0].Volume()
	assert.True(t, known)
	assert.InDelta(t, 9*0.33, float64(v), 1e-9)
}

// The soft bottle is opened last, because it shows how hard the others are.
func TestSoftBottleIsOpenedLast(t *testing.T) {
	s := shelf.Of(courseOf(append([]*ferment.Entry{gorse()}, logged(t, "7 open|14 open")...)))
	assert.Equal(t, 1, s.Batches[0].Lines[2].Left.N)
	assert.Equal(t, 0, s.Batches[0].Lines[3].Left.N)
}

// It is not proposed either while a glass bottle is left.
func TestSoftBottleIsNotProposed(t *testing.T) {
	s := shelf.Of(courseOf([]*ferment.Entry{bottled(bottles("soft-drink bottle", 1, "T 1", "5.0 g/L", "test"), bottles(crown, 1, "T 2", "5.0 g/L", "test"))}))
	assert.Equal(t, "T 2", s.Name(0, shelf.Test))
	alone := shelf.Of(courseOf([]*ferment.Entry{bottled(bottles("soft-drink bottle", 1, "T 1", "5.0 g/L", "test"), bottles(crown, 1, "T 2", "5.0 g/L", ""))}))
	assert.Empty(t, alone.Name(0, shelf.Test), "it is squeezed, not opened")
}

func TestUnknownBottleCounts(t *testing.T) {
	s := shelf.Of(courseOf(append([]*ferment.Entry{bottled(bottles(crown, 0, "", "none", ""), bottles(crown, 0, "T 1-2", "none", "tasting"))}, logged(t, "30 open")...)))
	assert.Equal(t, "·", s.Left().String())
	assert.Equal(t, "·", s.Left(shelf.Drink).String())
	assert.Equal(t, "2", s.Left(shelf.Tasting).String(), "as many as there are codes")
	assert.True(t, s.Left(shelf.Drink).Some())
	_, known := s.Batches[0].Volume()
	assert.False(t, known)
	assert.False(t, s.Batches[0].LeavesTooFew(shelf.Drink, 9))
}

func TestSplitEndings(t *testing.T) {
	still, fizzy := bottled(bottles("still-wine bottle", 3, "", "none", "")), bottled(bottles(crown, 5, "", "5.0 g/L", "drink"), bottles(crown, 2, "", "5.0 g/L", "test"))
	still.Left = measure.Give(measure.Volume(2.2), "2.2 L")
	fizzy.At = ferment.At(filled.AddDate(0, 0, 9))
	log := append(append([]*ferment.Entry{still}, logged(t, "3 taste nose=hay")...), fizzy)
	s := shelf.Of(courseOf(append(log, logged(t, "16 open hiss=2|23 open bottle=drink")...)))
	require.Len(t, s.Batches, 2)
	assert.True(t, s.Batches[0].Still())
	assert.False(t, s.Batches[1].Still())
	assert.Equal(t, 2, s.Batches[0].Left().N, "tasted from the vessel, which still held some; then one to drink")
	assert.Equal(t, 6, s.Batches[1].Left().N)
	assert.Len(t, s.Openings(1), 1)
	assert.Equal(t, 7, s.Openings(1)[0].Days)

	same := bottled(bottles(crown, 3, "", "none", ""), bottles(crown, 3, "", "4 g/L", ""))
	assert.Len(t, shelf.Of(courseOf([]*ferment.Entry{same})).Batches, 2, "one day, two fizzes")
}

func TestPartHasItsOwnShelf(t *testing.T) {
	c := courseOf([]*ferment.Entry{gorse()}, func(c *course.Course) {
		c.Ferment.From = ferment.Origin{Ferment: "gorse", At: ferment.At(filled.Add(time.Hour))}
	})
	assert.Empty(t, shelf.Of(c).Batches)
}

func TestDrinkingReservedBottlesIsWarned(t *testing.T) {
	for _, c := range []struct {
		drink, tasting, toCome int
		purpose                string
		want                   bool
	}{
		{6, 2, 4, "drink", false}, {3, 2, 4, "drink", false}, {2, 2, 4, "drink", true}, {6, 0, 6, "drink", true}, {7, 0, 6, "drink", false},
		{6, 4, 4, "tasting", true}, {6, 5, 4, "tasting", false}, {1, 0, 0, "drink", false}, {1, 0, 4, "test", false}, {1, 0, 4, "keep", false},
	} {
		var lines []ferment.Bottles
		for purpose, n := range map[string]int{"drink": c.drink, "tasting": c.tasting, "test": 1, "keep": 1} {
			if n > 0 {
				lines = append(lines, bottles(crown, n, "", "none", purpose))
			}
		}
		b := shelf.Of(courseOf([]*ferment.Entry{bottled(lines...)})).Batches[0]
		assert.Equal(t, c.want, b.LeavesTooFew(c.purpose, c.toCome), "%+v", c)
	}
}
