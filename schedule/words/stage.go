package words

import (
	"strings"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule/app"
)

// condition is a condition as it stands in the place of a stage.
type condition struct {
	word Word // Late needs hands or ends a hope, Warn wants a look
	name string
}

var conditions = map[course.ConditionName]condition{
	course.Mould:           {Late, "mould"},
	course.Film:            {Late, "film"},
	course.Restarted:       {Late, "restarted"},
	course.Stuck:           {Late, "stuck"},
	course.SlowToStart:     {Warn, "slow start"},
	course.Sluggish:        {Warn, "sluggish"},
	course.ReadingInDoubt:  {Warn, "reading?"},
	course.AtLimit:         {Warn, "at limit"},
	course.OriginalUnknown: {Warn, "original?"},
	course.DoubtfulLabel:   {Warn, "label?"},
}

// byWeight are the conditions, the gravest first.
var byWeight = []course.ConditionName{
	course.Mould, course.Film, course.Restarted, course.Stuck, course.SlowToStart, course.Sluggish,
	course.ReadingInDoubt, course.AtLimit, course.OriginalUnknown, course.DoubtfulLabel,
}

// Advice is a condition with what to look at, the first thing first.
type Advice struct {
	Mark Word
	Says string // "stuck: 0.001 in 80 h"
	Look []string
}

// AdviceOf are the conditions of a vessel, the gravest first.
func AdviceOf(v app.Vessel) []Advice {
	var out []Advice
	for _, name := range byWeight {
		for _, c := range v.Course.Conditions {
			if c.Name == name {
				out = append(out, Advice{conditions[name].word, strings.TrimSuffix(string(name)+": "+c.Why, ": "), c.Look})
			}
		}
	}
	return out
}

// gravest is the condition that takes the place of the stage.
func gravest(cs []course.Condition) (course.Condition, bool) {
	for _, name := range byWeight {
		for _, c := range cs {
			if c.Name == name {
				return c, true
			}
		}
	}
	return course.Condition{}, false
}

// StageOf is how far a vessel is in one or two words, and the mark of a
// condition.
func StageOf(v app.Vessel) (name string, mark Word) {
	if c, ok := gravest(v.Course.Conditions); ok {
		return conditions[c.Name].name, conditions[c.Name].word
	}
	switch {
	case v.Course.CannotTell != nil:
		return "unclear", Warn
	case v.Day.Quiet != nil:
		return "quiet", ""
	case v.Course.Stage == "":
		return Unknown, ""
	}
	return string(v.Course.Stage), ""
}
