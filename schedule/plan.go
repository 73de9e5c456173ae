package schedule

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// Plan says what a ferment or a culture needs at the moment of its course.
// Every task of every state comes out, the waiting ones too.
func Plan(p ferment.Protocol, c course.Course) Day { return Day{} }

// Merge is a plan followed by the fragments of its endings. A step of a
// fragment whose name the plan already has is left out.
func Merge(p ferment.Protocol, endings ...ferment.Protocol) ferment.Protocol { return p }
