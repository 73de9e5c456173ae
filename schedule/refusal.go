package schedule

import "cellar/jugkeeper/ferment/course"

// No is why a task may not be done now. A typed reason passes it.
type No struct {
	Name    string // the gate, stop or rule; recorded as overrode with the reason
	Verdict string // "closed", "too soon", "shut", "stop"
	Why     []string
	Instead string // what to do instead, in one phrase
	Option  *Task  // the task to do instead, where the plan has one
}

// Refusal is what stands against doing a task now, nil where nothing does. The
// task and the day come from one Plan of the same course.
func Refusal(t Task, d Day, c course.Course) *No { return nil }
