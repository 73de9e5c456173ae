// Package course reads a ferment's log: corrected gravities over time, what
// they say of alcohol, sugar and volume, how fast it goes, its stage, and what
// may be wrong with it. It plans nothing.
package course

import (
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Figure is a value that was worked out, or the reason why it could not be.
type Figure[T any] struct {
	Value   T
	Unknown string // why there is no value; empty where there is one
	Assumed string // what was assumed on the way; empty where nothing was
}

// Known returns a figure with a value.
func Known[T any](value T) Figure[T] { return Figure[T]{Value: value} }

// Unknown returns a figure without one, and the reason.
func Unknown[T any](why string) Figure[T] { return Figure[T]{Unknown: why} }

// IsKnown reports whether there is a value.
func (f Figure[T]) IsKnown() bool { return f.Unknown == "" }

// Reading is one gravity of the vessel, corrected.
type Reading struct {
	At      time.Time
	Moment  ferment.Moment
	Gravity measure.Gravity // corrected to 20/20 °C, the instrument's error taken off
	Typed   string          // "1.046", "8.6 °Bx"
	Sample  measure.Given[measure.Temperature]
	Error   float64 // standard error in gravity
	From    Instrument
	Doubt   string // why it is not trusted; empty where it is
	// Estimated is a gravity that nobody read: what the honey weighed comes to, or a
	// recorded start.
	Estimated bool
	Replaced  bool // an older reading that a confirmed rise took the place of
	Line      int

	confirmed   bool // a person stood by it
	uncorrected bool // outside the range of its instrument: no second reading confirms it
}

// Instrument is what a reading was made with.
type Instrument string

// What a reading can come from. The must's gravity counts as a reading at the
// pitch, a recorded start as one 0.003 under it.
const (
	Hydrometer    Instrument = "hydrometer"
	Refractometer Instrument = "refractometer"
	FromMust      Instrument = "must"
	FromStart     Instrument = "started"
)

// Gone is the share of the expected fall that is behind, 0 to 1. Near a dry finish
// that nobody tested it is the least that it can be.
type Gone struct {
	Share  float64
	OrMore bool
}

// Parts are the percent and the unit: "93", "% or more".
func (g Gone) Parts() (number, unit string) {
	if g.OrMore {
		return measure.Decimal(math.Floor(100*g.Share), 0), "% or more"
	}
	return measure.Decimal(100*g.Share, 0), "%"
}

// Event is a time in the life of a ferment.
type Event struct {
	At      time.Time
	Known   bool
	Assumed bool // nobody recorded it; it may place windows and no more
}

// OriginalSource is where the original gravity came from.
type OriginalSource string

// The sources of an original gravity, best first.
const (
	Measured     OriginalSource = "measured"
	FromMasses   OriginalSource = "masses"
	FirstReading OriginalSource = "first reading"
)

// Original is the gravity of the must before anything was fermented.
type Original struct {
	Figure[measure.Gravity]
	Source OriginalSource
	Masses Figure[measure.Gravity] // what the masses alone say, to be held against it
	First  Figure[measure.Gravity] // what the first reading says
}

// Stage is how far a ferment is, read from its log.
type Stage string

// The stages, in their order.
const (
	Mixed    Stage = "mixed"
	Lag      Stage = "lag"
	Working  Stage = "working"
	Slowing  Stage = "slowing"
	Clearing Stage = "clearing"
	Steady   Stage = "steady"
	Bottled  Stage = "bottled"
)

// ConditionName names something to look at.
type ConditionName string

// The conditions.
const (
	SlowToStart     ConditionName = "slow to start"
	Sluggish        ConditionName = "sluggish"
	Stuck           ConditionName = "stuck"
	AtLimit         ConditionName = "at its limit"
	Restarted       ConditionName = "restarted"
	Film            ConditionName = "film"
	Mould           ConditionName = "mould"
	DoubtfulLabel   ConditionName = "doubtful label"
	ReadingInDoubt  ConditionName = "reading in doubt"
	OriginalUnknown ConditionName = "original unknown"
)

// Condition is one that holds, with what to look at, in order.
type Condition struct {
	Name  ConditionName
	Why   string // "0.001 in 80 h"
	Since time.Time
	Look  []string // "warm it to 18 °C: it stands at 15 °C", the first thing first
}

// Steadiness is how far the gravity is from counting as steady.
type Steadiness struct {
	Open     bool
	Days     float64   // spanned by the readings on one level
	First    time.Time // the first of them
	Excludes float64   // points a fortnight that it falls by at most, with 95 %; 0 where fewer than three readings say
	Met      time.Time // when the gate first opened, zero where it never did
	Unmet    []Unmet
}

// Unmet is one condition of a gate that is not met, and what would meet it.
type Unmet struct {
	What  string // "28 of 60 days steady"
	Frees string // "the sixtieth day is Wed 4 Nov"
	Act   string // the act or measurement that would meet it: "gravity", "temperature", "rack"; empty for waiting
}

// CannotTell says that too little time lies between the readings, and when to read again.
type CannotTell struct {
	What      string // "stuck", "sluggish"
	ReadAgain time.Time
	Why       string
}

// Course is what a ferment's log says at one moment.
type Course struct {
	Ferment  ferment.Ferment
	Culture  *ferment.Culture // the subject, where it is a culture; Ferment then holds its log alone
	Settings ferment.Settings
	Limits   ferment.Limits
	Now      time.Time
	Entries  []*ferment.Entry // up to now, by time; nobody changes them
	Later    []*ferment.Entry // later than now: shown and left out

	Readings []Reading // by time, doubtful ones too, and the must's at the pitch
	Pitch    Event
	Started  Event

	Original    Original
	Effective   Figure[measure.Gravity] // the original with the honey fed since
	Present     Figure[measure.Gravity] // the latest reading with what went in since
	DryFinish   Figure[measure.Gravity]
	Finish      Figure[measure.Gravity] // expected: dry, or where the tolerance is reached; what a passed forced test showed
	Test        ForcedTest
	Accepted    time.Time // when a person took the finish as it is; zero where nobody has, or it moved since
	AtTolerance bool      // the finish is the yeast's, not the sugar's

	Gravity       Figure[Reading]          // the latest that is trusted
	Alcohol       Figure[measure.Strength] // now
	FinishAlcohol Figure[measure.Strength]
	SugarGone     Figure[Gone]
	Pace          Figure[float64] // points a day over the last readings
	PaceSince     time.Time
	Volume        Figure[measure.Volume]
	Ledger        []Movement
	Temperature   Figure[measure.Span[measure.Temperature]] // the latest recorded
	TemperatureAt time.Time
	PH            Figure[measure.PH]
	PHAt          time.Time

	Nitrogen Nitrogen

	Stage      Stage
	Conditions []Condition
	CannotTell *CannotTell

	// Ahead is a forecast of when a gravity is reached; nil where none was made.
	Ahead  func(measure.Gravity) (Expected, bool)
	Steady Steadiness

	foreseen  Figure[measure.Gravity] // the finish before any test: what breaks are counted to
	brought   measure.Strength        // alcohol that starters and other meads brought
	primed    measure.Strength        // alcohol that the sugar for the bottles makes in them
	mixed     []mixing                // what went in and changed the gravity, by time
	disturbed []time.Time             // when something went in after which what was read before does not count
}

// Expected is a time that the readings let expect: about At, give or take
// Within. It never fires a task by itself.
type Expected struct {
	At     time.Time
	Within time.Duration
}

// Movement is liquid that went into the vessel or out of it.
type Movement struct {
	At     time.Time
	Volume measure.Volume // negative for what left
	Known  bool
	What   string // "sample", "rack", "honey"
}

// Nitrogen is what was given of the nitrogen that is wanted.
type Nitrogen struct {
	Wanted  Figure[measure.Content] // to be added
	Given   measure.Content         // by what is known
	Salt    measure.Content         // ammonium phosphate given, g/L
	Doses   int                     // doses of unknown amount are counted
	Guessed int                     // doses of unknown amount, counted as one planned dose each
	Last    time.Time               // the latest dose, zero for none
}

// Of returns what a ferment's log says at a moment. Later entries are put aside.
func Of(f ferment.Ferment, s ferment.Settings, limits ferment.Limits, now time.Time) Course {
	c := Course{Ferment: f, Settings: s, Limits: limits, Now: now}
	c.Entries, c.Later = history(f.Log, now)
	if e, ok := c.First(ferment.Pitch); ok {
		c.Pitch = Event{At: e.At.Time, Known: true}
	}
	c.Original = c.original()
	c.keepLedger()
	c.disturbed = c.disturbances()
	c.Readings = c.trust(c.read())
	c.assumePitch()
	c.Started = c.started()
	c.Effective = c.effectiveAt(now)
	c.latest()
	c.finishes()
	c.Test = c.forcedTest()
	c.proveFinish()
	c.strength()
	c.Pace, c.PaceSince = c.pace()
	c.Nitrogen = c.nitrogen()
	c.Steady = c.steadiness()
	c.acceptFinish()
	c.Stage = c.stage()
	c.Conditions, c.CannotTell = c.conditions()
	return c
}

// OfCulture returns what a culture's log says at a moment.
func OfCulture(k ferment.Culture, s ferment.Settings, limits ferment.Limits, now time.Time) Course {
	c := Of(ferment.Ferment{
		ID: k.ID, Name: k.Name, Protocol: k.Protocol, Log: k.Log,
		Yeast: ferment.Yeast{Kind: ferment.Wild, Culture: k.ID},
	}, s, limits, now)
	c.Culture = &k
	// What only a must can have is left out, a pace that is too slow, a need for
	// nitrogen: of a culture it matters what grows on it.
	c.CannotTell = nil
	c.Nitrogen = Nitrogen{Wanted: Unknown[measure.Content]("a culture is no must")}
	c.Conditions = slices.DeleteFunc(c.Conditions, func(k Condition) bool {
		return k.Name != Film && k.Name != Mould && k.Name != DoubtfulLabel && k.Name != ReadingInDoubt
	})
	return c
}

// Given returns the mass that an act has put into the vessel, without unknown amounts.
func (c Course) Given(act ferment.Act) (sum measure.Mass) {
	for _, e := range c.Entries {
		if m, ok := e.Mass(); ok && e.Did == act {
			sum += m
		}
	}
	return sum
}

// roomTemperature is taken where nobody wrote one down.
const roomTemperature measure.Temperature = 20

// Warmest returns the highest temperature since the bubbling ended, which decides how much gas is left.
// Without one since then it is the latest recorded, else 20 °C, and says so.
func (c Course) Warmest() Figure[measure.Temperature] { return c.WarmestBy(c.Now) }

// WarmestBy is Warmest as it was at a time.
func (c Course) WarmestBy(at time.Time) Figure[measure.Temperature] {
	warmest, latest := measure.Temperature(math.Inf(-1)), Figure[measure.Temperature]{Value: roomTemperature, Assumed: "no temperature is recorded: " + roomTemperature.In(c.Settings.Units)}
	for _, e := range c.Entries {
		if !e.Temperature.Known() || e.Did.ApartFromCourse() || e.At.Time.After(at) {
			continue
		}
		high := e.Temperature.Value.High
		latest = Figure[measure.Temperature]{Value: high, Assumed: "no temperature is recorded since the bubbling ended"}
		if !c.Steady.First.IsZero() && !e.At.Time.Before(c.Steady.First) {
			warmest = max(warmest, high)
		}
	}
	if math.IsInf(float64(warmest), -1) {
		return latest
	}
	return Known(warmest)
}

func (c Course) stage() Stage {
	near, isNear := c.FirstMet(ferment.Condition{Kind: ferment.NearFinish})
	rack, racked := c.Last(ferment.Rack)
	_, slow := c.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 2, In: 3}})
	switch {
	case c.empty():
		return Bottled
	case c.Steady.Open:
		return Steady
	case racked && isNear && !rack.At.Time.Before(near):
		return Clearing
	case slow:
		return Slowing
	case c.Started.Known && !c.Started.Assumed:
		return Working
	case c.Pitch.Known:
		return Lag
	}
	return Mixed
}
