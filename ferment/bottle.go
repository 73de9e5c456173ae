package ferment

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Bottles is one kind of bottle filled on one day.
type Bottles struct {
	Kind  string
	Size  measure.Given[measure.Volume]
	Count int
	Codes string
	Fizz  measure.Given[measure.Content] // CO₂ aimed at; 0 with the text "none" for a still one
	Honey measure.Given[measure.Mass]    // in each bottle
	For   string                         // drink, test, tasting, keep
}

// NoFizz is the word for a bottle without any.
const NoFizz = "none"

// ParseFizz reads the gas that a bottle aims at, in g/L or volumes, 0 to 30 g/L;
// none is a still one.
func ParseFizz(s string) (measure.Given[measure.Content], error) {
	if strings.TrimSpace(s) == NoFizz {
		return measure.Give(measure.Content(0), NoFizz), nil
	}
	return measure.ParseCarbonation(s)
}

// ForWords are what a bottle can be reserved for.
var ForWords = []string{"drink", "test", "tasting", "keep"}

// Tasting is what was found in a glass.
type Tasting struct {
	Look, Nose, Palate, Body, Finish string
	Faults                           []string
	Score                            measure.Given[float64] // 0 to 100
	Blind                            bool
}

// Triangle is a blind test of three glasses, one of them odd.
type Triangle struct {
	With  string // the other ferment
	Codes []int
	Odd   int
	Said  int
}
