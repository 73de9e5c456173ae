package schedule

import (
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Plan says what a ferment or a culture needs at the moment of its course: tasks of every state, one that waits without
// a due time being hung on what nobody can date yet.
func Plan(p ferment.Protocol, c course.Course) Day {
	if c.Over() {
		return Day{}
	}
	pl := newPlanner(p, c)
	pl.quiet = pl.quietNow()
	if z := pl.nutrient.zone; z == open || z == grace {
		pl.mergeDoses()
	}
	var tasks []Task
	for i := range pl.steps {
		tasks = append(tasks, pl.tasksOf(i)...)
	}
	tasks = append(pl.sparingBottles(tasks), pl.lateNutrient(tasks)...)
	tasks = slices.Concat(pl.hush(tasks, pl.quiet), pl.reminders(), pl.readAgain())
	tasks = pl.remedied(tasks)
	tasks = pl.alarms(pl.sparing(append(tasks, pl.forgotten(tasks)...)))
	sortTasks(tasks)
	return Day{Tasks: tasks, Gates: pl.gates.all(), Quiet: pl.quiet}
}

// InUnits returns a plan with the quantities in braces in a system of units.
func InUnits(p ferment.Protocol, s measure.System) ferment.Protocol {
	p.Steps = slices.Clone(p.Steps)
	for i, step := range p.Steps {
		p.Steps[i].Say, p.Steps[i].Amount = measure.Fill(step.Say, s), measure.Fill(step.Amount, s)
	}
	return p
}

// Merge returns a plan followed by its endings' steps, without names it already has.
func Merge(p ferment.Protocol, endings ...ferment.Protocol) ferment.Protocol {
	merged, all := p, append([]ferment.Protocol{p}, endings...)
	merged.Steps = nil
	have := map[string]bool{}
	for _, one := range all {
		for _, s := range one.Steps {
			if !have[s.Name] {
				have[s.Name] = true
				merged.Steps = append(merged.Steps, s)
			}
		}
	}
	merged.Limits = func(l ferment.Limits) ferment.Limits {
		for _, one := range all {
			if one.Limits != nil {
				l = one.Limits(l)
			}
		}
		return l
	}
	return merged
}
