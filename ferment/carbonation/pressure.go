package carbonation

import "cellar/jugkeeper/ferment/measure"

// Pressure is what dissolved CO₂ makes in a closed bottle.
type Pressure struct {
	CO2      measure.Content // dissolved, with what unfinished sugar adds
	Absolute measure.Pressure
	Gauge    measure.Pressure // over the air; under zero where the air alone holds it in
}

// CO2PerPoint is the CO₂ in g/L that a thousandth of gravity makes as it
// ferments: 2.15 g/L of sugar at 0.4886 (by mass balance; 2.11 to 2.20 over
// musts of 1.040 to 1.150).
const CO2PerPoint = 1.05

// Points are the thousandths of unfinished sugar that a bottle pressure is
// shown for: nobody knows the finish of a ferment better.
var Points = []float64{0, 1, 2, 3}

// InBottle is the pressure in a bottle at a temperature, where some points of
// gravity may still ferment in it:
//
//	absolute = (CO₂ + 1.05 g/L × points) / k(t, A, S);  gauge = absolute − 1.013
//
// The headspace, which takes up 2 to 4 % of the gas, is left out; that is the
// safe side. Range: 0 to 30 g/L of CO₂, 0 to 20 points, else as Solubility;
// above 40 °C it is refused. Source: as Solubility. Uncertainty: 8 %.
func InBottle(co2 measure.Content, l Liquid, at measure.Temperature, points float64) (Pressure, error) {
	if err := checkCO2(co2); err != nil {
		return Pressure{}, err
	}
	if err := measure.InRange("points of unfinished sugar", points, 0, 20, ""); err != nil {
		return Pressure{}, err
	}
	k, err := Solubility(l, at)
	if err != nil {
		return Pressure{}, err
	}
	co2 += measure.Content(CO2PerPoint * points)
	absolute := measure.Pressure(float64(co2) / k)
	return Pressure{co2, absolute, absolute - Air}, nil
}

// Dissolved is the CO₂ that a pressure, absolute, keeps in a liquid: k × p.
// Range: 0 to 20 bar, else as Solubility. Source and uncertainty as there.
func Dissolved(absolute measure.Pressure, l Liquid, at measure.Temperature) (measure.Content, error) {
	if err := measure.InRange("absolute pressure", absolute, 0, 20, "bar"); err != nil {
		return 0, err
	}
	k, err := Solubility(l, at)
	return measure.Content(k * float64(absolute)), err
}

// Row is the pressure in a bottle at one temperature, for each of Points.
type Row struct {
	At       measure.Temperature
	ByPoints []Pressure
}

// Table is InBottle at 4 °C, at 20 °C and in the hottest place that the bottle
// will see, each for 0 to 3 points of unfinished sugar.
func Table(co2 measure.Content, l Liquid, hottest measure.Temperature) ([]Row, error) {
	if err := checkTemperature("the hottest place", hottest); err != nil {
		return nil, err
	}
	var rows []Row
	for _, at := range []measure.Temperature{4, 20, hottest} {
		row := Row{At: at}
		for _, points := range Points {
			p, err := InBottle(co2, l, at, points)
			if err != nil {
				return nil, err
			}
			row.ByPoints = append(row.ByPoints, p)
		}
		rows = append(rows, row)
	}
	return rows, nil
}
