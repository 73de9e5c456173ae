package ferment

import "slices"

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
	Accept     Act = "accept" // where it ends is taken as it is
	Dump       Act = "dump"
	Close      Act = "close"

	// On a culture also these.
	Collect Act = "collect"
	Passage Act = "passage"
	Prove   Act = "prove"
	Backup  Act = "backup"
	Verdict Act = "verdict"
	Discard Act = "discard"
	Starter Act = "starter"
)

// Acts lists every act, in the order of the work.
func Acts() []Act { return slices.Clone(acts) }

var acts = []Act{
	Mix, Pitch, Started, Degas, Aerate, Nutrient, Buffer, Acid, Punch, FruitIn, FruitOut, Honey, Water,
	Sample, FoamOver, Rack, TopUp, Fine, Chill, Sulphite, Sorbate, ForcedTest, Look, Prime, Bottle,
	Squeeze, Open, Taste, Move, Blend, Choose, Accept, Dump, Close,
	Collect, Passage, Prove, Backup, Verdict, Discard, Starter,
}

// IsAct tells whether a word names an act.
func IsAct(word string) bool { return slices.Contains(acts, Act(word)) }

// A measurement that can be a step of a plan, settled by any entry that
// carries it.
const (
	DoGravity     = "gravity"
	DoPH          = "ph"
	DoTemperature = "temperature"
	DoVolume      = "volume"
)

// IsMeasurement tells whether a step's do is a measurement instead of an act.
func IsMeasurement(do string) bool {
	return do == DoGravity || do == DoPH || do == DoTemperature || do == DoVolume
}

// ApartFromCourse tells whether what such an entry measures belongs to a test
// glass or a bottle, never to the vessel.
func (a Act) ApartFromCourse() bool { return a == ForcedTest || a == Open || a == Taste }

var adding = []Act{
	Pitch, Nutrient, Buffer, Acid, FruitIn, Honey, Water, TopUp, Fine, Sulphite, Sorbate, Prime, Blend, Passage, Starter,
}

// Adds tells whether the act puts something into the vessel.
func (a Act) Adds() bool { return slices.Contains(adding, a) }

// ActNames lists the names of every act, in the order of the work.
func ActNames() []string {
	names := make([]string, len(acts))
	for i, a := range acts {
		names[i] = string(a)
	}
	return names
}
