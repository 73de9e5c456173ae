package ferment

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"

	"cellar/jugkeeper/ferment/measure"
)

// Entry is one dated item of a log: measurements, an act, a skipped step, a note.
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
	Undegassed    bool                               // there was still gas in the sample
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
	Skipped string                       // a step or an act that was skipped
	// Overrode is a gate or a stop that was ignored on purpose.
	Overrode string
	Because  string
	Remind   Moment
	Note     string

	// What goes with some acts.
	Poured   *Poured // of a blend or a top-up with another ferment; see course.Joined
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

// Amount is a quantity, or one known to be unknown.
type Amount struct {
	measure.Quantity
	Unknown bool
}

// Given reports whether an amount was written at all, even as unknown.
func (a Amount) Given() bool { return a.Unknown || a.Known() }

// Doubt is whether a reading is trusted.
type Doubt string

// A reading without one of these words is trusted, unless it is unlikely.
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

// The words for the keys seen, airlock, feel and label.
var (
	SeenWords    = []string{"foam", "gas", "sediment", "film", "mould", "flies"}
	AirlockWords = []string{"working", "still", "dry", "sucked-back", "closed"}
	FeelWords    = []string{"soft", "firm", "hard"}
	ClarityWords = []string{"hazy", "clearing", "clear"}
	AgainWords   = []string{"make again", "with changes", "never"}
	MonthWords   = []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}
	VerdictWords = []string{"trying", "usable", "discarded"}
)

// HasDensity reports whether the entry measured a density with any instrument.
func (e *Entry) HasDensity() bool {
	return e.DensityText() != ""
}

// DensityText returns the density of the entry as typed, on any scale.
func (e *Entry) DensityText() string {
	return cmp.Or(e.Gravity.Text, e.Brix.Text, e.Plato.Text, e.Oechsle.Text, e.Refractometer.Text)
}

// Measured reports whether the entry has the measurement of that name.
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

// Saw reports whether a thing was seen.
func (e *Entry) Saw(word string) bool { return slices.Contains(e.Seen, word) }

// Mass returns the mass of the entry's amount; a stock solution counts by the grams in it. It is not ok if the amount
// is unknown, missing, or not a mass.
func (e *Entry) Mass() (mass measure.Mass, ok bool) {
	if e.Amount.Unknown || !e.Amount.Known() {
		return 0, false
	}
	if v, is := e.Amount.Volume(); is && e.Stock.Known() {
		return measure.Grams(v.Millilitres() * float64(e.Stock.Value) / 100), true
	}
	return e.Amount.Mass()
}

// EntryError is a fault in an entry.
type EntryError struct {
	Key     string // the entry's key, as in the file
	Message string // what is wrong, and a right example
}

func (e *EntryError) Error() string { return e.Message }

// Check returns an *EntryError for the first key that does not go with the others, else nil.
func (e *Entry) Check() error {
	scales := e.scales()
	_, ending := ParseEndings(e.Of)
	switch {
	case e.Did != "" && e.Skipped != "":
		return &EntryError{"skipped", "an entry either does something or skips it: make two entries"}
	case len(scales) > 1:
		return &EntryError{scales[1], "a density is given in one scale, " + scales[0] + " or " + scales[1] + ": make two entries"}
	case e.Overrode != "" && e.Because == "":
		return &EntryError{"overrode", `going on against a stop needs a reason, e.g. because="spilled half of the first"`}
	case e.Did == Choose && e.Of != "" && !ending:
		return &EntryError{"of", fmt.Sprintf("of %q is no ending: still, bottle-conditioned, sweetened or undecided, e.g. of=still", e.Of)}
	case e.Did == Accept && e.Because == "":
		return &EntryError{"because", `accepting a finish needs a reason, e.g. because="sweet enough, and the test stopped there"`}
	case e.Stock.Known() && !e.Amount.Given():
		return &EntryError{"stock", "a stock solution needs its amount, e.g. 14 mL"}
	case e.Stock.Known() && e.Amount.Known() && e.Amount.Dimension() != measure.OfVolume:
		return &EntryError{"stock", "a stock solution is given by its volume, e.g. 14 mL of one of 10 %"}
	}
	return nil
}

// scales returns the density keys of the entry. A refractometer is a separate instrument, so brix may be there too.
func (e *Entry) scales() []string {
	return Where([]string{"gravity", "brix", "plato", "oechsle"}, func(name string) bool {
		k, _ := KeyNamed(name)
		return k.Has(e)
	})
}

// Empty reports whether the entry has only its time.
func (e *Entry) Empty() bool {
	rest := *e
	rest.At, rest.Order, rest.Line = Moment{}, 0, 0
	return reflect.ValueOf(rest).IsZero()
}

// Act is what was done to a ferment or a culture.
type Act string

// The acts, in the order of the work.
const (
	Mix        Act = "mix"
	Pitch      Act = "pitch"
	Started    Act = "started"
	Degas      Act = "degas"
	Aerate     Act = "aerate"
	Nutrient   Act = "nutrient"
	Buffer     Act = "buffer"
	Acid       Act = "acid"
	Punch      Act = "punch"
	FruitIn    Act = "fruit-in"
	FruitOut   Act = "fruit-out"
	Honey      Act = "honey"
	Water      Act = "water"
	Sample     Act = "sample"
	FoamOver   Act = "foam-over"
	Rack       Act = "rack"
	TopUp      Act = "top-up"
	Fine       Act = "fine"
	Chill      Act = "chill"
	Sulphite   Act = "sulphite"
	Sorbate    Act = "sorbate"
	ForcedTest Act = "forced-test"
	Look       Act = "look"
	Prime      Act = "prime"
	Bottle     Act = "bottle"
	Squeeze    Act = "squeeze"
	Open       Act = "open"
	Taste      Act = "taste"
	Move       Act = "move"
	Blend      Act = "blend"
	Choose     Act = "choose"
	Accept     Act = "accept" // take the present gravity as the final one
	Dump       Act = "dump"
	Close      Act = "close"

	// Only on a culture:
	Collect Act = "collect"
	Passage Act = "passage"
	Prove   Act = "prove"
	Backup  Act = "backup"
	Verdict Act = "verdict"
	Discard Act = "discard"
	Starter Act = "starter"
)

var acts = []Act{
	Mix, Pitch, Started, Degas, Aerate, Nutrient, Buffer, Acid, Punch, FruitIn, FruitOut, Honey, Water,
	Sample, FoamOver, Rack, TopUp, Fine, Chill, Sulphite, Sorbate, ForcedTest, Look, Prime, Bottle,
	Squeeze, Open, Taste, Move, Blend, Choose, Accept, Dump, Close,
	Collect, Passage, Prove, Backup, Verdict, Discard, Starter,
}

// IsAct reports whether a word names an act.
func IsAct(word string) bool { return slices.Contains(acts, Act(word)) }

// Measurements that can be a step of a plan; any entry with one settles the step.
const (
	DoGravity     = "gravity"
	DoPH          = "ph"
	DoTemperature = "temperature"
	DoVolume      = "volume"
)

// IsMeasurement reports whether a step asks for a measurement instead of an act.
func IsMeasurement(do string) bool {
	return do == DoGravity || do == DoPH || do == DoTemperature || do == DoVolume
}

// ApartFromCourse reports whether an act measures a test glass or a bottle instead of the vessel.
func (a Act) ApartFromCourse() bool { return a == ForcedTest || a == Open || a == Taste }

var adding = []Act{
	Pitch, Nutrient, Buffer, Acid, FruitIn, Honey, Water, TopUp, Fine, Sulphite, Sorbate, Prime, Blend, Passage, Starter,
}

// Adds reports whether the act puts something into the vessel.
func (a Act) Adds() bool { return slices.Contains(adding, a) }

// ActNames returns the names of all acts, in the order of the work.
func ActNames() []string {
	return Texts(acts)
}
