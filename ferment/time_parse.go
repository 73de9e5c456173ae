package ferment

import "time"

// ParseMoment reads a time as it stands in a file: RFC 3339, "2026-09-12
// 18:30", "2026-09-12 18:30:05", or a day alone. A wall time that a clock
// change doubles is the first of the two; one that it skips is refused.
func ParseMoment(text string, zone *time.Location) (Moment, error) { return Moment{}, nil }

// ParseTime reads a time as a person types it: what ParseMoment reads, and
// also "18:30", "yesterday 20:00", "yesterday", "-30min", "-2h", "-2d". A time
// of day that is later than now means yesterday, and the notice says so.
func ParseTime(text string, now time.Time, zone *time.Location) (at Moment, notice string, err error) {
	return Moment{}, "", nil
}
