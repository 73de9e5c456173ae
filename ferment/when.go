package ferment

// When is a point in time that a plan hangs on: a point with an offset, or the
// first or the last of several.
type When struct {
	Point  Point
	Offset Offset
	First  []When // the earliest of these that is known
	Last   []When // the latest of these, once all are known
	Text   string // as typed
}

// Point is an anchor, or the time a condition was first met.
type Point struct {
	Anchor    string // an act, a step's name, "quiet", "planned pitch"
	Last      bool   // the latest such entry instead of the first
	EndOf     string // a step (of a quiet period) whose end is meant
	Condition *Condition
}

// ConditionKind is what a condition asks.
type ConditionKind string

// The conditions that a plan knows.
const (
	AtBreak         ConditionKind = "break"       // N/M
	Below           ConditionKind = "below"       // SG
	Above           ConditionKind = "above"       // SG
	NearFinish      ConditionKind = "near finish" // within 0.010 of the expected finish
	Steady          ConditionKind = "steady"
	Dry             ConditionKind = "dry"
	Stuck           ConditionKind = "stuck"
	Sluggish        ConditionKind = "sluggish"
	Restarted       ConditionKind = "restarted"
	Stabilised      ConditionKind = "stabilised"
	IsClear         ConditionKind = "clear"
	HasStarted      ConditionKind = "started"
	NotStarted      ConditionKind = "not started"
	IsWild          ConditionKind = "wild"
	EndingUndecided ConditionKind = "ending undecided"
	PaceOver        ConditionKind = "pace over"
	PaceUnder       ConditionKind = "pace under"
	PHOver          ConditionKind = "ph over"
	PHUnder         ConditionKind = "ph under"
	LeesOver        ConditionKind = "lees over" // cm
	HissOver        ConditionKind = "hiss over"
	HissUnder       ConditionKind = "hiss under"
	Feels           ConditionKind = "feel"
	Saw             ConditionKind = "seen"
	Smells          ConditionKind = "smell"
	HasFilm         ConditionKind = "film"
	HasMould        ConditionKind = "mould"
	DryAirlock      ConditionKind = "dry airlock"
	HasVerdict      ConditionKind = "verdict"
	StarterAtBreak  ConditionKind = "starter at break" // N/M
	ToleranceOver   ConditionKind = "tolerance over by"
	BacteriaWorked  ConditionKind = "bacteria worked"
	IsPrimed        ConditionKind = "primed"
	IsDiscarded     ConditionKind = "discarded"
	TwoOpeningsSame ConditionKind = "two openings equal"
	ActAtLeastAgo   ConditionKind = "at least ago" // ACT at least N h ago
	ActUnderAgo     ConditionKind = "under ago"    // ACT under N d ago
	KeySince        ConditionKind = "since"        // KEY since STEP
	StepDone        ConditionKind = "step"         // a step's name: it has been settled
)

// Condition is one yes-or-no question about a ferment.
type Condition struct {
	Kind   ConditionKind
	Number float64
	Break  BreakLimit
	Offset Offset
	Word   string // a word, an act, a key, or a step
	Step   string // of "KEY since STEP"
	Text   string // as typed
}

// PlannedPitch is the anchor of what is made ready before the yeast goes in.
const PlannedPitch = "planned pitch"
