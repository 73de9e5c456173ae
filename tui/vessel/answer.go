package vessel

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/theme"
)

// content is what a page says about a vessel, before it is drawn or spoken.
type content struct {
	theme    theme.Theme
	vessel   app.Vessel
	needs    []words.Line // what the day asks for
	now      time.Time
	forecast forecast.Forecast
}

// teller writes a page, in columns or in sentences.
type teller interface {
	heading(name string)
	under(w words.Word, text string) // a text after a word, or after none
	below(text string)               // more rows of it
	need(l words.Line)               // a task for now
	say(text string)                 // a row of text
	entry(e *ferment.Entry)          // an entry of the log
}

// answer writes what the vessel needs and how it is doing.
func (c content) answer(t teller) {
	needs := slices.DeleteFunc(slices.Clone(c.needs), func(l words.Line) bool { return !l.Word.Wants() })
	for _, l := range needs {
		t.need(l)
	}
	if len(needs) == 0 {
		t.under("", c.nothing())
	}
	if c.vessel.Trouble != "" {
		t.under(words.Warn, c.vessel.Trouble+": it has no plan")
	}
	if says := words.YeastOf(c.vessel); says != "" {
		t.under("", says)
	}
	for _, a := range words.AdviceOf(c.vessel) {
		t.under(a.Mark, c.theme.Bold(a.Says))
		for i, look := range a.Look {
			t.below(strconv.Itoa(i+1) + ". " + look)
		}
	}
	if text := c.course(); text != "" {
		t.under(words.Course, text)
	}
}

func (c content) nothing() string {
	text := c.theme.Bold("Nothing to do now.")
	for _, l := range c.plan() {
		if l.Word == words.Later || l.Word == words.Coming {
			return text + " Next: " + words.Join(" ", l.Act, l.Until) + "."
		}
	}
	return text
}

// ahead are the states of tasks in the plan, in the order of the page.
var ahead = []words.Word{words.Option, words.Later, words.Coming, words.Lapsed}

// plan returns the tasks still to come; only the first of each kind that was missed or has no day yet, and none that
// depends on an event.
func (c content) plan() []words.Line {
	var lines []words.Line
	for _, w := range ahead {
		for _, t := range c.vessel.Day.Tasks {
			l := words.LineOf(t, c.vessel, c.now)
			undated := w == words.Coming && l.Until == ""
			again := (w == words.Lapsed || undated) && slices.ContainsFunc(lines, func(o words.Line) bool { return o.Word == w && o.Act == l.Act })
			if l.Word == w && !again && !(undated && strings.HasPrefix(t.Reason, "waits until")) {
				lines = append(lines, l)
			}
		}
	}
	return lines
}

func (c content) log(t teller) {
	k := c.vessel.Course
	if len(k.Later) > 0 {
		t.heading("later than now, not counted")
		for _, e := range k.Later {
			t.entry(e)
		}
	}
	t.heading("log, newest first")
	if len(k.Entries) == 0 {
		t.say("nothing yet")
	}
	for _, e := range slices.Backward(k.Entries) {
		t.entry(e)
	}
}

// gates writes the checklists with what is missing, from clearing on.
func (c content) gates(t teller) {
	switch c.vessel.Course.Stage {
	case course.Clearing, course.Steady, course.Bottled:
	default:
		return
	}
	shown := slices.DeleteFunc(slices.Clone(c.vessel.Day.Gates), func(g schedule.Gate) bool { return g.Name == ferment.NutrientGate })
	if len(shown) > 0 {
		t.heading("before bottling")
	}
	for _, g := range shown {
		switch {
		case g.Open:
			t.under(words.Open, words.Join(": ", string(g.Name), g.Says))
		case len(g.Unmet) == 0:
			t.under(words.Shut, words.Join(": ", string(g.Name), g.Says))
		default:
			t.under(words.Shut, string(g.Name)+": "+words.Plural(len(g.Unmet), "thing")+" missing")
		}
		for _, u := range g.Unmet {
			t.below(words.Join(": ", u.What, u.Frees))
		}
	}
}

// course returns what the readings say: steady, falling, or too few to tell.
func (c content) course() string {
	k := c.vessel.Course
	switch ct := k.CannotTell; {
	case ct != nil:
		return "too early to tell: " + ct.Why + "; take gravity again " + words.When(ct.ReadAgain, c.now)
	case !k.Gravity.IsKnown():
		return "too early to tell: " + k.Gravity.Unknown
	case k.Steady.Open:
		return "gravity steady at " + words.Glass(k.Gravity.Value.Gravity, k.Settings) + " since " + words.Date(k.Steady.First, c.now)
	case c.forecast.Unknown == "":
		return c.expected() + c.off() + ". " + c.readNext()
	case !k.Pace.IsKnown():
		return "too early to tell: " + k.Pace.Unknown
	case k.Pace.Value <= 0:
		return "not falling"
	}
	return "falling " + measure.Decimal(k.Pace.Value, 1) + " points a day" + c.nextBreak()
}

// expected returns what the forecast says about the end.
func (c content) expected() string {
	f := c.forecast
	glass := func(g measure.Gravity) string { return words.Glass(g, c.vessel.Course.Settings) }
	near := glass(f.Finish) + " (" + glass(f.Low) + " to " + glass(f.High) + ")"
	switch {
	case !f.Near.IsZero():
		return "near its finish since about " + words.Date(f.Near, c.now) + "; it may still fall a little, to " + near
	case f.Says == forecast.NotStarted:
		return "hardly fallen yet"
	case f.Says == forecast.PerhapsStalled:
		return "no change since " + words.Date(f.Rests, c.now) + ": perhaps stalled"
	case f.MayStop > 0:
		return "slowing more than most: it may stop near " + glass(f.MayStop)
	case f.Says == forecast.CannotTell:
		return "too early to tell: " + f.Why
	case f.Done.At.IsZero():
		return "on its way; " + strings.TrimPrefix(f.Why, "no date: ") + ", near " + near
	case f.Done.Early.Before(c.now):
		return "finishes by " + words.Date(f.Done.Late, c.now) + ", near " + near
	}
	return "finishes between " + words.Date(f.Done.Early, c.now) + " and " + words.Date(f.Done.Late, c.now) + ", near " + near
}

// nextBreak returns the next break and its expected time.
func (c content) nextBreak() string {
	k := c.vessel.Course
	for _, b := range words.Breaks {
		g := k.Break(b.Share)
		if !g.IsKnown() || g.Value >= k.Gravity.Value.Gravity {
			continue
		}
		if e, ok := k.Reaches(g.Value); ok {
			return "; " + b.Name + " of the sugar gone about " + words.When(e.At, c.now) + ", ±" + words.Age(e.Within)
		}
		return ""
	}
	return ""
}

// off returns how the latest readings differ from the forecast.
func (c content) off() string {
	slower, inARow := c.forecast.Off()
	if inARow == 0 {
		return ""
	}
	word := "slower"
	if slower < 0 {
		word, slower = "faster", -slower
	}
	text := fmt.Sprintf("; %.0f points %s than forecast", 1000*float64(slower), word)
	if inARow > 1 {
		text += ", " + map[int]string{2: "twice", 3: "three times"}[inARow] + " in a row"
	}
	return text
}

func (c content) readNext() string {
	if !c.forecast.ReadNext.After(c.now) {
		return "Take gravity now."
	}
	return "Next useful reading: " + words.Date(c.forecast.ReadNext, c.now) + "."
}
