// Package carbonation calculates how much carbon dioxide is in a liquid, the pressure in a
// bottle, the sugar for priming, and the limits of bottles.
package carbonation

import (
	"cmp"
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/measure"
)

// Liquid is what the gas is dissolved in.
type Liquid struct {
	Alcohol measure.Strength
	Sugar   measure.Content
}

// Air is the pressure of the air at sea level, absolute.
const Air measure.Pressure = 1.01325

// Coldest and Hottest are the limits of every figure here: bottles do not belong in a place above 40 °C.
const (
	Coldest measure.Temperature = 0
	Hottest measure.Temperature = 40
)

const kelvin = 273.15

// Solubility returns the CO₂ in g/L that a liquid dissolves under one bar (absolute) of it:
//
//	k = 1.951 (0.86 − 0.01 A)(1 − 0.00144 S) × factor(t, A)
//
// with A in % vol and S in g/L. The factor is 1 at 20 °C. At other temperatures it is a mean of that of water and
// that of wine with the weights 12.5 − A and A; from 12.5 % vol on it is that of wine, exp(2983 (1/T − 1/293.15)).
//
// Range: 0 to 40 °C, 0 to 20 % vol, 0 to 200 g/L of sugar; outside an error. Source: Commission Regulation (EEC)
// 2676/90, annex, chapter 37, at 20 °C; water by Weiss 1974, Mar. Chem. 2:203; wine with 24.8 kJ/mol, after the
// Champagne work of Liger-Belair (the value from memory). Uncertainty: 3 %, in wine away from 20 °C 6 %.
func Solubility(l Liquid, at measure.Temperature) (float64, error) {
	if err := cmp.Or(l.check(), checkTemperature("temperature", at)); err != nil {
		return 0, err
	}
	at20 := 1.951 * (0.86 - 0.01*float64(l.Alcohol)) * (1 - 0.00144*float64(l.Sugar))
	wine := math.Min(float64(l.Alcohol)/12.5, 1)
	return at20 * ((1-wine)*weiss(at)/weiss(20) + wine*math.Exp(2983*(1/(float64(at)+kelvin)-1/(20+kelvin)))), nil
}

// weiss returns the solubility of CO₂ in pure water in mol/(L atm): Weiss 1974, Mar. Chem. 2:203, without salt.
func weiss(at measure.Temperature) float64 {
	t := (float64(at) + kelvin) / 100
	return math.Exp(-58.0931 + 90.5069/t + 22.2940*math.Log(t))
}

// GasLeft returns the CO₂ in a ferment after the bubbling has ended: what dissolves under one
// atmosphere at the warmest that the liquid has been since. A ferment that was stirred or
// kept long has less. Range and source as Solubility. Uncertainty: 2 % at 20 °C.
func GasLeft(l Liquid, warmest measure.Temperature) (measure.Content, error) {
	return Dissolved(Air, l, warmest)
}

// Volumes converts a content of CO₂ to litres of gas (0 °C, one atmosphere) in a litre of liquid.
func Volumes(co2 measure.Content) float64 { return float64(co2) / measure.CO2PerVolume }

func (l Liquid) check() error {
	return cmp.Or(measure.InRange("alcohol", l.Alcohol, 0, 20, "% vol"), measure.InRange("sugar", l.Sugar, 0, 200, "g/L"))
}

func checkTemperature(name string, t measure.Temperature) error {
	err := measure.InRange(name, t, Coldest, Hottest, "°C")
	if t > Hottest {
		return fmt.Errorf("%w: no bottle belongs there", err)
	}
	return err
}

func checkCO2(c measure.Content) error { return measure.InRange("CO₂", c, 0, 30, "g/L") }

// gasConstant is in L bar/(mol K).
const gasConstant = 0.0831446

// gasVolume returns the volume of a mass of CO₂ in g at one atmosphere, as an ideal gas (0.5 % too much).
func gasVolume(grams float64, at measure.Temperature) measure.Volume {
	return measure.Volume(grams / co2Mole * gasConstant * (float64(at) + kelvin) / float64(Air))
}

// DrawnIn returns the gas that a vessel full of CO₂ sucks in through its airlock as it
// cools, because the colder liquid dissolves more:
//
//	V (k(to) − k(from)) × 1.013 bar, as gas at the lower temperature
//
// Range: 0.01 to 2000 L, cooling, else as Solubility; outside an error. Source: as Solubility. Uncertainty: 10 %; not
// counted is the shrinking of the headspace (5 % of it for 16 K).
func DrawnIn(volume measure.Volume, l Liquid, from, to measure.Temperature) (measure.Volume, error) {
	warm, err := Solubility(l, from)
	cold, err2 := Solubility(l, to)
	if err := cmp.Or(measure.InRange("volume", volume, 0.01, 2000, "L"), err, err2); err != nil {
		return 0, err
	}
	if to > from {
		return 0, fmt.Errorf("from %s to %s is warming: nothing is drawn in, gas comes out", from, to)
	}
	return gasVolume((cold-warm)*float64(Air)*float64(volume), to), nil
}

// RoomAir is the effect of fermenting jugs on the air of a closed room.
type RoomAir struct {
	CO2   measure.Mass
	Gas   measure.Volume // at 20 °C
	Share measure.Share  // of the air, by volume, with the door closed
}

// Limits of CO₂ in the air by volume: NIOSH 1976, criteria for a recommended
// standard, and its figure for immediate danger.
const (
	WorkingDay measure.Share = 0.5
	Briefly    measure.Share = 3
	Dangerous  measure.Share = 4
)

// InRoom returns the CO₂ that jugs give off in a room while their gravity falls:
//
//	g = jugs × volume × points × 1.05 g/L
//	share = 1 − exp(−gas / room)
//
// The share allows for mixing: as the gas comes in, as much of the mixture leaves through gaps.
//
// Range: 0 to 1000 jugs of 0.01 to 2000 L, a fall of 0 to 200 points, a room of 100 L (a cupboard) to a million;
// outside an error. Source: mass balance, see CO2PerPoint. Uncertainty: 5 %, and no room is completely closed.
func InRoom(jugs int, volume measure.Volume, points float64, room measure.Volume) (RoomAir, error) {
	err := cmp.Or(
		measure.InRange("number of jugs", float64(jugs), 0, 1000, ""),
		measure.InRange("volume", volume, 0.01, 2000, "L"),
		measure.InRange("fall of gravity in points", points, 0, 200, ""),
		measure.InRange("room", room, 100, 1e6, "L"),
	)
	if err != nil {
		return RoomAir{}, err
	}
	grams := float64(jugs) * float64(volume) * points * CO2PerPoint
	g := gasVolume(grams, 20)
	return RoomAir{measure.Grams(grams), g, measure.Share(100 * -math.Expm1(-float64(g/room)))}, nil
}
