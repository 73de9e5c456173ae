package shelf

import (
	"cmp"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Made is how much mead was made in a calendar year.
type Made struct {
	Year    int
	Volume  measure.Volume
	Unknown int // ferments of a volume that nobody wrote
}

// MadeIn is what was made in each calendar year, the latest first: the musts by
// the day on which the yeast went in, as much as they were then. One that was
// racked into two counts once, with its parent; a must without yeast is no
// mead.
func MadeIn(fs []ferment.Ferment) []Made {
	years := map[int]Made{}
	for _, f := range fs {
		at, made := pitched(f)
		if !made || f.From.Ferment != "" {
			continue
		}
		y := years[at.Time.Year()]
		y.Year = at.Time.Year()
		if v := course.MustVolume(f.Must); v.IsKnown() {
			y.Volume += v.Value
		} else {
			y.Unknown++
		}
		years[y.Year] = y
	}
	var out []Made
	for _, y := range years {
		out = append(out, y)
	}
	slices.SortFunc(out, func(a, b Made) int { return cmp.Compare(b.Year, a.Year) })
	return out
}

// pitched is when the yeast went in: the first pitch, else the first entry of
// a log that knows of a start or of bottles.
func pitched(f ferment.Ferment) (at ferment.Moment, made bool) {
	var first, yeast ferment.Moment
	for _, e := range f.Log {
		if first.IsZero() || e.At.Time.Before(first.Time) {
			first = e.At
		}
		switch e.Did {
		case ferment.Pitch:
			if yeast.IsZero() || e.At.Time.Before(yeast.Time) {
				yeast = e.At
			}
		case ferment.Started, ferment.Bottle:
			made = true
		}
	}
	if !yeast.IsZero() {
		return yeast, true
	}
	return first, made
}
