package course

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Of is what a ferment's log says at a moment. Entries later than now are put
// aside and change nothing.
func Of(f ferment.Ferment, s ferment.Settings, limits ferment.Limits, now time.Time) Course {
	c := Course{Ferment: f, Settings: s, Limits: limits, Now: now}
	c.Entries, c.Later = history(f.Log, now)
	c.Pitch = c.pitched()
	c.Original = c.original()
	c.keepLedger()
	c.disturbed = c.disturbances()
	c.Readings = c.trust(c.read())
	c.assumePitch()
	c.Started = c.started()
	c.Effective = c.effective()
	c.latest()
	c.finishes()
	c.Test = c.forcedTest()
	c.proveFinish()
	c.strength()
	c.Pace, c.PaceSince = c.pace()
	c.Nitrogen = c.nitrogen()
	c.Steady = c.steadiness()
	c.acceptFinish()
	c.Stage = c.stage()
	c.Conditions, c.CannotTell = c.conditions()
	return c
}

// OfCulture is what a culture's log says at a moment.
func OfCulture(k ferment.Culture, s ferment.Settings, limits ferment.Limits, now time.Time) Course {
	c := Of(ferment.Ferment{
		ID: k.ID, Name: k.Name, Protocol: k.Protocol, Log: k.Log,
		Yeast: ferment.Yeast{Kind: ferment.Wild, Culture: k.ID},
	}, s, limits, now)
	c.Culture = &k
	return c.apartFromMust()
}

// apartFromMust leaves out what only a must can have: a pace that is too slow, a
// need for nitrogen. Of a culture it matters what grows on it.
func (c Course) apartFromMust() Course {
	c.CannotTell = nil
	c.Nitrogen = Nitrogen{Wanted: Unknown[measure.Content]("a culture is no must")}
	c.Conditions = slices.DeleteFunc(c.Conditions, func(k Condition) bool {
		return k.Name != Film && k.Name != Mould && k.Name != DoubtfulLabel && k.Name != ReadingInDoubt
	})
	return c
}
