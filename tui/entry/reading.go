package entry

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// reading is the entry line: what was read or done, and what that will mean.
type reading struct {
	base
	was     *ferment.Entry // the entry that is corrected; nil for a new one
	filled  string         // what it said, as it would be typed
	line    line.Line
	unclear error
	preview app.Preview
	doubts
}

// NewReading opens the entry line of a vessel.
func NewReading(s app.Snapshot, v app.Vessel) Line { return reading{base: newBase(s, v)} }

// NewCorrection opens the line with what an entry said, to be kept in its place; not ok for one that a line cannot say.
func NewCorrection(s app.Snapshot, v app.Vessel, was ferment.Entry) (l Line, ok bool) {
	text, ok := app.Retyped(s.Cellar.Settings, s.At, was)
	return reading{base: base{s, v, widget.NewText(text)}, was: &was, filled: text}.understand(), ok
}

// understand reads the line again: its entry, what it means and what is unlikely in it.
func (r reading) understand() reading {
	r.line, r.unclear, r.preview, r.unlikely = line.Line{}, nil, app.Preview{}, nil
	switch {
	case r.text.Blank():
		return r
	case r.was != nil:
		if r.line, r.unclear = app.Instead(r.settings(), r.snapshot.At, *r.was, r.text.String()); r.unclear == nil && r.text.String() != r.filled {
			r.preview = app.MeaningInstead(r.snapshot, r.vessel, *r.was, r.line.Entry)
			r.unlikely = r.preview.Unlikely
		}
		return r
	}
	if r.line, r.unclear = (app.Typed{Line: r.text.String()}).Read(r.settings(), r.snapshot.At); r.unclear == nil {
		r.preview = app.Meaning(r.snapshot, r.vessel, r.line.Entry)
		r.unlikely = r.preview.Unlikely
	}
	return r
}

func (r reading) Press(s intent.Stroke) (Line, intent.Intent) {
	r.base, r.guess = r.press(s), nil
	return r.understand(), nil
}

// Do keeps what was typed. What is unlikely is asked about once.
func (r reading) Do(a intent.Action) (Line, intent.Intent) {
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
	case r.was != nil && r.text.String() == r.filled:
		return r, intent.Explain{Text: "it says what it said: change it first, or go back"}
	case r.unasked(r.text):
		r.asked = r.text.String()
		return r, nil
	}
	if r.was != nil {
		return r.because(), nil
	}
	if asks, bare := r.questions(); bare {
		return asks, nil
	}
	return r, intent.Log{Subjects: []string{r.vessel.ID()}, Line: r.text.String()}
}

// because asks why an entry is corrected; it may stay unsaid.
func (r reading) because() Line {
	says := func(e ferment.Entry) string {
		return words.LogTime(e.At, r.snapshot.At) + "  " + words.EntryLine(e, r.vessel.Plan, r.settings().Units)
	}
	return asking{base: newBase(r.snapshot, r.vessel), kind: "correct", label: "corrected, because:", struck: says(*r.was), instead: says(r.line.Entry),
		asks: "a reason, or none", back: r, keep: func(text string) intent.Intent {
			return intent.Correct{Subject: r.vessel.ID(), Entry: *r.was, Line: r.text.String(), Because: text}
		}}
}

// questions returns those of an act that was typed alone, or of a start.
func (r reading) questions() (Line, bool) {
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

func (r reading) Show(s app.Snapshot) Line {
	r.base = r.in(s)
	return r.understand()
}

// Draft returns what is typed; of a correction what it corrects, by what that said.
func (r reading) Draft() intent.Draft {
	switch d := r.draft("correct", r.filled); {
	case r.was == nil:
		return r.draft("reading", "")
	case d.Text == r.filled:
		d.Text = ""
		return d
	default:
		return d
	}
}

func (r reading) Rows(l Look) []string {
	label := "entry:"
	if r.was != nil {
		label = "correct:"
	}
	rows := []string{l.head(r.vessel.Label(), label, r.text, r.keepBack(l, r.text)...), ""}
	if r.was != nil {
		rows = append(rows, l.named("it said", words.LogTime(r.was.At, r.snapshot.At)+"  "+words.EntryLine(*r.was, r.vessel.Plan, r.settings().Units))...)
	}
	if r.unclear != nil {
		return append(rows, l.named("? unclear", r.unclear.Error())...)
	}
	if r.text.Blank() {
		return append(rows, l.named("", "a reading, an act, a note: 1.046@23, degas, ; bready")...)
	}
	return append(rows, r.meaning(l)...)
}

func (r reading) Footer(l Look) string {
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

// complete completes the last word as far as all that it could be agree, and lists them.
func (r reading) complete() (reading, intent.Intent) {
	typed := r.text.String()
	at := strings.LastIndexAny(typed, " ;") + 1
	word := strings.ToLower(typed[at:])
	could := slices.DeleteFunc(r.couldBe(word), func(c string) bool { return c == word || !strings.HasPrefix(strings.ToLower(c), word) })
	slices.Sort(could)
	if could = slices.Compact(could); word == "" || strings.Contains(typed[:at], ";") || len(could) == 0 {
		return r, nil
	}
	most := could[0]
	for !strings.HasPrefix(could[len(could)-1], most) { // sorted: the first and the last differ most
		most = most[:len(most)-1]
	}
	if len(could) == 1 && !strings.HasSuffix(most, "=") {
		most += " "
	}
	if r.text = widget.NewText(typed[:at] + most); len(could) == 1 {
		return r.understand(), nil
	}
	return r.understand(), intent.Say{Text: strings.Join(could[:min(len(could), 8)], "  ")}
}

// couldBe returns how a word that was begun can go on.
func (r reading) couldBe(word string) (could []string) {
	name, _, value := strings.Cut(word, "=")
	if !value {
		could = ferment.ActNames()
		for _, k := range ferment.Keys() {
			if k.Typed != "" {
				could = append(could, k.Name+"=")
			}
		}
		return could
	}
	for _, v := range r.snapshot.ValuesOf(name, []app.Vessel{r.vessel}) {
		if strings.Contains(v, " ") {
			v = `"` + v + `"`
		}
		could = append(could, name+"="+v)
	}
	return could
}
