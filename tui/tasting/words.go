package tasting

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/tasting"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

// line is what is asked for each glass, or once for all of them.
type line struct {
	name  string
	hint  string
	once  bool // asked once, not for each glass
	later bool // asked only once the words are written
	group bool // it begins a group
	tight bool // it belongs to the line before
}

var (
	poured = line{name: "poured", hint: "how cold, e.g. {14 °C}, or nothing", once: true, group: true}
	bottle = line{name: "bottle", hint: "which one, by its code or what it is for", tight: true}
	own    = []line{
		{name: "look", group: true}, {name: "nose"}, {name: "palate"}, {name: "body"}, {name: "finish"},
		{name: "faults", group: true, hint: strings.Join(tasting.Faults, ", ") + ", or your own word"},
		{name: "score", hint: "of 100, asked when the words are written", later: true, group: true},
		{name: "verdict", hint: strings.Join(ferment.AgainWords, ", ") + ", and why", later: true, tight: true},
	}
	again  = line{name: "again?", hint: "which you would rather pour again, asked last", once: true, later: true}
	oddOne = line{name: "odd one", hint: "two are the same: pick the third", once: true}
	why    = line{name: "why", hint: "any words, or none", once: true}
)

func (m Model) lines() []line {
	switch {
	case m.triangle:
		return []line{oddOne, why, poured}
	case len(m.glasses) == 2:
		return slices.Concat([]line{poured}, own, []line{again})
	case len(m.glasses) == 1 && m.glasses[0].poured.Bottle != "":
		return slices.Concat([]line{poured, bottle}, own)
	}
	return slices.Concat([]line{poured}, own)
}

// open returns the lines that can be filled in now: the score follows the words.
func (m Model) open() []line {
	return slices.DeleteFunc(m.lines(), func(l line) bool { return l.later && !m.allWritten() })
}

// allWritten reports whether the words of every glass are written.
func (m Model) allWritten() bool {
	for i := range m.glasses {
		if !tasting.Written(m.found(i)) {
			return false
		}
	}
	return true
}

// of returns the place of a line for a glass; what is asked once is at the first.
func (m Model) of(l line, glass int) place {
	if l.once {
		glass = 0
	}
	return place{glass, l.name}
}

func (m Model) here() line {
	i := slices.IndexFunc(m.lines(), func(l line) bool { return l.name == m.at().line })
	return m.lines()[max(i, 0)]
}

func (m Model) field(l line, glass int) form.Field {
	f := form.Field{Key: m.of(l, glass).key(), Label: l.name}
	switch l.name {
	case bottle.name:
		f.Value = m.glasses[glass].poured.Bottle
	case again.name, oddOne.name:
		for _, g := range m.glasses {
			f.Words = append(f.Words, strconv.Itoa(g.code))
		}
	}
	return f
}

func (m Model) Press(f screen.Frame, s intent.Stroke) (screen.Screen, intent.Intent) {
	here := m.field(m.here(), m.at().glass)
	if !s.Pasted {
		switch s.Name {
		case "tab", "down":
			return m.along(1), nil
		case "shift+tab", "up":
			return m.along(-1), nil
		case "left", "right":
			if len(m.glasses) == 2 && !m.here().once {
				return m.onto(place{1 - m.at().glass, m.at().line}), nil
			}
		case "backspace":
			if len(here.Words) > 0 {
				return m.put(""), nil
			}
		case "esc":
			return m, intent.Close{}
		case "enter":
			return view{m, f}.keep()
		}
	}
	in, changed := m.In.Press(here, s)
	m.In = in
	if changed {
		m.failed, m.asked = "", false
	}
	return m, nil
}

// onto puts the cursor onto a line of a glass.
func (m Model) onto(p place) Model {
	m = m.settled()
	m.Key = p.key()
	return m.entered()
}

// put replaces the text at the cursor.
func (m Model) put(text string) Model {
	if m.Typed[m.Key] == text {
		return m
	}
	m.In = m.Set(text)
	m.failed, m.asked = "", false
	return m
}

// along goes to another line of the glass; from the last one to the next glass.
func (m Model) along(n int) Model {
	m = m.settled()
	open := m.open()
	i := slices.IndexFunc(open, func(l line) bool { return l.name == m.at().line })
	next := max(i, 0) + n
	switch {
	case next >= 0 && next < len(open):
		return m.onto(m.of(open[next], m.at().glass))
	case len(m.glasses) == 2 && !m.triangle && next >= len(open) && m.at().glass == 0 && !m.allWritten():
		return m.onto(place{1, own[0].name})
	}
	return m.entered()
}

// entered puts the cursor at the end; a proposed bottle is selected, so that typing replaces it.
func (m Model) entered() Model {
	f := m.field(m.here(), m.at().glass)
	if _, set := m.Typed[f.Key]; !set {
		m.In = m.Onto(f)
	} else {
		m.In = m.Behind(f)
	}
	return m
}

// settled completes a fault that was typed in part.
func (m Model) settled() Model {
	if m.at().line != "faults" {
		return m
	}
	return m.put(strings.Join(faultsOf(m.Typed[m.Key]), ", "))
}

// faultsOf returns the faults in a text; two letters are enough if only one fault begins with them.
func faultsOf(text string) []string {
	var out []string
	for _, word := range strings.Split(text, ",") {
		word = strings.TrimSpace(word)
		if word == "" {
			continue
		}
		meant := ferment.Where(tasting.Faults, func(f string) bool { return len(word) >= 2 && strings.HasPrefix(f, strings.ToLower(word)) })
		if len(meant) == 1 {
			word = meant[0]
		}
		out = append(out, word)
	}
	return out
}

// found returns what was written of a glass, without an unreadable score.
func (m Model) found(i int) ferment.Tasting {
	text := func(line string) string { return strings.TrimSpace(m.Typed[place{i, line}.key()]) }
	t := ferment.Tasting{Look: text("look"), Nose: text("nose"), Palate: text("palate"), Body: text("body"), Finish: text("finish"), Faults: faultsOf(text("faults"))}
	if score, err := measure.ParseScore(text("score")); err == nil {
		t.Score = score
	}
	t.Again, _, _ = tasting.Verdict(text("verdict"))
	return t
}

// wrong says what cannot be read or is missing.
func (m view) wrong() string {
	if t := strings.TrimSpace(m.Typed[place{0, poured.name}.key()]); t != "" {
		if _, err := measure.ParseTemperatures(m.degrees(t)); err != nil {
			return err.Error()
		}
	}
	if m.triangle {
		if m.Typed[place{0, oddOne.name}.key()] == "" {
			return "none is chosen as the odd one: ← and → choose"
		}
		return ""
	}
	for i, g := range m.glasses {
		if name := m.bottle(i); name != "" && !g.poured.Knows(name) {
			return fmt.Sprintf("no bottle of %s is called %q: write its code or what it is for, e.g. drink", g.poured.Vessel.Label(), name)
		}
		if score := strings.TrimSpace(m.Typed[place{i, "score"}.key()]); score != "" {
			if _, err := measure.ParseScore(score); err != nil {
				return err.Error()
			}
		}
		if _, _, ok := tasting.Verdict(m.Typed[place{i, "verdict"}.key()]); !ok {
			return fmt.Sprintf("%q is no verdict: %s, then why, e.g. with changes, less honey", m.Typed[place{i, "verdict"}.key()], strings.Join(ferment.AgainWords, ", "))
		}
		if f := m.found(i); f.Look+f.Nose+f.Palate+f.Body+f.Finish == "" {
			return "no word is written of " + m.name(i) + ": its look, its nose or its palate, e.g. nose: wet hay"
		}
	}
	return ""
}

func (m Model) bottle(i int) string {
	if text, set := m.Typed[place{i, bottle.name}.key()]; set {
		return strings.TrimSpace(text)
	}
	return m.glasses[i].poured.Bottle
}

// name returns the name of a glass: its code, or its ferment.
func (m Model) name(i int) string {
	if g := m.glasses[i]; g.code > 0 {
		return strconv.Itoa(g.code)
	}
	return m.glasses[i].poured.Vessel.Label()
}

// degrees adds the cellar's unit to a bare temperature.
func (m view) degrees(text string) string {
	switch {
	case strings.Trim(text, "0123456789.,") != "":
		return text
	case m.units() == measure.US:
		return text + " °F"
	}
	return text + " °C"
}

func (m view) units() measure.System { return m.Snapshot.Cellar.Settings.Units }
