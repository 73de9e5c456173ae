package app

import (
	"errors"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// ErrNothingToUndo says that nothing is known to have been written.
var ErrNothingToUndo = errors.New("there is nothing to take back")

// Earlier says that what would be taken back was written before a time.
type Earlier struct{ ferment.Written }

func (e *Earlier) Error() string { return "it was written earlier" }

// Undo takes back what was written last, by whatever program; what was written before a time is only told of. An entry that
// was changed since is left alone, with an error, and the one before it is next. What a disk refused may be tried again.
func (d *App) Undo(since time.Time) ([]ferment.Receipt, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	wrote := d.store.Written()
	if len(wrote) == 0 {
		return nil, ErrNothingToUndo
	}
	last, wrote := wrote[len(wrote)-1], wrote[:len(wrote)-1]
	if last.At.Before(since) {
		return nil, &Earlier{last}
	}
	var undone []ferment.Receipt
	var failed error
	for i := len(last.Receipts) - 1; i >= 0; i-- {
		err := d.store.Undo(last.Receipts[i])
		failed = errors.Join(failed, err)
		var e interface{ Again() bool }
		if err == nil {
			undone = append(undone, last.Receipts[i])
		} else if errors.As(err, &e) && e.Again() {
			wrote = append(wrote, ferment.Written{At: last.At, Receipts: last.Receipts[:i+1]})
			break
		}
	}
	d.store.SetWritten(wrote)
	return undone, failed
}

// UndoCount returns how many acts can still be taken back.
func (d *App) UndoCount() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.store.Written())
}

// Lost returns the entries that are in no file any more.
func (d *App) Lost(now time.Time) ([]ferment.Lost, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	c, err := d.store.Load(now)
	if err != nil {
		return nil, err
	}
	return d.store.Lost(c)
}

// PutBack writes a lost entry into its file again.
func (d *App) PutBack(now time.Time, l ferment.Lost) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	receipt, err := d.store.Restore(l)
	if receipt.Text == "" {
		return Kept{}, err
	}
	kept := Kept{Receipts: []ferment.Receipt{receipt}}
	d.remember(now, kept.Receipts)
	return kept, err
}

// LeaveOut never offers a lost entry again.
func (d *App) LeaveOut(l ferment.Lost) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.store.Dismiss(l)
}

// Preview is what an entry will mean.
type Preview struct {
	Reading   *course.Reading // corrected; nil if the entry has no gravity
	Since     *course.Reading // the trusted one before it
	Points    float64         // change since then, in thousandths
	PerDay    float64         // fall a day; 0 if they are too close together
	Alcohol   course.Figure[measure.Strength]
	SugarGone course.Figure[course.Gone]
	Effects   []Effect
	Next      *schedule.Task // the next act; nil for none
	Passed    []Passed
	Unlikely  []Ask    // questions that will be asked
	Dose      *Dose    // what a typed amount means; nil without one
	Notices   []string // what a gate has against an act
}

// Effect is a task whose state the entry changes.
type Effect struct {
	Task   schedule.Task // as it will be
	Before schedule.State
}

// Passed is a break above the reading, and when it was crossed.
type Passed struct {
	Of, In  int
	Gravity measure.Gravity
	At      time.Time
}

// Meaning calculates what an entry would change. Nothing is written.
func Meaning(s Snapshot, v Vessel, e ferment.Entry) Preview {
	e.At = orNow(e.At, s.At)
	after := withEntry(s, v, e)
	p := Preview{
		Alcohol:   after.Course.Alcohol,
		SugarGone: after.Course.SugarGone,
		Effects:   effects(v.Day, after.Day),
		Next:      nextAct(after.Day, s.At),
		Unlikely:  unlikely(s, v, after, e),
	}
	if d, ok := doseOf(v, after, e); ok {
		p.Dose = &d
	}
	if no := against(v, e); no != nil {
		p.Notices = append(p.Notices, no.Verdict)
	}
	r, ok := after.Course.ReadingOf(&e)
	if !ok {
		return p
	}
	p.Reading = &r
	if before, ok := trustedBefore(v.Course, r.At); ok {
		p.Since = &before
		p.Points = float64(r.Gravity-before.Gravity) * 1000
		if days := r.At.Sub(before.At).Hours() / 24; days >= 0.25 {
			p.PerDay = -p.Points / days
		}
	}
	p.Passed = passed(v.Course, after.Course)
	return p
}

func withEntry(s Snapshot, v Vessel, e ferment.Entry) Vessel {
	e.Order = len(v.Ferment.Log)
	return withLog(s, v, append(slices.Clone(v.Ferment.Log), e))
}

// withLog returns the vessel with another log, planned.
func withLog(s Snapshot, v Vessel, log []ferment.Entry) Vessel {
	if v.Culture != nil {
		k := *v.Culture
		k.Log = log
		return PlanCulture(k, s.Cellar, s.At)
	}
	f := v.Ferment
	f.Log = log
	return Plan(f, s.Cellar, s.At)
}

// trustedBefore returns the latest measured reading before a time that is not in doubt.
func trustedBefore(c *course.Course, at time.Time) (course.Reading, bool) {
	return ferment.LastWhere(c.Readings, func(r course.Reading) bool {
		return r.At.Before(at) && r.Trusted() && r.From != course.FromStart
	})
}

// effects returns the tasks with a visible change of state.
func effects(before, after schedule.Day) []Effect {
	type key struct {
		step string
		n    int
	}
	was := map[key]schedule.State{}
	for _, t := range before.Tasks {
		was[key{t.Step, t.Occurrence}] = t.State
	}
	var out []Effect
	for _, t := range after.Tasks {
		old, known := was[key{t.Step, t.Occurrence}]
		if t.State == old || t.State == schedule.Waiting || !known && t.State != schedule.Due && t.State != schedule.Late && t.State != schedule.Held {
			continue
		}
		out = append(out, Effect{t, old})
	}
	return out
}

// nextAct returns the first act after a moment that is not a look or a measurement.
func nextAct(d schedule.Day, now time.Time) *schedule.Task {
	var next *schedule.Task
	for i, t := range d.Tasks {
		if t.State != schedule.Waiting || !t.Due.After(now) || t.Do == string(ferment.Look) || ferment.IsMeasurement(t.Do) {
			continue
		}
		if next == nil || t.Due.Before(next.Due) {
			next = &d.Tasks[i]
		}
	}
	return next
}

// The breaks shown in a preview.
var breaks = []ferment.BreakLimit{{Of: 1, In: 3}, {Of: 1, In: 2}, {Of: 2, In: 3}}

// passed returns the breaks that were reached between two courses.
func passed(before, after *course.Course) []Passed {
	var out []Passed
	for _, b := range breaks {
		cond := ferment.Condition{Kind: ferment.AtBreak, Break: b}
		if _, had := before.FirstMet(cond); had {
			continue
		}
		at, now := after.FirstMet(cond)
		if g := after.Break(b.Fraction()); now && g.IsKnown() {
			out = append(out, Passed{b.Of, b.In, g.Value, at})
		}
	}
	return out
}
