package entry

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// choice is a question with two answers: one key takes something up again, one lets it go.
type choice struct {
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
	return choice{base: newBase(s, v), tag: v.Label(), about: "an entry is gone from " + one.File, left: intent.Draft{Kind: "offer"},
		take: intent.PutBack{Lost: one}, drop: intent.LeaveOut{Lost: one}, takes: "no, put it back", lets: "yes, it stays out",
		asks: func(now app.Snapshot, l Look) []string {
			rows := l.named(words.LogTime(one.Entry.At, now.At), words.EntryLine(one.Entry, v.Plan, now.Cellar.Settings.Units))
			text := "Did you take it out? If not, an older state was saved over it, or the file was broken."
			if n := len(lost) - 1; n > 0 {
				text += fmt.Sprintf(" %d more entries are gone: they come after this one.", n)
			}
			return append(rows, l.Said(words.Ask, text)...)
		}}
}

// NewEarlier asks whether to continue a line that an earlier run left unfinished.
func NewEarlier(s app.Snapshot, left intent.Draft) Line {
	v, known := s.Find(left.Subject)
	c := choice{base: newBase(s, v), tag: left.Subject, about: lineNames[left.Kind] + ":", bold: left.Text, left: left,
		take: intent.TakeUp{Draft: left}, drop: intent.Drop{Draft: left}, takes: "go on with it", lets: "discard it",
		asks: func(now app.Snapshot, l Look) []string {
			when := "earlier"
			if !left.Typed.IsZero() {
				when = words.When(left.Typed, now.At)
			}
			return l.Said(words.Ask, fmt.Sprintf("this was typed %s and not kept. Go on with it, with that time?", when))
		}}
	if known {
		c.tag = v.Label()
	}
	return c
}

func (c choice) Press(intent.Stroke) (Line, intent.Intent) { return c, nil }

func (c choice) Do(a intent.Action) (Line, intent.Intent) {
	switch a {
	case intent.Keep:
		return c, c.take
	case intent.Back:
		return c, c.drop
	}
	return c, nil
}

func (c choice) Show(s app.Snapshot) Line {
	c.base = c.in(s)
	return c
}

func (c choice) Draft() intent.Draft { return c.left }

func (c choice) Rows(l Look) []string {
	word, _ := l.columns()
	text := layout.Cut(c.bold, max(layout.PageOf(l.Width).End()-word-layout.Width(c.about)-1, 1))
	return append([]string{words.Join(" ", l.tag(c.tag)+c.about, l.Theme.Bold(text)), ""}, c.asks(c.snapshot, l)...)
}

func (c choice) Footer(l Look) string {
	return l.footer(widget.Key{Key: l.Keep, Does: c.takes}, widget.Key{Key: l.Back, Does: c.lets})
}

// find is the line that looks for a tag, a name or an act; the selection follows it.
type find struct{ text widget.Text }

// NewFind opens the line, with what was looked for before.
func NewFind(before string) Line { return find{text: widget.NewText(before).Selected()} }

func (f find) Press(s intent.Stroke) (Line, intent.Intent) {
	f.text = f.text.Press(s)
	return f, intent.Seek{Text: f.wanted()}
}

// Do closes the line at what was found; an earlier text, unchanged, is looked for again.
func (f find) Do(a intent.Action) (Line, intent.Intent) {
	switch {
	case a != intent.Keep:
		return f, closes(a)
	case f.text.Whole():
		return f, intent.Seek{Text: f.wanted(), Again: true}
	}
	return f, intent.Close{}
}

func (f find) wanted() string { return strings.TrimSpace(f.text.String()) }

func (f find) Show(app.Snapshot) Line { return f }

// Draft returns nothing: what was looked for is not lost.
func (f find) Draft() intent.Draft { return intent.Draft{Kind: "find"} }

func (f find) Rows(l Look) []string {
	margin := strings.Repeat(" ", layout.PageOf(l.Width).Margin)
	return append([]string{margin + "find " + f.text.Drawn(l.Theme, layout.PageOf(l.Width).Width-5), ""}, l.named("", "a tag, a name, an act")...)
}

func (f find) Footer(l Look) string {
	return l.footer(widget.Key{Key: l.Keep, Does: "stay there"}, widget.Key{Key: l.Back, Does: "back"})
}

var lineNames = map[string]string{"reading": "entry", "note": "note", "passing": "skipped, because", "refusal": "because", "given": "given", "correct": "correct"}

// IsLine reports whether a draft of a kind is one of a line.
func IsLine(kind string) bool { return lineNames[kind] != "" }

// TakeUp opens the line that an earlier run left, with its time, its text chosen whole.
func TakeUp(s app.Snapshot, left intent.Draft) (Line, error) {
	v, ok := s.Find(left.Subject)
	if !ok {
		return nil, fmt.Errorf("there is no vessel %s now", left.Subject)
	}
	d := dating{s.Cellar.Settings, left.Typed, s.At}
	t, has := taskAt(v, left.Step)
	switch {
	case left.Kind == "note":
		return selected(NewReading(s, v), d.dated("", "; "+left.Text)), nil
	case left.Kind == "reading":
		return selected(NewReading(s, v), d.dated("", left.Text)), nil
	case left.Kind == "correct":
		for _, e := range slices.Concat(v.Course.Entries, v.Course.Later) {
			if l, _ := NewCorrection(s, v, *e); l.(reading).filled == left.Step {
				return selected(l, left.Text), nil
			}
		}
		return nil, fmt.Errorf("the entry is not there any more: %s", left.Step)
	case !has:
		return nil, fmt.Errorf("%s is not asked for any more", left.Step)
	case left.Kind == "passing":
		return selected(NewPassing(s, v, t), left.Text), nil
	case left.Kind == "given":
		return selected(NewGiven(s, v, t), d.dated(t.Do+" ", left.Text)), nil
	}
	l, _ := Settle(s, v, t)
	return selected(l, left.Text), nil
}

func taskAt(v app.Vessel, step string) (schedule.Task, bool) {
	return ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return t.Step == step })
}

// selected returns a line with another text, selected, so that typing replaces it.
func selected(l Line, text string) Line {
	chosen := widget.NewText(text).Selected()
	switch l := l.(type) {
	case reading:
		l.text = chosen
		return l.understand()
	case givenLine:
		l.text = chosen
		return l.work()
	case asking:
		l.text = chosen
		return l
	case Refusal:
		l.text = chosen
		return l
	}
	return l
}

type dating struct {
	settings   ferment.Settings
	typed, now time.Time
}

// dated returns a text with its time in full. Before is what the text is read after.
func (d dating) dated(before, text string) string {
	then, err := app.Typed{Line: before + text}.Read(d.settings, d.typed)
	switch {
	case d.typed.IsZero():
		return text
	case err != nil || !then.Timed:
		return d.stamp(d.typed) + text
	}
	if now, err := (app.Typed{Line: before + text}).Read(d.settings, d.now); err == nil && now.Entry.At.Time.Equal(then.Entry.At.Time) {
		return text
	}
	return d.stamp(then.Entry.At.Time) + d.untimed(before, text)
}

func (d dating) stamp(t time.Time) string { return t.In(d.settings.Zone).Format("2006-01-02 15:04 ") }

// untimed returns a text without the one or two words that say when.
func (d dating) untimed(before, text string) string {
	parts, note, has := strings.Cut(text, ";")
	if has {
		note = ";" + note
	}
	fields := strings.Fields(parts)
	for n := 1; n <= 2; n++ {
		for i := 0; i+n <= len(fields); i++ {
			rest := strings.TrimSpace(strings.Join(slices.Concat(fields[:i], fields[i+n:]), " ") + " " + note)
			if l, err := (app.Typed{Line: before + rest}).Read(d.settings, d.now); err == nil && !l.Timed {
				return rest
			}
		}
	}
	return text
}
