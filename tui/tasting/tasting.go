// Package tasting is the screen on which one glass or two are tasted: words
// first, faults, a score when the words are written, and which would rather be
// poured again. Two are tasted blind, under codes.
package tasting

import (
	"strings"

	"cellar/jugkeeper/ferment/tasting"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is a tasting. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	width, height int
	snapshot      app.Snapshot
	want          intent.Taste
	seed          uint64
	before        int // triangle tests of the two until now

	glasses  []glass
	triangle bool
	odd      int // the code of the odd one
	stage    stage
	seen     bool // the one who pours looks at which is which

	written map[place]string
	at      place // the cursor
	text    widget.Text
	asked   bool // Enter was pressed with words missing
	failed  string
	top     int // of what was kept
	kept    words.Beside
}

// stage is how far a tasting is.
type stage int

const (
	pouring stage = iota // nothing is written yet, and blind glasses are being poured
	tastes
	shown // everything is kept, and shown
)

// glass is one of a tasting. Those that are not blind have no code.
type glass struct {
	code   int
	poured form.Poured
}

// place is a line of a glass.
type place struct {
	glass int
	line  string
}

// New is the tasting that is asked for; a seed draws the codes and the order of
// blind glasses. It is not ok where none of the ferments is there.
func New(s app.Snapshot, want intent.Taste, seed uint64) (m Model, ok bool) {
	m = Model{want: want, seed: seed, written: map[place]string{}, snapshot: s}
	vs := m.vessels()
	if len(vs) == 0 {
		return m, false
	}
	m.want.Blind = want.Blind && len(vs) == 2
	if m.want.Blind {
		m.before = tasting.Between(vs[0].Ferment, vs[1].Ferment).Tests
	} else {
		m.stage = tastes
	}
	return m.poured(), true
}

// vessels are the ferments that are tasted, at most two.
func (m Model) vessels() []app.Vessel {
	var vs []app.Vessel
	for _, id := range m.want.Subjects {
		if v, ok := m.snapshot.Find(id); ok && len(vs) < 2 {
			vs = append(vs, v)
		}
	}
	return vs
}

// poured is the tasting with its glasses, from what stands there now.
func (m Model) poured() Model {
	vs := m.vessels()
	byID := map[string]app.Vessel{}
	var ids []string
	for _, v := range vs {
		byID[v.ID()], ids = v, append(ids, v.ID())
	}
	drawn := tasting.Glasses(m.seed, ids)
	switch {
	case m.triangle && len(ids) == 2:
		drawn, m.odd = tasting.Triangle(m.seed, [2]string{ids[0], ids[1]}, m.before)
	case !m.want.Blind:
		drawn = nil
		for _, id := range ids {
			drawn = append(drawn, tasting.Glass{Subject: id})
		}
	}
	m.glasses = nil
	for _, g := range drawn {
		m.glasses = append(m.glasses, glass{g.Code, form.Pour(m.snapshot, byID[g.Subject])})
	}
	if m.at.line == "" {
		m.at.line = m.lines()[0].name
		m.text = widget.NewText(m.written[m.at])
	}
	return m
}

// SetSize is the tasting on a terminal of that size.
func (m Model) SetSize(width, height int) screen.Screen {
	m.width, m.height = width, height
	return m
}

// SetTheme is the tasting in other colours.
func (m Model) SetTheme(t theme.Theme) screen.Screen {
	m.theme = t
	return m
}

// Show is the tasting as a later snapshot has it; what was written stays.
func (m Model) Show(s app.Snapshot, _ words.Sheet) screen.Screen {
	m.snapshot = s
	if m.stage == shown {
		m.kept = words.SideBySide(m.vessels())
		return m
	}
	if len(m.vessels()) < len(m.want.Subjects) {
		return m // one of them is gone: what is written stays
	}
	return m.poured()
}

// Subject is the ferment that is tasted; of blind glasses it is not told.
func (m Model) Subject() string {
	if m.want.Blind && m.stage != shown {
		return ""
	}
	return m.want.Subjects[0]
}

// Typing tells whether the words are being written.
func (m Model) Typing() bool { return m.stage == tastes }

// Do pours, or looks at what was kept.
func (m Model) Do(a intent.Action) (screen.Screen, intent.Intent) {
	if m.stage == shown {
		return widget.Along(m, a), nil
	}
	switch a {
	case intent.Side:
		m.seen = !m.seen
	case intent.Next, intent.Previous:
		m.triangle, m.seen, m.at = !m.triangle, false, place{}
		return m.poured(), nil
	case intent.Open:
		m.stage, m.seen = tastes, false
	}
	return m, nil
}

// Move scrolls what was kept.
func (m Model) Move(n int) Model {
	m.top = max(0, min(m.top+n, m.lastTop()))
	return m
}

// Page scrolls by n screens.
func (m Model) Page(n int) Model { return m.Move(n * max(m.height-6, 1)) }

// Home scrolls to the top.
func (m Model) Home() Model { return m.Move(-m.top) }

// End scrolls to the bottom.
func (m Model) End() Model { return m.Move(m.lastTop()) }

// keyWords are what the keys do at each stage; "-" for what the foot does not name.
var keyWords = map[stage]map[intent.Action]string{
	pouring: {intent.Open: "poured", intent.Side: "for who pours", intent.Next: "a triangle test", intent.Down: "-"},
	tastes:  {intent.Open: "keep", intent.Side: "next line", intent.Next: "other glass", intent.Down: "line", intent.Back: "back, the words stay", intent.Help: "-"},
	shown:   {intent.Open: "-", intent.Side: "-", intent.Next: "-", intent.Down: "more"},
}

// Word is what a key does here.
func (m Model) Word(a intent.Action) string {
	switch {
	case m.stage == pouring && m.triangle && a == intent.Next:
		return "two glasses"
	case m.stage == pouring && m.seen && a == intent.Side:
		return "hide it"
	case m.stage == tastes && a == intent.Next && len(m.choices()) > 0:
		return "choose"
	case m.stage == tastes && a == intent.Next && (m.triangle || len(m.glasses) < 2):
		return "-"
	}
	return keyWords[m.stage][a]
}

// Draft is what would be lost if the tasting were closed now.
func (m Model) Draft() intent.Draft {
	return intent.Draft{Kind: "tasting", Subject: strings.Join(m.want.Subjects, " "), Step: m.want.Step, Text: m.encoded()}
}

// Kept shows which was which, and all that was ever tasted of them.
func (m Model) Kept() (screen.Screen, bool) {
	m.stage, m.top = shown, 0
	m.kept = words.SideBySide(m.vessels())
	return m, true
}

// Fail says why it could not be kept; every word stays.
func (m Model) Fail(err error) screen.Screen {
	m.failed = err.Error()
	return m
}
