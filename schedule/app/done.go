package app

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// Wish is a task to settle, done or skipped, with what was typed, or an entry of a form.
type Wish struct {
	Step  string // a step's name, or an act for the task that is due
	Typed        // its reason overrides a gate or a stop, or is why the task is skipped
	Entry ferment.Entry
}

// Refused is the error for a task that a gate, a stop or the spacing of doses forbids; a reason overrides it.
type Refused struct {
	Vessel Vessel
	Task   schedule.Task
	No     schedule.No
	Others []*Refused // of the other vessels in the same request
}

func (r *Refused) Error() string {
	var parts []string
	for _, one := range append([]*Refused{r}, r.Others...) {
		parts = append(parts, fmt.Sprintf("%s: %s is refused, %s: %s", one.Vessel.Label(), one.Task.Step, one.No.Verdict, strings.Join(one.No.Why, "; ")))
		if one.No.Instead != "" {
			parts = append(parts, "instead: "+one.No.Instead)
		}
	}
	return strings.Join(append(parts, "to do it anyway, give the reason with --because"), "\n")
}

// UnknownStep is the error for a name that is not in the plan.
type UnknownStep struct {
	Subject, Step string
	Known         []string
}

func (e *UnknownStep) Error() string {
	known := slices.Concat(e.Known, ferment.ActNames())
	near := cmp.Or(ferment.DidYouMean(e.Step, known), ": its plan has "+strings.Join(e.Known, ", "))
	return fmt.Sprintf("%s has no step or act %q%s", e.Subject, e.Step, near)
}

// NeedsValue is the error for a task that only a measured value can settle.
type NeedsValue struct{ Subject, Do string }

func (e *NeedsValue) Error() string {
	return fmt.Sprintf("%s needs a reading, e.g. jugkeeper log %s %s", e.Do, e.Subject, example(e.Do))
}

func example(do string) string {
	lines := map[string]string{ferment.DoPH: "ph3.4", ferment.DoTemperature: "19.5C", ferment.DoVolume: "vol3.4L", string(ferment.ForcedTest): "forced-test 0.997"}
	return cmp.Or(lines[do], "1.046@23")
}

// Done settles a task in each subject, with acts that go first a minute before. If a gate, a stop or the spacing
// forbids it, nothing is written unless the wish has a reason.
func (d *App) Done(now time.Time, subjects []string, w Wish) (Kept, error) {
	return d.settle(now, subjects, func(v Vessel, s Snapshot) ([]ferment.Entry, []string, error) { return Settling(v, w, s.At) })
}

// Skip skips a task in each subject, with the reason.
func (d *App) Skip(now time.Time, subjects []string, w Wish) (Kept, error) {
	return d.settle(now, subjects, func(v Vessel, s Snapshot) ([]ferment.Entry, []string, error) {
		t, err := mustMean(v, w.Step)
		if err != nil {
			return nil, nil, err
		}
		line, err := w.with(line.Line{Entry: ferment.Entry{At: ferment.At(s.At), Skipped: t.Step}})
		return []ferment.Entry{line.Entry}, nil, err
	})
}

// settle writes the entries that settle tasks, after every check, under one lock.
func (d *App) settle(now time.Time, subjects []string, entries func(Vessel, Snapshot) ([]ferment.Entry, []string, error)) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	s, err := d.openWith(now, subjects)
	if err != nil {
		return Kept{}, err
	}
	vessels, err := s.FindAll(subjects)
	if err != nil {
		return Kept{}, err
	}
	return d.write(s, vessels, func(v Vessel) ([]ferment.Entry, []string, error) { return entries(v, s) })
}

// Settling returns what Done would write for one vessel, and how the text was understood, or the *Refused that forbids
// it. Nothing is written.
func Settling(v Vessel, w Wish, now time.Time) ([]ferment.Entry, []string, error) {
	t, err := mustMean(v, w.Step)
	if err != nil {
		return nil, nil, err
	}
	return settled(v, w, t, schedule.Refusal(t, v.Day, v.Course), now)
}

// Settled returns the entries that settle a wish, whatever forbids it: the caller has asked. A step that is neither due
// nor late is not named, so that an early act settles nothing.
func Settled(v Vessel, w Wish, now time.Time) ([]ferment.Entry, error) {
	t, err := mustMean(v, w.Step)
	if err != nil {
		return nil, err
	}
	entries, _, err := settled(v, w, t, nil, now)
	if n := len(entries); n > 0 && (over(t.State) || t.State == schedule.Waiting) {
		entries[n-1].Step = ""
	}
	return entries, err
}

// settled returns the entries that settle a task; no is what forbids it.
func settled(v Vessel, w Wish, t schedule.Task, no *schedule.No, now time.Time) ([]ferment.Entry, []string, error) {
	line, err := w.read(v, t, now)
	if err != nil {
		return nil, nil, err
	}
	e := line.Entry
	if !line.Timed {
		e.At = ferment.At(now)
	}
	if e.Amount, err = ownAmount(e.Amount, v); err != nil {
		return nil, nil, err
	}
	switch {
	case ferment.IsMeasurement(t.Do):
		if !e.Measured(t.Do) {
			return nil, nil, &NeedsValue{v.ID(), t.Do}
		}
	case t.Do == schedule.Reminder:
		e.Did, e.Step = "", t.Step // not an act: its step alone settles it
	default:
		e.Did = ferment.Act(t.Do)
		if t.Do == string(ferment.ForcedTest) && v.Course.Test.Running && !e.HasDensity() {
			return nil, nil, &NeedsValue{v.ID(), t.Do}
		}
		planned(&e, t)
		if err := choosesSomething(e); err != nil {
			return nil, nil, err
		}
		same := ferment.Where(v.Plan.Steps, func(s ferment.Step) bool { return s.Do == t.Do })
		if t.Remedy || len(same) > 1 || !t.Open || t.Alarm != nil { // its act alone does not tell which step it was
			e.Step = t.Step
		}
		if e.NothingYet() { // an answer, but not a start
			e.Did, e.Step = "", t.Step
		}
	}
	if no != nil {
		if e.Because == "" {
			return nil, nil, &Refused{Vessel: v, Task: t, No: *no}
		}
		e.Overrode = no.Name
	}
	return append(firstEntries(v, t, e), e), line.Notices, nil
}

// planned fills in the plan's amount if none was given: unknown if the plan has none. Of "10 mL of sediment into 100 mL"
// the sediment is in the jar besides the medium.
func planned(e *ferment.Entry, t schedule.Task) {
	if t.Amount == nil {
		return
	}
	e.Of = cmp.Or(e.Of, t.Amount.Of)
	if water := t.Amount.Dissolved; water > 0 && !e.Medium.Known() {
		e.Medium = measure.Give(water, water.Small(measure.Metric))
	}
	if sediment, _, is := strings.Cut(t.Amount.Words, " of sediment"); is && e.Medium.Known() && !e.Volume.Known() {
		if v, err := measure.ParseVolume(sediment); err == nil {
			e.Volume = measure.Give(e.Medium.Value+v.Value, (e.Medium.Value + v.Value).Small(measure.Metric))
		}
	}
	switch {
	case e.Amount.Given():
	case t.Amount.Known:
		e.Amount = ferment.Amount{Quantity: AsShown(t.Amount)}
	case t.Amount.Words == "":
		e.Amount = ferment.Amount{Unknown: true}
	}
}

// AsShown returns a planned amount with the digits shown, because nobody weighs more precisely.
func AsShown(a *schedule.Amount) measure.Quantity {
	if a.Unit == "g" {
		number, unit := measure.Grams(a.Number).Parts(measure.Metric)
		if q, err := measure.ParseQuantity(number + " " + unit); err == nil {
			return q
		}
	}
	return measure.Of(measure.Round(a.Number, 2), a.Unit)
}

// firstEntries returns the acts that go before a task, a minute earlier, unless done within the hour.
func firstEntries(v Vessel, t schedule.Task, e ferment.Entry) []ferment.Entry {
	first := ferment.Where(t.Also, func(act ferment.Act) bool {
		return !slices.ContainsFunc(v.Course.Entries, func(had *ferment.Entry) bool {
			age := e.At.Time.Sub(had.At.Time)
			return had.Did == act && age >= 0 && age <= time.Hour
		})
	})
	return ferment.Map(first, func(act ferment.Act) ferment.Entry {
		return ferment.Entry{At: ferment.At(e.At.Time.Add(-time.Minute)), Did: act}
	})
}

func orNow(m ferment.Moment, now time.Time) ferment.Moment {
	if m.IsZero() {
		return ferment.At(now)
	}
	return m
}

// meaning is the order of states in which a task is meant by its name: first what can be done now.
var meaning = []schedule.State{
	schedule.Late, schedule.Due, schedule.Held, schedule.Lapsed, schedule.Done, schedule.Skipped, schedule.Waiting,
}

// TaskMeant returns the task that a step's name or an act means now. Of several in one state it is the next to come, or
// the latest one that is over.
func TaskMeant(v Vessel, name string) (schedule.Task, bool) {
	for _, state := range meaning {
		var best *schedule.Task
		for i, t := range v.Day.Tasks {
			if t.State != state || !strings.EqualFold(t.Step, name) && !strings.EqualFold(t.Do, name) {
				continue
			}
			if best == nil || over(state) == t.Due.After(best.Due) && !t.Due.Equal(best.Due) {
				best = &v.Day.Tasks[i]
			}
		}
		if best != nil {
			return *best, true
		}
	}
	return schedule.Task{}, false
}

func over(s schedule.State) bool {
	return s == schedule.Lapsed || s == schedule.Done || s == schedule.Skipped
}

// mustMean is TaskMeant, else a task for an act alone, else an error that lists what there is.
func mustMean(v Vessel, name string) (schedule.Task, error) {
	if t, ok := TaskMeant(v, name); ok {
		return t, nil
	}
	word := strings.ToLower(name)
	if ferment.IsAct(word) || ferment.IsMeasurement(word) {
		return schedule.Task{Subject: v.ID(), Step: word, Do: word, Open: true}, nil
	}
	var known []string
	for _, s := range v.Plan.Steps {
		if s.Quiet == nil && s.Culture == (v.Culture != nil) && !slices.Contains(known, s.Name) {
			known = append(known, s.Name)
		}
	}
	return schedule.Task{}, &UnknownStep{v.ID(), name, known}
}

// Typed is what a person typed: an entry line, and a command's options.
type Typed struct {
	Line    string
	Note    string // goes after the note of the line
	Because string // the reason, if the line has none
}

// Read parses an entry. Without a time it is dated now. Everything typed as an entry or an act is parsed here: by log,
// done and the board.
func (t Typed) Read(s ferment.Settings, now time.Time) (line.Line, error) {
	if strings.TrimSpace(t.Line) == "" && t.Note+t.Because != "" {
		return t.with(line.Line{Entry: ferment.Entry{At: ferment.At(now.In(s.Zone))}})
	}
	l, err := line.Parse(t.Line, line.Context{Now: now, Zone: s.Zone, Units: s.Units, Noted: t.Note != "", Because: t.Because})
	if err != nil {
		return line.Line{}, err
	}
	return t.with(l)
}

// with adds the note and the reason from outside the line.
func (t Typed) with(l line.Line) (line.Line, error) {
	e := &l.Entry
	because := strings.TrimSpace(t.Because)
	switch {
	case e.Because != "" && because != "":
		return l, refused("because", "the reason is given twice, as %q and %q: leave one out", e.Because, because)
	case e.Amount.Given() && takesNoAmount[e.Did]:
		return l, refused(e.Amount.Text, "%s takes no amount: leave it out, or type what it is of, e.g. vol3.4L for what is in the vessel", e.Did)
	case because != "":
		e.Because = because
	}
	if v, is := e.Amount.Volume(); is && e.Did == ferment.Rack && !e.Volume.Known() { // a volume typed after a racking is the volume racked
		e.Volume, e.Amount = measure.Give(v, e.Amount.Text), ferment.Amount{}
	}
	if err := choosesSomething(*e); err != nil {
		return l, err
	}
	e.Note = strings.TrimSpace(e.Note + "\n" + t.Note)
	return l, nil
}

// choosesSomething refuses a choice without an ending.
func choosesSomething(e ferment.Entry) error {
	if e.Did == ferment.Choose && e.Of == "" {
		return refused("choose", "which ending: still, bottle-conditioned or sweetened? e.g. choose of=still")
	}
	return nil
}

// completeEnding completes the first word of a line to an ending.
func completeEnding(text string) string {
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	found := ferment.Where(ferment.Endings(), func(e ferment.Ending) bool { return strings.HasPrefix(string(e), strings.ToLower(word)) })
	if word == "" || len(found) != 1 {
		return text
	}
	return "of=" + string(found[0]) + " " + rest
}

// refused returns an error about a part of the line.
func refused(part, format string, args ...any) error {
	return &line.Error{Part: part, Column: 1, Message: fmt.Sprintf(format, args...)}
}

var takesNoAmount = map[ferment.Act]bool{
	ferment.Started: true, ferment.Degas: true, ferment.Aerate: true, ferment.Punch: true, ferment.Chill: true,
	ferment.Look: true, ferment.Squeeze: true, ferment.Choose: true, ferment.Accept: true, ferment.Move: true, ferment.Close: true, ferment.Verdict: true,
}

// read parses what was typed after a task, as an entry that settles it.
func (w Wish) read(v Vessel, t schedule.Task, now time.Time) (line.Line, error) {
	if strings.TrimSpace(w.Line) == "" {
		return w.with(line.Line{Entry: w.Entry, Timed: !w.Entry.At.IsZero()})
	}
	switch {
	case t.Do == string(ferment.Choose):
		w.Line = t.Do + " " + completeEnding(w.Line)
	case ferment.IsAct(t.Do):
		w.Line = t.Do + " " + w.Line
	case !ferment.IsMeasurement(t.Do):
		w.Line = string(ferment.Look) + " " + w.Line // a reminder is parsed like a look
	}
	line, err := w.Typed.Read(v.Course.Settings, now)
	if err != nil {
		return line, err
	}
	e := line.Entry
	for _, own := range [][2]string{{"step", e.Step}, {"skipped", e.Skipped}, {"overrode", e.Overrode}} {
		if key, given := own[0], own[1]; given != "" {
			return line, refused(given, "%s is marked done, so %s is not typed with it: leave %s=%s out", t.Step, key, key, given)
		}
	}
	return line, nil
}
