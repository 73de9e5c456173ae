package tasting

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

var update = flag.Bool("update", false, "write the goldens anew")

var now = time.Date(2026, 10, 18, 20, 15, 0, 0, time.UTC)

func at(y int, m time.Month, d int) ferment.Moment {
	return ferment.At(time.Date(y, m, d, 19, 0, 0, 0, time.UTC))
}

// cellar returns an invented trial of two in bottles, with earlier tastings, a mead
// in its vessel on a wild yeast, and a culture.
func cellar(more ...ferment.Entry) app.Snapshot {
	c := ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC)}
	c.Cultures = []ferment.Culture{{ID: "hawthorn-3", Name: "hawthorn", Log: []ferment.Entry{{At: at(2026, 5, 18), Did: ferment.Collect}}}}
	for _, id := range []string{"w", "c"} {
		f := ferment.Ferment{ID: "clover-" + id, Tag: "CLO-" + strings.ToUpper(id), Trial: ferment.Trial{Name: "clover", Differs: "yeast"}}
		f.Must.Gravity = measure.Give(measure.Gravity(1.095), "1.095")
		f.Log = []ferment.Entry{{At: at(2025, 3, 1), Did: ferment.Pitch}, {At: at(2025, 10, 20), Gravity: measure.Give(measure.Gravity(0.995), "0.995")},
			{At: at(2025, 10, 25), Did: ferment.Bottle, Bottles: []ferment.Bottles{
				{Kind: "still-wine bottle", Count: 3, Fizz: measure.Give(measure.Content(0), "none")},
				{Kind: "still-wine bottle", Count: 3, Codes: strings.ToUpper(id) + " 1-3", Fizz: measure.Give(measure.Content(0), "none"), For: "tasting"}}},
			{At: at(2026, 1, 25), Did: ferment.Taste, Taste: ferment.Tasting{Nose: "lemon peel of " + id, Score: measure.Give(74.0, "74")}}}
		f.Log = append(f.Log, more...)
		for i := range f.Log {
			f.Log[i].Order = i
		}
		c.Ferments = append(c.Ferments, f)
	}
	sloe := ferment.Ferment{ID: "sloe", Tag: "SLOE", Yeast: ferment.Yeast{Kind: ferment.Wild, Culture: "hawthorn-3"}}
	sloe.Log = []ferment.Entry{{At: at(2026, 10, 1), Did: ferment.Pitch}}
	c.Ferments = append(c.Ferments, sloe)
	s := app.Snapshot{At: now, Cellar: c}
	for _, f := range c.Ferments {
		s.Vessels = append(s.Vessels, app.Plan(f, c, now))
	}
	k := c.Cultures[0]
	s.Cultures = []app.Vessel{{Ferment: ferment.Ferment{ID: k.ID, Log: k.Log}, Culture: &k, Course: &course.Course{}}}
	for i := range k.Log {
		s.Cultures[0].Course.Entries = append(s.Cultures[0].Course.Entries, &k.Log[i])
	}
	s.Cultures[0].Course.Settings = c.Settings
	return s
}

var both = intent.Taste{Subjects: []string{"clover-w", "clover-c"}, Step: "taste", Blind: true}

func opened(t *testing.T, s app.Snapshot, want intent.Taste) view {
	t.Helper()
	m, ok := New(screen.Frame{Snapshot: s}, want, 7)
	require.True(t, ok)
	return shownIn(m, s, 100, 30)
}

// keys presses keys by their names; "text:…" one letter at a time.
func keys(m view, names ...string) (view, intent.Intent) {
	var want intent.Intent
	for _, name := range names {
		strokes := []intent.Stroke{{Name: name}}
		if text, is := strings.CutPrefix(name, "text:"); is {
			strokes = nil
			for _, r := range text {
				strokes = append(strokes, intent.Stroke{Name: string(r), Text: string(r)})
			}
		}
		for _, s := range strokes {
			m, want = m.presses(s)
		}
	}
	return m, want
}

func after(m view, as ...intent.Action) view {
	m, _ = m.does(as...)
	return m
}

// filled writes a word into every line of both glasses.
func filled(m view) view {
	m = after(m, intent.Open)
	m, _ = keys(m, "text:14", "tab")
	for _, glass := range []string{"one", "two"} {
		for _, l := range []string{"look", "nose", "palate", "body", "finish"} {
			m, _ = keys(m, "text:"+l+" "+glass, "tab")
		}
		if glass == "one" {
			m, _ = keys(m, "text:vin, wet dog", "tab")
		}
	}
	return m
}

func TestScreens(t *testing.T) {
	blind := opened(t, cellar(), both)
	halfway, _ := keys(after(blind, intent.Open), "tab", "text:pale straw, bright", "tab", "text:wet hay, lemon peel, a little")
	kept := filled(blind)
	_, want := keys(kept, "enter")
	after1 := carried(t, cellar(), want)
	shownSheet := mustKept(kept.with(after1))
	triangle := after(blind, intent.Next, intent.Open)
	alone := opened(t, cellar(), intent.Taste{Subjects: []string{"sloe"}})
	for name, m := range map[string]view{
		"tasting-pour": after(blind, intent.Side), "tasting": halfway, "tasting-kept": shownSheet, "tasting-triangle": triangle, "tasting-alone": alone,
	} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("%s-%dx%d.txt", name, size[0], size[1]))
			got := m.sized(size[0], size[1]).screen("Tab next line   Enter keep   Esc back, the words stay") + "\n"
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, file)
		}
	}
}

// carried returns the cellar after a change.
func carried(t *testing.T, s app.Snapshot, want intent.Intent) app.Snapshot {
	t.Helper()
	carry, is := want.(intent.Apply)
	require.True(t, is, "%T", want)
	for _, l := range carry.Change.Entries {
		for i, f := range s.Cellar.Ferments {
			if f.ID == l.Subject {
				f.Log = append(append([]ferment.Entry{}, f.Log...), l.Entries...)
				s.Cellar.Ferments[i], s.Vessels[i] = f, app.Plan(f, s.Cellar, s.At.Add(time.Minute))
			}
		}
	}
	return s
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	blind := opened(t, cellar(), both)
	long, _ := keys(after(blind, intent.Open), "tab", "text:"+strings.Repeat("蜂蜜酒の香り ", 30))
	shownSheet := mustKept(filled(blind))
	for _, m := range []view{blind, after(blind, intent.Side), long, shownSheet, after(blind, intent.Next, intent.Open)} {
		for w := 1; w <= 130; w += 3 {
			for h := 1; h <= 50; h += 7 {
				rows := strings.Split(m.sized(w, h).screen("foot"), "\n")
				assert.Len(t, rows, h)
				for _, r := range rows {
					assert.LessOrEqual(t, ansi.StringWidth(r), w, "%dx%d", w, h)
				}
			}
		}
	}
}

// Until everything is written nothing reveals which glass is which, nor earlier tastings: not the screen, not the
// selected subject, at no stage and size.
func TestBlindTastingHidesNames(t *testing.T) {
	m := opened(t, cellar(), both)
	for _, stage := range []view{m, after(m, intent.Open), filled(m), after(m, intent.Next), after(m, intent.Next, intent.Open)} {
		for _, size := range [][2]int{{60, 15}, {100, 30}, {140, 45}} {
			view := stage.sized(size[0], size[1]).screen("")
			assert.NotContains(t, view, "lemon peel")
			assert.NotContains(t, view, "74")
			for _, row := range strings.Split(view, "\n") {
				for _, g := range stage.glasses {
					assert.False(t, strings.Contains(row, strconv.Itoa(g.code)) && strings.Contains(row, "CLO-"), row)
				}
			}
			assert.NotContains(t, view, "W 1", "nor the code of its bottle")
		}
		assert.Empty(t, stage.Subject())
	}
	other := opened(t, cellar(), intent.Taste{Subjects: []string{"clover-c", "clover-w"}, Blind: true})
	assert.Equal(t, m.takes(), "Bottles on the shelf: CLO-W: 4 of 5 left, CLO-C: 4 of 5 left.")
	assert.Equal(t, other.takes(), "Bottles on the shelf: CLO-C: 4 of 5 left, CLO-W: 4 of 5 left.", "in the order of the names, not of the glasses")

	seen := after(m, intent.Side).screen("")
	for _, g := range m.glasses {
		assert.Contains(t, seen, fmt.Sprintf("%d   %s, bottle", g.code, g.poured.Vessel.Label()), "only who pours, and asks, sees it")
	}
	assert.NotContains(t, after(m, intent.Side, intent.Open).screen(""), "bottle W")
}

func TestTastingOfTwoWritesBoth(t *testing.T) {
	m := filled(opened(t, cellar(), both))
	m, _ = keys(m, "tab", "text:78", "tab", "text:w, drier", "tab", "left")
	require.Equal(t, "again?", m.at().line, "asked last")
	chosen := m.Typed[place{0, "again?"}.key()]
	_, want := keys(m, "enter")
	change := want.(intent.Apply).Change
	require.Len(t, change.Entries, 2)
	var again []string
	assert.Equal(t, []string{"clover-w", "clover-c"}, []string{change.Entries[0].Subject, change.Entries[1].Subject})
	for _, l := range change.Entries {
		require.Len(t, l.Entries, 1)
		e := l.Entries[0]
		i := 0
		if m.glasses[1].poured.Vessel.ID() == l.Subject {
			i = 1
		}
		glass := []string{"one", "two"}[i]
		assert.Equal(t, ferment.Tasting{Look: "look " + glass, Nose: "nose " + glass, Palate: "palate " + glass, Body: "body " + glass, Finish: "finish " + glass, Blind: true},
			ferment.Tasting{Look: e.Taste.Look, Nose: e.Taste.Nose, Palate: e.Taste.Palate, Body: e.Taste.Body, Finish: e.Taste.Finish, Blind: e.Taste.Blind})
		assert.Equal(t, []string{"taste", "taste", strings.ToUpper(l.Subject[7:]) + " 1", "14 °C"}, []string{string(e.Did), e.Step, e.Bottle, e.Temperature.Text})
		if i == 0 {
			assert.Equal(t, []string{"vinegar", "wet dog"}, e.Taste.Faults, "the beginning of a common one, and an own word")
		}
		if chosen == strconv.Itoa(m.glasses[i].code) {
			assert.Contains(t, e.Note, "preferred to CLO-")
		} else {
			assert.NotContains(t, e.Note, "rather")
		}
		if e.Taste.Again != "" {
			again = append(again, e.Taste.Again+": "+strings.SplitN(e.Note, ";", 2)[0])
		}
	}
	assert.Equal(t, []string{"with changes: drier"}, again, "a verdict on one of them, and why")
	view := mustKept(m.with(carried(t, cellar(), want))).screen("")
	for _, says := range []string{fmt.Sprintf("%d", m.glasses[0].code), "CLO-W", "lemon peel of w", "nose one", "12 months"} {
		assert.Contains(t, view, says)
	}
}

func mustKept(m view) view {
	s, stays := m.Kept(m.Frame)
	if !stays {
		panic("closed")
	}
	m.Model = s.(Model)
	return m
}

func TestScoresAreAskedWhenTheWordsAreWritten(t *testing.T) {
	m := after(opened(t, cellar(), both), intent.Open)
	assert.Contains(t, m.screen(""), "of 100, asked when the words are written")
	for range 30 {
		m, _ = keys(m, "tab")
		assert.NotContains(t, []string{"score", "again?"}, m.at().line)
	}
	m = filled(opened(t, cellar(), both))
	m, _ = keys(m, "tab")
	assert.Equal(t, "score", m.at().line)
}

func TestMissingWordsAreAskedForOnce(t *testing.T) {
	m := after(opened(t, cellar(), both), intent.Open)
	m, want := keys(m, "enter")
	assert.Nil(t, want)
	assert.Contains(t, m.screen(""), "no word is written of "+strconv.Itoa(m.glasses[0].code))
	m, _ = keys(m, "tab", "text:gold", "right", "text:straw")
	m, want = keys(m, "enter")
	assert.IsType(t, intent.Say{}, want)
	assert.Equal(t, place{0, "nose"}, m.at(), "there")
	_, want = keys(m, "enter")
	assert.IsType(t, intent.Apply{}, want)
	m, _ = keys(m, "text:hay")
	_, want = keys(m, "enter")
	assert.IsType(t, intent.Say{}, want, "after another word it is asked again")
}

func TestUnreadableScores(t *testing.T) {
	for line, typed := range map[string]string{"poured": "cold", "score": "101"} {
		m := filled(opened(t, cellar(), both))
		m.Typed[place{0, line}.key()] = typed
		m, want := keys(m, "enter")
		assert.Nil(t, want, line)
		assert.NotEmpty(t, m.failed, line)
	}
	m := opened(t, cellar(), intent.Taste{Subjects: []string{"clover-w"}})
	m, _ = keys(m, "tab")
	assert.Contains(t, m.screen(""), "W 1", "the bottle that is offered")
	m, _ = keys(m, "text:X 9", "down", "text:gold")
	m, want := keys(m, "enter")
	assert.Nil(t, want)
	assert.Contains(t, m.failed, `no bottle of CLO-W is called "X 9"`)
}

func TestHalfWrittenTastingIsKept(t *testing.T) {
	m := after(opened(t, cellar(), both), intent.Next, intent.Next, intent.Open)
	m, want := keys(m, "tab", "text:gold", "tab", "text:ha", "esc")
	assert.Equal(t, intent.Close{}, want)
	draft := m.Draft()
	assert.Equal(t, intent.Draft{Kind: "tasting", Subject: "clover-w clover-c", Step: "taste", Text: draft.Text}, draft)
	later, ok := New(m.Frame, both, 8) // another seed gives other codes
	require.True(t, ok)
	assert.NotEqual(t, m.glasses[0].code, later.glasses[0].code)
	back := later.Resume(m.Frame, draft.Text).(Model)
	assert.Equal(t, m.Typed, back.Typed)
	assert.Equal(t, m.glasses[0].code, back.glasses[0].code, "the glasses that the words are of")
	assert.True(t, back.Typing())
	assert.Empty(t, opened(t, cellar(), both).Draft().Text)
	failed := m
	failed.Model = m.Fail(errors.New("the disk is full")).(Model)
	assert.Contains(t, failed.screen(""), "the disk is full")
	assert.Equal(t, m.Typed, failed.Typed)
}

func TestTriangle(t *testing.T) {
	m := after(opened(t, cellar(), both), intent.Next, intent.Open)
	require.Len(t, m.glasses, 3)
	m, want := keys(m, "enter")
	assert.Nil(t, want)
	assert.Contains(t, m.failed, "none is chosen")
	m, _ = keys(m, "right", "right", "tab", "text:thinner")
	_, want = keys(m, "enter")
	change := want.(intent.Apply).Change
	require.Len(t, change.Entries, 2)
	e, other := change.Entries[0].Entries[0], change.Entries[1].Entries[0]
	assert.Equal(t, ferment.Triangle{With: "clover-c", Codes: []int{m.glasses[0].code, m.glasses[1].code, m.glasses[2].code}, Odd: m.odd, Said: m.glasses[1].code}, e.Triangle)
	assert.Equal(t, "thinner", e.Note)
	assert.True(t, e.Taste.Blind && other.Taste.Blind)
	assert.Equal(t, []string{"W 1", "C 1"}, []string{e.Bottle, other.Bottle}, "a bottle of each")
	assert.Zero(t, other.Triangle.Odd, "the test stands in one log")

	alone := map[string]int{}
	for _, g := range m.glasses {
		alone[g.poured.Vessel.ID()]++
	}
	for _, g := range m.glasses {
		assert.Equal(t, g.code == m.odd, alone[g.poured.Vessel.ID()] == 1)
	}
	view := mustKept(m.with(carried(t, cellar(), want))).screen("")
	assert.Contains(t, view, "too few to show anything")
}

// ISO 4120: five of six at 5 %.
func TestTrianglesSoFar(t *testing.T) {
	for right, says := range map[int]string{4: "5 of 6 would show a difference", 5: "that shows a difference: guessing does as well in 1.8 %"} {
		var log []ferment.Entry
		for i := range 6 {
			said := 100
			if i >= right {
				said = 200
			}
			log = append(log, ferment.Entry{At: at(2026, 9, 1+i), Did: ferment.Taste, Triangle: ferment.Triangle{With: "clover-c", Odd: 100, Said: said}})
		}
		s := cellar(log...)
		m := after(opened(t, s, both), intent.Next, intent.Open)
		assert.Contains(t, mustKept(m).sized(140, 45).screen(""), says)
	}
}

func TestUnbottledMeadIsTastedFromTheVessel(t *testing.T) {
	m := opened(t, cellar(), intent.Taste{Subjects: []string{"sloe"}})
	require.True(t, m.Typing(), "nothing is blind: it begins with the words")
	assert.Contains(t, m.screen(""), "pH 4.2 or less", "an untested culture")
	assert.NotContains(t, m.screen(""), "taken off the shelf")
	m, _ = keys(m, "tab", "text:cloudy", "enter")
	_, want := keys(m, "enter")
	e := want.(intent.Apply).Change.Entries[0].Entries[0]
	assert.Equal(t, []any{ferment.Taste, "cloudy", "", false}, []any{e.Did, e.Taste.Look, e.Bottle, e.Taste.Blind})
}

func TestCultureIsNotTasted(t *testing.T) {
	m := opened(t, cellar(), intent.Taste{Subjects: []string{"hawthorn-3"}})
	assert.Contains(t, m.screen(""), "do not taste")
	m, _ = keys(m, "tab", "text:cloudy", "enter")
	_, want := keys(m, "enter")
	assert.IsType(t, intent.Say{}, want, "nothing is kept")
	_, ok := New(screen.Frame{Snapshot: cellar()}, intent.Taste{Subjects: []string{"nobody"}}, 1)
	assert.False(t, ok)
}

// Two meads bottled on different days could be recognised by their age.
func TestAgeThatIdentifiesAGlassIsHidden(t *testing.T) {
	s := cellar()
	assert.Contains(t, after(opened(t, s, both), intent.Open).screen(""), "12 months in the bottle")
	f := s.Cellar.Ferments[0]
	f.Log = append([]ferment.Entry{}, f.Log...)
	f.Log[2].At = at(2026, 1, 20)
	s.Vessels[0] = app.Plan(f, s.Cellar, now)
	assert.NotContains(t, after(opened(t, s, both), intent.Open).screen(""), "in the bottle")
	alone := opened(t, s, intent.Taste{Subjects: []string{"clover-w"}})
	assert.Contains(t, alone.screen(""), "9 months in the bottle")
}

// A bottle opened the same evening is tasted, not a new one.
func TestOpenBottleIsTasted(t *testing.T) {
	s := cellar(ferment.Entry{At: ferment.At(now.Add(-time.Hour)), Did: ferment.Open, Bottle: "drink"})
	m := opened(t, s, intent.Taste{Subjects: []string{"clover-w"}})
	assert.NotContains(t, m.screen(""), "taken off the shelf")
	m, _ = keys(m, "tab", "text:gold", "enter")
	_, want := keys(m, "enter")
	assert.Empty(t, want.(intent.Apply).Change.Entries[0].Entries[0].Bottle)
}

// A number alone is in the units of the cellar: 57 °F is 13.9 °C.
func TestTemperatureWithoutItsUnit(t *testing.T) {
	s := cellar()
	assert.Equal(t, "14 °C", opened(t, s, both).degrees("14"))
	s.Cellar.Settings.Units = measure.US
	m := opened(t, s, both)
	assert.Equal(t, "57 °F", m.degrees("57"))
	assert.Equal(t, "14 °C", m.degrees("14 °C"))
}
