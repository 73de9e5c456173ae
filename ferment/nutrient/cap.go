package nutrient

import "cellar/jugkeeper/ferment/measure"

// The most that may go into a litre in all.
const (
	// MostAmmonium is the limit for ammonium phosphate: 8 lb in 1000 US gal,
	// 27 CFR 24.246 (from memory). Every ammonium salt counts against it.
	MostAmmonium measure.Content = 0.96
	// MostBuffer is the limit for potassium bicarbonate (common practice, no
	// source).
	MostBuffer measure.Content = 1.5
)

// Cut is the cap that makes doses smaller than they were wanted.
type Cut string

// The caps.
const (
	Uncut  Cut = ""
	BySalt Cut = "salt" // MostAmmonium
	ByNeed Cut = "need" // the nitrogen added is never above the need
)

// Given is what has gone into each litre so far.
type Given struct {
	Nitrogen measure.Content // from doses, without the must's own
	Ammonium measure.Content // of ammonium salts, weighed as salt
}

// With is what has been given after one more dose. Range as in Plan, and 0 to
// 1000 kg of dose.
func (g Given) With(dose measure.Mass, of Nutrient, into measure.Volume) (Given, error) {
	if err := of.check(); err != nil {
		return g, err
	}
	if err := measure.InRange("dose", dose, 0, 1000, "kg"); err != nil {
		return g, err
	}
	if err := measure.InRange("volume", into, 0.01, 2000, "L"); err != nil {
		return g, err
	}
	c := measure.Content(dose.Grams() / float64(into))
	return Given{g.Nitrogen + of.brings(c), g.Ammonium + of.salt(c)}, nil
}

// Room is the most of a nutrient that may still go in, and the cap that it
// would then meet:
//
//	room = min((need − given) / nitrogen in a gram, 0.96 g/L − salt given) × volume
//
// the second only for a salt. It is never under zero. Range as in Plan, and 0
// to 100 g/L of what was given.
func Room(need measure.Content, given Given, of Nutrient, volume measure.Volume) (measure.Mass, Cut, error) {
	if err := checkNeed(need, volume); err != nil {
		return 0, Uncut, err
	}
	if err := of.check(); err != nil {
		return 0, Uncut, err
	}
	for _, c := range []measure.Content{given.Nitrogen, given.Ammonium} {
		if err := measure.InRange("amount given", c, 0, 100, "g/L"); err != nil {
			return 0, Uncut, err
		}
	}
	room, cut := of.holding(need-given.Nitrogen), ByNeed
	if left := MostAmmonium - given.Ammonium; of.Kind == Ammonium && left < room {
		room, cut = left, BySalt
	}
	return mass(max(room, 0), volume), cut, nil
}

// BufferRoom is how much potassium bicarbonate may still go into a volume of
// which each litre has been given some. It is never under zero. Range 0 to
// 100 g/L given, 0.01 to 2000 L.
func BufferRoom(given measure.Content, volume measure.Volume) (measure.Mass, error) {
	if err := measure.InRange("buffer given", given, 0, 100, "g/L"); err != nil {
		return 0, err
	}
	if err := measure.InRange("volume", volume, 0.01, 2000, "L"); err != nil {
		return 0, err
	}
	return mass(max(MostBuffer-given, 0), volume), nil
}
