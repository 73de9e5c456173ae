package honey

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
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
)

// The honey room here is invented; its figures are only for the screen.

var update = flag.Bool("update", false, "write the goldens anew")

var now = time.Date(2026, 10, 18, 10, 30, 0, 0, time.UTC)

const room = `format: 1
lots:
  - {id: bell-heather-26, name: "bell heather, east hive", taken: 2026-08-20, mass: 8.2 kg, water: 18.1 %, state: extracted,
     treated: none, used: [{at: 2026-10-02, mass: 500 g, for: table}], note: "dark, resinous"}
  - {id: lime-26, name: lime blossom, taken: 2026-07-14, mass: 5.40 kg, refractive-index: 1.4852, read-at: 22 °C, state: extracted}
  - {id: ivy-25, name: ivy, taken: 2025-10-30, mass: 2.0 kg, water: 17.0 %, treated: "thymol, 2025-08-12"}
  - {id: borage-26, name: borage, taken: 2026-07-30, mass: 900 g, water: 17.4 %}
  - {id: clover-26, name: clover, taken: 2026-07-01, mass: 1.2 kg}
`

const grown = `format: 1
cultures:
  - {id: hawthorn-1, name: hawthorn, verdict: discarded, protocol: wild-culture, log: [{at: 2025-05-11T12:00:00Z, did: collect}]}
  - id: hawthorn-2
    name: hawthorn blossom
    from: hawthorn-1
    source: blossom, lane hedge
    protocol: wild-culture
    log:
      - {at: 2026-05-18T12:00:00Z, did: collect}
      - {at: 2026-05-18T15:00:00Z, did: passage, step: w1, medium: 100 mL, gravity: 1.036, alcohol: 5 %, ph: 4.1}
      - {at: 2026-05-22T08:00:00Z, did: look, seen: [gas, sediment], smell: clean}
      - {at: 2026-05-23T08:00:00Z, did: passage, step: w2, medium: 100 mL, gravity: 1.040, alcohol: 5 %, ph: 4.1}
      - {at: 2026-05-26T09:00:00Z, did: passage, step: w3, medium: 300 mL, gravity: 1.050, ph: 4.0}
      - {at: 2026-05-28T09:00:00Z, gravity: 1.022, seen: [gas, sediment], smell: clean}
      - {at: 2026-05-29T09:00:00Z, did: prove, step: w4, medium: 250 mL, gravity: 1.084, ph: 3.9}
      - {at: 2026-06-03T09:00:00Z, gravity: 1.041}
      - {at: 2026-06-09T09:00:00Z, gravity: 1.0225}
      - {at: 2026-06-12T09:00:00Z, gravity: 1.022, smell: clean, ph: 3.6}
      - {at: 2026-06-13T09:00:00Z, did: verdict, verdict: usable}
      - {at: 2026-06-13T10:00:00Z, did: backup}
    verdict: usable
  - id: rowan-1
    name: rowan berry
    source: berry skin
    protocol: wild-culture
    log:
      - {at: 2026-10-13T12:00:00Z, did: collect}
      - {at: 2026-10-13T15:00:00Z, did: passage, step: w1, medium: 100 mL, gravity: 1.035, alcohol: 5 %, ph: 4.1}
      - {at: 2026-10-16T08:00:00Z, did: look, seen: [gas, sediment], smell: clean}
    verdict: trying
`

const moorA = `format: 1
tag: MOOR
name: bell heather
vessel: {kind: glass jug, brimful: 4.1 L}
must: {volume: 3.6 L, gravity: 1.084, honey: [{lot: bell-heather-26, mass: 980 g, water: 18.1 %}]}
yeast: {kind: slurry, culture: hawthorn-2}
log:
  - {at: 2026-09-01T18:00:00Z, did: pitch}
  - {at: 2026-09-03T06:00:00Z, did: started}
  - {at: 2026-09-20T18:00:00Z, gravity: 1.026}
  - {at: 2026-10-10T18:00:00Z, did: honey, lot: bell-heather-26, amount: unknown}
`

const moor0 = `format: 1
name: bell heather, closed
must: {volume: 3.6 L, gravity: 1.075, honey: [{lot: bell-heather-26, mass: 1.15 kg}]}
yeast: {kind: wild, culture: hawthorn-2}
log:
  - {at: 2026-08-25T18:00:00Z, did: pitch}
  - {at: 2026-09-04T18:00:00Z, gravity: 1.024}
  - {at: 2026-09-06T18:00:00Z, did: pitch, of: white-wine yeast}
  - {at: 2026-09-28T18:00:00Z, gravity: 0.997}
  - {at: 2026-10-01T18:00:00Z, did: taste, taste: {nose: dull, faults: [vinegar]}}
  - {at: 2026-10-02T18:00:00Z, did: close}
`

const lime24 = `format: 1
name: "lime blossom, garden"
must: {volume: 3.6 L, gravity: 1.084, honey: [{lot: lime-24, mass: 980 g}]}
yeast: {name: white-wine yeast}
log:
  - {at: 2024-08-25T18:00:00Z, did: pitch}
  - {at: 2024-10-28T18:00:00Z, gravity: 0.997}
  - {at: 2024-12-01T18:00:00Z, did: bottle, bottles: [{kind: still-wine bottle, size: 750 mL, count: 4, for: keep}]}
  - {at: 2025-03-02T18:00:00Z, did: taste, bottle: keep, taste: {nose: lime, score: 71}}
  - {at: 2025-12-01T18:00:00Z, did: taste, bottle: keep, taste: {nose: lime, finish: long, score: 84, again: with changes}, note: a little less honey}
  - {at: 2025-12-02T18:00:00Z, did: close}
`

func read(honey, cultures string) app.Snapshot {
	c := ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC), Protocols: journal.Plans(protocols.Files())}
	c.Lots = journal.ReadLots("honey.yaml", []byte(honey), time.UTC).Value
	c.Cultures = journal.ReadCultures("cultures.yaml", []byte(cultures), time.UTC).Value
	c.Ferments = []ferment.Ferment{journal.ReadFerment("ferments/moor-a.yaml", []byte(moorA), time.UTC).Value}
	for _, f := range [][2]string{{"lime-24", lime24}, {"moor-0", moor0}} {
		c.Past = append(c.Past, journal.ReadFerment("ferments/past/"+f[0]+".yaml", []byte(f[1]), time.UTC).Value)
	}
	return planned(c)
}

func planned(c ferment.Cellar) app.Snapshot {
	s := app.Snapshot{At: now, Cellar: c}
	for _, f := range c.Joined(c.Ferments) {
		s.Vessels = append(s.Vessels, app.Plan(f, c, now))
	}
	for _, f := range c.Joined(c.Past) {
		s.Past = append(s.Past, app.Plan(f, c, now))
	}
	for _, k := range c.Cultures {
		s.Cultures = append(s.Cultures, app.PlanCulture(k, c, now))
	}
	return s
}

func shown(s app.Snapshot, w, h int) view {
	return shownIn(Model{}, s, w, h)
}

func do(m view, as ...intent.Action) (view, intent.Intent) { return m.does(as...) }

// US is the room in the units of a US kitchen.
func inUS(s app.Snapshot) app.Snapshot {
	s.Cellar.Settings.Units = measure.US
	return planned(s.Cellar)
}

var mouldy = strings.Replace(grown, "did: look, seen: [gas, sediment], smell: clean}\n    verdict: trying", "did: look, seen: [mould]}\n    verdict: trying", 1)

// overdrawn is a room in which more was taken than there was, with cappings wash and honey of a poisonous bloom.
const overdrawn = `format: 1
lots:
  - {id: bell-heather-26, name: bell heather, taken: 2026-08-20, mass: 1.80 kg, water: 18.1 %}
  - {id: wash-26, name: cappings of the lime, taken: 2026-10-14, mass: 3 kg, state: cappings-wash}
  - {id: garden-26, name: rhododendron by the house, taken: 2026-06-20, mass: 2.1 kg, water: 19.2 %}
`

func TestScreens(t *testing.T) {
	at := func(s app.Snapshot, keys ...intent.Action) func(w, h int) view {
		return func(w, h int) view {
			m, _ := do(shown(s, w, h), keys...)
			return m
		}
	}
	for name, m := range map[string]func(w, h int) view{
		"lots":      at(read(room, grown)),
		"lot-near":  at(read(room, grown), intent.Down, intent.Open),
		"overdrawn": at(read(overdrawn, grown), intent.Bottom),
		"cultures":  at(read(room, grown), intent.Side, intent.Down),
		"mould":     at(read(room, mouldy), intent.Side, intent.Bottom),
		"past":      at(read(room, grown), intent.Side, intent.Side, intent.Next),
		"empty":     at(planned(ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC)})),
		"us":        at(inUS(read(room, grown))),
	} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("honey-%s-%dx%d.txt", name, size[0], size[1]))
			got := m(size[0], size[1]).screen("Space used elsewhere   Tab cultures   ? help") + "\n"
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, file)
		}
	}
}

// hostile returns a room with long and wide words and terminal control characters.
func hostile() app.Snapshot {
	long := strings.Repeat("蜂蜜 very-long-word-without-an-end-", 12)
	s := read(room, grown)
	for i := range s.Cellar.Lots {
		s.Cellar.Lots[i].ID, s.Cellar.Lots[i].Name, s.Cellar.Lots[i].Note, s.Cellar.Lots[i].Treated = long+fmt.Sprint(i), long, long, long
	}
	for i := range s.Cellar.Cultures {
		s.Cellar.Cultures[i].ID, s.Cellar.Cultures[i].Name, s.Cellar.Cultures[i].From = long+fmt.Sprint(i), long, long+fmt.Sprint(i-1)
	}
	return planned(s.Cellar)
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	for _, s := range []app.Snapshot{read(room, mouldy), read(overdrawn, grown), hostile(), planned(ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC)})} {
		whole := shown(s, 80, 24)
		for w := 1; w <= 130; w += 3 {
			for h := 1; h <= 50; h += 7 {
				for _, keys := range [][]intent.Action{nil, {intent.Bottom, intent.PageDown, intent.PageDown}, {intent.Open}, {intent.Side}, {intent.Side, intent.Down, intent.PageDown}} {
					m, _ := do(whole.sized(w, h), keys...)
					rows := strings.Split(m.screen("foot"), "\n")
					assert.Len(t, rows, h)
					for _, r := range rows {
						require.LessOrEqual(t, ansi.StringWidth(r), w, "%dx%d %v", w, h, keys)
					}
				}
			}
		}
	}
}

func TestWhatAKeyAsksFor(t *testing.T) {
	again := intent.Fill{Form: "new", Given: form.Values{"from": "like", "like": "moor-0"}}
	for _, c := range []struct {
		what string
		keys []intent.Action
		want intent.Intent
	}{
		{"a closed one made again", []intent.Action{intent.Side, intent.Side, intent.Done}, again},
		{"another way to it", []intent.Action{intent.Side, intent.Side, intent.New}, again},
		{"the page of a closed one", []intent.Action{intent.Side, intent.Side, intent.Down, intent.Open}, intent.OpenPage{Subject: "lime-24"}},
		{"honey used elsewhere", []intent.Action{intent.Done}, intent.Fill{Form: "use", Subject: "lime-26"}},
		{"a new lot", []intent.Action{intent.New}, intent.Fill{Form: "lot"}},
		{"a new culture", []intent.Action{intent.Side, intent.New}, intent.Fill{Form: "culture"}},
		{"its page", []intent.Action{intent.Side, intent.Down, intent.Open}, intent.OpenPage{Subject: "hawthorn-2"}},
		{"what it wants first", []intent.Action{intent.Side, intent.Bottom, intent.Done}, intent.StartTask{Task: intent.Task{Subject: "rowan-1", Step: "w1-look", Occurrence: 5}}},
		{"of one that wants nothing", []intent.Action{intent.Side, intent.Done}, intent.Fill{Form: "passage", Subject: "hawthorn-1"}},
		{"a line for its log", []intent.Action{intent.Side, intent.Bottom, intent.Reading}, intent.Type{Subject: "rowan-1"}},
		{"a longer card is no intent", []intent.Action{intent.Open}, nil},
	} {
		_, got := do(shown(read(room, grown), 100, 30), c.keys...)
		assert.Equal(t, c.want, got, c.what)
	}
	_, got := do(shown(read(room, grown), 100, 30), intent.Reading)
	assert.IsType(t, intent.Say{}, got, "a lot has no log")
	for _, a := range []intent.Action{intent.Done, intent.Open, intent.Side, intent.Down, intent.Bottom, intent.PageDown, intent.Reading} {
		do(shown(planned(ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC)}), 80, 24), a, a)
	}
}

func TestCursorStaysOnItsItem(t *testing.T) {
	m, _ := do(shown(read(room, grown), 100, 30), intent.Down, intent.Down)
	had := m.selected()
	less := read(strings.Replace(room, "id: lime-26", "id: lime-25", 1), grown)
	less.Cellar.Lots = less.Cellar.Lots[2:]
	after := m.with(planned(less.Cellar))
	assert.Equal(t, had, after.selected())
	file, line := after.File(after.Frame)
	assert.Equal(t, "honey.yaml", file)
	assert.Positive(t, line)
	m, _ = do(m, intent.Side, intent.Bottom)
	file, line = m.File(m.Frame)
	assert.Equal(t, "cultures.yaml", file)
	assert.Equal(t, 23, line)
	assert.Equal(t, "rowan-1", m.Subject())
}

func TestSeekLooksIntoTheCards(t *testing.T) {
	m := shown(read(room, grown), 100, 30)
	found, ok := m.Seek(m.Frame, "THYMOL", false)
	require.True(t, ok)
	assert.Equal(t, "ivy-25", found.(Model).selected())
	found, ok = m.Seek(m.Frame, "berry skin", false)
	require.True(t, ok)
	assert.Equal(t, "rowan-1", found.Subject(), "in the other list too")
	_, ok = m.Seek(m.Frame, "no such words", false)
	assert.False(t, ok)
}

func TestTheClosedAreSorted(t *testing.T) {
	order := map[string][]string{"date": {"moor-0", "lime-24"}, "score": {"lime-24", "moor-0"}, "strength": {"lime-24", "moor-0"},
		"honey": {"moor-0", "lime-24"}, "yeast": {"moor-0", "lime-24"}}
	m, _ := do(shown(read(room, grown), 80, 24), intent.Side, intent.Side)
	m.Model = m.Past()
	for _, by := range words.PastBy {
		assert.Equal(t, order[by], m.ids(past), by)
		assert.Equal(t, "moor-0", m.Subject(), "the cursor stays on what it was on")
		m, _ = do(m, intent.Next)
	}
	assert.Equal(t, order["date"], m.ids(past), "and round")
	file, line := m.File(m.Frame)
	assert.Equal(t, "ferments/past/moor-0.yaml", file)
	assert.Equal(t, 1, line)
	found, ok := m.Seek(m.Frame, "less honey", false)
	require.True(t, ok)
	assert.Equal(t, "lime-24", found.Subject())
}

// Nothing that is not proved is told as if it were.
func TestCultureHasNoAssumedFinish(t *testing.T) {
	m, _ := do(shown(read(room, grown), 140, 45), intent.Side, intent.Bottom)
	assert.Contains(t, m.screen(""), "not yet: it is not known how dry it gets")
	for _, row := range strings.Split(m.screen(""), "\n") {
		assert.NotContains(t, row, "0.99")
	}
	m, _ = do(shown(read(room, grown), 140, 45), intent.Side, intent.Down)
	assert.Contains(t, m.screen(""), "another yeast from")
	assert.NotContains(t, m.screen(""), "0.997", "what the bought yeast did after it is not its own")
}
