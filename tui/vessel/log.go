package vessel

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

const entryColumn = 19

// log is every entry, the newest first; those later than now stand apart.
func (p *paper) log() {
	c := p.vessel.Course
	if len(c.Later) > 0 {
		p.heading("later than now, not counted")
		for _, e := range c.Later {
			p.entry(e)
		}
	}
	p.heading("log, newest first")
	if len(c.Entries) == 0 {
		p.put(layout.Row{}.At(p.page.Margin, "nothing yet"))
	}
	for i := len(c.Entries) - 1; i >= 0; i-- {
		p.entry(c.Entries[i])
	}
}

func (p *paper) entry(e *ferment.Entry) {
	from := len(p.rows)
	r := layout.Row{}.At(p.page.Margin, words.LogTime(e.At, p.now))
	p.beside(r, entryColumn, p.entryWords(e))
	for i := from; i < len(p.rows); i++ {
		p.rows[i].line = e.Line
	}
}

// entryWords is an entry with its gravity corrected, and why it was passed.
func (p *paper) entryWords(e *ferment.Entry) string {
	text := words.EntryLine(*e, p.vessel.Course.Settings.Units)
	if r, ok := p.vessel.Course.ReadingOf(e); ok {
		if exact := words.Exact(r.Gravity, p.vessel.Course.Settings); exact != text {
			text += "; so " + exact
		}
		if r.Doubt != "" {
			text += "? in doubt: " + r.Doubt
		}
	}
	if e.Overrode != "" {
		text += "; overrode " + e.Overrode
	}
	if e.Because != "" {
		text += ", because " + e.Because
	}
	return text
}
