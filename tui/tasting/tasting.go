// Package tasting is the screen for tasting one glass or two: words first, then faults, a score once the words are
// written, and which one the taster would pour again. Two are tasted blind, by codes.
package tasting

import (
	"maps"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment/tasting"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/fill"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Model is a tasting. Its methods give a changed copy.
type Model struct {
	fill.In // its fields are the lines of the glasses, see place
	want    intent.Taste
	seed    uint64
	before  int // number of earlier triangle tests of the two

	glasses  []glass
	triangle bool
	odd      int // the code of the odd one
	stage    stage
	seen     bool // the person who pours is looking at which is which

	asked  bool // Enter was pressed with words missing
	failed string
	top    int // scroll position of the result
	kept   words.Comparison
}

type view struct {
	Model
	screen.Frame
}

type stage int

const (
	pouring stage = iota // nothing is written yet; blind glasses are being poured
	tastes
	shown // everything is written and shown
)

// glass is one glass. If it is not blind it has no code.
type glass struct {
	code   int
	poured form.Poured
}

type place struct {
	glass int
	line  string
}

func (p place) key() string { return strconv.Itoa(p.glass) + " " + p.line }

func (m Model) at() place {
	glass, line, _ := strings.Cut(m.Key, " ")
	n, _ := strconv.Atoi(glass) // without a key it is the first glass
	return place{n, line}
}

// New returns a tasting; the seed determines codes and order. Not ok without any of the ferments.
func New(f screen.Frame, want intent.Taste, seed uint64) (m Model, ok bool) {
	v := view{Model{want: want, seed: seed}, f}
	vs := v.vessels()
	if len(vs) == 0 {
		return m, false
	}
	v.want.Blind = want.Blind && len(vs) == 2
	if v.want.Blind {
		v.before = tasting.Between(vs[0].Ferment, vs[1].Ferment).Tests
	} else {
		v.stage = tastes
	}
	return v.poured(), true
}

// vessels returns the ferments to taste, at most two.
func (m view) vessels() []app.Vessel {
	vs := m.Snapshot.Among(m.want.Subjects)
	return vs[:min(len(vs), 2)]
}

// poured returns the tasting with its glasses.
func (m view) poured() Model {
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
		m.glasses = append(m.glasses, glass{g.Code, form.Pour(m.Snapshot, byID[g.Subject])})
	}
	if m.Key == "" {
		m.In = m.Behind(m.field(m.lines()[0], 0))
	}
	return m.Model
}

// Show returns the tasting for a later snapshot; what was written stays.
func (m Model) Show(f screen.Frame) screen.Screen {
	switch v := (view{m, f}); {
	case m.stage == shown:
		m.kept = words.SideBySide(v.vessels())
	case len(v.vessels()) == len(m.want.Subjects): // otherwise one of them is gone, and what is written stays
		return v.poured()
	}
	return m
}

// Subject returns the ferment being tasted; empty for blind glasses.
func (m Model) Subject() string {
	if m.want.Blind && m.stage != shown {
		return ""
	}
	return m.want.Subjects[0]
}

func (m Model) Typing() bool { return m.stage == tastes }

func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	v := view{m, f}
	if n, moves := widget.Steps(a, f.Height-6); moves && m.stage == shown {
		m.top = widget.ClampIndex(m.top+n, v.lastTop()+1)
		return m, nil
	}
	if m.stage == pouring {
		switch a {
		case intent.Side:
			m.seen = !m.seen
			return m, nil
		case intent.Next, intent.Previous:
			v.triangle, v.seen, v.Key = !m.triangle, false, ""
			return v.poured(), nil
		case intent.Open:
			m.stage, m.seen = tastes, false
			return m, nil
		}
	}
	return m, intent.Act{Action: a}
}

// keyWords are the footer's words at each stage.
var keyWords = map[stage]map[intent.Action]string{
	pouring: {intent.Open: "poured", intent.Side: "for who pours", intent.Next: "a triangle test", intent.Down: screen.Unnamed},
	tastes:  {intent.Open: "keep", intent.Side: "next line", intent.Next: "other glass", intent.Down: "line", intent.Back: "back, the words stay", intent.Help: screen.Unnamed},
	shown:   {intent.Open: screen.Unnamed, intent.Side: screen.Unnamed, intent.Next: screen.Unnamed, intent.Down: "more"},
}

func (m Model) Word(a intent.Action) string {
	switch {
	case m.stage == pouring && m.triangle && a == intent.Next:
		return "two glasses"
	case m.stage == pouring && m.seen && a == intent.Side:
		return "hide it"
	case m.stage == tastes && a == intent.Next && len(m.field(m.here(), m.at().glass).Words) > 0:
		return "choose"
	case m.stage == tastes && a == intent.Next && (m.triangle || len(m.glasses) < 2):
		return screen.Unnamed
	}
	return keyWords[m.stage][a]
}

// Draft returns what was written, and the seed of the codes.
func (m Model) Draft() intent.Draft {
	d := intent.Draft{Kind: "tasting", Subject: strings.Join(m.want.Subjects, " "), Step: m.want.Step}
	written := fill.In{Typed: maps.Clone(m.Typed)}
	maps.DeleteFunc(written.Typed, func(_, text string) bool { return strings.TrimSpace(text) == "" })
	if len(written.Typed) == 0 || m.stage == shown {
		return d
	}
	maps.Copy(written.Typed, form.Values{seedKey: strconv.FormatUint(m.seed, 10), beforeKey: strconv.Itoa(m.before), triangleKey: strconv.FormatBool(m.triangle)})
	d.Text = written.Encoded()
	return d
}

// The keys of a draft besides those of the glasses.
const (
	seedKey     = "seed"
	beforeKey   = "before"
	triangleKey = "triangle"
)

// Resume returns the tasting with an earlier draft, at the first missing word.
func (m Model) Resume(f screen.Frame, text string) screen.Screen {
	v := view{m, f}
	v.In = m.Decoded(text)
	if seed, err := strconv.ParseUint(v.Typed[seedKey], 10, 64); err == nil {
		v.seed = seed
	}
	if before, err := strconv.Atoi(v.Typed[beforeKey]); err == nil {
		v.before = before
	}
	v.triangle = m.want.Blind && v.Typed[triangleKey] == "true"
	maps.DeleteFunc(v.Typed, func(key, _ string) bool { return !strings.Contains(key, " ") })
	v.stage, v.Key = tastes, ""
	v.Model = v.poured()
	if at, is := v.missing(); is {
		v.Key = at.key()
	}
	return v.entered()
}

// Kept shows which glass was which, and all tastings of them.
func (m Model) Kept(f screen.Frame) (screen.Screen, bool) {
	m.stage, m.top = shown, 0
	return m.Show(f), true
}

func (m Model) Fail(err error) screen.Screen {
	m.failed = err.Error()
	return m
}
