// Package schedule says what a ferment or a culture needs and when. It is
// pure: the same plan, log and moment give the same day.
package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// State is what has become of a task.
type State string

// The states exclude each other in this order.
const (
	Done    State = "done"
	Skipped State = "skipped"
	Lapsed  State = "lapsed"
	Held    State = "held"
	Late    State = "late"
	Due     State = "due"
	Waiting State = "waiting"
)

// Task is a step applied to one ferment or culture at one time.
type Task struct {
	Subject    string // the ferment's or culture's id
	Step       string
	Title      string // what a person reads, where the protocol says it
	Occurrence int    // from 1
	Do         string // an act or a measurement; "reminder" for one
	State      State

	Opens, Due, Closes time.Time
	Open               bool             // the window is open now; a due task that opens later today is not
	Expected           *course.Expected // where the time comes from a forecast
	Until              *Limit           // the gravity that closes it, where gravity and not the clock does
	Settled            time.Time        // when it was done, skipped, or lapsed

	Amount  *Amount
	Also    []ferment.Act // done together with it, first
	Reason  string        // one sentence
	Frees   string        // of a held task: the act or measurement that frees it
	Answer  string        // the word or the answer that does, where the act says too little
	FreedBy time.Time     // and until when that makes sense, zero where it does not matter
	Caution *Caution
	Option  bool   // offered, never late
	Say     string // the protocol's sentence
	Instead string // of a stop: what to do now
	Asks    bool   // asks whether it was done
	Danger  bool   // an alarm, or held with a stop caution
	Alarm   *Alarm // a danger that wants somebody now
	Routine bool   // hidden in a quiet period

	hold *hold // of a held task: what stands against it
}

// Limit is the gravity at which something ends, and when that is expected.
type Limit struct {
	Gravity  measure.Gravity
	Expected *course.Expected
}

// Amount is how much of what, and how that was worked out.
type Amount struct {
	Known   bool
	Number  float64
	Unit    string // "g", "mL", "g/L"
	Of      string
	Stock   *Stock // the same dose as a stock solution, where the scale is too coarse
	Words   string // where the amount is no single quantity: "9 × 330 mL", "all the sediment"
	How     string // "half of 116 mg/L in 3.55 L"
	Assumed string
	Unknown string          // why there is no number
	Before  measure.Content // nitrogen given before it
	Reached measure.Content // nitrogen given in all once this is in; 0 where it is no nutrient
	Wanted  measure.Content
}

// Stock is a volume of a stock solution of so many grams in 100 mL.
type Stock struct {
	Volume  measure.Volume
	Percent float64
}

// Loud is how much a caution wants to be seen.
type Loud string

// The loudness of cautions.
const (
	Stop Loud = "stop"
	Warn Loud = "warn"
	Note Loud = "note"
)

// Caution is what can happen and what to do about it.
type Caution struct {
	Name string
	Loud Loud
	Text string
}

// Gate is a checklist before something that cannot be undone, as it stands.
type Gate struct {
	Name  ferment.Gate
	Open  bool
	Unmet []course.Unmet
	Says  string // one phrase: "over 0.005 past the 1/3 break"
}

// Day is everything that a plan says at one moment.
type Day struct {
	Tasks []Task // in the order of the board: held with danger, late, held, due by closing, the rest
	Gates []Gate
	Quiet *Quiet // the quiet period that holds now
}

// Quiet is a quiet period.
type Quiet struct{ From, To time.Time }
