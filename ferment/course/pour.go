package course

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// Joined gives a ferment's entries up to a time what the cellar knows of the other ferments that they poured in. A mead
// may itself have taken in others, each before it was poured.
func Joined(f ferment.Ferment, c ferment.Cellar, upTo time.Time) ferment.Ferment {
	if !slices.ContainsFunc(f.Log, func(e ferment.Entry) bool { return f.Pours(&e) }) {
		return f
	}
	f.Log = slices.Clone(f.Log)
	all := c.Joined(ferment.Parted(c.OpenAndPast()))
	for i := range f.Log {
		e := &f.Log[i]
		from, known := f.PouredFrom(e, all)
		if !known || e.At.Time.After(upTo) {
			continue
		}
		before := e.At.Time.Add(-time.Second)
		from = Joined(from, c, before) // each time earlier, so that this ends
		is, was := Of(from, c.Settings, c.Settings.Limits, e.At.Time), Of(from, c.Settings, c.Settings.Limits, before)
		if is.Alcohol.IsKnown() {
			e.Poured = &ferment.Poured{Volume: was.Volume.Value, Gravity: is.Present.Value, Original: is.Effective.Value,
				Alcohol: is.Alcohol.Value, Brought: is.brought, Stabilised: was.stabilisedBy(before)}
		}
	}
	return f
}
