package form

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	forms "cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
)

var update = flag.Bool("update", false, "write the goldens anew")

// drawing returns an invented form: how much is drawn off, and why.
func drawing(app.Snapshot) (forms.Form, bool) {
	return forms.Form{
		Name: "draw", Title: "draw off LIME-A", Subject: "lime-a",
		Fields: func(v forms.Values) []forms.Field {
			fields := []forms.Field{
				{Key: "what", Label: "what", Value: "sample", Words: []string{"sample", "part", "pour away"}},
				{Key: "volume", Label: "volume", From: "how much, e.g. 100 mL"},
			}
			if v["what"] == "part" {
				fields = append(fields, forms.Field{Key: "tag", Label: "tag", Value: "LIME-C", From: "the next that is free"})
			}
			return fields
		},
		Work: func(v forms.Values) forms.Outcome {
			volume, err := measure.ParseVolume(v["volume"])
			if err != nil {
				return forms.Outcome{Wrong: []forms.Wrong{{Key: "volume", Text: err.Error()}}}
			}
			o := forms.Outcome{Answer: []string{"3.40 L less " + volume.Text}, Lines: []words.Said{{Text: "the vessel is on the cold floor"}}}
			o.Lines = append(o.Lines, words.Said{Word: words.Warn, Text: "wet glass slips: carry it in a crate, with both hands, and wear shoes"})
			if v["what"] == "pour away" {
				o.Closed = "nothing is wrong with it"
			}
			o.Change.Entries = []ferment.Logged{{Subject: "lime-a", Entries: []ferment.Entry{{Lost: volume, Because: v[forms.Because]}}}}
			return o
		},
	}, true
}

func at(w, h int) view { return of(drawing, w, h) }

func of(open Open, w, h int) view {
	m, _ := New(app.Snapshot{}, open)
	return shownIn(m, app.Snapshot{}, w, h)
}

// press presses keys by their names; "text:…" letter by letter.
func press(m view, keys ...string) (view, intent.Intent) {
	var want intent.Intent
	for _, k := range keys {
		strokes := []intent.Stroke{{Name: k}}
		if text, is := strings.CutPrefix(k, "text:"); is {
			strokes = nil
			for _, r := range text {
				strokes = append(strokes, intent.Stroke{Name: string(r), Text: string(r)})
			}
		}
		for _, s := range strokes {
			m, want = m.presses(s)
		}
	}
	return m, want
}

func TestScreens(t *testing.T) {
	for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
		m, _ := press(at(size[0], size[1]), "text:pa", "down", "text:100 mL")
		file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("form-%dx%d.txt", size[0], size[1]))
		got := m.screen("Enter keep   Esc back") + "\n"
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, file)
	}
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	for w := 1; w <= 130; w += 3 {
		for h := 1; h <= 50; h += 3 {
			m, _ := press(at(w, h), "down", "text:a very long volume that is none at all", "enter", "pgdown")
			rows := strings.Split(m.screen("Esc back"), "\n")
			assert.Len(t, rows, h)
			for _, r := range rows {
				assert.LessOrEqual(t, ansi.StringWidth(r), w, "%dx%d", w, h)
			}
		}
	}
}

func TestAnswerChangesWhileTyping(t *testing.T) {
	m, _ := press(at(80, 24), "down", "text:100 mL")
	assert.Contains(t, m.screen(""), "3.40 L less 100 mL")
	m, _ = press(m, "backspace", "backspace")
	assert.NotContains(t, m.screen(""), "3.40 L less")
}

func TestChoiceAddsItsFields(t *testing.T) {
	m, _ := press(at(80, 24), "right")
	assert.Contains(t, m.screen(""), "LIME-C")
	m, _ = press(m, "left")
	assert.NotContains(t, m.screen(""), "LIME-C")
	m, _ = press(m, "left")
	assert.Contains(t, m.screen(""), "pour away", "round and round")
	m, _ = press(m, "text:p")
	assert.Contains(t, m.screen(""), "LIME-C", "the next that begins so")
}

func TestEnterWritesValidValues(t *testing.T) {
	m, want := press(at(80, 24), "enter")
	assert.Nil(t, want, "no volume yet")
	assert.Contains(t, m.screen(""), "△ ask")
	_, want = press(m, "text:100 mL", "enter")
	require.IsType(t, intent.Apply{}, want, "the cursor went to where something was wrong")
	assert.Equal(t, "100 mL", want.(intent.Apply).Change.Entries[0].Entries[0].Lost.Text)
}

func TestShutGateNeedsAReason(t *testing.T) {
	m, want := press(at(80, 24), "left", "down", "text:1 L", "enter")
	assert.Nil(t, want)
	_, want = press(m, "text:mould", "enter")
	require.IsType(t, intent.Apply{}, want)
	assert.Equal(t, "mould", want.(intent.Apply).Change.Entries[0].Entries[0].Because)
}

// A caution that is not on the screen yet is shown before anything is written.
func TestWarningIsSeenBeforeWriting(t *testing.T) {
	long := func(s app.Snapshot) (forms.Form, bool) {
		f, _ := drawing(s)
		work := f.Work
		f.Work = func(v forms.Values) forms.Outcome {
			o := work(v)
			o.Lines = append(o.Lines, words.Said{Word: words.Warn, Text: strings.Repeat("gas above the jug and a long way down to it; ", 12) + "the end of it"})
			return o
		}
		return f, true
	}
	m := of(long, 60, 15)
	m, want := press(m, "down", "text:1 L", "enter")
	require.NotContains(t, fmt.Sprint(want), "Apply")
	for i := 0; i < 20; i++ {
		if _, carries := want.(intent.Apply); carries {
			break
		}
		m, want = press(m, "enter")
	}
	require.IsType(t, intent.Apply{}, want, "it is kept at last")
	assert.Contains(t, m.screen(""), "the end of it")
}

func TestDraftComesBack(t *testing.T) {
	m, _ := press(at(80, 24), "right", "down", "text:1 L")
	d := m.Draft()
	again := at(80, 24)
	again.Model = again.Resume(again.Frame, d.Text).(Model)
	assert.Contains(t, again.screen(""), "1 L")
	assert.Contains(t, again.screen(""), "LIME-C")
	assert.Empty(t, at(80, 24).Draft().Text, "nothing would be lost")
	_, want := press(m, "esc")
	assert.Equal(t, intent.Close{}, want)
}

func TestWriteErrorIsShown(t *testing.T) {
	m := at(80, 24)
	m.Model = m.Fail(errors.New("the disk is full")).(Model)
	assert.Contains(t, m.screen(""), "the disk is full")
	m, _ = press(m, "down", "text:1")
	assert.NotContains(t, m.screen(""), "the disk is full")
}

// An unlikely value is asked about once: a second Enter writes it, another value is asked about again.
func TestUnlikelyValueIsAskedOnce(t *testing.T) {
	m := at(80, 24)
	m.form.Asks = func(c ferment.Change) []app.Ask {
		if c.Entries[0].Entries[0].Lost.Value > 1 {
			return []app.Ask{{Says: "2 L are more than half of it"}}
		}
		return nil
	}
	m, want := press(m, "down", "text:2 L", "enter")
	assert.IsType(t, intent.Say{}, want)
	assert.Contains(t, m.screen(""), "△ ask     2 L are more than half of it")
	_, again := press(m, "enter")
	assert.IsType(t, intent.Apply{}, again)
	m, _ = press(m, "backspace")
	assert.NotContains(t, m.screen(""), "more than half")
	_, want = press(m, "backspace", "backspace", "text:1 L", "enter")
	assert.IsType(t, intent.Apply{}, want, "likely again")
}

// Fields with usual values are folded into one row that names the values; an error in one of them, or Tab, unfolds
// them.
func TestUsualFieldsAreFolded(t *testing.T) {
	folding := func(s app.Snapshot) (forms.Form, bool) {
		f, _ := drawing(s)
		fields, work := f.Fields, f.Work
		f.Fields = func(v forms.Values) []forms.Field {
			return append([]forms.Field{{Key: "when", Label: "when", Value: "now", More: true}, {Key: "note", Label: "note", More: true}}, fields(v)...)
		}
		f.Work = func(v forms.Values) forms.Outcome {
			o := work(v)
			if v["when"] == "" {
				o.Wrong = append(o.Wrong, forms.Wrong{Key: "when", Text: "say when, e.g. now"})
			}
			return o
		}
		return f, true
	}
	m := of(folding, 80, 24)
	assert.Regexp(t, `(?s)what .*volume .*more +when now · 1 more`, m.screen(""))
	m, _ = press(m, "down", "text:1 L", "tab")
	assert.Regexp(t, `(?s)volume .*when +now.*note`, m.screen(""))
	assert.Equal(t, "fewer", m.Word(intent.Side))
	m, _ = press(m, "down", "backspace", "up", "tab")
	assert.NotContains(t, m.screen(""), "note", "what was typed into stays in sight")
	assert.Regexp(t, `when +·`, m.screen(""))
	m, want := press(m, "enter")
	assert.Nil(t, want)
	assert.Contains(t, m.screen(""), "when: say when")
	m, _ = press(of(folding, 80, 24), "down", "down")
	assert.Contains(t, m.screen(""), "note", "behind the last field the others follow")
}

// What was typed is marked as a draft, and one key clears it.
func TestDraftCanBeEmptied(t *testing.T) {
	m := at(80, 24)
	assert.NotContains(t, m.screen(""), "draft, not kept")
	assert.Equal(t, "-", m.Word(intent.Empty))
	m, _ = press(m, "right", "down", "text:1 L")
	assert.Contains(t, m.screen(""), "draft, not kept")
	m, _ = press(m, "ctrl+x")
	assert.NotContains(t, m.screen(""), "draft, not kept")
	assert.NotContains(t, m.screen(""), "1 L")
	assert.Empty(t, m.Draft().Text)
}
