package remark

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
)

// overdrawn are the lots that more was used of than was taken, with what used
// how much.
func overdrawn(lots []ferment.Lot, fs []ferment.Ferment, now time.Time) []ferment.Problem {
	var found []ferment.Problem
	for _, a := range larder.All(lots, fs, now) {
		if !a.Left.Weighed || a.Left.Mass > -1e-9 { // sums of decimals
			continue
		}
		found = append(found, on(honeyFile, a.Lot.Line, "lot %q: %s was taken and %s is used, by %s (one of these is wrong)",
			a.Lot.ID, a.Lot.Mass.Text, a.Taken(), strings.Join(usesOf(a, fs), ", ")))
	}
	return found
}

// usesOf are the places that honey of a lot went to.
func usesOf(a larder.Account, fs []ferment.Ferment) []string {
	var uses []string
	for _, f := range fs {
		var mass measure.Mass
		for _, t := range a.Takes {
			if t.By == f.ID {
				mass += t.Mass
			}
		}
		if mass > 0 {
			uses = append(uses, fmt.Sprintf("%s %s", f.File, mass))
		}
	}
	for _, u := range a.Lot.Used {
		if u.Mass.Known() {
			uses = append(uses, strings.TrimSpace(fmt.Sprintf("%s %s", u.For, u.Mass.Text)))
		}
	}
	return uses
}
