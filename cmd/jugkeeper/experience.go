package main

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

type experienceJSON struct {
	Yeast    string    `json:"yeast" does:"its name"`
	Ferments []didJSON `json:"ferments" does:"what the ferments with it did"`
	Next     *nextJSON `json:"next" does:"what the next may do; null where nothing is known"`
}

type didJSON struct {
	ID       string  `json:"id" does:"the name of its file"`
	Pitched  string  `json:"pitched" does:"when"`
	Original float64 `json:"original" does:"gravity before the pitch"`
	Finish   float64 `json:"finish" does:"gravity where it came to rest"`
	Days     float64 `json:"days" does:"from the pitch to there"`
}

type nextJSON struct {
	Days        float64 `json:"days" does:"from the pitch to its end"`
	DaysEarly   float64 `json:"days_early" does:"the early end"`
	DaysLate    float64 `json:"days_late" does:"the late end"`
	OverDry     float64 `json:"over_dry" does:"SG over its dry finish"`
	OverDryLow  float64 `json:"over_dry_low" does:"the lower end"`
	OverDryHigh float64 `json:"over_dry_high" does:"the upper end"`
}

// ofYeast writes what the ferments of a yeast did, open and closed ones, and what
// the next may do. A file that cannot be read is left out and told of by check.
func (w world) ofYeast(f flags, s session, yeast string) error {
	past, _, err := s.store.Past(s.now)
	if err != nil {
		return err
	}
	var ds []forecast.Did
	known := false
	for _, one := range append(append([]ferment.Ferment(nil), s.first.Cellar.Ferments...), past...) {
		if !strings.EqualFold(one.Yeast.Name, yeast) {
			continue
		}
		known = true
		if d, ok := forecast.DidOf(app.Plan(one, s.first.Cellar, s.now).Course); ok {
			ds = append(ds, d)
		}
	}
	if !known {
		return saysNo("no ferment names the yeast %q", yeast)
	}
	if f.json {
		return writeJSON(w.stdout, experienceOf(yeast, ds))
	}
	if len(ds) == 0 {
		fmt.Fprintf(w.out(f), "No ferment with %s has come to rest yet without something going in on the way.\n", yeast)
		return nil
	}
	table := [][]string{{"", "pitched", "original", "finish", "days"}}
	for _, d := range ds {
		table = append(table, []string{d.Name, d.Pitched.Format("2 Jan 2006"), words.Glass(d.Original, s.first.Cellar.Settings),
			words.Glass(d.Finish, s.first.Cellar.Settings), measure.Decimal(d.Days, 0)})
	}
	w.table(f, table)
	e := forecast.Expect(ds)
	fmt.Fprintf(w.out(f), "\nFrom %d of yours with this yeast, pulled toward what is usual: the next is done in %.0f to %.0f days, %.3f above its dry finish (%.3f to %.3f).\n",
		e.From, e.EarlyDays, e.LateDays, float64(e.OverDry), float64(e.LowOver), float64(e.HighOver))
	return nil
}

func experienceOf(yeast string, ds []forecast.Did) experienceJSON {
	out := experienceJSON{Yeast: yeast, Ferments: []didJSON{}}
	for _, d := range ds {
		out.Ferments = append(out.Ferments, didJSON{d.Name, stamp(d.Pitched), round(float64(d.Original), 4), round(float64(d.Finish), 4), round(d.Days, 1)})
	}
	if e := forecast.Expect(ds); e.From > 0 {
		out.Next = &nextJSON{round(e.Days, 1), round(e.EarlyDays, 1), round(e.LateDays, 1),
			round(float64(e.OverDry), 4), round(float64(e.LowOver), 4), round(float64(e.HighOver), 4)}
	}
	return out
}
