package schedule

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/protocol"
)

// Plan says what a ferment or a culture needs at the moment of its course.
// Every task of every state comes out, the waiting ones too; one that waits
// without a due time hangs on something that nobody can date yet.
func Plan(p ferment.Protocol, c course.Course) Day {
	if c.Over() {
		return Day{}
	}
	pl := newPlanner(p, c)
	pl.settleAll()
	pl.mergeDoses()
	day := Day{Gates: pl.allGates(), Quiet: pl.quiet}
	byStep := make([][]Task, len(pl.steps))
	for i := range pl.steps {
		byStep[i] = pl.tasksOf(i)
	}
	day.Tasks = slices.Concat(byStep...)
	day.Tasks = append(day.Tasks, pl.lateNutrient(day.Tasks)...)
	day.Tasks = append(pl.hush(day.Tasks), pl.unasked()...)
	day.Tasks = append(day.Tasks, pl.forgotten(day.Tasks)...)
	day.Tasks = pl.alarms(day.Tasks)
	sortTasks(day.Tasks)
	return day
}

// InUnits is a plan with the quantities that its author put in braces, in what it
// says and in its amounts, in a system of units.
func InUnits(p ferment.Protocol, s measure.System) ferment.Protocol {
	p.Steps = slices.Clone(p.Steps)
	for i, step := range p.Steps {
		p.Steps[i].Say, p.Steps[i].Amount = measure.Fill(step.Say, s), measure.Fill(step.Amount, s)
	}
	return p
}

// Merge is a plan followed by the fragments of its endings. A step of a
// fragment whose name the plan already has is left out.
func Merge(p ferment.Protocol, endings ...ferment.Protocol) ferment.Protocol {
	if len(endings) == 0 {
		return p
	}
	merged := p
	merged.Steps = nil
	have := map[string]bool{}
	for _, one := range append([]ferment.Protocol{p}, endings...) {
		for _, s := range one.Steps {
			if !have[s.Name] {
				have[s.Name] = true
				merged.Steps = append(merged.Steps, s)
			}
		}
	}
	for _, e := range endings {
		merged.Limits = both(merged.Limits, e.Limits)
	}
	return merged
}

// both changes limits by one protocol and then by the next.
func both(a, b func(ferment.Limits) ferment.Limits) func(ferment.Limits) ferment.Limits {
	if a == nil {
		return b
	}
	if b == nil {
		return a
	}
	return func(l ferment.Limits) ferment.Limits { return b(a(l)) }
}

// planner works out one day. It is made for one course and thrown away.
type planner struct {
	c      course.Course
	now    time.Time
	zone   *time.Location
	dayEnd time.Time // where the day's list ends

	steps   []ferment.Step
	index   map[string]int // step name → place in steps
	entries []*ferment.Entry
	times   map[string][]time.Time // act or measurement → when, in order

	settled  map[slot]settlement
	history  map[int][]settlement // the same by step, in order of time
	first    map[int]time.Time    // step → when it was first settled
	merged   map[slot]slot        // a missed dose → the one that took it over
	mergedAt map[slot]time.Time
	delayed  map[slot]time.Time // a dose that waits for the one before it → until when
	met      map[ferment.Condition]instant
	depth    int
	quiet    *Quiet
	nutrient nutrition
	doses    doses
	gates    map[ferment.Gate]Gate
	filled   []Filled // what is to be filled with fizz; nil where nobody said
}

func newPlanner(p ferment.Protocol, c course.Course) *planner {
	pl := &planner{
		c: c, now: c.Now, zone: c.Settings.Zone, entries: c.Entries,
		index: map[string]int{}, times: map[string][]time.Time{},
		settled: map[slot]settlement{}, history: map[int][]settlement{}, first: map[int]time.Time{}, merged: map[slot]slot{},
		mergedAt: map[slot]time.Time{}, delayed: map[slot]time.Time{},
		met: map[ferment.Condition]instant{}, gates: map[ferment.Gate]Gate{},
	}
	if pl.zone == nil {
		pl.zone = time.UTC
	}
	pl.dayEnd = pl.endOfDay()
	steps := stepsFor(p, c)
	pl.steps = make([]ferment.Step, 0, len(steps))
	for _, s := range steps {
		pl.index[s.Name] = len(pl.steps)
		pl.steps = append(pl.steps, completed(s))
	}
	for _, e := range pl.entries {
		pl.note(e)
	}
	for _, ts := range pl.times {
		slices.SortFunc(ts, time.Time.Compare)
	}
	pl.nutrient = pl.nutritionNow()
	pl.doses = pl.plannedDoses()
	return pl
}

// stepsFor are the steps of a plan that are meant for the subject.
func stepsFor(p ferment.Protocol, c course.Course) []ferment.Step {
	steps := make([]ferment.Step, 0, len(p.Steps)+1)
	pitches := false
	for _, s := range p.Steps {
		if s.Culture == (c.Culture != nil) {
			steps = append(steps, s)
			pitches = pitches || s.Do == string(ferment.Pitch)
		}
	}
	if c.Culture == nil && !pitches {
		steps = slices.Insert(steps, 0, bareSteps.pitch)
	}
	return steps
}

// completed fills in what a step leaves to the defaults.
func completed(s ferment.Step) ferment.Step {
	var every ferment.Offset
	if s.Repeat != nil {
		every = s.Repeat.Every
	}
	window, missed := protocol.DefaultWindow(s.Do, every)
	if s.Window == (ferment.Window{}) {
		s.Window = window
	}
	if s.Missed == "" {
		s.Missed = missed
	}
	if s.Do == string(ferment.Nutrient) && s.Gate == ferment.NoGate {
		s.Gate = ferment.NutrientGate
	}
	return s
}

// endOfDay is where the day's list ends: the first morning at least eight
// hours ahead.
func (p *planner) endOfDay() time.Time {
	const ahead = 8 * time.Hour
	day := p.now.In(p.zone)
	for n := 0; ; n++ {
		y, m, d := day.AddDate(0, 0, n).Date()
		hour := int(p.c.Settings.Morning / time.Hour)
		minute := int(p.c.Settings.Morning % time.Hour / time.Minute)
		morning := time.Date(y, m, d, hour, minute, 0, 0, p.zone)
		if morning.Sub(p.now) >= ahead {
			return morning
		}
	}
}

// units are those that sentences are written in.
func (p *planner) units() measure.System { return p.c.Settings.Units }

// passed tells whether a time has come.
func (p *planner) passed(t time.Time) bool { return !t.After(p.now) }

// note remembers when an entry did or measured something.
func (p *planner) note(e *ferment.Entry) {
	at := p.momentOf(e)
	if e.Did != "" {
		p.times[string(e.Did)] = append(p.times[string(e.Did)], at)
	}
	if e.Did.ApartFromCourse() {
		return
	}
	for _, do := range []string{ferment.DoGravity, ferment.DoPH, ferment.DoTemperature, ferment.DoVolume} {
		if e.Measured(do) && e.Doubt != ferment.Doubtful {
			p.times[do] = append(p.times[do], at)
		}
	}
}

// momentOf is the time that an entry is taken to be of: noon, where it gives
// only the day.
func (p *planner) momentOf(e *ferment.Entry) time.Time {
	at := e.At.Time.In(p.zone)
	if !e.At.DayOnly {
		return at
	}
	y, m, d := at.Date()
	if noon := time.Date(y, m, d, 12, 0, 0, 0, p.zone); noon.Before(p.now) {
		return noon
	}
	return at
}
