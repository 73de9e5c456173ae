package vessel

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Plain is what the page of a vessel says in sentences, line by line: to be
// read aloud, or by a program. The curve stands in it as numbers.
func Plain(width int, v app.Vessel, needs []words.Line, now time.Time) string {
	v, f := app.Foreseen(v)
	s := &spoken{width: width, paper: &paper{theme: theme.Theme{}, vessel: v, needs: needs, now: now, forecast: f}}
	s.answer()
	s.figures()
	s.readings()
	s.plan()
	s.gates()
	s.log()
	return strings.Join(s.lines, "\n") + "\n"
}

// spoken is the page as it is read aloud.
type spoken struct {
	paper *paper
	width int
	lines []string
}

// hanging is where the lines after the first of what is said begin.
const hanging = 9

func (s *spoken) heading(name string) { s.lines = append(s.lines, "", name) }

func (s *spoken) say(text string) {
	s.lines = append(s.lines, widget.Spoken("", text, 2, s.width)...)
}

// under says something under a word in capitals.
func (s *spoken) under(w words.Word, text string) {
	s.lines = append(s.lines, widget.Spoken(fmt.Sprintf("%-*s", hanging, strings.ToUpper(string(w))), text, hanging, s.width)...)
}

// below says more of what stands above it.
func (s *spoken) below(text string) {
	s.lines = append(s.lines, widget.Spoken(strings.Repeat(" ", hanging), text, hanging+2, s.width)...)
}

func (s *spoken) answer() {
	v := s.paper.vessel
	s.say(words.Sentences(words.Join(", ", v.Label(), v.Ferment.Name, stageOf(v, s.paper.now))))
	said := len(s.lines)
	for _, l := range s.paper.needs {
		switch l.Word {
		case words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay:
			s.under(l.Word, l.Spoken())
		}
	}
	if said == len(s.lines) {
		s.say(s.paper.nothing(linesOf(v, s.paper)))
	}
	if v.Trouble != "" {
		s.under(words.Warn, v.Trouble+": it has no plan.")
	}
	for _, a := range words.AdviceOf(v) {
		s.under(a.Mark, words.Sentences(a.Says))
		for i, look := range a.Look {
			s.below(strconv.Itoa(i+1) + ". " + look)
		}
	}
	if text := courseWords(v.Course, s.paper); text != "" {
		s.under(words.Course, words.Sentences(text))
	}
}

func (s *spoken) figures() {
	s.heading("figures")
	for _, f := range s.paper.list() {
		number := strings.TrimSpace(f.number + " " + f.unit)
		if f.number == words.Unknown {
			number = "unknown"
		}
		assumed := ""
		if f.assumed != "" {
			assumed = "assumed that " + f.assumed
		}
		s.say(f.name + " " + words.Join("; ", number, f.from, assumed))
	}
}

// readings are the curve in numbers, and what is expected of it.
func (s *spoken) readings() {
	p, c := s.paper, s.paper.vessel.Course
	s.heading("readings")
	for _, r := range c.Readings {
		if r.From == course.FromStart {
			continue
		}
		sample, doubt, typed := "", "", "typed "+r.Typed
		if r.Estimated {
			typed = "estimated, from the honey weighed"
		}
		if r.Sample.Known() {
			sample = " at " + measure.Shown(r.Sample, c.Settings.Units)
		}
		if r.Doubt != "" {
			doubt = "in doubt: " + r.Doubt
		}
		s.say(p.day(r.At) + words.Join("; ", words.Exact(r.Gravity, c.Settings)+fmt.Sprintf(" ± %.4f", r.Error), typed+sample, doubt))
	}
	if p.forecast.Unknown != "" {
		return
	}
	s.heading("expected, if it goes on like this, nine times in ten")
	for _, b := range p.forecast.Band(p.now, 14) {
		s.say(p.day(b.At) + words.Exact(b.Middle, c.Settings) + ", from " + words.Exact(b.Low, c.Settings) + " to " + words.Exact(b.High, c.Settings))
	}
}

// day is a time as the day since the pitch and the date.
func (p *paper) day(t time.Time) string {
	return "day " + measure.Decimal(t.Sub(p.vessel.Course.Pitch.At).Hours()/24, 1) + ", " + words.When(t, p.now) + ": "
}

func (s *spoken) plan() {
	s.heading("plan")
	lines := linesOf(s.paper.vessel, s.paper)
	if len(lines) == 0 {
		s.say("no plan: the file names no protocol")
	}
	for _, g := range gathered(lines) {
		text := words.Sentences(g.Act, words.Capital(detail(g.Line, g.before)), words.Capital(g.Until))
		s.under(g.Word, text)
	}
}

func (s *spoken) gates() {
	if len(s.paper.vessel.Day.Gates) == 0 {
		return
	}
	s.heading("gates")
	for _, g := range s.paper.vessel.Day.Gates {
		switch {
		case g.Open:
			s.under(words.Open, words.Sentences(string(g.Name), words.Capital(g.Says)))
		default:
			s.under(words.Shut, words.Sentences(string(g.Name), words.Capital(notMet(len(g.Unmet)))))
		}
		for _, u := range g.Unmet {
			s.below(words.Join(": ", u.What, u.Frees))
		}
	}
}

func (s *spoken) log() {
	c := s.paper.vessel.Course
	if len(c.Later) > 0 {
		s.heading("later than now, not counted")
		for _, e := range c.Later {
			s.say(words.LogTime(e.At, s.paper.now) + ": " + s.paper.entryWords(e))
		}
	}
	s.heading("log, newest first")
	if len(c.Entries) == 0 {
		s.say("nothing yet")
	}
	for i := len(c.Entries) - 1; i >= 0; i-- {
		s.say(words.LogTime(c.Entries[i].At, s.paper.now) + ": " + s.paper.entryWords(c.Entries[i]))
	}
}

// stageOf is the stage of a vessel, and its day where it was pitched.
func stageOf(v app.Vessel, now time.Time) string {
	day := ""
	if v.Course.Pitch.Known {
		day = "day " + strconv.Itoa(int(now.Sub(v.Course.Pitch.At).Hours()/24))
	}
	return words.Join(", ", string(v.Course.Stage), day)
}
