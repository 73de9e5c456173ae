// Package course derives from a ferment's log: corrected gravities, alcohol, sugar and volume, the pace, the stage, and
// what may be wrong. It plans nothing. Start at Of.
package course

import (
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Figure is a calculated value, or the reason why there is none.
type Figure[T any] struct {
	Value   T
	Unknown string // why there is no value; empty if there is one
	Assumed string // what was assumed; empty for nothing
}

// Known returns a figure with a value.
func Known[T any](value T) Figure[T] { return Figure[T]{Value: value} }

// Unknown returns a figure without a value, and the reason.
func Unknown[T any](why string) Figure[T] { return Figure[T]{Unknown: why} }

// IsKnown reports whether there is a value.
func (f Figure[T]) IsKnown() bool { return f.Unknown == "" }

// Reading is one gravity of the vessel, corrected.
type Reading struct {
	At      time.Time
	Moment  ferment.Moment
	Gravity measure.Gravity // corrected to 20/20 °C and for the instrument's error
	Typed   string          // "1.046", "8.6 °Bx"
	Sample  measure.Given[measure.Temperature]
	Error   float64 // standard error in gravity
	From    Instrument
	Doubt   string // why it is not trusted; empty if it is
	// Estimated means that the gravity was not measured: it follows from the honey, or from a recorded start.
	Estimated bool
	Replaced  bool // replaced by a confirmed rise
	Line      int

	confirmed   bool // confirmed by a person
	uncorrected bool // outside the range of its instrument, so a second reading does not confirm it
}

// Instrument is the source of a reading.
type Instrument string

// The sources of readings. The must's gravity counts as a reading at the pitch, a recorded start as one 0.003 below it.
const (
	Hydrometer    Instrument = "hydrometer"
	Refractometer Instrument = "refractometer"
	FromMust      Instrument = "must"
	FromStart     Instrument = "started"
)

// Gone is how much of the expected fall is done, 0 to 1. Near a dry finish that was not tested it is a lower limit.
type Gone struct {
	Share  float64
	OrMore bool
}

// Parts returns percent and unit: "93", "% or more".
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
	Assumed bool // not recorded; used only to place windows
}

// OriginalSource is the source of the original gravity.
type OriginalSource string

// The sources of an original gravity, best first.
const (
	Measured     OriginalSource = "measured"
	FromMasses   OriginalSource = "masses"
	FirstReading OriginalSource = "first reading"
)

// Original is the gravity of the must before fermentation.
type Original struct {
	Figure[measure.Gravity]
	Source OriginalSource
	Masses Figure[measure.Gravity] // by the masses alone, for comparison
	First  Figure[measure.Gravity] // by the first reading
}

// Stage is how far a ferment is.
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

// ConditionName names a condition that needs attention.
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

// Condition is a condition that holds, with what to look at, in order.
type Condition struct {
	Name  ConditionName
	Why   string // "0.001 in 80 h"
	Since time.Time
	Look  []string // "warm it to 18 °C: it is at 15 °C", the first thing first
}

// Steadiness is how near the gravity is to counting as steady.
type Steadiness struct {
	Open     bool
	Days     float64   // between the first and last reading on one level
	First    time.Time // the first of them
	Excludes float64   // largest fall, in points a fortnight, that the readings allow at 95 %; 0 with fewer than three
	Met      time.Time // when the gate first opened, zero for never
	Unmet    []Unmet
}

// Unmet is one unmet condition of a gate, and what would meet it.
type Unmet struct {
	What  string // "28 of 60 days steady"
	Frees string // "the sixtieth day is Wed 4 Nov"
	Act   string // act or measurement that would meet it: "gravity", "temperature", "rack"; empty for waiting
}

// CannotTell is a condition for which the readings are too close together, and when to read again.
type CannotTell struct {
	What      string // "stuck", "sluggish"
	ReadAgain time.Time
	Why       string
}

// Course is what a ferment's log shows at one moment. Everybody shares it: who assumes something else changes a copy.
type Course struct {
	Ferment  ferment.Ferment
	Culture  *ferment.Culture // the subject, if it is a culture; Ferment then only has its log
	Settings ferment.Settings
	Limits   ferment.Limits
	Now      time.Time
	Entries  []*ferment.Entry // up to now, by time; read only
	Later    []*ferment.Entry // later than now: shown, but not used

	Readings []Reading // by time, including doubtful ones and that of the must
	Pitch    Event
	Started  Event

	Original    Original
	Effective   Figure[measure.Gravity] // the original including honey fed since
	Present     Figure[measure.Gravity] // the latest reading, carried through additions since
	DryFinish   Figure[measure.Gravity]
	Finish      Figure[measure.Gravity] // expected: dry, at the tolerance, or as a passed forced test showed
	Test        ForcedTest
	Accepted    time.Time // when a person accepted the finish; zero if nobody did or it changed since
	AtTolerance bool      // the yeast's tolerance sets the finish, not the sugar

	Gravity       Figure[Reading]          // the latest trusted one
	Alcohol       Figure[measure.Strength] // now
	FinishAlcohol Figure[measure.Strength]
	SugarGone     Figure[Gone]
	Pace          Figure[float64] // points a day over the latest readings
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

	// Ahead is the forecast of when a gravity is reached; nil without one.
	Ahead  func(measure.Gravity) (Expected, bool)
	Steady Steadiness

	foreseen  Figure[measure.Gravity] // finish before any test, which the breaks refer to
	brought   measure.Strength        // alcohol from starters and other meads
	primed    measure.Strength        // alcohol from priming sugar in the bottles
	mixed     []mixing                // additions that changed the gravity, by time
	disturbed []time.Time             // times of additions after which earlier readings do not count
}

// Expected is an expected time: At, uncertain by Within. It never fires a task by itself.
type Expected struct {
	At     time.Time
	Within time.Duration
}

// Movement is liquid added to the vessel or taken out.
type Movement struct {
	At     time.Time
	Volume measure.Volume // negative if taken out
	Known  bool
	What   string // "sample", "rack", "honey"
}

// Nitrogen is the nitrogen wanted and given.
type Nitrogen struct {
	Wanted  Figure[measure.Content] // to be added
	Given   measure.Content         // by doses of known amount
	Salt    measure.Content         // ammonium phosphate given, g/L
	Doses   int                     // including doses of unknown amount
	Guessed int                     // doses of unknown amount, each counted as one planned dose
	Last    time.Time               // the latest dose, zero for none
}

// Of returns the course of a ferment at a moment. Later entries are set aside.
func Of(f ferment.Ferment, s ferment.Settings, limits ferment.Limits, now time.Time) *Course {
	c := &Course{Ferment: f, Settings: s, Limits: limits, Now: now}
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
	c.Steady = c.steadyAt(c.Now, len(c.Readings), c.steadyDays(), c.Limits.SteadyTemperature)
	c.Steady.Met = c.steadyMet()
	c.acceptFinish()
	c.Stage = c.stage()
	c.Conditions, c.CannotTell = c.conditions()
	return c
}

// OfCulture returns the course of a culture at a moment.
func OfCulture(k ferment.Culture, s ferment.Settings, limits ferment.Limits, now time.Time) *Course {
	c := Of(ferment.Ferment{
		ID: k.ID, Name: k.Name, Protocol: k.Protocol, Log: k.Log,
		Yeast: ferment.Yeast{Kind: ferment.Wild, Culture: k.ID},
	}, s, limits, now)
	c.Culture = &k
	// Conditions of a must are left out, such as sluggish and the need for nitrogen: for a culture only growths matter.
	c.CannotTell = nil
	c.Nitrogen = Nitrogen{Wanted: Unknown[measure.Content]("a culture is no must")}
	c.Conditions = slices.DeleteFunc(c.Conditions, func(k Condition) bool {
		return k.Name != Film && k.Name != Mould && k.Name != DoubtfulLabel && k.Name != ReadingInDoubt
	})
	return c
}

// Given returns the mass that entries of an act added to the vessel, without unknown amounts.
func (c *Course) Given(act ferment.Act) (sum measure.Mass) {
	for _, e := range c.Entries {
		if m, ok := e.Mass(); ok && e.Did == act {
			sum += m
		}
	}
	return sum
}

// roomTemperature is assumed if no temperature was recorded.
const roomTemperature measure.Temperature = 20

// Warmest returns the highest temperature since the bubbling ended, which decides how much gas is left. Without one
// since then it is the latest recorded, else 20 °C, as assumed.
func (c *Course) Warmest() Figure[measure.Temperature] { return c.WarmestBy(c.Now) }

// WarmestBy is Warmest as of a time.
func (c *Course) WarmestBy(at time.Time) Figure[measure.Temperature] {
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

func (c *Course) stage() Stage {
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
