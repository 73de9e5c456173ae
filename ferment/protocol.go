package ferment

// Protocol is a plan: steps, each with a trigger. One for an ending is a
// fragment that follows a ferment's own protocol.
type Protocol struct {
	Name    string
	Title   string
	For     string
	Ending  Ending              // of a fragment
	Limits  func(Limits) Limits // what it changes; nil for nothing
	Steps   []Step
	File    string // where a person's own stands; empty for a built-in
	Source  string // the YAML it was read from, to be printed
	Problem bool   // a step could not be read and was left out
}

// Step is one line of a protocol.
type Step struct {
	Name    string
	Title   string // what a person reads, up to MaxTitle columns; empty for the act in words
	Do      string // an act or a measurement; empty for a quiet period
	Culture bool   // planned on a culture, all others on a ferment

	Due     When
	Window  Window
	Repeat  *Repeat
	When    []Condition // all: until they hold the task waits and is not shown
	Needs   []Condition // all: unmet, the task is held
	First   []Act       // done together with it
	Unless  []Condition // any: while one holds the task is not there
	Ends    *When       // once met, the step lapses for good
	Gate    Gate
	Quiet   *Quiet
	Share   float64 // of the need, 0..1; 0 where none is given
	Amount  string  // a quantity, "by figure", or words
	Of      string
	Kind    string // of nutrient
	Medium  string
	Missed  Missed
	Option  bool
	Say     string
	Caution string
}

// MaxTitle is the longest title of a step, in characters: a line of the day has
// room for no more.
const MaxTitle = 28

// Gate is a checklist before something that cannot be undone.
type Gate string

// The gates.
const (
	NoGate           Gate = ""
	NutrientGate     Gate = "nutrient"
	SteadyGate       Gate = "steady"
	StillGate        Gate = "still bottling"
	ConditioningGate Gate = "bottle-conditioning"
)

// Missed is what becomes of a task whose window has closed.
type Missed string

// What may become of a missed task.
const (
	Drop Missed = "drop" // it lapses
	Late Missed = "late" // it may still be done
	Ask  Missed = "ask"  // it asks once whether it was done, then lapses
)

// Window is when a task may be done around its due time: opens ≤ t < closes.
type Window struct{ Opens, Closes Offset }

// IsNever tells whether the window is open at no time at all.
func (w Window) IsNever() bool { return !w.Opens.before(w.Closes) }

// Repeat is how often a step comes again.
type Repeat struct {
	Every  Offset
	Until  *When // inclusive
	AtMost int   // occurrences in all; 0 for no limit
	At     []Offset
	From   *When
}

// Quiet is a period in which the routine steps are hidden.
type Quiet struct {
	From, To When
	BrokenBy []Condition
}
