package carbonation

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Pressure is the pressure of carbon dioxide and trapped air in a closed bottle.
type Pressure struct {
	CO2      measure.Content  // in the bottle, including that of unfinished sugar
	Gas      measure.Pressure // of the carbon dioxide alone, absolute
	Air      measure.Pressure // of the trapped air's nitrogen alone, absolute
	Absolute measure.Pressure
	Gauge    measure.Pressure // over the air outside; negative if the bottle holds less
}

// Alone returns the gauge pressure of the carbon dioxide without the trapped air.
func (p Pressure) Alone() measure.Pressure { return p.Gas - Air }

// Filling is how a bottle was filled.
type Filling struct {
	At        measure.Temperature // of the liquid
	Headspace measure.Share       // of the bottle, filled with air; 0 ignores the air
}

// Usual is how bottles are usually filled (common practice, no source): at 20 °C, with a neck's width of air.
var Usual = Filling{At: 20, Headspace: 3}

// CO2PerPoint is the CO₂ in g/L from a fall of 0.001: 2.15 g/L of sugar at 0.4886 (by mass
// balance; 2.11 to 2.20 over musts of 1.040 to 1.150).
const CO2PerPoint = 1.05

// Points are the thousandths of unfinished sugar for which a bottle pressure is shown,
// because a finish is not known better than that.
var Points = []float64{0, 1, 2, 3}

// InBottle returns the pressure in a bottle at a temperature, if some points of gravity still ferment in it. In a
// bottle of one litre the liquid fills L = 1 − h, and more as it warms: L(t) = L ρ(filled)/ρ(t). Both gases are
// divided between the liquid and the headspace H = 1 − L(t), so with κ = H/(R T)
//
//	CO₂ = (c + 1.05 g/L × points) L / (k(t, A, S) L + 44.01 κ)
//	air = 0.79 bar × (s L + κ at the filling) / (s L + κ now)
//	gauge = CO₂ + air − 1.013
//
// with s the solubility of nitrogen. On the safe side it is assumed that the liquid took up air when it was filled
// and uses the oxygen, and that the bottle does not expand (it does by a tenth of what the liquid does). Without
// headspace it is the pressure of carbon dioxide alone, (c + 1.05 × points)/k − 1.013.
//
// Range: 0 to 30 g/L of CO₂, 0 to 20 points, filled at 0 to 40 °C, a headspace of 0 or of 1
// to 50 % that the warm liquid does not fill, else as Solubility; outside an error. Source:
// mass balance; as Solubility; nitrogen by Sander 2015, Atmos. Chem. Phys. 15:4399 (from
// memory); expansion by OIML R 22. Uncertainty: 8 % of the CO₂, 0.2 bar of the air.
func (f Filling) InBottle(co2 measure.Content, l Liquid, at measure.Temperature, points float64) (Pressure, error) {
	if err := cmp.Or(f.check(), checkCO2(co2), measure.InRange("points of unfinished sugar", points, 0, 20, "")); err != nil {
		return Pressure{}, err
	}
	k, err := Solubility(l, at)
	if err != nil {
		return Pressure{}, err
	}
	p := Pressure{CO2: co2 + measure.Content(CO2PerPoint*points)}
	if f.Headspace == 0 {
		p.Gas = measure.Pressure(float64(p.CO2) / k)
		p.Absolute, p.Gauge = p.Gas, p.Gas-Air
		return p, nil
	}
	cold := 1 - float64(f.Headspace)/100
	warm := cold * l.expansion(f.At, at)
	if warm > 0.998 {
		return Pressure{}, fmt.Errorf("filled at %s with %s of headspace, the liquid fills the bottle at %s: leave more", f.At, f.Headspace, at)
	}
	molesPerBar := func(liquid float64, t measure.Temperature) float64 {
		return nitrogen(t)*cold + (1-liquid)/(gasConstant*(float64(t)+kelvin))
	}
	inHead := co2Mole * (1 - warm) / (gasConstant * (float64(at) + kelvin))
	p.Gas = measure.Pressure(float64(p.CO2) * cold / (k*cold + inHead))
	p.Air = measure.Pressure(0.79 * molesPerBar(cold, f.At) / molesPerBar(warm, at)) // nitrogen with argon
	p.Absolute = p.Gas + p.Air
	p.Gauge = p.Absolute - Air
	return p, nil
}

// nitrogen returns the solubility of nitrogen in water in mol/(L bar); that in mead differs too little to matter.
func nitrogen(at measure.Temperature) float64 {
	return 6.4e-4 * math.Exp(1300*(1/(float64(at)+kelvin)-1/298.15))
}

// expansion returns the ratio of a liquid's volumes at two temperatures, ignoring sugar.
func (l Liquid) expansion(from, to measure.Temperature) float64 {
	byMass, _ := gravity.EthanolByMass(l.Alcohol)
	before, _ := gravity.EthanolWater(byMass, from)
	after, _ := gravity.EthanolWater(byMass, to)
	return float64(before / after)
}

func (f Filling) check() error {
	if err := checkTemperature("the filling", f.At); err != nil || f.Headspace == 0 {
		return err
	}
	return measure.InRange("headspace", f.Headspace, 1, 50, "%")
}

// Dissolved returns the CO₂ that dissolves under an absolute pressure: k × p. Range: 0 to
// 20 bar, else as Solubility. Source and uncertainty as there.
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

// Table calculates InBottle at 4 °C, at 20 °C and in the hottest place that the bottle will
// be in, each for 0 to 3 points of unfinished sugar.
func (f Filling) Table(co2 measure.Content, l Liquid, hottest measure.Temperature) ([]Row, error) {
	if err := checkTemperature("the hottest place", hottest); err != nil {
		return nil, err
	}
	var rows []Row
	for _, at := range []measure.Temperature{4, 20, hottest} {
		row := Row{At: at}
		for _, points := range Points {
			p, err := f.InBottle(co2, l, at, points)
			if err != nil {
				return nil, err
			}
			row.ByPoints = append(row.ByPoints, p)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// Bottle is a kind of bottle and its limits.
type Bottle struct {
	Kind  string
	Holds measure.Content                 // CO₂ that it may be filled to
	Rated measure.Given[measure.Pressure] // gauge, by its maker
}

// BuiltIn returns the kinds of bottles that need no entry in the cellar's list. The figures
// are common practice and no standard; the maker's replace them.
func BuiltIn() []Bottle {
	return []Bottle{
		{Kind: "still-wine bottle"},
		{Kind: "jar"},
		{Kind: "decorative swing-top"},
		{Kind: "crown beer bottle", Holds: 5.5},
		{Kind: "swing-top from a pressure drink", Holds: 6.5},
		{Kind: "heavy reusable", Holds: 7},
		{Kind: "soft-drink bottle", Holds: 8},
		{Kind: "sparkling-wine bottle", Holds: 12},
	}
}

// BottleOf returns the built-in bottle of a kind, compared without case.
func BottleOf(kind string) (Bottle, bool) {
	for _, b := range BuiltIn() {
		if strings.EqualFold(b.Kind, kind) {
			return b, true
		}
	}
	return Bottle{}, false
}

// Limit returns the highest gauge pressure for the bottle: its maker's figure, else the pressure of carbon dioxide
// alone that Holds makes at 40 °C and 5 % vol (common practice, no source), 0 for a bottle without a limit. Range: 0
// to 30 g/L and 0 to 100 bar, outside an error.
func (b Bottle) Limit() (measure.Pressure, error) {
	if b.Rated.Known() {
		if err := measure.InRange("pressure the bottle is made for", b.Rated.Value, 0, 100, "bar"); err != nil {
			return 0, err
		}
		return b.Rated.Value, nil
	}
	if b.Holds == 0 {
		return 0, nil
	}
	p, err := Filling{At: Usual.At}.InBottle(b.Holds, Liquid{Alcohol: 5}, Hottest, 0)
	return max(p.Gauge, 0), err
}

// CheckFizz returns an error with the reason if the bottle may not be filled to a content of CO₂.
func (b Bottle) CheckFizz(target measure.Content) error {
	if err := checkCO2(target); err != nil {
		return err
	}
	switch {
	case b.Holds <= 0:
		return fmt.Errorf("a %s is not made for pressure: put no fizz in it", b.Kind)
	case target > b.Holds:
		return fmt.Errorf("%s is over the %s that a %s may be filled to", target, b.Holds, b.Kind)
	}
	return nil
}

// Load compares a pressure with a bottle's limit.
type Load string

// The loads. Watch begins at 80 % (common practice, no source).
const (
	Fine  Load = "fine"
	Watch Load = "warn"
	Over  Load = "over"
)

// Strain is the pressure in a bottle and the bottle's limit.
type Strain struct {
	Pressure
	Bottle Bottle
	At     measure.Temperature
	Points float64 // of sugar that may still be there
	Limit  measure.Pressure
}

// Compared returns the pressure that is compared with Limit: the whole pressure, if the limit is its maker's; that of
// carbon dioxide alone if the limit is by Holds, which is about that alone.
func (s Strain) Compared() measure.Pressure {
	if s.Bottle.Rated.Known() {
		return s.Gauge
	}
	return s.Alone()
}

// Load compares the pressure with the limit.
func (s Strain) Load() Load {
	switch is := s.Compared(); {
	case is <= 0, is < 0.8*s.Limit:
		return Fine
	case is <= s.Limit:
		return Watch
	}
	return Over // also where one of them is not a number
}

// Share returns the pressure as a share of the limit, 1 at the limit.
func (s Strain) Share() float64 { return float64(s.Compared()) / float64(s.Limit) }

// In writes pressure and limit as a sentence.
func (s Strain) In(u measure.System) string {
	where := " at " + s.At.In(u)
	if s.Points > 0 {
		where += " with " + PointsWords(s.Points) + " unfinished"
	}
	limit := "; the " + s.Bottle.Kind + " is made for " + s.Limit.In(u)
	if s.Bottle.Rated.Known() {
		return s.Gauge.In(u) + where + limit
	}
	return s.Gauge.In(u) + where + ", " + s.Alone().In(u) + " of it CO₂" + limit + " of CO₂"
}

// PointsWords writes thousandths of gravity: "1 point", "2.5 points".
func PointsWords(points float64) string {
	if points == 1 {
		return "1 point"
	}
	return strconv.FormatFloat(points, 'f', -1, 64) + " points"
}

// Strain returns pressure and limit of the bottle with a content of CO₂ at a temperature
// and so many points of sugar left. Range as InBottle and Limit.
func (b Bottle) Strain(f Filling, co2 measure.Content, l Liquid, at measure.Temperature, points float64) (Strain, error) {
	made, err := f.InBottle(co2, l, at, points)
	if err != nil {
		return Strain{}, err
	}
	limit, err := b.Limit()
	return Strain{made, b, at, points, limit}, err
}
