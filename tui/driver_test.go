package tui

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/board"
)

// The cellar here is invented; its figures are only for the keys.

var morning = time.Date(2026, time.October, 7, 7, 4, 0, 0, time.UTC)

func ago(d time.Duration) ferment.Moment { return ferment.At(morning.Add(-d)) }

func hours(n float64) time.Duration { return time.Duration(n * float64(time.Hour)) }

func gravity(text string) measure.Given[measure.Gravity] {
	g, err := measure.ParseGravity(text)
	if err != nil {
		panic(err)
	}
	return g
}

func litres(v float64) measure.Given[measure.Volume] {
	return measure.Give(measure.Volume(v), measure.Decimal(v, 2)+" L")
}

// shelf is a store in memory.
type shelf struct {
	cellar  ferment.Cellar
	changed bool
	loadErr error
	saveErr error
	loads   int
	written []ferment.Written
}

func (s *shelf) Load(time.Time) (ferment.Cellar, error) {
	s.loads++
	s.changed = false
	c := s.cellar
	c.Ferments = slices.Clone(c.Ferments)
	return c, s.loadErr
}

func (s *shelf) Changed() bool { return s.changed }

func (s *shelf) log(subject string) *ferment.Ferment {
	for i := range s.cellar.Ferments {
		if s.cellar.Ferments[i].ID == subject {
			return &s.cellar.Ferments[i]
		}
	}
	return nil
}

func (s *shelf) Append(subject string, entries []ferment.Entry) (ferment.Receipt, error) {
	if s.saveErr != nil {
		return ferment.Receipt{}, s.saveErr
	}
	f := s.log(subject)
	log := slices.Clone(f.Log)
	for _, e := range entries {
		e.Order, e.Line = len(log), 100+len(log)
		log = append(log, e)
	}
	f.Log, f.Stamp = log, f.Stamp+1
	return ferment.Receipt{Subject: subject, Entries: entries}, nil
}

// Apply keeps only the entries of a change.
func (s *shelf) Apply(change ferment.Change) (receipts []ferment.Receipt, err error) {
	for _, l := range change.Entries {
		r, err := s.Append(l.Subject, l.Entries)
		if err != nil {
			return receipts, err
		}
		receipts = append(receipts, r)
	}
	return receipts, nil
}

func (s *shelf) Past(time.Time) ([]ferment.Ferment, []ferment.Problem, error) { return nil, nil, nil }
func (s *shelf) OfPast(func(ferment.Ferment) any) []json.RawMessage           { return nil }
func (s *shelf) Protocols() ferment.Plans                                     { return s.cellar.Protocols }

func (s *shelf) Check(now time.Time) (ferment.Cellar, error)   { return s.Load(now) }
func (s *shelf) Quote(ps []ferment.Problem) []ferment.Problem  { return ps }
func (s *shelf) Lost(ferment.Cellar) ([]ferment.Lost, error)   { return nil, nil }
func (s *shelf) Restore(ferment.Lost) (ferment.Receipt, error) { return ferment.Receipt{}, nil }
func (s *shelf) Dismiss(ferment.Lost) error                    { return nil }

// Strike takes an entry out of the log, wherever it is.
func (s *shelf) Strike(subject string, e ferment.Entry, _ string, instead ...ferment.Entry) (ferment.Receipt, error) {
	f := s.log(subject)
	f.Log = slices.DeleteFunc(slices.Clone(f.Log), func(o ferment.Entry) bool { return o.At.Time.Equal(e.At.Time) && o.Line == e.Line })
	f.Log = append(f.Log, instead...)
	f.Stamp++
	return ferment.Receipt{Subject: subject, Entries: []ferment.Entry{e}, Instead: instead, Struck: true}, nil
}

func (s *shelf) Written() []ferment.Written     { return s.written }
func (s *shelf) SetWritten(w []ferment.Written) { s.written = w }

func (s *shelf) Undo(r ferment.Receipt) error {
	f := s.log(r.Subject)
	if r.Struck {
		f.Log, f.Stamp = slices.Concat(r.Entries, f.Log[:len(f.Log)-len(r.Instead)]), f.Stamp+1
		return nil
	}
	f.Log, f.Stamp = slices.Clone(f.Log[:len(f.Log)-len(r.Entries)]), f.Stamp+1
	return nil
}

// newShelf has two vessels of one trial and one that is older.
func newShelf() *shelf {
	zone := time.UTC
	after := func(anchor string, n float64, unit ferment.OffsetUnit) ferment.When {
		return ferment.When{Point: ferment.Point{Anchor: anchor}, Offset: ferment.Offset{Number: n, Unit: unit}}
	}
	window := ferment.Window{Opens: ferment.Offset{Number: -12, Unit: ferment.Hour}, Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}}
	plan := ferment.Protocol{Name: "short", Steps: []ferment.Step{
		{Name: "degas", Do: "degas", Due: after("pitch", 3, ferment.Day), Window: window, Missed: ferment.Drop},
		{Name: "nutrient-2", Do: "nutrient", Due: after("pitch", 68, ferment.Hour), Window: window, Missed: ferment.Late, Gate: ferment.NutrientGate,
			Share: 1, Amount: "by figure", First: []ferment.Act{ferment.Degas}},
		{Name: "gravity", Do: "gravity", Due: after("pitch", 80, ferment.Hour), Window: window, Missed: ferment.Drop},
	}}
	settings := ferment.DefaultSettings(zone)
	settings.Nutrients = []ferment.NutrientKind{{Name: "ammonium phosphate", Kind: "ammonium", Nitrogen: measure.Give(measure.Yield(212), "212 mg/g")}}
	return &shelf{cellar: ferment.Cellar{
		Dir: "/cellar", Settings: settings, Protocols: plansOf(plan),
		Ferments: []ferment.Ferment{
			jug("heath", "HEATH", "1.106", 80, "1.085", 12),
			jug("lime-a", "LIME-A", "1.076", 72, "1.066", 12),
			jug("lime-b", "LIME-B", "1.076", 72, "1.066", 41),
		},
	}}
}

// jug returns a ferment that was pitched and read so many hours ago.
func jug(id, tag, original string, pitched float64, now string, read float64) ferment.Ferment {
	return ferment.Ferment{
		ID: id, Tag: tag, Name: strings.ToLower(tag) + " honey", Protocol: "short", File: "ferments/" + id + ".yaml",
		Must:  ferment.Must{Volume: litres(3.4), Gravity: gravity(original)},
		Yeast: ferment.Yeast{Name: "white-wine yeast", Tolerance: measure.Give(measure.Strength(14), "14 %")},
		Log: []ferment.Entry{
			{At: ago(hours(pitched)), Did: ferment.Pitch, Line: 20},
			{At: ago(hours(read)), Order: 1, Gravity: gravity(now), Line: 24},
		},
	}
}

// driver sends messages to a model and runs its commands one after the other, without a terminal or waiting.
type driver struct {
	t     *testing.T
	shelf *shelf
	now   time.Time
	model tea.Model
	quit  bool
	asked []tea.Msg // which only a terminal can answer
}

func drive(t *testing.T, s *shelf, width, height int, change ...func(*Options)) *driver {
	t.Helper()
	d := &driver{t: t, shelf: s, now: morning}
	o := Options{
		App: app.New(s), Cellar: "/cellar",
		Clock: func() time.Time { return d.now },
		wait:  func(time.Duration, func() tea.Msg) tea.Cmd { return nil },
	}
	for _, c := range change {
		c(&o)
	}
	d.model = New(o)
	d.run(d.model.Init())
	d.send(tea.WindowSizeMsg{Width: width, Height: height})
	return d
}

func (d *driver) send(msg tea.Msg) {
	next, cmd := d.model.Update(msg)
	d.model = next
	d.run(cmd)
}

func (d *driver) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			d.run(c)
		}
	case tea.QuitMsg:
		d.quit = true
	case tea.SuspendMsg:
		d.asked = append(d.asked, msg)
	default:
		d.send(msg)
	}
}

// keys presses keys by name; "text:…" arrives as one message.
func (d *driver) keys(names ...string) *driver {
	for _, name := range names {
		d.send(keyMsg(name))
	}
	return d
}

func keyMsg(name string) tea.KeyMsg {
	if text, ok := strings.CutPrefix(name, "text:"); ok {
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)}
	}
	if text, ok := strings.CutPrefix(name, "paste:"); ok {
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}
	}
	named := map[string]tea.KeyType{"space": tea.KeySpace, "enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "up": tea.KeyUp,
		"down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight, "home": tea.KeyHome, "end": tea.KeyEnd, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown,
		"backspace": tea.KeyBackspace, "delete": tea.KeyDelete, "ctrl+c": tea.KeyCtrlC, "ctrl+z": tea.KeyCtrlZ, "ctrl+u": tea.KeyCtrlU}
	if kind, ok := named[name]; ok {
		return tea.KeyMsg{Type: kind}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

func (d *driver) screen() string { return ansi.Strip(d.model.View()) }

func (d *driver) is() Model { return d.model.(Model) }

func (d *driver) shows(texts ...string) *driver {
	d.t.Helper()
	for _, text := range texts {
		require.Contains(d.t, d.screen(), text)
	}
	return d
}

func (d *driver) lacks(texts ...string) *driver {
	d.t.Helper()
	for _, text := range texts {
		require.NotContains(d.t, d.screen(), text)
	}
	return d
}

// log returns the entries of a ferment beyond those it began with.
func (d *driver) log(id string) []ferment.Entry { return d.shelf.log(id).Log[2:] }

var errDisk = errors.New("the disk is full: nothing was written")

func (m Model) board() board.Model { return m.screens[OnBoard].(board.Model) }

// plansOf returns plans of protocols.
func plansOf(protocols ...ferment.Protocol) ferment.Plans {
	plans := ferment.Plans{}
	for _, p := range protocols {
		plans[p.Name] = func() ferment.Protocol { return p }
	}
	return plans
}
