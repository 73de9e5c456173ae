package tui

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/schedule/words"
)

// A year is lived with so many jugs, morning by morning. A jug gets a must, is bottled,
// stands empty for two weeks and gets the next; bottles are drunk up in three months. The
// keeper looks at half past seven, does what is for today and what comes in the evening,
// and on Saturdays what may be done any day, racking and priming too; stays away every ninth
// day and for ten days in summer. The musts, and what goes wrong with them, are invented.
type year struct {
	*shelf
	t       *testing.T
	app     *app.App
	jugs    int
	batches []batch
	at      time.Time

	calm, lines, most, acted, could, anyDay, missed int
	seen                                            map[string]int // a line → on how many mornings running
	same, forgotten                                 []string
	busiest                                         string // the board of the morning with most lines
}

// recipe is a must as nobody knows it.
type recipe struct {
	plan, ending           string
	original, finish, rate float64
	troubles               map[int]string // day → what is written down
}

// batch is a must in a jug.
type batch struct {
	recipe
	id    string
	begun time.Time
}

var recipes = []recipe{
	{"small-jug", "still", 1.084, 0.9965, 0.5, map[int]string{3: "look smell=eggs"}},
	{"by-thirds", "sweetened", 1.118, 1.001, 0.4, nil},
	{"light-sparkling", "bottle-conditioned", 1.045, 0.9976, 0.8, nil},
	{"small-jug", "still", 1.090, 0.9970, 0.35, map[int]string{30: "look airlock=dry"}},
	{"fruit", "still", 1.090, 0.9965, 0.5, map[int]string{2: "foam-over lost=0.2L"}},
	{"small-jug", "bottle-conditioned", 1.080, 0.9960, 0.5, map[int]string{4: "29C"}},
}

func (b batch) gravity(at time.Time) float64 {
	day := at.Sub(b.begun).Hours() / 24
	s, s0 := 1/(1+math.Exp(-(day-5)*b.rate)), 1/(1+math.Exp(5*b.rate))
	return b.original - (b.original-b.finish)*(s-s0)/(1-s0)
}

var newYear = time.Date(2026, time.March, 1, 7, 30, 0, 0, time.UTC)

func aYear(t *testing.T, jugs int) *year {
	settings := ferment.DefaultSettings(time.UTC)
	settings.Nutrients = []ferment.NutrientKind{{Name: "ammonium phosphate", Kind: "ammonium", Nitrogen: measure.Give(measure.Yield(212), "212 mg/g")}}
	settings.Bottles = []ferment.BottleKind{{Kind: "crown beer bottle"}, {Kind: "soft-drink bottle"}}
	var plans []ferment.Protocol
	for name, data := range protocols.Files() {
		p, problems := journal.ReadProtocol("protocols/"+name+".yaml", data)
		require.Empty(t, problems)
		plans = append(plans, p)
	}
	s := &shelf{cellar: ferment.Cellar{Dir: "/cellar", Settings: settings, Protocols: plansOf(plans...)}}
	return &year{shelf: s, t: t, app: app.New(s), jugs: jugs, seen: map[string]int{}}
}

// fill puts a must into each jug that is to have one, and takes the ferments away that are
// drunk up.
func (y *year) fill() {
	bottled := func(id string) (at time.Time, is bool) {
		log := y.log(id)
		if log == nil {
			return time.Time{}, true
		}
		i := slices.IndexFunc(log.Log, func(e ferment.Entry) bool { return e.Did == ferment.Bottle })
		return log.Log[max(i, 0)].At.Time, i >= 0
	}
	for n := range y.jugs {
		name, round := string(rune('a'+n)), 0
		for y.filled(fmt.Sprintf("%s-%d", name, round+1)) {
			round++
		}
		if round > 0 {
			if at, is := bottled(fmt.Sprintf("%s-%d", name, round)); !is || y.at.Sub(at) < 14*24*time.Hour {
				continue
			}
		} else if y.at.Before(newYear.AddDate(0, 0, n*11)) {
			continue
		}
		b := batch{recipe: recipes[(n+round*5)%len(recipes)], id: fmt.Sprintf("%s-%d", name, round+1), begun: y.at}
		y.batches = append(y.batches, b)
		y.cellar.Ferments = append(y.cellar.Ferments, ferment.Ferment{ID: b.id, Tag: strings.ToUpper(b.id), Name: "invented", Protocol: b.plan,
			File: "ferments/" + b.id + ".yaml", Must: ferment.Must{Volume: litres(3.6), Gravity: gravity(fmt.Sprintf("%.3f", b.original))},
			Yeast: ferment.Yeast{Name: "white-wine yeast", Tolerance: measure.Give(measure.Strength(15), "15 %")},
			Log:   []ferment.Entry{{At: ferment.At(y.at), Did: ferment.Mix}}})
	}
	y.cellar.Ferments = slices.DeleteFunc(y.cellar.Ferments, func(f ferment.Ferment) bool {
		at, is := bottled(f.ID)
		return is && y.at.Sub(at) > 90*24*time.Hour
	})
}

func (y *year) filled(id string) bool {
	return slices.ContainsFunc(y.batches, func(b batch) bool { return b.id == id })
}

// says writes an entry down, a minute after the last.
func (y *year) says(id, text string) {
	y.at = y.at.Add(time.Minute)
	l, err := line.Parse(text, line.Context{Now: y.at, Zone: time.UTC})
	require.NoError(y.t, err, text)
	_, err = y.Append(id, []ferment.Entry{l.Entry})
	require.NoError(y.t, err, text)
}

// does settles a task as a person does who has it at hand, or what frees a held one.
func (y *year) does(v app.Vessel, t schedule.Task) {
	b := y.batches[slices.IndexFunc(y.batches, func(b batch) bool { return b.id == v.ID() })]
	step, do := t.Step, t.Do
	if t.State == schedule.Held {
		step, do = t.Frees, t.Frees
	}
	measured := map[string]string{ferment.DoGravity: fmt.Sprintf("%.3f@20 18C", b.gravity(y.at)), ferment.DoPH: "ph3.4", ferment.DoTemperature: "18C", ferment.DoVolume: "vol3.2L"}
	if text := measured[do]; text != "" {
		y.says(v.ID(), text)
		return
	}
	w := app.Wish{Step: step, Typed: app.Typed{Line: map[string]string{"rack": "clear vol3.3L lost=0.1L", "look": "airlock=working clear", "started": "airlock=working",
		"choose": b.ending, "open": "hiss=3", "squeeze": "feel=firm", "taste": "palate=dry"}[do]}}
	if do == string(ferment.ForcedTest) && v.Course.Test.Running {
		w.Line = fmt.Sprintf("%.3f", b.finish)
	}
	if do == string(ferment.Bottle) {
		w.Entry = ferment.Entry{Bottles: []ferment.Bottles{{Kind: "crown beer bottle", Count: 9}}, Left: measure.Give(measure.Volume(0), "0 L")}
		if b.ending == string(ferment.BottleConditioned) {
			w.Entry.Bottles[0].Fizz = measure.Give(measure.Content(5), "5 g/L")
			w.Entry.Bottles = append(w.Entry.Bottles, ferment.Bottles{Kind: "soft-drink bottle", Count: 1, For: "test"})
		}
	}
	y.at = y.at.Add(time.Minute)
	entries, _, err := app.Settling(v, w, y.at)
	if err == nil { // else a gate says no
		_, err = y.Append(v.ID(), entries)
		require.NoError(y.t, err)
	}
}

// able is what the keeper does about a task; big things wait for Saturday.
func able(l words.Line, saturday bool) bool {
	if l.Word == words.AnyDay || l.Task.Do == string(ferment.Rack) || l.Task.Do == string(ferment.Prime) {
		return saturday && l.Word.Now()
	}
	return l.Word == words.Late || l.Word == words.Due || l.Word == words.Danger || l.Word == words.Held && l.Task.Frees != ""
}

// acts does what there is to do on a vessel, until there is nothing more.
func (y *year) acts(id string, saturday bool) {
	tried := map[string]bool{}
	for {
		v := app.Plan(*y.log(id), y.cellar, y.at)
		lines := words.UpTo(0, v, y.at)
		i := slices.IndexFunc(lines, func(l words.Line) bool { return able(l, saturday) && !tried[known(l)] })
		if i < 0 {
			return
		}
		tried[known(lines[i])] = true
		y.does(v, lines[i].Task)
	}
}

// known is what a line is known by on another morning.
func known(l words.Line) string {
	return fmt.Sprint(l.Subject, " ", l.Word, " ", l.Task.Step, " ", l.Task.Occurrence)
}

func (y *year) day(day int) {
	y.at = newYear.AddDate(0, 0, day)
	saturday, away := y.at.Weekday() == time.Saturday, day%9 == 4 || day >= 130 && day < 140
	y.fill()
	for _, b := range y.batches {
		if text := b.troubles[int(y.at.Sub(b.begun).Hours()/24)]; text != "" {
			y.says(b.id, text)
		}
	}
	s := app.Snapshot{At: y.at, Cellar: y.cellar}
	for _, f := range y.cellar.Ferments {
		s.Vessels = append(s.Vessels, app.Plan(f, y.cellar, y.at))
	}
	sheet := words.Ahead(s, 60)
	y.counts(s, sheet, saturday, away)
	if away {
		return
	}
	evening := newYear.AddDate(0, 0, day).Add(12 * time.Hour)
	for _, v := range s.Vessels {
		lines := sheet.Lines(v.ID())
		if slices.ContainsFunc(lines, func(l words.Line) bool { return able(l, saturday) }) {
			y.acts(v.ID(), saturday)
		}
		if slices.ContainsFunc(lines, func(l words.Line) bool { return l.Word == words.Later || l.Word == words.Held }) {
			y.at, evening = evening, evening.Add(time.Minute)
			y.acts(v.ID(), saturday)
			y.at = newYear.AddDate(0, 0, day).Add(time.Hour)
		}
	}
}

// counts is what a morning shows, and what of it is done.
func (y *year) counts(s app.Snapshot, sheet words.Sheet, saturday, away bool) {
	now, n := map[string]bool{}, 0
	for _, l := range words.Shared(sheet.Today()) {
		switch l.Word {
		case words.AnyDay:
			y.anyDay++
		case words.Lapsed:
			y.missed++
		case words.Danger, words.Stop, words.Late, words.Held, words.Due:
			n++
			now[known(l)] = true
			if !away {
				y.could++
				if able(l, saturday) {
					y.acted++
				}
				if y.seen[known(l)]++; y.seen[known(l)] == 7 && !able(l, true) {
					y.same = append(y.same, s.At.Format("2 Jan ")+known(l)+": "+l.Reason)
				}
			}
		}
	}
	for name := range y.seen {
		if !now[name] {
			delete(y.seen, name)
		}
	}
	if y.lines += n; n == 0 {
		y.calm++
	}
	for _, v := range s.Vessels {
		next := slices.ContainsFunc(sheet.Tasks, func(l words.Line) bool {
			return l.Subject == v.ID() && (l.Word.Wants() || l.Word == words.Later || l.Word == words.Coming)
		})
		if !next && v.Day.Quiet == nil && v.Course.Stage != course.Bottled {
			y.forgotten = append(y.forgotten, s.At.Format("2 Jan ")+v.ID())
		}
	}
	if n > y.most {
		y.most = n
		y.busiest = drive(y.t, y.shelf, 80, 24, func(o *Options) { o.Clock = func() time.Time { return y.at } }).screen()
	}
}

// TestAYear: nothing is forgotten, no line about which nothing can be done says the same for
// a week, and ten vessels have a dozen lines at most. The figures
// are in the guide; go test ./tui -run AYear -update writes them.
func TestAYear(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(800)) // much is planned, little is kept
	sizes := []int{4, 6, 10}
	rows := make([]string, len(sizes))
	var all sync.WaitGroup
	for i, jugs := range sizes {
		y := aYear(t, jugs)
		all.Go(func() {
			for day := range 365 {
				y.day(day)
			}
			rows[i] = fmt.Sprintf("| %d | %d | %d | %.1f | %d | %.0f %% | %.1f | %d | %d | %d |\n", jugs, len(y.batches), y.calm, float64(y.lines)/365, y.most,
				100*float64(y.acted)/float64(y.could), float64(y.anyDay)/365, y.missed, len(y.same), len(y.forgotten))
			assert.Empty(t, y.forgotten, "%d vessels", jugs)
			assert.Empty(t, y.same, "%d vessels", jugs)
			assert.LessOrEqual(t, y.most, 12, "%d vessels", jugs)
			file := filepath.Join("..", "testdata", "screens", fmt.Sprintf("year-%d-80x24.txt", jugs))
			if *update {
				assert.NoError(t, os.WriteFile(file, []byte(indented(y.busiest)), 0o666))
			}
			want, err := os.ReadFile(file)
			assert.NoError(t, err)
			assert.Equal(t, string(want), indented(y.busiest), file)
		})
	}
	all.Wait()
	head := "| vessels | musts | mornings with nothing | lines a morning | most | acted on | any day | missed | the same for a week | forgotten |\n" +
		"|---|---|---|---|---|---|---|---|---|---|\n"
	inGuide(t, "year", head+strings.Join(rows, ""))
}

// inGuide holds a part of the guide for owners, between its marks.
func inGuide(t *testing.T, name, want string) {
	guide := filepath.Join("..", "DEVELOPERS.md")
	data, err := os.ReadFile(guide)
	require.NoError(t, err)
	open, shut := "<!-- "+name+" -->\n", "<!-- /"+name+" -->"
	before, rest, found := strings.Cut(string(data), open)
	got, after, ends := strings.Cut(rest, shut)
	require.True(t, found && ends, "the guide has no part %s", name)
	if *update {
		require.NoError(t, os.WriteFile(guide, []byte(before+open+want+shut+after), 0o666))
		return
	}
	assert.Equal(t, want, got, "go test ./tui -run AYear -update")
}
