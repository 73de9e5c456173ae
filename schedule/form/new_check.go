package form

import (
	"fmt"
	"math"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// The share of a vessel that stays free above a must: foam wants the one, air
// should not have more than the other (common practice, no source).
const (
	leastFree = 0.10
	mostFree  = 0.20
)

// headspace holds the must against what the vessel holds to the brim.
func (n newFerment) headspace(say sayer, f ferment.Ferment, several bool) {
	v, brimful := f.Must.Volume, f.Vessel.Brimful
	if !v.Known() || !brimful.Known() || brimful.Value <= 0 {
		return
	}
	whose := ""
	if several {
		whose = f.Label() + ": "
	}
	free := 1 - float64(v.Value/brimful.Value)
	most := brimful.Value * (1 - leastFree)
	switch {
	case free < leastFree-1e-9:
		jugs := math.Ceil(float64(v.Value/most) - 1e-9)
		says := fmt.Sprintf("only %.0f %% stay free, foam wants 10 to 20", free*100)
		if free < 0 {
			says = "it does not hold so much"
		}
		say(words.Warn, "%s%s into %s: %s; %s at most, %s over, or %.0f such vessels of %s",
			whose, v.Text, brimful.Text, says, n.shown(most).Text, n.shown(v.Value-most).Text, jugs, n.shown(v.Value/measure.Volume(jugs)).Text)
	case free > mostFree+1e-9:
		say(words.Note, "%s%s into %s: %.0f %% stay free, 10 to 20 are enough; rack it into a smaller one once it has worked",
			whose, v.Text, brimful.Text, free*100)
	default:
		say("", "%s%s into %s: %.0f %% stay free", whose, v.Text, brimful.Text, free*100)
	}
}

// store says what the lots have left, and what is missing.
func (n newFerment) store(say sayer, fs []ferment.Ferment) {
	for _, l := range n.s.Cellar.Lots {
		var wanted measure.Mass
		for _, f := range fs {
			for _, h := range f.Must.Honey {
				if h.Lot == l.ID {
					wanted += h.Mass.Value
				}
			}
		}
		if wanted == 0 {
			continue
		}
		switch left := n.account(l).Left; {
		case !left.Weighed:
			say(words.Note, "%s: nobody weighed the lot, so nobody knows whether %s are there", l.ID, wanted.In(n.units()))
		case left.Mass < wanted-measure.Grams(0.5):
			there := max(left.Mass, 0)
			say(words.Warn, "%s: %s are wanted, %s are left, %s are missing", l.ID, wanted.In(n.units()), there.In(n.units()), (wanted - there).In(n.units()))
		default:
			say("", "%s: %s left of %s, %s after this", l.ID, left.Mass.In(n.units()), l.Mass.Value.In(n.units()), (left.Mass - wanted).In(n.units()))
		}
	}
}

// manyWorking is how many working vessels fill a small closed room with gas
// (common practice, no source).
const manyWorking = 3

// cautions are what can happen with this honey, this glass, this room.
func (n newFerment) cautions(say sayer, b batch, fs []ferment.Ferment) {
	var used []ferment.Lot
	for _, l := range n.s.Cellar.Lots {
		if slices.ContainsFunc(fs, func(f ferment.Ferment) bool {
			return slices.ContainsFunc(f.Must.Honey, func(h ferment.HoneyPart) bool { return h.Lot == l.ID })
		}) {
			used = append(used, l)
		}
	}
	working := len(fs)
	for _, v := range n.s.Vessels {
		if slices.Contains([]course.Stage{course.Lag, course.Working, course.Slowing}, v.Course.Stage) {
			working++
		}
	}
	if working >= manyWorking {
		say(words.Warn, "%d vessels will be working: %s", working, schedule.CautionOf("room-gas").Text)
	}
	if len(b.honey) > 0 {
		say(words.Warn, "%s", schedule.CautionOf("glass").Text)
	}
	said := map[string]bool{}
	for _, l := range used {
		for _, c := range schedule.LotCautions(n.account(l)) {
			switch {
			case c.Loud == schedule.Warn:
				say(words.Warn, "%s: %s", l.ID, c.Text)
			case !said[c.Text]:
				say(words.Note, "%s", c.Text)
			}
			said[c.Text] = true
		}
	}
	if len(used) == 0 && len(b.honey) > 0 {
		say(words.Note, "%s", schedule.CautionOf("infants").Text)
	}
}
