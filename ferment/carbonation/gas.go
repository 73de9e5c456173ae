package carbonation

import (
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/measure"
)

// gasConstant is in L bar/(mol K).
const gasConstant = 0.0831446

// gas is the room in L that a mass of CO₂ in g takes at one atmosphere, as an
// ideal gas (0.5 % too much).
func gas(grams float64, at measure.Temperature) measure.Volume {
	return measure.Volume(grams / co2Mole * gasConstant * (float64(at) + kelvin) / float64(Air))
}

// DrawnIn is the gas that a vessel full of CO₂ takes in, through its airlock,
// as it cools, because the colder liquid dissolves more:
//
//	V (k(to) − k(from)) × 1.013 bar, as gas at the lower temperature
//
// Range: 0.01 to 2000 L, cooling, else as Solubility; outside an error.
// Source: as Solubility. Uncertainty: 10 %; the headspace's own shrinking (5 %
// of it for 16 K) comes on top.
func DrawnIn(volume measure.Volume, l Liquid, from, to measure.Temperature) (measure.Volume, error) {
	if err := measure.InRange("volume", volume, 0.01, 2000, "L"); err != nil {
		return 0, err
	}
	warm, err := Solubility(l, from)
	if err != nil {
		return 0, err
	}
	cold, err := Solubility(l, to)
	if err != nil {
		return 0, err
	}
	if to > from {
		return 0, fmt.Errorf("from %s to %s is warming: nothing is drawn in, gas comes out", from, to)
	}
	return gas((cold-warm)*float64(Air)*float64(volume), to), nil
}

// RoomAir is what working jugs do to the air of a closed room.
type RoomAir struct {
	CO2   measure.Mass
	Gas   measure.Volume // at 20 °C
	Share measure.Share  // of the air, by volume, with nobody opening the door
}

// Limits of CO₂ in the air by volume: NIOSH 1976, criteria for a recommended
// standard, and its figure for immediate danger.
const (
	WorkingDay measure.Share = 0.5
	Briefly    measure.Share = 3
	Dangerous  measure.Share = 4
)

// InRoom is the CO₂ that jugs bring into a room while their gravity falls:
//
//	g = jugs × volume × points × 1.05 g/L
//	share = 1 − exp(−gas / room)
//
// the share because the gas mixes with the air and as much of both leaves
// through the cracks.
//
// Range: 0 to 1000 jugs of 0.01 to 2000 L, a fall of 0 to 200 points, a room
// of 100 L (a cupboard) to a million; outside an error. Source: mass balance,
// see CO2PerPoint. Uncertainty: 5 %, and the room is never quite closed.
func InRoom(jugs int, volume measure.Volume, points float64, room measure.Volume) (RoomAir, error) {
	if err := measure.InRange("number of jugs", float64(jugs), 0, 1000, ""); err != nil {
		return RoomAir{}, err
	}
	if err := measure.InRange("volume", volume, 0.01, 2000, "L"); err != nil {
		return RoomAir{}, err
	}
	if err := measure.InRange("fall of gravity in points", points, 0, 200, ""); err != nil {
		return RoomAir{}, err
	}
	if err := measure.InRange("room", room, 100, 1e6, "L"); err != nil {
		return RoomAir{}, err
	}
	grams := float64(jugs) * float64(volume) * points * CO2PerPoint
	g := gas(grams, 20)
	return RoomAir{measure.Grams(grams), g, measure.Share(100 * -math.Expm1(-float64(g/room)))}, nil
}
