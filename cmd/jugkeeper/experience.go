package main

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	chapters "cellar/jugkeeper/schedule/guide"
)

type experienceJSON struct {
	Yeast    string    `json:"yeast" does:"the name of the yeast"`
	Ferments []didJSON `json:"ferments" does:"what the ferments with it did"`
	Next     *nextJSON `json:"next" does:"what the next ferment may do; null if nothing is known"`
}

type didJSON struct {
	ID       string  `json:"id" does:"the name of its file"`
	Pitched  string  `json:"pitched" does:"when the yeast was added"`
	Original float64 `json:"original" does:"gravity before the pitch"`
	Finish   float64 `json:"finish" does:"gravity at which it ended"`
	Alcohol  float64 `json:"alcohol" does:"% vol at the end"`
	Days     float64 `json:"days" does:"days from the pitch to the end; 0 if something was added on the way"`
	Ended    string  `json:"ended" does:"dry, at its yeast's limit, or stopped early"`
	Lost     float64 `json:"lost" does:"litres lost at racking; 0 if unknown"`
}

type nextJSON struct {
	Days       float64 `json:"days" does:"days from the pitch to the end"`
	DaysEarly  float64 `json:"days_early" does:"the shortest likely"`
	DaysLate   float64 `json:"days_late" does:"the longest likely"`
	Finish     float64 `json:"finish" does:"gravity at the end, if it begins as the latest did"`
	FinishLow  float64 `json:"finish_low" does:"the lowest likely"`
	FinishHigh float64 `json:"finish_high" does:"the highest likely"`
	Tolerance  float64 `json:"tolerance" does:"% vol that the yeast may reach"`
	Lost       float64 `json:"lost" does:"litres lost at racking"`
}

// ofYeast writes what the ferments of a yeast did, and what to expect of the next. check reports unreadable files.
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
		fmt.Fprintf(w.out(f), "No ferment with %s is finished yet.\n", yeast)
		return nil
	}
	for _, p := range chapters.Yours(s.first, all[0]).Parts {
		if p == (chapters.Part{}) {
			break
		}
		fmt.Fprintln(w.out(f), strings.TrimSpace(p.Head+" "+strings.TrimLeft(p.Text, "─●·├○┤ ")))
	}
	return nil
}

func experienceOf(yeast string, n forecast.Next) experienceJSON {
	out := experienceJSON{Yeast: yeast, Ferments: ferment.Map(n.Like, func(d forecast.Did) didJSON {
		return didJSON{d.ID, stamp(d.Pitched), measure.Round(float64(d.Original), 4), measure.Round(float64(d.Finish), 4), measure.Round(float64(d.Alcohol), 1), measure.Round(d.Days, 1), d.Ended(), measure.Round(float64(d.Lost), 3)}
	})}
	if len(n.Like) > 0 {
		out.Next = &nextJSON{measure.Round(n.Days, 1), measure.Round(n.Early, 1), measure.Round(n.Late, 1), measure.Round(float64(n.Finish), 4), measure.Round(float64(n.Low), 4),
			measure.Round(float64(n.High), 4), measure.Round(float64(n.Tolerance), 1), measure.Round(float64(n.Lost), 2)}
	}
	return out
}
