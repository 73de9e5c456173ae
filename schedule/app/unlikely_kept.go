package app

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// stillUnlikely returns remarks on the entries of every log that would be asked about by what was known at their time,
// without those confirmed, in doubt, given against advice, or remarked on already.
func stillUnlikely(c ferment.Cellar, now time.Time, told []ferment.Problem) []ferment.Problem {
	logs := ferment.Map(c.Joined(ferment.Parted(c.OpenAndPast())), func(f ferment.Ferment) Vessel { return Vessel{Ferment: f} })
	for _, k := range c.Cultures {
		logs = append(logs, Vessel{Ferment: ferment.Ferment{ID: k.ID, Log: k.Log, File: "cultures.yaml"}, Culture: &k})
	}
	found := make([][]ferment.Problem, len(logs))
	ferment.Each(len(logs), func(i int) { found[i] = unlikelyIn(logs[i], logs, c, now) })
	return slices.DeleteFunc(slices.Concat(found...), func(p ferment.Problem) bool {
		return slices.ContainsFunc(told, func(t ferment.Problem) bool { return t.File == p.File && t.Line == p.Line })
	})
}

// unlikelyIn asks about every entry of a log, in the order of time, as if typed then.
func unlikelyIn(v Vessel, all []Vessel, c ferment.Cellar, now time.Time) []ferment.Problem {
	log := slices.Clone(v.Ferment.Log)
	slices.SortStableFunc(log, func(a, b ferment.Entry) int { return a.At.Latest().Compare(b.At.Latest()) })
	var found []ferment.Problem
	for i, e := range log {
		looked := e.Doubt != ferment.NoWord || e.Overrode != ""
		if at := e.At.Latest(); e.Line > 0 && !looked && !at.After(now) {
			s := Snapshot{At: at, Cellar: c, Vessels: siblingsOf(v, all, c, e)}
			for _, a := range implausible(s, v.until(log[:i], c, at, e), v.until(log[:i+1], c, at, e), e) {
				found = append(found, ferment.Problem{File: v.Ferment.File, Line: e.Line, Message: asRemark(a, e)})
				break
			}
		}
	}
	return found
}

// asRemark returns a question as a remark, with what is written in a file instead.
func asRemark(a Ask, e ferment.Entry) string {
	says := strings.NewReplacer("? after it", "doubt: true", "doubt=false", "doubt: false").Replace(a.Says)
	if typed := cmp.Or(a.Part, e.DensityText(), string(e.Did)); !strings.Contains(says, typed) {
		says = typed + ": " + says
	}
	return ferment.Harmless(says)
}

// until returns the vessel with only a part of its log, planned where an amount needs that.
func (v Vessel) until(log []ferment.Entry, c ferment.Cellar, at time.Time, e ferment.Entry) Vessel {
	f := v.Ferment
	f.Log = log
	switch {
	case v.Culture != nil:
		k := *v.Culture
		k.Log = log
		return PlanCulture(k, c, at)
	case e.Amount.Known():
		return Plan(f, c, at)
	}
	return Vessel{Ferment: f, Course: course.Of(f, c.Settings, c.Settings.Limits, at)}
}

// siblingsOf returns the other vessels of the trial as they were at an entry of this one.
func siblingsOf(v Vessel, all []Vessel, c ferment.Cellar, e ferment.Entry) []Vessel {
	if v.Ferment.Trial.Name == "" || !e.HasDensity() {
		return nil
	}
	others := ferment.Where(all, func(o Vessel) bool { return o.Ferment.Trial.Name == v.Ferment.Trial.Name && o.ID() != v.ID() })
	for i, o := range others {
		others[i].Course = course.Of(o.Ferment, c.Settings, c.Settings.Limits, e.At.Latest())
	}
	return others
}
