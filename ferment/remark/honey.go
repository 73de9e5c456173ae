package remark

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
)

// overdrawn are the lots that more was used of than was taken, with what used
// how much.
func overdrawn(lots []ferment.Lot, fs []ferment.Ferment) []ferment.Problem {
	var found []ferment.Problem
	for _, l := range lots {
		left, weighed := l.Left(fs)
		if !weighed || left > -1e-9 { // sums of decimals
			continue
		}
		found = append(found, on(honeyFile, l.Line, "lot %q: %s was taken and %s is used, by %s (one of these is wrong)",
			l.ID, l.Mass.Text, l.Mass.Value-left, strings.Join(usesOf(l, fs), ", ")))
	}
	return found
}

// usesOf are the places that honey of a lot went to.
func usesOf(l ferment.Lot, fs []ferment.Ferment) []string {
	var uses []string
	for _, f := range fs {
		if m := f.HoneyOf(l.ID); m > 0 {
			uses = append(uses, fmt.Sprintf("%s %s", f.File, m))
		}
	}
	for _, u := range l.Used {
		if u.Mass.Known() {
			uses = append(uses, strings.TrimSpace(fmt.Sprintf("%s %s", u.For, u.Mass.Text)))
		}
	}
	return uses
}
