package words

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// Receipts are what writes were, in words, one a write: of several only the act.
func Receipts(s app.Snapshot, receipts []ferment.Receipt) []string {
	var parts []string
	for _, r := range receipts {
		v, ok := s.Find(r.Subject)
		if !ok {
			v.Ferment.ID = r.Subject
		}
		says := Kept
		if len(receipts) > 1 {
			says = heads
		}
		parts = append(parts, written(v, r, says(v, r.Entries, s.At)))
	}
	return parts
}

// Change is how far a previewed reading is from the one before it, and since
// when: "-26.0", "points since Mon 18:00". There must be one before it.
func Change(p app.Preview, now time.Time) (points, since string) {
	points = measure.Decimal(p.Points, 1)
	if p.Points > 0 {
		points = "+" + points
	}
	return points, "points since " + When(p.Since.At, now)
}

// Written is what a write was, in words: "BH-A nutrient, 1.5 g, 07:15", "lot
// lime-26", "BH-A closed".
func Written(v app.Vessel, r ferment.Receipt, now time.Time) string {
	return written(v, r, Kept(v, r.Entries, now))
}

func written(v app.Vessel, r ferment.Receipt, kept string) string {
	switch {
	case r.Moved != "":
		return v.Label() + " closed"
	case len(r.Lots) > 0:
		return "lot " + namesOf(r.Lots, func(l ferment.Lot) string { return l.ID })
	case len(r.Uses) > 0:
		return "of lot " + r.Subject + " " + namesOf(r.Uses, usedFor)
	case len(r.Cultures) > 0:
		return "culture " + namesOf(r.Cultures, func(c ferment.Culture) string { return c.ID })
	case r.Made:
		return strings.TrimSpace("new " + kept)
	}
	return kept
}

// usedFor is "500 g, table".
func usedFor(u ferment.Use) string {
	mass := u.Mass.Text
	if !u.Mass.Known() {
		mass = "some"
	}
	if u.For == "" {
		return mass
	}
	return mass + ", " + u.For
}

func namesOf[T any](items []T, name func(T) string) string {
	names := make([]string, len(items))
	for i, it := range items {
		names[i] = name(it)
	}
	return strings.Join(names, " and ")
}
