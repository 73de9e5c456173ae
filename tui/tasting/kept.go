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
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// keep asks to write the tasting; if words are missing, only when asked twice.
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
		return m.entered(), intent.Say{Text: missing.line + " of " + m.name(missing.glass) + " has no word yet; Enter again keeps the tasting"}
	}
	return m.Model, intent.Apply{Change: m.change()}
}

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

// change returns what is written, in the order of the ferments, so that it does not reveal that of the glasses.
func (m view) change() ferment.Change {
	t := form.Tasting{Snapshot: m.Snapshot, Step: m.want.Step, Blind: m.want.Blind, Again: -1}
	if at := strings.TrimSpace(m.Typed[place{0, poured.name}.key()]); at != "" {
		t.At, _ = measure.ParseTemperatures(m.degrees(at)) // checked before
	}
	for _, v := range m.vessels() {
		i := slices.IndexFunc(m.glasses, func(g glass) bool { return g.poured.Vessel.ID() == v.ID() })
		p := m.glasses[i].poured
		p.Bottle = m.bottle(i)
		if !m.triangle {
			p.Found = m.found(i)
			_, p.Why, _ = tasting.Verdict(m.Typed[place{i, "verdict"}.key()])
		}
		if code := m.Typed[place{0, again.name}.key()]; !m.triangle && code == strconv.Itoa(m.glasses[i].code) {
			t.Again = len(t.Glasses)
		}
		t.Glasses = append(t.Glasses, p)
	}
	if !m.triangle {
		return t.Change()
	}
	codes := ferment.Map(m.glasses, func(g glass) int { return g.code })
	return t.Triangle(codes, m.odd, m.said(), strings.TrimSpace(m.Typed[place{0, why.name}.key()]))
}

// said returns the code chosen as the odd one.
func (m view) said() int {
	n, _ := strconv.Atoi(m.Typed[place{0, oddOne.name}.key()])
	return n
}

// shown returns which glass was which, and all tastings of the two by age.
func (m view) shown(page layout.Page) []string {
	var rows []string
	if m.want.Blind {
		for _, g := range m.glasses {
			rows = append(rows, layout.Row{}.At(page.Margin, m.Theme.Bold(fmt.Sprint(g.code))).At(textColumn, m.Theme.Bold(g.poured.Vessel.Label())).In(page.End()))
		}
		rows = append(rows, "")
	}
	if m.triangle {
		rows = append(append(rows, m.answer(page)...), "")
	}
	for _, a := range m.kept.Aged {
		rows = append(append(rows, widget.Aged(m.Theme, page, m.kept.Labels, a)...), "")
	}
	return rows
}

// answer says whether the odd one was found, and what all tests so far show.
func (m view) answer(page layout.Page) []string {
	says := fmt.Sprintf("it was %d; %d was said", m.odd, m.said())
	if m.odd == m.said() {
		says = fmt.Sprintf("it was %d, as said", m.odd)
	}
	rows := widget.Labelled(page, textColumn, page.End(), m.Theme.Faint("odd one"), says)
	return append(rows, widget.Labelled(page, textColumn, page.End(), m.Theme.Faint("found"), m.kept.Triangle)...)
}
