package entry

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// Reading is the entry line: what was measured or done, and what that will mean.
type Reading struct {
	base
	line    line.Line
	unclear error
	preview app.Preview
	doubts
}

// NewReading opens the entry line of a vessel.
func NewReading(s app.Snapshot, v app.Vessel) Line { return Reading{base: newBase(s, v)} }

func (r Reading) understand() Reading {
	r.line, r.unclear, r.preview, r.unlikely = line.Line{}, nil, app.Preview{}, nil
	if r.text.Blank() {
		return r
	}
	if r.line, r.unclear = (app.Typed{Line: r.text.String()}).Read(r.settings(), r.snapshot.At); r.unclear == nil {
		r.preview = app.Meaning(r.snapshot, r.vessel, r.line.Entry)
		r.unlikely = r.preview.Unlikely
	}
	return r
}

func (r Reading) Press(s intent.Stroke) (Line, intent.Intent) {
	r.base, r.guess = r.press(s), nil
	return r.understand(), nil
}

// Do keeps the text. Anything unlikely is asked about once.
func (r Reading) Do(a intent.Action) (Line, intent.Intent) {
	switch {
	case a == intent.Guess && len(r.unlikely) == 0 && r.guess == nil:
		return r.complete()
	case a == intent.Guess:
		r.text, r.doubts = r.take(r.text)
		return r.understand(), nil
	case a != intent.Keep:
		return r, closes(a)
	case r.text.Blank():
		return r, intent.Explain{Text: "there is nothing to keep: type a reading or an act, e.g. 1.046@23 or degas"}
	case r.unclear != nil:
		return r, nil
	case r.unasked(r.text):
		r.asked = r.text.String()
		return r, nil
	}
	if asks, bare := r.questions(); bare {
		return asks, nil
	}
	return r, intent.Log{Subjects: []string{r.vessel.ID()}, Line: r.text.String()}
}

// questions returns the questions of an act that was typed alone, or of a start.
func (r Reading) questions() (Line, bool) {
	e := r.line.Entry
	do := string(e.Did)
	if do == "" || e.Did == ferment.Started || !strings.EqualFold(strings.TrimSpace(r.text.String()), do) || !Asks(do, r.vessel.Culture != nil) {
		return nil, false
	}
	t, planned := app.TaskMeant(r.vessel, do)
	if !planned || t.State == schedule.Waiting || t.State == schedule.Done {
		t = schedule.Task{Subject: r.vessel.ID(), Step: do, Do: do, Open: true}
	}
	return NewQuestions(r.snapshot, r.vessel, t)
}

func (r Reading) Show(s app.Snapshot) Line {
	r.base = r.in(s)
	return r.understand()
}

func (r Reading) Draft() intent.Draft { return r.draft("reading", "") }

func (r Reading) Rows(l Look) []string {
	rows := []string{l.head(r.vessel.Label(), "entry:", r.text, r.keepBack(l, r.text)...), ""}
	if r.unclear != nil {
		return append(rows, l.named("? unclear", r.unclear.Error())...)
	}
	if r.text.Blank() {
		return append(rows, l.named("", "a reading, an act, a note: 1.046@23, degas, ; bready")...)
	}
	return append(rows, r.meaning(l)...)
}

func (r Reading) Footer(l Look) string {
	if r.isAsked(r.text) || r.guess != nil {
		return r.guessFooter(l)
	}
	sample, vessel, unit := "@23", "19.5C", "°C"
	if r.snapshot.Cellar.Settings.Units == measure.US {
		sample, vessel, unit = "@73", "67F", "°F"
	}
	return l.footer(widget.Key{Key: sample, Does: "sample " + unit}, widget.Key{Key: vessel, Does: "vessel"},
		widget.Key{Key: "ph3.4", Does: "pH"}, widget.Key{Key: "-30min", Does: "when"},
		widget.Key{Key: "?", Does: "in doubt"}, widget.Key{Key: ";", Does: "note"})
}
