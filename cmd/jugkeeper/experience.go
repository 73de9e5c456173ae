package main

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
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
	Alcohol  float64 `json:"alcohol" does:"% vol there"`
	Days     float64 `json:"days" does:"from the pitch to there; 0 if something went in on the way"`
	Ended    string  `json:"ended" does:"dry, at its yeast's limit, or stopped early"`
	Lost     float64 `json:"lost" does:"L at a racking; 0 if unknown"`
}

type nextJSON struct {
	Days       float64 `json:"days" does:"from the pitch to its end"`
	DaysEarly  float64 `json:"days_early" does:"the early end"`
	DaysLate   float64 `json:"days_late" does:"the late end"`
	Finish     float64 `json:"finish" does:"SG at its end, from the original gravity of the latest"`
	FinishLow  float64 `json:"finish_low" does:"the lower end"`
	FinishHigh float64 `json:"finish_high" does:"the upper end"`
	Tolerance  float64 `json:"tolerance" does:"% vol that the yeast may reach"`
	Lost       float64 `json:"lost" does:"L at a racking"`
}

// ofYeast writes what the ferments of a yeast did, open and closed ones, and what to expect of the next. Unreadable
// files are left out; check reports them.
func (w world) ofYeast(f flags, s session, yeast string) error {
	past, _, err := s.store.Past(s.now)
	if err != nil {
		return err
	}
	all := ferment.Where(append(past, s.first.Cellar.Ferments...), func(f ferment.Ferment) bool { return strings.EqualFold(forecast.KindOf(f).Yeast, yeast) })
	if len(all) == 0 {
		return saysNo("no ferment names the yeast %q", yeast)
	}
	n := forecast.Expect(s.first.Experience(), ferment.Ferment{Yeast: all[0].Yeast})
	if f.json {
		return writeJSON(w.stdout, experienceOf(yeast, n))
	}
	if len(n.Like) == 0 {
		fmt.Fprintf(w.out(f), "No ferment with %s has come to rest yet without something going in on the way.\n", yeast)
		return nil
	}
	table := [][]string{{"", "pitched", "original", "finish", "days"}}
	for _, d := range n.Like {
		table = append(table, []string{d.ID, d.Pitched.Format("2 Jan 2006"), words.Glass(d.Original, s.first.Cellar.Settings),
			words.Glass(d.Finish, s.first.Cellar.Settings), measure.Decimal(d.Days, 0)})
	}
	w.table(f, table)
	fmt.Fprintf(w.out(f), "\nFrom %d of yours with this yeast, pulled toward what is usual: the next should end near %s (%s to %s) in %.0f to %.0f days.\n",
		len(n.Like), words.Glass(n.Finish, s.first.Cellar.Settings), words.Glass(n.Low, s.first.Cellar.Settings), words.Glass(n.High, s.first.Cellar.Settings), n.Early, n.Late)
	return nil
}

func experienceOf(yeast string, n forecast.Next) experienceJSON {
	out := experienceJSON{Yeast: yeast, Ferments: ferment.Map(n.Like, func(d forecast.Did) didJSON {
		return didJSON{d.ID, stamp(d.Pitched), round(float64(d.Original), 4), round(float64(d.Finish), 4), round(float64(d.Alcohol), 1), round(d.Days, 1), d.Ended(), round(float64(d.Lost), 3)}
	})}
	if len(n.Like) > 0 {
		out.Next = &nextJSON{round(n.Days, 1), round(n.Early, 1), round(n.Late, 1), round(float64(n.Finish), 4), round(float64(n.Low), 4),
			round(float64(n.High), 4), round(float64(n.Tolerance), 1), round(float64(n.Lost), 2)}
	}
	return out
}
