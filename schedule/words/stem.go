package words

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// stem is where the hydrometer has been and what happens where it goes, from
// the original down.
func stem(v subject, now time.Time) []Notch {
	c := v.Course
	if !c.Effective.IsKnown() || !c.Finish.IsKnown() || !c.Gravity.IsKnown() || c.Effective.Value <= c.Finish.Value {
		return nil
	}
	notches := []Notch{original(c, now), finish(c), reading(c, now)}
	for _, b := range Breaks {
		if g := c.Break(b.Share); g.IsKnown() {
			notches = append(notches, breakNotch(*v.Vessel, b.Name, g.Value, now))
		}
	}
	notches = append(notches, limits(v, now)...)
	for i, n := range notches {
		notches[i].Number = Exact(measure.Gravity(n.Gravity), c.Settings)
	}
	slices.SortStableFunc(notches, func(a, b Notch) int { return cmp.Compare(b.Gravity, a.Gravity) })
	return notches
}

func original(c course.Course, now time.Time) Notch {
	n := Notch{Gravity: float64(c.Effective.Value), Kind: Original, Says: "original"}
	if c.Pitch.Known {
		n.Says = "pitched " + Date(c.Pitch.At, now) + ", " + c.Pitch.At.In(now.Location()).Format("15:04")
		n.Short = "pitched " + c.Pitch.At.In(now.Location()).Format("Mon 2")
	}
	return n
}

func finish(c course.Course) Notch {
	n := Notch{Gravity: float64(c.Finish.Value), Kind: Finish, Says: "expected finish"}
	if c.FinishAlcohol.IsKnown() {
		n.Short = c.FinishAlcohol.Value.String()
		n.Says += ", " + n.Short
	}
	return n
}

func reading(c course.Course, now time.Time) Notch {
	r := c.Gravity.Value
	at := When(r.At, now)
	return Notch{Gravity: float64(r.Gravity), Kind: Now, Says: at + ", " + Age(now.Sub(r.At)) + " ago", Short: at}
}

func breakNotch(v app.Vessel, name string, g measure.Gravity, now time.Time) Notch {
	n := Notch{Gravity: float64(g), Kind: AtBreak, Break: name}
	ends := endsAt(v.Plan, name)
	if name == "⅔" && ends == "" {
		ends = "slowing"
	}
	n.Says, n.Short = ends, ends
	if e, ok := v.Course.Reaches(g); ok {
		n.Says = strings.TrimPrefix(ends+", "+forecast(&e, now), ", ")
		n.Short = awaited(e.At, now)
	}
	return n
}

// endsAt are the steps of a plan that a break ends: "degas ends".
func endsAt(p ferment.Protocol, name string) string {
	var acts []string
	for _, s := range p.Steps {
		if s.Ends == nil || s.Ends.Point.Condition == nil || s.Ends.Point.Condition.Kind != ferment.AtBreak {
			continue
		}
		label := ActLabel(schedule.Task{Step: s.Name, Title: s.Title, Do: s.Do})
		if breakName(s.Ends.Point.Condition.Break) == name && !slices.Contains(acts, label) {
			acts = append(acts, label)
		}
	}
	switch len(acts) {
	case 0:
		return ""
	case 1:
		return acts[0] + " ends"
	}
	return strings.Join(acts, " and ") + " end"
}

func breakName(b ferment.BreakLimit) string {
	for _, known := range Breaks {
		if d := b.Fraction() - known.Share; d > -0.001 && d < 0.001 {
			return known.Name
		}
	}
	return ""
}

// limits are the other gravities at which something of the plan ends.
func limits(v subject, now time.Time) []Notch {
	var ns []Notch
	for _, i := range v.shown {
		if u := i.task.Until; u != nil && (i.word == Late || i.word == Due || i.word == Held) {
			act := ActLabel(*i.task)
			n := Notch{Gravity: float64(u.Gravity), Kind: AtLimit, Says: act + " ends", Short: spaced(i.task.Do) + " ends"}
			if u.Expected != nil {
				n.Says = act + " is over, about " + When(u.Expected.At, now)
			}
			ns = append(ns, n)
		}
	}
	c := v.Course
	if near := c.Finish.Value + nearFinish; near < c.Effective.Value {
		ns = append(ns, Notch{Gravity: float64(near), Kind: AtLimit, Says: "near finish", Short: "near finish"})
	}
	return ns
}

// nearFinish is how far above the expected finish counts as near it.
const nearFinish measure.Gravity = 0.010
