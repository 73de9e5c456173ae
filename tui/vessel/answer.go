package vessel

import (
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// The columns of the answer: a word, and what it says.
const (
	wordColumn = 12
	saysColumn = 22
)

// answer is what the vessel needs and where it stands, in a few rows.
func (p *paper) answer() {
	said := 0
	for _, l := range p.needs {
		switch l.Word {
		case words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay:
			p.beside(p.word(wordColumn, l.Word), saysColumn, p.need(l))
			said++
		}
	}
	if said == 0 {
		p.beside(layout.Row{}, saysColumn, p.nothing(linesOf(p.vessel, p)))
	}
	if p.vessel.Trouble != "" {
		p.beside(p.word(wordColumn, words.Warn), saysColumn, p.vessel.Trouble+": it has no plan")
	}
	if says := words.YeastOf(p.vessel); says != "" {
		p.beside(layout.Row{}.At(wordColumn, "yeast"), saysColumn, says)
	}
	for _, a := range words.AdviceOf(p.vessel) {
		p.advice(a)
	}
	if text := courseWords(p.vessel.Course, p); text != "" {
		p.beside(p.word(wordColumn, words.Course), saysColumn, text)
	}
}

// need is one task in a sentence: what, how much, until when, why.
func (p *paper) need(l words.Line) string {
	what := l.Act
	if l.Alarm != nil {
		return p.theme.Bold(what) + ": " + l.Alarm.Long
	}
	if l.Word.Now() {
		what = p.theme.Bold(what)
	}
	if amount := l.Amount.String(); amount != "" {
		if l.Word.Now() {
			amount = p.theme.Bold(amount)
		}
		what = strings.TrimSpace(what + " " + amount + " " + l.Of)
	}
	for _, more := range []string{l.First, l.Until} {
		if more != "" {
			what += ", " + more
		}
	}
	if l.Word != words.Due {
		what += why(l)
	}
	return what
}

// why is a reason, what frees it, and what to do instead.
func why(l words.Line) string {
	text := ""
	if l.Reason != "" {
		text += ": " + l.Reason
	}
	if l.Frees != "" {
		text += ": " + l.Frees
	}
	if l.Instead != "" {
		text += " → " + l.Instead
	}
	return text
}

func (p *paper) nothing(lines []words.Line) string {
	text := p.theme.Bold("Nothing to do now.")
	for _, l := range lines {
		if l.Word == words.Later || l.Word == words.Coming {
			return text + " Next: " + strings.TrimSpace(l.Act+" "+l.Until) + "."
		}
	}
	return text
}

// advice is a condition, and one thing to look at under the other.
func (p *paper) advice(a words.Advice) {
	p.beside(p.word(wordColumn, a.Mark), saysColumn, p.theme.Bold(a.Says))
	for i, look := range a.Look {
		p.beside(layout.Row{}, saysColumn, strconv.Itoa(i+1)+". "+look)
	}
}

// courseWords is what the readings say: steady, falling, or that they are too
// few to tell.
func courseWords(c course.Course, p *paper) string {
	switch ct := c.CannotTell; {
	case ct != nil:
		return "cannot tell yet: " + ct.Why + "; read again " + words.When(ct.ReadAgain, p.now)
	case !c.Gravity.IsKnown():
		return "cannot tell yet: " + c.Gravity.Unknown
	case c.Steady.Open:
		return "gravity steady at " + words.Exact(c.Gravity.Value.Gravity, c.Settings) + " since " + words.Date(c.Steady.First, p.now)
	case p.forecast.Unknown == "":
		return p.expected()
	case !c.Pace.IsKnown():
		return "cannot tell yet: " + c.Pace.Unknown
	}
	text := "falling " + measure.Decimal(c.Pace.Value, 1) + " points a day"
	if c.Pace.Value <= 0 {
		text = "not falling"
	}
	for _, b := range words.Breaks {
		g := c.Break(b.Share)
		if !g.IsKnown() || g.Value >= c.Gravity.Value.Gravity {
			continue
		}
		if e, ok := c.Reaches(g.Value); ok {
			text += "; " + b.Name + " break about " + words.When(e.At, p.now) + ", ±" + words.Age(e.Within) + ": take a reading"
		}
		break
	}
	return text
}

// linesOf are all the tasks of a vessel in words, in the order of the plan.
func linesOf(v app.Vessel, p *paper) []words.Line {
	lines := make([]words.Line, len(v.Day.Tasks))
	for i, t := range v.Day.Tasks {
		lines[i] = words.LineOf(t, v, p.now)
	}
	return inOrder(lines)
}
