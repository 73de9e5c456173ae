package schedule

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// label is a step's name in words.
func (p *planner) label(s ferment.Step) string { return p.stepLabel(s.Name) }

func (p *planner) stepLabel(name string) string { return strings.ReplaceAll(name, "-", " ") }

// dueReason is how it is done, in one breath, and until when it comes again.
func (p *planner) dueReason(s ferment.Step, o occurrence) string {
	if s.Say != "" {
		return s.Say + p.again(s)
	}
	if o.n > 1 {
		return p.comesWhen(s, o)
	}
	return p.whenWords(s.Due) + p.again(s)
}

// again says how often and until when a step repeats.
func (p *planner) again(s ferment.Step) string {
	if s.Repeat == nil || s.Repeat.Every.IsZero() {
		return ""
	}
	words := "; every " + offsetWords(s.Repeat.Every)
	if s.Repeat.Every == (ferment.Offset{Number: 1, Unit: ferment.Day}) {
		words = "; daily"
	}
	switch {
	case s.Ends != nil:
		words += " until " + p.untilWords(*s.Ends)
	case s.Repeat.Until != nil:
		words += " until " + p.untilWords(*s.Repeat.Until)
	}
	return words
}

func (p *planner) untilWords(w ferment.When) string {
	if !w.Offset.IsZero() || len(w.First)+len(w.Last) > 0 {
		return p.whenWords(w)
	}
	return p.pointWords(w.Point)
}

// comesWhen is what an occurrence hangs on, in words.
func (p *planner) comesWhen(s ferment.Step, o occurrence) string {
	if r := s.Repeat; r != nil && o.n > 1 && len(r.At) >= o.n-1 && r.From != nil {
		return p.whenWords(ferment.When{Point: r.From.Point, Offset: r.At[o.n-2]})
	}
	if again := p.again(s); o.n > 1 && again != "" {
		return strings.TrimPrefix(again, "; ")
	}
	return p.whenWords(s.Due)
}

// waitsFor is what an occurrence that is not open yet waits for.
func (p *planner) waitsFor(o occurrence) string {
	return "comes " + p.comesWhen(p.steps[o.step], o)
}

func (p *planner) lateReason(s ferment.Step, o occurrence) string {
	if s.Missed == ferment.Ask {
		return "its window is over: was it done"
	}
	past := p.age(o.ends()) + " past its window; may "
	if s.Gate == ferment.NutrientGate {
		return past + "be given down to " + p.nutrient.grace.String()
	}
	return past + "still be done"
}

// endReason says that what ends a step has come.
func (p *planner) endReason(w ferment.When) string {
	if c := w.Point.Condition; c != nil {
		return p.c.PastWords(*c)
	}
	return "over since " + p.pointWords(w.Point)
}

// whenWords is a point in time of a plan in words: "2 d after the pitch".
func (p *planner) whenWords(w ferment.When) string {
	switch {
	case len(w.First) > 0:
		return p.joined(w.First, " or ") + ", the sooner"
	case len(w.Last) > 0:
		return p.joined(w.Last, " and ")
	case w.Offset.IsZero() && p.isState(w.Point):
		return "once " + p.pointWords(w.Point)
	case w.Offset.IsZero():
		return "at " + p.pointWords(w.Point)
	case w.Offset.Number < 0:
		return offsetWords(ferment.Offset{Number: -w.Offset.Number, Unit: w.Offset.Unit}) + " before " + p.pointWords(w.Point)
	}
	return offsetWords(w.Offset) + " after " + p.pointWords(w.Point)
}

// isState tells whether a point is a condition that is no moment.
func (p *planner) isState(pt ferment.Point) bool {
	if pt.Condition == nil {
		return false
	}
	_, moment := p.c.PointWords(*pt.Condition)
	return !moment
}

func (p *planner) joined(ws []ferment.When, with string) string {
	words := make([]string, len(ws))
	for i, w := range ws {
		words[i] = p.whenWords(w)
	}
	return strings.Join(words, with)
}

func (p *planner) pointWords(pt ferment.Point) string {
	switch {
	case pt.Condition != nil:
		words, _ := p.c.PointWords(*pt.Condition)
		return words
	case pt.EndOf != "":
		return "the end of " + strings.ReplaceAll(pt.EndOf, "-", " ")
	case pt.Last:
		return "the last " + pt.Anchor
	case pt.Anchor == "quiet":
		return "the quiet began"
	}
	if ferment.IsAct(pt.Anchor) || strings.Contains(pt.Anchor, " ") {
		return "the " + strings.ReplaceAll(pt.Anchor, "-", " ")
	}
	return strings.ReplaceAll(pt.Anchor, "-", " ") // a step has a name: "after nutrient 1"
}

func offsetWords(o ferment.Offset) string {
	return strconv.FormatFloat(o.Number, 'f', -1, 64) + " " + string(o.Unit)
}

// part is a share of a whole in words.
func part(share float64) string {
	names := []struct {
		share float64
		name  string
	}{{1, "all"}, {0.5, "half"}, {0.25, "a quarter"}, {0.2, "a fifth"}, {1.0 / 3, "a third"}, {2.0 / 3, "two thirds"}}
	for _, n := range names {
		if share > n.share-0.005 && share < n.share+0.005 {
			return n.name
		}
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// span is a length of time in whole hours or days.
func span(d time.Duration) string {
	if d%time.Hour == 0 || d > 2*time.Hour {
		return fmt.Sprintf("%.0f h", d.Hours())
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}

// age is how long ago a time lies: min under two hours, h to 48, then d.
func (p *planner) age(t time.Time) string {
	d := p.now.Sub(t)
	unit, name := time.Minute, "min"
	switch {
	case d >= 48*time.Hour:
		unit, name = 24*time.Hour, "d"
	case d >= 2*time.Hour:
		unit, name = time.Hour, "h"
	}
	return fmt.Sprintf("%d %s", d/unit, name)
}

// clock is a time as near as it needs to be named: the hour today, else with
// the day.
func (p *planner) clock(t time.Time) string {
	t, now := t.In(p.zone), p.now.In(p.zone)
	switch days := t.Sub(now).Abs(); {
	case t.YearDay() == now.YearDay() && t.Year() == now.Year():
		return t.Format("15:04")
	case days < 7*24*time.Hour:
		return t.Format("Mon 15:04")
	case t.Year() == now.Year():
		return t.Format("Mon 2 Jan")
	}
	return t.Format("2 Jan 06")
}

// dated is a time that is over, named the same at any time.
func dated(t time.Time) string { return t.Format("2 Jan 15:04") }

// No is why a task may not be done now. A typed reason passes it.
type No struct {
	Name    string // the gate, stop or rule; recorded as overrode with the reason
	Verdict string // "closed", "too soon", "shut", "stop", "held", "enough"
	Why     []string
	Instead string // what to do instead, in one phrase
	Option  *Task  // the task to do instead, where the plan has one
}

// Refusal is what stands against doing a task now, nil where nothing does. The
// task and the day come from one Plan of the same course; an act that no task
// asks for is asked about as a task with that act and no state.
func Refusal(t Task, d Day, c course.Course) *No {
	switch {
	case t.hold != nil:
		return refusalOf(*t.hold, d)
	case t.State == Due, t.State == Late:
		return nil
	}
	p := newPlanner(ferment.Protocol{}, c)
	s := ferment.Step{Name: t.Step, Do: t.Do, Gate: gateOfAct(ferment.Act(t.Do), c.Ferment)}
	if h, held := p.heldBy(s, occurrence{}); held {
		no := refusalOf(h, d)
		p.explain(no)
		return no
	}
	if h, early := p.early(t.Do); early {
		return refusalOf(h, d)
	}
	if s.Gate == ferment.NutrientGate && p.doses.allGiven() {
		return &No{Name: string(s.Gate), Verdict: "enough", Why: []string{p.doses.givenWords()}}
	}
	return nil
}

func refusalOf(h hold, d Day) *No {
	no := &No{Name: h.name, Verdict: h.verdict, Why: []string{h.reason}, Instead: h.instead}
	if no.Instead == "" {
		no.Instead = doFirst(h.frees)
	}
	if h.verdict != "closed" {
		return no
	}
	for _, t := range d.Tasks {
		if t.Step == LateNutrient && t.State == Due {
			no.Option, no.Instead = &t, t.Reason
		}
	}
	return no
}

// doFirst is what frees a hold, as something to do.
func doFirst(frees string) string {
	switch {
	case frees == "":
		return ""
	case frees == string(ferment.Started):
		return "see whether it works, and write started"
	case ferment.IsMeasurement(frees):
		return "read " + frees + " first"
	}
	return frees + " first"
}

// explain adds to a refusal of nutrient where the gate ends, and what has been
// given by now.
func (p *planner) explain(no *No) {
	n, l := p.nutrient, p.c.Limits
	switch {
	case no.Verdict == "too soon" && p.doses.unknown == "":
		no.Why = append(no.Why, p.doses.givenWords())
	case no.Verdict == "closed" && n.zone == late:
		no.Why = []string{
			fmt.Sprintf("it ends %s past the %s break, at %s", decimal(l.Grace), l.AmmoniumUntil.Sign(), n.grace),
			fmt.Sprintf("it stood at %s on %s, and gravity only falls", n.past.Gravity.Rounded(4), dated(n.past.At.In(p.zone))),
		}
	}
}

// gateOfAct is the gate before an act that no plan asks for.
func gateOfAct(act ferment.Act, f ferment.Ferment) ferment.Gate {
	switch act {
	case ferment.Nutrient:
		return ferment.NutrientGate
	case ferment.Prime:
		return ferment.ConditioningGate
	case ferment.Bottle:
		if f.EndsAs(ferment.BottleConditioned) && !f.EndsAs(ferment.Still) {
			return ferment.ConditioningGate
		}
		return ferment.StillGate
	}
	return ferment.NoGate
}
