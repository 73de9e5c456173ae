package ferment

import (
	"cellar/jugkeeper/ferment/measure"
)

// Entry is one dated item of a log. It may carry measurements and one act or
// one step passed over, and a note.
type Entry struct {
	At    Moment
	Order int // place in the file, from 0
	Line  int // line of the file, from 1; 0 for one not yet written

	// What was measured.
	Gravity       measure.Given[measure.Gravity]
	Brix          measure.Given[measure.Brix]
	Plato         measure.Given[measure.Brix]
	Oechsle       measure.Given[float64]
	Refractometer measure.Given[measure.Brix]
	Sample        measure.Given[measure.Temperature] // of the liquid in the trial jar
	With          string                             // the instrument
	Undegassed    bool                               // the sample still held its gas
	Temperature   measure.Given[measure.Span[measure.Temperature]]
	PH            measure.Given[measure.PH]
	Acidity       measure.Given[measure.Content]
	Volume        measure.Given[measure.Volume]
	Lees          measure.Given[measure.Depth]
	Clarity       Clarity
	Seen          []string
	Airlock       string
	Smell         string
	Feel          string
	Label         string
	Place         string
	Lost          measure.Given[measure.Volume]
	Doubt         Doubt

	// What was done.
	Did     Act
	Step    string
	Amount  Amount
	Of      string
	Stock   measure.Given[measure.Share]
	Lot     string
	Water   measure.Given[measure.Share] // in the honey, or in the fruit
	Sugar   measure.Given[measure.Share] // in the fruit
	Skipped string                       // a step or an act passed over
	// Overrode is a gate or a stop that was passed against advice.
	Overrode string
	Because  string
	Remind   Moment
	Note     string

	// What goes with some acts.
	To       Vessel
	Bottles  []Bottles
	Left     measure.Given[measure.Volume]
	Bottle   string
	Hiss     measure.Given[float64]
	Foam     measure.Given[measure.Depth]
	Taste    Tasting
	Triangle Triangle

	// On a culture.
	Medium  measure.Given[measure.Volume]
	Alcohol measure.Given[measure.Strength]
	Verdict string
}

// Amount is a quantity, or known to be unknown.
type Amount struct {
	measure.Quantity
	Unknown bool
}

// Given tells whether an amount was written at all, be it as unknown.
func (a Amount) Given() bool { return a.Unknown || a.Known() }

// Doubt is whether a reading is trusted.
type Doubt string

// A reading without a word is taken as it stands, unless it is unlikely.
const (
	NoWord    Doubt = ""
	Doubtful  Doubt = "doubtful"
	Confirmed Doubt = "confirmed"
)

// Clarity is how clear the vessel is.
type Clarity string

// The clarities.
const (
	Hazy     Clarity = "hazy"
	Clearing Clarity = "clearing"
	Clear    Clarity = "clear"
)

// Words that the keys seen, airlock, feel and label take.
var (
	SeenWords    = []string{"foam", "gas", "sediment", "film", "mould", "flies"}
	AirlockWords = []string{"working", "still", "dry", "sucked-back", "closed"}
	FeelWords    = []string{"soft", "firm", "hard"}
	ClarityWords = []string{"hazy", "clearing", "clear"}
	VerdictWords = []string{"trying", "usable", "discarded"}
)

// HasDensity tells whether the entry measured how dense the liquid is, with
// whatever instrument.
func (e *Entry) HasDensity() bool {
	return e.Gravity.Known() || e.Brix.Known() || e.Plato.Known() || e.Oechsle.Known() || e.Refractometer.Known()
}

// Measured tells whether the entry carries the measurement of that name.
func (e *Entry) Measured(do string) bool {
	switch do {
	case DoGravity:
		return e.HasDensity()
	case DoPH:
		return e.PH.Known()
	case DoTemperature:
		return e.Temperature.Known()
	case DoVolume:
		return e.Volume.Known()
	}
	return false
}

// Saw tells whether the entry names a thing seen.
func (e *Entry) Saw(word string) bool {
	for _, s := range e.Seen {
		if s == word {
			return true
		}
	}
	return false
}

// Mass is the mass that the entry's amount stands for, a stock solution of
// grams in 100 mL counted by its grams. It is not ok where the amount is
// unknown, missing or neither.
func (e *Entry) Mass() (mass measure.Mass, ok bool) {
	if e.Amount.Unknown || !e.Amount.Known() {
		return 0, false
	}
	if v, is := e.Amount.Volume(); is && e.Stock.Known() {
		return measure.Grams(v.Millilitres() * float64(e.Stock.Value) / 100), true
	}
	return e.Amount.Mass()
}
