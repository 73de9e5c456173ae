package vessel

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Plain returns the page of a vessel in sentences, to be read aloud, the curve as numbers.
func Plain(width int, v app.Vessel, needs []words.Line, now time.Time) string {
	v, f := app.Foreseen(v)
	s := &spoken{content: content{theme.Theme{}, v, needs, now, f}, width: width}
	s.say(words.Sentences(words.Join(", ", v.Label(), v.Ferment.Name, stageOf(v, now))))
	s.answer(s)
	s.heading("figures")
	for _, f := range s.figures() {
		number := strings.Replace(f.number, words.Unknown, "unknown", 1)
		assumed := ""
		if f.note != "" {
			assumed = "(" + f.note + ")"
		}
		s.say(words.Join(" ", f.name, number, f.unit, assumed))
	}
	s.heading("readings")
	for _, r := range s.read() {
		s.say("day " + r[0] + ", " + r[1] + ": " + r[2] + " ± " + r[3] + "; typed " + r[4])
	}
	if foreseen := s.foreseen(); len(foreseen) > 0 {
		s.heading(expectedHeading)
		for _, r := range foreseen {
			s.say("day " + r[0] + ", " + r[1] + ": " + r[2] + ", from " + r[3] + " to " + r[4])
		}
	}
	s.heading("plan")
	for _, l := range s.plan() {
		s.under(l.Word, words.Sentences(words.Join(", ", l.Act, l.Amount.String()), words.Capital(l.Until), words.Capital(l.Short)))
	}
	if len(v.Day.Tasks) == 0 {
		s.say("no plan: the file names no protocol")
	}
	s.gates(s)
	s.log(s)
	return strings.Join(s.lines, "\n") + "\n"
}

// spoken is a page in sentences.
type spoken struct {
	content
	width int
	lines []string
}

// hanging is the indentation after the first line.
const hanging = 9

func (s *spoken) heading(name string) { s.lines = append(s.lines, "", name) }

func (s *spoken) say(text string) {
	s.lines = append(s.lines, widget.Spoken("", text, 2, s.width)...)
}

func (s *spoken) entry(e *ferment.Entry) { s.say(words.LogTime(e.At, s.now) + ": " + s.entryWords(e)) }

// under says something under a word in capitals.
func (s *spoken) under(w words.Word, text string) {
	if w == "" {
		s.say(words.Sentences(text))
		return
	}
	s.lines = append(s.lines, widget.Spoken(fmt.Sprintf("%-*s", hanging, strings.ToUpper(string(w))), words.Sentences(text), hanging, s.width)...)
}

func (s *spoken) need(l words.Line) { s.under(l.Word, l.Spoken()) }

// below adds to what is above.
func (s *spoken) below(text string) {
	s.lines = append(s.lines, widget.Spoken(strings.Repeat(" ", hanging), text, hanging+2, s.width)...)
}

// stageOf returns the stage of a vessel, and its day where it was pitched.
func stageOf(v app.Vessel, now time.Time) string {
	if !v.Course.Pitch.Known {
		return words.StageName(v.Course.Stage)
	}
	return words.Join(", ", words.StageName(v.Course.Stage), "day "+words.Day(v.Course, now))
}
