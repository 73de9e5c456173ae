package course

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// Of is what a ferment's log says at a moment. Entries later than now are put
// aside and change nothing.
func Of(f ferment.Ferment, s ferment.Settings, limits ferment.Limits, now time.Time) Course {
	return Course{Ferment: f, Settings: s, Limits: limits, Now: now}
}

// OfCulture is what a culture's log says at a moment.
func OfCulture(c ferment.Culture, s ferment.Settings, limits ferment.Limits, now time.Time) Course {
	course := Of(ferment.Ferment{ID: c.ID, Name: c.Name, Protocol: c.Protocol, Log: c.Log,
		Yeast: ferment.Yeast{Kind: ferment.Wild, Culture: c.ID}}, s, limits, now)
	course.Culture = &c
	return course
}
