package shelf

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	entryline "cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/tui/intent"
)

var update = flag.Bool("update", false, "write the goldens anew")

var now = time.Date(2026, 10, 18, 10, 30, 0, 0, time.UTC)

func on(y int, m time.Month, d int) ferment.Moment {
	return ferment.At(time.Date(y, m, d, 11, 0, 0, 0, time.UTC))
}

// line parses an entry line and dates it.
func line(at ferment.Moment, typed string) ferment.Entry {
	l, err := entryline.Parse(typed, entryline.Context{Now: at.Time, Zone: time.UTC})
	if err != nil {
		panic(err)
	}
	l.Entry.At = at
	return l.Entry
}

func bottles(kind, size string, count int, codes, fizz, purpose string) ferment.Bottles {
	b := ferment.Bottles{Kind: kind, Count: count, Codes: codes, For: purpose, Fizz: measure.Give(measure.Content(0), "none")}
	b.Size, _ = measure.ParseVolume(size)
	if fizz != "none" {
		b.Fizz, _ = measure.ParseCarbonation(fizz)
		b.Honey = measure.Give(measure.Grams(3), "3.0 g")
	}
	return b
}

// mead returns an invented mead, pitched and bottled on those days.
func mead(id, tag, name string, ending ferment.Ending, pitched, bottled ferment.Moment, filled ...ferment.Bottles) ferment.Ferment {
	f := ferment.Ferment{ID: id, Tag: tag, Name: name, Endings: []ferment.Ending{ending}, File: "ferments/" + id + ".yaml"}
	f.Must = ferment.Must{Volume: measure.Give(measure.Volume(3.6), "3.6 L"), Gravity: measure.Give(measure.Gravity(1.084), "1.084")}
	f.Log = []ferment.Entry{line(pitched, "pitch"), line(ferment.At(bottled.Time.AddDate(0, 0, -1)), "0.9960"), {At: bottled, Did: ferment.Bottle, Bottles: filled}}
	return f
}

// stock returns a shelf with something in every column.
func stock(change ...func(map[string]*ferment.Ferment)) app.Snapshot {
	gorse := mead("gorse", "GORSE", "gorse, hawthorn", ferment.BottleConditioned, on(2026, 7, 1), on(2026, 9, 20),
		bottles("crown beer bottle", "330 mL", 6, "G 1-6", "5.0 g/L", ""), bottles("crown beer bottle", "330 mL", 2, "G 7-8", "5.0 g/L", "tasting"),
		bottles("crown beer bottle", "330 mL", 3, "", "5.0 g/L", "test"), bottles("soft-drink bottle", "500 mL", 1, "", "5.0 g/L", "test"))
	gorse.Must.Honey = []ferment.HoneyPart{{Lot: "gorse-26"}, {Lot: "hawthorn"}}
	gorse.Log = append(gorse.Log, line(on(2026, 9, 20), `19C place="the crate by the stair"`), line(on(2026, 9, 27), "open hiss=1 foam=0.5cm palate=sweet"),
		line(on(2026, 10, 3), "squeeze feel=firm"), line(on(2026, 10, 4), `open hiss=3 foam=2cm palate="a little"`),
		line(on(2026, 10, 15), `taste bottle="G 1" nose=gorse`))
	w := mead("clover-w", "CLO-W", "white clover", ferment.Still, on(2025, 3, 1), on(2025, 10, 25), bottles("still-wine bottle", "330 mL", 9, "", "none", ""))
	w.Log[2].Bottles = append(w.Log[2].Bottles[:0], bottles("still-wine bottle", "330 mL", 4, "", "none", ""), bottles("still-wine bottle", "330 mL", 5, "W 1-5", "none", "tasting"), bottles("still-wine bottle", "330 mL", 1, "", "none", "keep"))
	w.Log = append(w.Log, line(on(2025, 11, 25), "taste nose=hay score=70"), line(on(2026, 1, 25), "taste nose=lemon score=74"), line(on(2026, 4, 25), "taste nose=wax score=78"),
		line(on(2026, 6, 1), "open bottle=drink"), line(on(2026, 7, 1), "open bottle=drink"))
	c := w
	c.ID, c.Tag, c.File = "clover-c", "CLO-C", "ferments/clover-c.yaml"
	w.Trial, c.Trial = ferment.Trial{Name: "clover", Differs: "yeast"}, ferment.Trial{Name: "clover", Differs: "yeast"}
	c.Log = append(append([]ferment.Entry{}, w.Log...), line(on(2026, 8, 1), "open bottle=drink"))
	thyme := mead("thyme", "THYME", "thyme", ferment.Sweetened, on(2026, 1, 10), on(2026, 5, 2), bottles("still-wine bottle", "330 mL", 8, "", "none", ""), bottles("still-wine bottle", "330 mL", 4, "T 9-12", "none", "tasting"))
	thyme.Log = append(thyme.Log, line(on(2026, 6, 2), "taste nose=herbs"), line(on(2026, 8, 2), "taste nose=herbs"))

	cellar := ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC), Protocols: journal.Plans(protocols.Files())}
	cellar.Lots = []ferment.Lot{{ID: "gorse-26", Name: "gorse"}}
	byID := map[string]*ferment.Ferment{}
	fs := []ferment.Ferment{gorse, w, c, thyme}
	for i := range fs {
		byID[fs[i].ID] = &fs[i]
	}
	for _, f := range change {
		f(byID)
	}
	s := app.Snapshot{At: now, Cellar: cellar}
	for _, f := range fs {
		for i := range f.Log {
			f.Log[i].Order = i
		}
		s.Cellar.Ferments = append(s.Cellar.Ferments, f)
		s.Vessels = append(s.Vessels, app.Plan(f, cellar, now))
	}
	return s
}

func shown(s app.Snapshot, w, h int) view {
	return shownIn(Model{}, s, w, h)
}

// dangers returns the same shelf after a hiss of five.
func dangers() app.Snapshot {
	return stock(func(fs map[string]*ferment.Ferment) {
		fs["gorse"].Log = append(fs["gorse"].Log, line(on(2026, 10, 17), "open hiss=5 foam=9cm"))
	})
}

func TestScreens(t *testing.T) {
	for name, s := range map[string]app.Snapshot{"shelf": stock(), "shelf-danger": dangers(), "shelf-empty": {At: now, Cellar: ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC)}}} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("%s-%dx%d.txt", name, size[0], size[1]))
			got := shown(s, size[0], size[1]).screen("Space done   t taste   ? help") + "\n"
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, file)
		}
	}
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	for _, s := range []app.Snapshot{stock(), dangers(), {At: now}} {
		for w := 1; w <= 130; w += 3 {
			for h := 1; h <= 50; h += 7 {
				for _, m := range []view{shown(s, w, h), do1(shown(s, w, h), intent.Bottom), do1(shown(s, w, h), intent.PageDown, intent.PageDown, intent.PageDown)} {
					rows := strings.Split(m.screen("foot"), "\n")
					assert.Len(t, rows, h)
					for _, r := range rows {
						assert.LessOrEqual(t, ansi.StringWidth(r), w, "%dx%d", w, h)
					}
				}
			}
		}
	}
}

func do(m view, as ...intent.Action) (view, intent.Intent) { return m.does(as...) }

func do1(m view, as ...intent.Action) view {
	m, _ = m.does(as...)
	return m
}

func TestKeysAndIntents(t *testing.T) {
	m := shown(stock(), 100, 30)
	for _, c := range []struct {
		what string
		keys []intent.Action
		want intent.Intent
	}{
		{"a test bottle that is due", []intent.Action{intent.Done}, intent.Fill{Form: "open", Subject: "gorse", Given: map[string]string{"batch": "0"}}},
		{"two of a trial", []intent.Action{intent.Down, intent.Done}, intent.Taste{Subjects: []string{"clover-w", "clover-c"}, Step: "taste", Blind: true}},
		{"a bottle of which nothing is due", []intent.Action{intent.Bottom, intent.Done}, intent.Fill{Form: "drink", Subject: "thyme", Given: map[string]string{"batch": "0"}}},
		{"one to drink, though a test is due", []intent.Action{intent.Side, intent.Done}, intent.Fill{Form: "drink", Subject: "gorse", Given: map[string]string{"batch": "0"}}},
		{"its page", []intent.Action{intent.Down, intent.Open}, intent.OpenPage{Subject: "clover-w"}},
		{"a taste alone", []intent.Action{intent.Bottom, intent.Tasting}, intent.Taste{Subjects: []string{"thyme"}}},
		{"a taste that is due", []intent.Action{intent.Bottom, intent.Up, intent.Tasting}, intent.Taste{Subjects: []string{"clover-w", "clover-c"}, Step: "taste", Blind: true}},
	} {
		_, got := do(m, c.keys...)
		assert.Equal(t, c.want, got, c.what)
	}
}

func TestSqueezeAsksHowItFelt(t *testing.T) {
	s := stock(func(fs map[string]*ferment.Ferment) {
		fs["gorse"].Log = fs["gorse"].Log[:2]
		fs["gorse"].Log = append(fs["gorse"].Log, ferment.Entry{At: on(2026, 10, 14), Did: ferment.Bottle, Bottles: []ferment.Bottles{bottles("crown beer bottle", "330 mL", 6, "", "5 g/L", "")}})
	})
	_, want := do(shown(s, 100, 30), intent.Done)
	assert.Equal(t, intent.Type{Subject: "gorse", Text: "squeeze feel="}, want)
}

func TestCursorStaysOnItsItem(t *testing.T) {
	m, _ := do(shown(stock(), 100, 30), intent.Bottom)
	require.Equal(t, "thyme", m.Subject())
	less := stock(func(fs map[string]*ferment.Ferment) {
		fs["clover-w"].Log = append(fs["clover-w"].Log, line(on(2026, 10, 17), "dump"))
	})
	assert.Equal(t, "thyme", m.with(less).Subject())
	assert.Len(t, m.with(less).words.Rows, 3, "what is poured away stands there no more")
}

func TestSeek(t *testing.T) {
	v := shown(stock(), 100, 30)
	m, found := v.Seek(v.Frame, "CLO-C", false)
	require.True(t, found)
	assert.Equal(t, "clover-w", m.Subject(), "the tasting of both")
	m, _ = m.(Model).Seek(v.Frame, "thyme", false)
	assert.Equal(t, "thyme", m.Subject())
	_, found = m.(Model).Seek(v.Frame, "borage", false)
	assert.False(t, found)
}
