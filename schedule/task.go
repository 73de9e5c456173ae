// Package schedule says what a ferment or a culture needs and when. It is
// pure: the same plan, log and moment give the same day.
package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/protocol"
)

// State is what has become of a task.
type State string

// The states exclude each other in this order.
const (
	Done    State = "done"
	Skipped State = "skipped"
	Lapsed  State = "lapsed"
	Held    State = "held"
	Late    State = "late"
	Due     State = "due"
	Waiting State = "waiting"
)

// Task is a step applied to one ferment or culture at one time.
type Task struct {
	Subject    string // the ferment's or culture's id
	Step       string
	Title      string // what a person reads, where the protocol says it
	Occurrence int    // from 1
	Do         string // an act or a measurement; "reminder" for one
	State      State

	Opens, Due, Closes time.Time
	Open               bool             // the window is open now; a due task that opens later today is not
	Expected           *course.Expected // where the time comes from a forecast
	Until              *Limit           // the gravity that closes it, where gravity and not the clock does
	Settled            time.Time        // when it was done, skipped, or lapsed

	Amount  *Amount
	Also    []ferment.Act // done together with it, first
	Reason  string        // one sentence
	Frees   string        // of a held task: the act or measurement that frees it
	Answer  string        // the word or the answer that does, where the act says too little
	FreedBy time.Time     // and until when that makes sense, zero where it does not matter
	Caution *Caution
	Option  bool   // offered, never late
	Say     string // the protocol's sentence
	Instead string // of a stop: what to do now
	Asks    bool   // asks whether it was done
	Danger  bool   // an alarm, or held with a stop caution
	Alarm   *Alarm // a danger that wants somebody now
	Routine bool   // hidden in a quiet period

	hold *hold // of a held task: what stands against it
}

// Limit is the gravity at which something ends, and when that is expected.
type Limit struct {
	Gravity  measure.Gravity
	Expected *course.Expected
}

// Amount is how much of what, and how that was worked out.
type Amount struct {
	Known   bool
	Number  float64
	Unit    string // "g", "mL", "g/L"
	Of      string
	Stock   *Stock // the same dose as a stock solution, where the scale is too coarse
	Words   string // where the amount is no single quantity: "9 × 330 mL", "all the sediment"
	How     string // "half of 116 mg/L in 3.55 L"
	Assumed string
	Unknown string          // why there is no number
	Before  measure.Content // nitrogen given before it
	Reached measure.Content // nitrogen given in all once this is in; 0 where it is no nutrient
	Wanted  measure.Content
}

// Stock is a volume of a stock solution of so many grams in 100 mL.
type Stock struct {
	Volume  measure.Volume
	Percent float64
}

// Loud is how much a caution wants to be seen.
type Loud string

// The loudness of cautions.
const (
	Stop Loud = "stop"
	Warn Loud = "warn"
	Note Loud = "note"
)

// Caution is what can happen and what to do about it.
type Caution struct {
	Name string
	Loud Loud
	Text string
}

// Gate is a checklist before something that cannot be undone, as it stands.
type Gate struct {
	Name  ferment.Gate
	Open  bool
	Unmet []course.Unmet
	Says  string // one phrase: "over 0.005 past the 1/3 break"
}

// Day is everything that a plan says at one moment.
type Day struct {
	Tasks []Task // in the order of the board: held with danger, late, held, due by closing, the rest
	Gates []Gate
	Quiet *Quiet // the quiet period that holds now
}

// Quiet is a quiet period.
type Quiet struct{ From, To time.Time }

// sortTasks puts tasks in the order of the board: held with danger, late, held,
// due by closing time, what has lapsed, options, what comes, what is done.
func sortTasks(ts []Task) {
	slices.SortStableFunc(ts, func(a, b Task) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), sortTime(a).Compare(sortTime(b)))
	})
}

func rank(t Task) int {
	switch {
	case t.Alarm != nil:
		return -1
	case t.State == Held && t.Danger:
		return 0
	case t.Option && t.State != Done && t.State != Skipped && t.State != Lapsed:
		return 5
	}
	return ranks[t.State]
}

var ranks = map[State]int{Late: 1, Held: 2, Due: 3, Lapsed: 4, Waiting: 6, Done: 7, Skipped: 7}

// sortTime is what tasks of one rank are ordered by. What has no time comes
// last among what waits.
func sortTime(t Task) time.Time {
	switch t.State {
	case Held:
		if !t.FreedBy.IsZero() {
			return t.FreedBy
		}
	case Waiting:
		return comes(t)
	case Lapsed, Done, Skipped:
		return t.Settled
	}
	return t.Closes
}

func comes(t Task) time.Time {
	switch {
	case t.Expected != nil:
		return t.Expected.At
	case t.Due.IsZero():
		return time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return t.Opens
}

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

// bareSteps are what is done without a plan that says so.
var bareSteps = struct{ pitch, nutrient ferment.Step }{
	pitch: ferment.Step{
		Name: string(ferment.Pitch), Do: string(ferment.Pitch), Amount: byFigure, Missed: ferment.Late,
		Due:    ferment.When{Point: ferment.Point{Anchor: string(ferment.Mix)}, Text: string(ferment.Mix)},
		Window: ferment.Window{Opens: ferment.Offset{Unit: ferment.Hour}, Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}},
	},
	nutrient: ferment.Step{Name: string(ferment.Nutrient), Do: string(ferment.Nutrient)},
}

// assumedPitch asks when the yeast went in, where gravity has fallen and nobody
// wrote a pitch down.
func (p *planner) assumedPitch(i int) (Task, bool) {
	first, _ := p.firstStepOf(string(ferment.Pitch))
	if i != first || p.steps[i].Do != string(ferment.Pitch) || !p.c.Pitch.Known || !p.c.Pitch.Assumed {
		return Task{}, false
	}
	at := p.c.Pitch.At.In(p.zone)
	return Task{Subject: p.c.Ferment.ID, Step: p.steps[i].Name, Title: p.steps[i].Title, Occurrence: 1, Do: string(ferment.Pitch),
		State: Due, Open: true, Opens: at, Due: at, Asks: true, Say: "when was it pitched?",
		Reason: "gravity has fallen and no pitch is recorded; it is taken as " + dated(at)}, true
}
