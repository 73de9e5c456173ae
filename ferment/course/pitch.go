package course

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// startFall is the fall of gravity that shows a ferment has started (common
// practice, no source).
const startFall = 0.003

// pitched is the pitch as it was recorded.
func (c Course) pitched() Event {
	if e, ok := c.First(ferment.Pitch); ok {
		return Event{At: e.At.Time, Known: true}
	}
	return Event{}
}

// assumePitch takes the first entry for the pitch where gravity has fallen and
// nobody recorded one.
func (c *Course) assumePitch() {
	if c.Pitch.Known || !c.Original.IsKnown() || len(c.Entries) == 0 {
		return
	}
	for _, r := range c.Readings {
		if r.trusted() && c.Original.Value-r.Gravity >= startFall-tiny {
			c.Pitch = Event{At: c.Entries[0].At.Time, Known: true, Assumed: true}
			c.Readings = append([]Reading{c.mustReading()}, c.Readings...)
			return
		}
	}
}

// started is when the ferment began to work: recorded, or bubbles or foam seen
// after the pitch, else the first fall of
// 0.003 from the original, else assumed a day after the pitch. An assumed
// start may place windows and no more.
func (c Course) started() Event {
	for _, e := range c.Entries {
		if e.Did == ferment.Started || c.Pitch.Known && e.At.Time.After(c.Pitch.At) && e.AnswersTo(ferment.Started) {
			return Event{At: e.At.Time, Known: true}
		}
	}
	if c.Original.IsKnown() {
		if at, ok := c.crossed(constant(c.Original.Value - startFall)); ok {
			return Event{At: at, Known: true}
		}
	}
	if c.Pitch.Known {
		return Event{At: c.Pitch.At.Add(24 * time.Hour), Known: true, Assumed: true}
	}
	return Event{}
}
