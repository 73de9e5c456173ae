package entry

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// Choice is a question with two answers: one key takes something up, another discards it.
type Choice struct {
	base
	tag, about  string
	bold        string // the part in bold: what a person wrote
	asks        func(now app.Snapshot, l Look) []string
	take, drop  intent.Intent
	takes, lets string // words of the two keys
	left        intent.Draft
}

// NewOffer asks whether the first of the entries that are gone from their files was removed on purpose.
func NewOffer(s app.Snapshot, lost []ferment.Lost) Line {
	v, _ := s.Find(lost[0].Subject)
	one := lost[0]
	return Choice{base: newBase(s, v), tag: v.Label(), about: "an entry is gone from " + one.File, left: intent.Draft{Kind: "offer"},
		take: intent.PutBack{Lost: one}, drop: intent.LeaveOut{Lost: one}, takes: "no, put it back", lets: "yes, it stays out",
		asks: func(now app.Snapshot, l Look) []string {
			rows := l.named(words.LogTime(one.Entry.At, now.At), words.EntryLine(one.Entry, now.Cellar.Settings.Units))
			text := "Did you take it out? If not, an older state was saved over it, or the file was broken."
			if n := len(lost) - 1; n > 0 {
				text += fmt.Sprintf(" %d more to be asked about after it.", n)
			}
			return append(rows, l.worded(words.Ask, text)...)
		}}
}

// NewEarlier asks whether to continue a line that an earlier run left unfinished.
func NewEarlier(s app.Snapshot, left intent.Draft) Line {
	v, known := s.Find(left.Subject)
	c := Choice{base: newBase(s, v), tag: left.Subject, about: lineNames[left.Kind] + ":", bold: left.Text, left: left,
		take: intent.TakeUp{Draft: left}, drop: intent.Drop{Draft: left}, takes: "take it up", lets: "drop it",
		asks: func(now app.Snapshot, l Look) []string {
			when := "earlier"
			if !left.Typed.IsZero() {
				when = words.When(left.Typed, now.At)
			}
			return l.worded(words.Ask, fmt.Sprintf("typed %s and not kept. Take it up, to be kept with its time?", when))
		}}
	if known {
		c.tag = v.Label()
	}
	return c
}

func (c Choice) Press(intent.Stroke) (Line, intent.Intent) { return c, nil }

func (c Choice) Do(a intent.Action) (Line, intent.Intent) {
	switch a {
	case intent.Keep:
		return c, c.take
	case intent.Back:
		return c, c.drop
	}
	return c, nil
}

func (c Choice) Show(s app.Snapshot) Line {
	c.base = c.in(s)
	return c
}

func (c Choice) Draft() intent.Draft { return c.left }

func (c Choice) Rows(l Look) []string {
	word, _ := l.columns()
	text := layout.Cut(c.bold, max(layout.PageOf(l.Width).End()-word-layout.Width(c.about)-1, 1))
	return append([]string{words.Join(" ", l.tag(c.tag)+c.about, l.Theme.Bold(text)), ""}, c.asks(c.snapshot, l)...)
}

func (c Choice) Footer(l Look) string {
	return l.footer(widget.Key{Key: l.Keep, Does: c.takes}, widget.Key{Key: l.Back, Does: c.lets})
}

// Find is the line for searching a tag, a name or an act; the selection follows it.
type Find struct{ text widget.Text }

// NewFind opens the line, with what was looked for before.
func NewFind(before string) Line { return Find{text: widget.NewText(before).Selected()} }

func (f Find) Press(s intent.Stroke) (Line, intent.Intent) {
	f.text = f.text.Press(s)
	return f, intent.Seek{Text: f.wanted()}
}

// Do closes the line at what was found; an unchanged earlier text is searched again.
func (f Find) Do(a intent.Action) (Line, intent.Intent) {
	switch {
	case a != intent.Keep:
		return f, closes(a)
	case f.text.Whole():
		return f, intent.Seek{Text: f.wanted(), Again: true}
	}
	return f, intent.Close{}
}

func (f Find) wanted() string { return strings.TrimSpace(f.text.String()) }

func (f Find) Show(app.Snapshot) Line { return f }

// Draft returns nothing to keep.
func (f Find) Draft() intent.Draft { return intent.Draft{Kind: "find"} }

func (f Find) Rows(l Look) []string {
	margin := strings.Repeat(" ", layout.PageOf(l.Width).Margin)
	return append([]string{margin + "find " + f.text.Drawn(l.Theme, layout.PageOf(l.Width).Width-5), ""}, l.named("", "a tag, a name, an act")...)
}

func (f Find) Footer(l Look) string {
	return l.footer(widget.Key{Key: l.Keep, Does: "stay there"}, widget.Key{Key: l.Back, Does: "back"})
}
