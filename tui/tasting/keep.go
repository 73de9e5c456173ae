package tasting

import (
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

// keep asks for the tasting to be written. Where words are missing it asks once.
func (m view) keep() (screen.Screen, intent.Intent) {
	m.Model = m.settled()
	if lines, may := form.MayTaste(m.Snapshot, m.vessels()); !may {
		return m.Model, intent.Say{Text: lines[0].Text}
	}
	if wrong := m.wrong(); wrong != "" {
		m.failed = wrong
		return m.Model, nil
	}
	if missing, is := m.missing(); is && !m.asked {
		m.asked, m.Key = true, missing.key()
		return m.entered(), intent.Say{Text: missing.line + " of " + m.name(missing.glass) + " has no word yet; Enter again keeps it so"}
	}
	return m.Model, intent.Apply{Change: m.change()}
}

// missing is the first line without a word.
func (m Model) missing() (place, bool) {
	if m.triangle {
		return place{}, false
	}
	for i := range m.glasses {
		for _, l := range own[:5] {
			if strings.TrimSpace(m.Typed[place{i, l.name}.key()]) == "" {
				return place{i, l.name}, true
			}
		}
	}
	return place{}, false
}

// change is what the tasting writes, in the order in which the ferments were
// named: the order of the glasses tells nothing that way.
func (m view) change() ferment.Change {
	t := form.Tasting{Snapshot: m.Snapshot, Step: m.want.Step, Blind: m.want.Blind, Again: -1}
	if at := strings.TrimSpace(m.Typed[place{0, poured.name}.key()]); at != "" {
		t.At, _ = measure.ParseTemperatures(m.degrees(at)) // looked at before
	}
	for _, v := range m.vessels() {
		i := slices.IndexFunc(m.glasses, func(g glass) bool { return g.poured.Vessel.ID() == v.ID() })
		p := m.glasses[i].poured
		p.Bottle = m.bottle(i)
		if !m.triangle {
			p.Found = m.found(i)
		}
		if code := m.Typed[place{0, again.name}.key()]; !m.triangle && code == strconv.Itoa(m.glasses[i].code) {
			t.Again = len(t.Glasses)
		}
		t.Glasses = append(t.Glasses, p)
	}
	if !m.triangle {
		return t.Change()
	}
	var codes []int
	for _, g := range m.glasses {
		codes = append(codes, g.code)
	}
	return t.Triangle(codes, m.odd, m.said(), strings.TrimSpace(m.Typed[place{0, why.name}.key()]))
}

// said is the code that was chosen as the odd one.
func (m view) said() int {
	n, _ := strconv.Atoi(m.Typed[place{0, oddOne.name}.key()])
	return n
}

// result is what all the triangle tests of the two amount to.
func (m view) result() tasting.Result {
	vs := m.vessels()
	if len(vs) != 2 {
		return tasting.Result{}
	}
	return tasting.Between(vs[0].Ferment, vs[1].Ferment)
}
