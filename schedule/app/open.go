package app

import (
	"cmp"
	"fmt"
	"slices"
	"sync"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
)

// App works on one store. It may be used from several goroutines.
type App struct {
	mu     sync.Mutex
	store  Store
	wrote  [][]ferment.Receipt // by this run, one group an act, the latest last
	vessel map[string]worked
}

// worked is a vessel as it was worked out for one text at one moment.
type worked struct {
	stamp    uint64
	settings uint64
	at       time.Time
	vessel   Vessel
}

// New returns the application on a store.
func New(store Store) *App { return &App{store: store, vessel: map[string]worked{}} }

// Changed tells cheaply whether Open would show other files.
func (d *App) Changed() bool { return d.store.Changed() }

// Open reads the cellar and plans the day of everything in it. A ferment whose
// file and moment are those of the last time is not worked out again.
func (d *App) Open(now time.Time) (Snapshot, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.open(now)
}

// OpenWhole is Open with the closed ferments and every protocol, which the
// morning does without.
func (d *App) OpenWhole(now time.Time) (Snapshot, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	s, err := d.open(now)
	if err != nil {
		return s, err
	}
	past, problems, err := d.store.Past(now)
	s.Cellar.Past, s.Cellar.Protocols = past, d.store.Protocols()
	s.Cellar.Problems = slices.Clone(s.Cellar.Problems)
	for _, p := range problems {
		if !slices.Contains(s.Cellar.Problems, p) { // a parent's are known already
			s.Cellar.Problems = append(s.Cellar.Problems, p)
		}
	}
	return s, err
}

func (d *App) open(now time.Time) (Snapshot, error) {
	cellar, err := d.store.Load(now)
	if err != nil {
		return Snapshot{}, err
	}
	now = now.In(cellar.Settings.Zone)
	s := Snapshot{At: now, Cellar: cellar}
	s.Vessels = d.planAll(ferment.WithCultures(ferment.Parted(cellar.Ferments, cellar.Parents...), cellar.Cultures), cellar, now)
	gatherTrials(s.Vessels)
	for _, c := range cellar.Cultures {
		s.Cultures = append(s.Cultures, PlanCulture(c, cellar, now))
	}
	return s, nil
}

// planAll works out the ferments that are not known as they are, several at
// once.
func (d *App) planAll(fs []ferment.Ferment, cellar ferment.Cellar, now time.Time) []Vessel {
	if len(fs) == 0 {
		return nil
	}
	vs := make([]Vessel, 0, len(fs))
	var fresh []int
	for i, f := range fs {
		had, ok := d.vessel[f.ID]
		if !ok || had.stamp != f.Stamp || had.settings != cellar.Stamp || !had.at.Equal(now) {
			fresh = append(fresh, i)
		}
		vs = append(vs, had.vessel)
	}
	ferment.Each(len(fresh), func(n int) { vs[fresh[n]] = Plan(fs[fresh[n]], cellar, now) })
	for _, i := range fresh {
		d.vessel[fs[i].ID] = worked{fs[i].Stamp, cellar.Stamp, now, vs[i]}
	}
	return vs
}

// Plan works out one ferment of a cellar, with the ending chosen by then.
func Plan(f ferment.Ferment, cellar ferment.Cellar, now time.Time) Vessel {
	f = f.Decided(now)
	plan, trouble := planOf(f, cellar)
	limits := cellar.Settings.Limits
	if plan.Limits != nil {
		limits = plan.Limits(limits)
	}
	c := course.Of(f, cellar.Settings, limits, now)
	return Vessel{Ferment: f, Plan: plan, Course: c, Day: schedule.Plan(plan, c), Trouble: trouble}
}

// PlanCulture works out one culture of a cellar.
func PlanCulture(k ferment.Culture, cellar ferment.Cellar, now time.Time) Vessel {
	plan, trouble := protocolNamed(k.Protocol, cellar)
	c := course.OfCulture(k, cellar.Settings, cellar.Settings.Limits, now)
	return Vessel{Ferment: c.Ferment, Culture: &k, Plan: plan, Course: c, Day: schedule.Plan(plan, c), Trouble: trouble}
}

// planOf is a ferment's protocol followed by those of its endings.
func planOf(f ferment.Ferment, cellar ferment.Cellar) (ferment.Protocol, string) {
	plan, trouble := protocolNamed(f.Protocol, cellar)
	var endings []ferment.Protocol
	for _, e := range f.Endings {
		p, missing := protocolNamed(string(e), cellar)
		endings, trouble = append(endings, p), cmp.Or(trouble, missing)
	}
	return schedule.Merge(plan, endings...), trouble
}

// protocolNamed is a protocol as it is shown to a person, the quantities that its
// author put in braces in the units of the cellar.
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

// gatherTrials moves the ferments of one trial to where its first one stands.
func gatherTrials(vs []Vessel) {
	place := map[string]int{}
	at := func(i int, v Vessel) int {
		if v.Ferment.Trial.Name == "" {
			return i
		}
		if first, ok := place[v.Ferment.Trial.Name]; ok {
			return first
		}
		place[v.Ferment.Trial.Name] = i
		return i
	}
	type placed struct {
		Vessel
		place int
	}
	ps := make([]placed, len(vs))
	for i, v := range vs {
		ps[i] = placed{v, at(i, v)}
	}
	slices.SortStableFunc(ps, func(a, b placed) int { return cmp.Compare(a.place, b.place) })
	for i, p := range ps {
		vs[i] = p.Vessel
	}
}
