package app

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// meaning is how much a task of that state is what a person means by its name,
// the most first: what can be done now, what cannot, what is over.
var meaning = []schedule.State{
	schedule.Late, schedule.Due, schedule.Held, schedule.Lapsed, schedule.Done, schedule.Skipped, schedule.Waiting,
}

// TaskMeant is the task that a step's name or an act means now. Among several
// of one state it is the earliest to come, or the latest of what is over.
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

// mustMean is TaskMeant, an act that no task asks for as itself, or an error
// that lists what there is.
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
