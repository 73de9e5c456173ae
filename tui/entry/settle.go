package entry

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
)

// Settle is what a person meets who says that a task is done. An act without
// an amount and without a warning is done at once, a measurement asks for its
// value, an amount is shown before it is kept, and what is refused says why.
func Settle(s app.Snapshot, v app.Vessel, t schedule.Task) (Line, intent.Intent) {
	switch no := schedule.Refusal(t, v.Day, v.Course); {
	case no != nil:
		return newRefusal(s, v, t, *no), nil
	case ferment.IsMeasurement(t.Do):
		return NewReading(s, v), nil
	case t.Amount != nil || warns(t) || !atOnce[ferment.Act(t.Do)]:
		return NewGiven(s, v, t), nil
	}
	return nil, intent.Settle{Tasks: []intent.Task{taskOf(v, t)}}
}

// atOnce are the acts that need no more words than that they were done.
var atOnce = map[ferment.Act]bool{
	ferment.Started: true, ferment.Degas: true, ferment.Aerate: true, ferment.Punch: true, ferment.Look: true,
	ferment.Squeeze: true, ferment.Chill: true,
}

// AtOnce tells whether an act needs no more words than that it was done.
func AtOnce(act string) bool { return atOnce[ferment.Act(act)] }

func warns(t schedule.Task) bool { return t.Caution != nil && t.Caution.Loud != schedule.Note }

func taskOf(v app.Vessel, t schedule.Task) intent.Task {
	return intent.Task{Subject: v.ID(), Step: t.Step, Occurrence: t.Occurrence}
}

// planned is the amount of a task as it is filled in, empty where there is no
// single one.
func planned(t schedule.Task, v app.Vessel) string {
	if t.Amount == nil || !t.Amount.Known {
		return ""
	}
	return words.AmountOf(t.Amount, v.Course.Settings.Units).String()
}

// acted is how an act is told of that is over.
func acted(do string) string {
	switch ferment.Act(do) {
	case ferment.Nutrient, ferment.Buffer, ferment.Acid, ferment.Honey, ferment.Water, ferment.Sulphite, ferment.Sorbate, ferment.Fine:
		return "given"
	}
	return "done"
}

// writes is what will be written, without the name of the vessel: "degas, 07:09,
// then nutrient 2, 1.4 g, 07:10".
func writes(v app.Vessel, entries []ferment.Entry, now time.Time) string {
	parts := make([]string, len(entries))
	for i := range entries {
		parts[i] = strings.TrimPrefix(words.Kept(v, entries[i:i+1], now), v.Label()+" ")
	}
	return strings.Join(parts, ", then ")
}
