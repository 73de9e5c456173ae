package entry

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// reading is the entry line: what was read or done, and what that will mean.
type reading struct {
	base
	line    line.Line
	unclear error
	preview app.Preview
	doubts
}

// NewReading opens the entry line of a vessel.
func NewReading(s app.Snapshot, v app.Vessel) Line { return reading{base: newBase(s, v)} }

// understand reads the line again: its entry, what it means and what is unlikely in it.
func (r reading) understand() reading {
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
	case r.unasked(r.text):
		r.asked = r.text.String()
		return r, nil
	}
	if asks, bare := r.questions(); bare {
		return asks, nil
	}
	return r, intent.Log{Subjects: []string{r.vessel.ID()}, Line: r.text.String()}
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

func (r reading) Draft() intent.Draft { return r.draft("reading", "") }

func (r reading) Rows(l Look) []string {
	rows := []string{l.head(r.vessel.Label(), "entry:", r.text, r.keepBack(l, r.text)...), ""}
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
	var values []string
	switch name {
	case "place":
		for _, v := range r.snapshot.Vessels {
			values = append(values, ferment.Map(v.Course.Entries, func(e *ferment.Entry) string { return e.Place })...)
		}
	case "bottle":
		for _, b := range shelf.Of(r.vessel.Course).Batches {
			for _, l := range b.Lines {
				values = append(values, l.Codes...)
			}
		}
	case "of":
		values = ferment.FruitNames()
	}
	for _, k := range ferment.Keys() {
		if k.Name == name {
			values = append(values, k.Words...)
		}
	}
	for _, v := range values {
		if strings.Contains(v, " ") {
			v = `"` + v + `"`
		}
		could = append(could, name+"="+v)
	}
	return could
}
