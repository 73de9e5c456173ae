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

// about returns the ferment's name, and its yeast with what differs in its trial.
func about(f ferment.Ferment) []string {
	differs := ""
	if f.Trial.Differs != "" {
		differs = "differs in " + f.Trial.Differs
	}
	return slices.DeleteFunc([]string{f.Name, Join("; ", yeastName(f.Yeast), differs)}, func(s string) bool { return s == "" })
}

func figures(c *course.Course, now time.Time) []Figure {
	pace := "points a day"
	if !c.PaceSince.IsZero() {
		pace += " since " + When(c.PaceSince, now)
	}
	share, gone := c.SugarGone.Value.Parts()
	fs := []Figure{
		{"falling", figure(c.Pace, oneDecimal[float64]), pace, "points/d"},
		{"alcohol", figure(c.Alcohol, oneDecimal[measure.Strength]), "% vol", "% vol"},
		{"sugar gone", figure(c.SugarGone, func(course.Gone) string { return share }), gone, "%"},
	}
	if n := c.Nitrogen; n.Wanted.IsKnown() && n.Wanted.Value > 0 {
		wanted := measure.Decimal(n.Wanted.Value.MilligramsPerLitre(), 0) + " mg/L"
		fs = append(fs, Figure{"nitrogen", measure.Decimal(n.Given.MilligramsPerLitre(), 0), "of " + wanted + " wanted", "/" + wanted})
	}
	volume, unit := Unknown, "L"
	if c.Volume.IsKnown() {
		volume, unit = c.Volume.Value.Parts(c.Settings.Units)
	}
	return append(fs, Figure{"volume", volume, unit, unit})
}

func oneDecimal[T ~float64](v T) string { return measure.Decimal(float64(v), 1) }

// logOf returns the last eight entries, the latest first.
func logOf(v app.Vessel, now time.Time) []Logged {
	var ls []Logged
	for _, e := range slices.Backward(v.Course.Entries) {
		if text := EntryLine(*e, v.Plan, v.Course.Settings.Units); text != "" && len(ls) < 8 {
			ls = append(ls, Logged{LogTime(e.At, now), text})
		}
	}
	return ls
}

// LogTime writes when an entry was made; without hour if it has only the day.
func LogTime(m ferment.Moment, now time.Time) string {
	if m.DayOnly {
		return Date(m.Time, now)
	}
	return When(m.Time, now)
}

// stem returns the gravities of a vessel from the original down, and what happens at each.
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

func original(c *course.Course, now time.Time) Notch {
	n := Notch{Gravity: float64(c.Effective.Value), Kind: Original, Says: "original"}
	if c.Pitch.Known {
		n.Says = "pitched " + Date(c.Pitch.At, now) + ", " + c.Pitch.At.In(now.Location()).Format("15:04")
		n.Short = "pitched " + c.Pitch.At.In(now.Location()).Format("Mon 2")
	}
	return n
}

func finish(c *course.Course) Notch {
	n := Notch{Gravity: float64(c.Finish.Value), Kind: Finish, Says: "expected finish"}
	if c.FinishAlcohol.IsKnown() {
		n.Short = c.FinishAlcohol.Value.String()
		n.Says += ", " + n.Short
	}
	return n
}

func reading(c *course.Course, now time.Time) Notch {
	r := c.Gravity.Value
	at := When(r.At, now)
	return Notch{Gravity: float64(r.Gravity), Kind: Now, Says: at + ", " + Age(now.Sub(r.At)) + " ago", Short: at}
}

// breakNotch returns the mark of a break, with what ends there and when it is reached.
func breakNotch(v app.Vessel, name string, g measure.Gravity, now time.Time) Notch {
	n := Notch{Gravity: float64(g), Kind: AtBreak, Break: name}
	ends := endsAt(v.Plan, name)
	if name == "⅔" && ends == "" {
		ends = "slowing"
	}
	n.Says, n.Short = ends, ends
	if e, ok := v.Course.Reaches(g); ok {
		n.Says = strings.TrimPrefix(ends+", "+around(e, now), ", ")
		n.Short = screen.awaited(e.At, now)
	}
	return n
}

// endsAt says which steps of a plan a break ends: "degas ends".
func endsAt(p ferment.Protocol, name string) string {
	var acts []string
	for _, s := range p.Steps {
		if s.Ends == nil || s.Ends.Point.Condition == nil || s.Ends.Point.Condition.Kind != ferment.AtBreak {
			continue
		}
		label := ActLabel(schedule.Task{Step: s.Name, Title: s.Title, Do: s.Do})
		if s.Ends.Point.Condition.Break.Sign() == name && !slices.Contains(acts, label) {
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

// limits returns the other gravities at which a step of the plan ends.
func limits(v subject, now time.Time) []Notch {
	var ns []Notch
	for _, i := range v.shown {
		if u := i.task.Until; u != nil && (i.word == Late || i.word == Due || i.word == Held) {
			act := ActLabel(*i.task)
			n := Notch{Gravity: float64(u.Gravity), Kind: AtLimit, Says: act + " ends", Short: ferment.Spaced(i.task.Do) + " ends"}
			if u.Expected != nil {
				n.Says = act + " is over, about " + When(u.Expected.At, now)
			}
			ns = append(ns, n)
		}
	}
	c := v.Course
	if near := c.Finish.Value + 0.010; near < c.Effective.Value {
		ns = append(ns, Notch{Gravity: float64(near), Kind: AtLimit, Says: "near finish", Short: "near finish"})
	}
	return ns
}

// curve returns the gravity at 24 equal steps of time from the pitch to the last reading, interpolated; nil with fewer
// than two readings. Two of them fit a cell.
func curve(c *course.Course) []float64 {
	const points = 24
	rs := ferment.Where(c.Readings, func(r course.Reading) bool { return r.Trusted() && !(c.Pitch.Known && r.At.Before(c.Pitch.At)) })
	if len(rs) < 2 || !rs[len(rs)-1].At.After(rs[0].At) {
		return nil
	}
	step := rs[len(rs)-1].At.Sub(rs[0].At) / (points - 1)
	out := make([]float64, points)
	for i := range out {
		out[i] = between(rs, rs[0].At.Add(time.Duration(i)*step))
	}
	out[points-1] = float64(rs[len(rs)-1].Gravity)
	return out
}

// between returns the gravity at a time, interpolated.
func between(rs []course.Reading, t time.Time) float64 {
	for i := 1; i < len(rs); i++ {
		a, b := rs[i-1], rs[i]
		if t.After(b.At) || !b.At.After(a.At) {
			continue
		}
		share := float64(t.Sub(a.At)) / float64(b.At.Sub(a.At))
		return float64(a.Gravity) + share*float64(b.Gravity-a.Gravity)
	}
	return float64(rs[len(rs)-1].Gravity)
}
