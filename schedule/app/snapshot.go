// Package app has what a person can do: look at the day, log, settle a task, skip one, undo. The board and the commands
// share it, so that a key and a command do the same.
package app

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/schedule"
)

// Store stores the records. Everything it returns belongs to the caller.
type Store interface {
	// Load reads what changed since the last time and returns everything.
	Load(now time.Time) (ferment.Cellar, error)
	// Changed reports cheaply whether Load would return something else.
	Changed() bool
	// Append writes entries into the log of an open ferment or a culture, all or none, durably.
	Append(subject string, entries []ferment.Entry) (ferment.Receipt, error)
	// Apply writes a change after checking all of it. An error with receipts says what was written.
	Apply(ferment.Change) ([]ferment.Receipt, error)
	// Undo reverts a write if it is unchanged.
	Undo(ferment.Receipt) error
	// Strike takes an entry out of a log, for a reason, or puts what it should have said in its place.
	Strike(subject string, e ferment.Entry, because string, instead ...ferment.Entry) (ferment.Receipt, error)
	// Written are the acts that can be taken back, the latest last; SetWritten replaces them.
	Written() []ferment.Written
	SetWritten([]ferment.Written)
	// Past reads the closed ferments, which Load does not.
	Past(now time.Time) ([]ferment.Ferment, []ferment.Problem, error)
	// OfPast returns what was worked out of each closed ferment, in JSON, again once its file changes.
	OfPast(workOut func(ferment.Ferment) any) []json.RawMessage
	// Protocols reads every protocol, including unused ones.
	Protocols() ferment.Plans
	// Check is like Load with closed ferments, every protocol, and problems between files.
	Check(now time.Time) (ferment.Cellar, error)
	// Quote adds to problems the text of their lines.
	Quote([]ferment.Problem) []ferment.Problem
	// Lost returns entries that are in no file any more; Restore writes one again, Dismiss never offers it again.
	Lost(ferment.Cellar) ([]ferment.Lost, error)
	Restore(ferment.Lost) (ferment.Receipt, error)
	Dismiss(ferment.Lost) error
}

// Snapshot is everything that can be shown at one moment. It is never changed.
type Snapshot struct {
	At       time.Time
	Cellar   ferment.Cellar
	Vessels  []Vessel // the open ferments, in the order of their file names, the ferments of a trial together
	Cultures []Vessel // the cultures, planned the same way
	Past     []Vessel // the closed ferments, if requested
	// Experience is what the ferments that came to rest did. It reads files when it is first asked for.
	Experience func() []forecast.Did
}

// Vessel is one subject with its course and its day.
type Vessel struct {
	Ferment ferment.Ferment
	Culture *ferment.Culture // nil for a ferment
	Plan    ferment.Protocol // its protocol merged with its endings
	Course  *course.Course
	Day     schedule.Day
	Trouble string // why there is no plan; empty if there is one

	experience func() []forecast.Did // of its cellar; nil for a vessel alone
}

// ID returns the subject's id.
func (v Vessel) ID() string { return v.Ferment.ID }

// Label returns the subject's short name.
func (v Vessel) Label() string { return v.Ferment.Label() }

// Find returns the ferment or culture with an id; a closed ferment if there is no other.
func (s Snapshot) Find(id string) (Vessel, bool) {
	for _, vs := range [][]Vessel{s.Vessels, s.Cultures, s.Past} {
		if v, is := ferment.FirstWhere(vs, func(v Vessel) bool { return v.ID() == id }); is {
			return v, true
		}
	}
	return Unplanned(ferment.Ferment{}), false
}

// Among returns the ferments and cultures with these ids, in their order, without the unknown.
func (s Snapshot) Among(ids []string) (vs []Vessel) {
	for _, id := range ids {
		if v, is := s.Find(id); is {
			vs = append(vs, v)
		}
	}
	return vs
}

// Unplanned returns a vessel of which nothing was calculated.
func Unplanned(f ferment.Ferment) Vessel { return Vessel{Ferment: f, Course: &course.Course{}} }

// FindAll returns the subjects of names or tags, ignoring case; cultures and closed ferments last.
func (s Snapshot) FindAll(names []string) ([]Vessel, error) {
	var out []Vessel
	for _, name := range names {
		f, err := s.Cellar.Find(name)
		v, _ := s.Find(f.ID)
		if err != nil {
			var is bool
			if v, is = ferment.FirstWhere(slices.Concat(s.Cultures, s.Past), func(v Vessel) bool { return strings.EqualFold(v.ID(), name) }); !is {
				return nil, s.orCulture(err)
			}
		}
		out = append(out, v)
	}
	return out, nil
}

// orCulture adds the names of cultures to the hint for an unknown name.
func (s Snapshot) orCulture(err error) error {
	var unknown *ferment.UnknownFerment
	if errors.As(err, &unknown) {
		unknown.Also = append(unknown.Also, ferment.Map(s.Cultures, Vessel.ID)...)
	}
	return err
}

// App works on one store. It may be used from several goroutines.
type App struct {
	mu     sync.Mutex
	store  Store
	vessel map[string]worked
}

// worked is a cached vessel, for one text at one moment.
type worked struct {
	stamp    uint64
	settings uint64
	at       time.Time
	vessel   Vessel
}

// New returns the application on a store.
func New(store Store) *App { return &App{store: store, vessel: map[string]worked{}} }

// Changed reports cheaply whether Open would return something else.
func (d *App) Changed() bool { return d.store.Changed() }

// Open reads the cellar and plans its day. An unchanged ferment is not calculated again.
func (d *App) Open(now time.Time) (Snapshot, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.open(now)
}

// OpenWhole is like Open, with closed ferments and every protocol.
func (d *App) OpenWhole(now time.Time) (Snapshot, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.openWhole(now)
}

// openWhole is open, with the closed ferments planned too.
func (d *App) openWhole(now time.Time) (Snapshot, error) {
	s, err := d.open(now)
	if err != nil {
		return s, err
	}
	past, problems, err := d.store.Past(now)
	s.Cellar.Past, s.Cellar.Protocols = past, d.store.Protocols()
	s.Past = d.planAll(s.Cellar.Joined(ferment.Parted(past, s.Cellar.Ferments...)), s.Cellar, s.At)
	s.Cellar.Problems = slices.Clone(s.Cellar.Problems)
	for _, p := range problems {
		if !slices.Contains(s.Cellar.Problems, p) { // problems of parents are known already
			s.Cellar.Problems = append(s.Cellar.Problems, p)
		}
	}
	return s, err
}

// openWith is like open, with closed ferments if one of the subjects is closed.
func (d *App) openWith(now time.Time, subjects []string) (Snapshot, error) {
	s, err := d.open(now)
	if err != nil {
		return s, err
	}
	if _, unknown := s.FindAll(subjects); unknown != nil {
		return d.openWhole(now)
	}
	return s, nil
}

// open reads the cellar and plans what is open. The caller holds the lock.
func (d *App) open(now time.Time) (Snapshot, error) {
	cellar, err := d.store.Load(now)
	if err != nil {
		return Snapshot{}, err
	}
	now = now.In(cellar.Settings.Zone)
	s := Snapshot{At: now, Cellar: cellar}
	s.Vessels = d.planAll(cellar.Joined(ferment.Parted(cellar.Ferments, cellar.Parents...)), cellar, now)
	s.Vessels = inTrials(s.Vessels)
	s.Cultures = ferment.Map(cellar.Cultures, func(c ferment.Culture) Vessel { return PlanCulture(c, cellar, now) })
	s.Experience = sync.OnceValue(func() []forecast.Did { return d.experience(s) })
	for i := range s.Vessels {
		s.Vessels[i].experience = s.Experience
	}
	return s, nil
}

// planAll calculates the ferments that are not cached, several at once.
func (d *App) planAll(fs []ferment.Ferment, cellar ferment.Cellar, now time.Time) []Vessel {
	vs := slices.Grow([]Vessel(nil), len(fs))
	var fresh []int
	for i, f := range fs {
		had, ok := d.vessel[f.ID]
		if !ok || had.stamp != f.Stamp || had.settings != cellar.Stamp || !had.at.Equal(now) {
			fresh = append(fresh, i)
		}
		vs = append(vs, had.vessel)
	}
	plans := map[string]merged{} // those of one protocol and its endings share one
	for _, i := range fresh {
		f := fs[i].Decided(now)
		key := fmt.Sprint(f.Protocol, f.Endings)
		if _, there := plans[key]; !there {
			plans[key] = planOf(f, cellar)
		}
	}
	ferment.Each(len(fresh), func(n int) {
		f := fs[fresh[n]].Decided(now)
		vs[fresh[n]] = plan(f, plans[fmt.Sprint(f.Protocol, f.Endings)], cellar, now)
	})
	for _, i := range fresh {
		d.vessel[fs[i].ID] = worked{fs[i].Stamp, cellar.Stamp, now, vs[i]}
	}
	return vs
}

// Plan calculates one ferment of a cellar, with the ending chosen by then.
func Plan(f ferment.Ferment, cellar ferment.Cellar, now time.Time) Vessel {
	f = f.Decided(now)
	return plan(f, planOf(f, cellar), cellar, now)
}

// plan calculates a ferment whose ending is chosen, by a plan that is merged with it.
func plan(f ferment.Ferment, p merged, cellar ferment.Cellar, now time.Time) Vessel {
	f = course.Joined(f, cellar, now)
	if f.Yeast.From != nil {
		stock := f.Yeast.From.Stock(cellar.OpenAndPast(), now)
		f.Yeast.Stock = &stock
	}
	c := course.Of(f, cellar.Settings, p.Limits(cellar.Settings.Limits), now)
	return Vessel{Ferment: f, Plan: p.Protocol, Course: c, Day: schedule.Plan(p.Protocol, c), Trouble: p.trouble}
}

// PlanCulture calculates one culture of a cellar.
func PlanCulture(k ferment.Culture, cellar ferment.Cellar, now time.Time) Vessel {
	plan, trouble := protocolNamed(k.Protocol, cellar)
	c, stock := course.OfCulture(k, cellar.Settings, cellar.Settings.Limits, now), k.Stock(cellar.OpenAndPast(), now)
	c.Ferment.Yeast.Stock = &stock
	return Vessel{Ferment: c.Ferment, Culture: &k, Plan: plan, Course: c, Day: schedule.Plan(plan, c), Trouble: trouble}
}

// merged is a protocol with its endings, or why there is none.
type merged struct {
	ferment.Protocol
	trouble string
}

// planOf returns a ferment's protocol merged with those of its endings.
func planOf(f ferment.Ferment, cellar ferment.Cellar) merged {
	plan, trouble := protocolNamed(f.Protocol, cellar)
	var endings []ferment.Protocol
	for _, e := range f.Endings {
		p, missing := protocolNamed(string(e), cellar)
		endings, trouble = append(endings, p), cmp.Or(trouble, missing)
	}
	return merged{schedule.Merge(plan, endings...), trouble}
}

// protocolNamed returns a protocol with its quantities in the units of the cellar.
func protocolNamed(name string, cellar ferment.Cellar) (ferment.Protocol, string) {
	if name == "" {
		return ferment.Protocol{}, ""
	}
	p, ok := cellar.Protocols.Named(name)
	if !ok {
		return p, fmt.Sprintf("no protocol is called %q", name)
	}
	return schedule.InUnits(p, cellar.Settings.Units), ""
}

// inTrials moves the vessels of a trial to the place of its first.
func inTrials(vs []Vessel) []Vessel {
	of := map[string][]Vessel{}
	for _, v := range vs {
		if trial := v.Ferment.Trial.Name; trial != "" {
			of[trial] = append(of[trial], v)
		}
	}
	if len(of) == 0 {
		return vs
	}
	out := make([]Vessel, 0, len(vs))
	for _, v := range vs {
		if trial := v.Ferment.Trial.Name; trial == "" {
			out = append(out, v)
		} else {
			out = append(out, of[trial]...)
			delete(of, trial)
		}
	}
	return out
}

// experience returns what the ferments did that are closed, or open and at rest.
func (d *App) experience(s Snapshot) (out []forecast.Did) {
	for _, kept := range d.store.OfPast(func(f ferment.Ferment) any {
		var end time.Time // what is kept must not depend on the time of looking
		for _, e := range f.Log {
			end = ferment.Later(end, e.At.Latest())
		}
		if did, ok := forecast.DidOf(s.Cellar.Joined([]ferment.Ferment{f})[0], s.Cellar.Settings, end); ok {
			return did
		}
		return nil
	}) {
		var did *forecast.Did
		open := func(v Vessel) bool { return did.ID == v.Ferment.ID }
		if json.Unmarshal(kept, &did) == nil && did != nil && did.Pitched.Before(s.At) && !slices.ContainsFunc(s.Vessels, open) {
			out = append(out, *did)
		}
	}
	for _, v := range s.Vessels {
		if did, ok := forecast.DidOf(v.Ferment, s.Cellar.Settings, s.At); ok {
			out = append(out, did)
		}
	}
	return out
}

// SuggestedShare says what the ferments of a honey lot suggest for its fermentable share; "" without any.
func (s Snapshot) SuggestedShare(lot string) string {
	if s.Experience == nil {
		return ""
	}
	share, ok := forecast.ShareOf(s.Experience(), lot, s.Cellar.Settings.Limits.Fermentable)
	if !ok {
		return ""
	}
	return share.String()
}

// Foreseen adds dates from a forecast to a vessel. It takes a few milliseconds.
func Foreseen(v Vessel) (Vessel, forecast.Forecast) {
	var others []forecast.Did
	if v.experience != nil {
		others = v.experience()
	}
	f := forecast.Of(v.Course, others...).LookingBack()
	if len(v.Plan.Steps) == 0 || f.Unknown != "" {
		return v, f
	}
	ahead := *v.Course
	ahead.Ahead, ahead.CannotTell = f.Reaches, perhapsStuck(v.Course, f)
	v.Course = &ahead
	v.Day = schedule.Plan(v.Plan, v.Course)
	return v, f
}

// perhapsStuck returns a condition that cannot be told yet, by the rules, else by a forecast with hardly any fall.
func perhapsStuck(c *course.Course, f forecast.Forecast) *course.CannotTell {
	if c.CannotTell != nil || f.Says != forecast.PerhapsStalled || !c.Gravity.IsKnown() {
		return c.CannotTell
	}
	if slices.ContainsFunc(c.Conditions, func(k course.Condition) bool { return k.Name == course.Stuck || k.Name == course.AtLimit }) {
		return nil
	}
	return &course.CannotTell{What: "stuck", Why: "perhaps stalled", ReadAgain: c.Gravity.Value.At.Add(48 * time.Hour)}
}
