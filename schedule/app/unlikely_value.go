package app

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// unlikelyValues asks about measurements outside the likely range or change in the table of keys.
func unlikelyValues(v Vessel, e ferment.Entry) []Ask {
	var asks []Ask
	for _, k := range ferment.Keys() {
		if !k.Likely.Known() || k.Numbers == nil {
			continue
		}
		numbers := k.Numbers(&e)
		if len(numbers) == 0 || e.Did.ApartFromCourse() && k.Kind == ferment.Measured && k.Name != "gravity" {
			continue
		}
		value := keyValue{k, v, e, numbers}
		if ask, unlikely := value.outside(); unlikely {
			asks = append(asks, ask)
		} else if ask, unlikely := value.jumps(); unlikely {
			asks = append(asks, ask)
		}
	}
	return slices.Concat(asks, unlikelyVolume(v, e), unlikelyDecimals(v, e), unlikelySample(v, e))
}

// unlikelyDecimals asks about a gravity with another number of decimals than the earlier ones.
func unlikelyDecimals(v Vessel, e ferment.Entry) []Ask {
	places := func(e *ferment.Entry) int {
		_, decimals, _ := strings.Cut(e.Gravity.Text, ".")
		return len(decimals)
	}
	read := slices.DeleteFunc(slices.Clone(v.Course.Entries), func(had *ferment.Entry) bool { return !had.Gravity.Known() || had.Did.ApartFromCourse() })
	if !e.Gravity.Known() || e.Did.ApartFromCourse() || e.Doubt != ferment.NoWord || len(read) < 3 {
		return nil
	}
	usual := places(read[0])
	if places(&e) == usual || slices.ContainsFunc(read, func(had *ferment.Entry) bool { return places(had) != usual }) {
		return nil
	}
	return []Ask{{Part: e.Gravity.Text, Says: fmt.Sprintf("%s has %d decimals, all earlier readings have %d: a digit too many, or too few?", e.Gravity.Text, places(&e), usual)}}
}

// sampleOff is by how much a sample may differ from the vessel's temperature (common practice, no source), unless it
// did last time too.
const sampleOff = 4

func unlikelySample(v Vessel, e ferment.Entry) []Ask {
	off := func(e *ferment.Entry) float64 { return float64(e.Sample.Value - e.Temperature.Value.Middle()) }
	both := func(e *ferment.Entry) bool {
		return e.Sample.Known() && e.Temperature.Known() && !e.Did.ApartFromCourse()
	}
	if !both(&e) || math.Abs(off(&e)) <= sampleOff {
		return nil
	}
	for _, had := range slices.Backward(v.Course.Entries) {
		if both(had) {
			if math.Abs(off(had)-off(&e)) <= sampleOff {
				return nil
			}
			break
		}
	}
	units := v.Course.Settings.Units
	return []Ask{{Part: e.Sample.Text, Says: fmt.Sprintf("the sample is at %s and the vessel at %s: which is wrong?", e.Sample.Value.In(units), measure.Between(e.Temperature.Value, units))}}
}

type keyValue struct {
	key     ferment.Key
	v       Vessel
	e       ferment.Entry
	numbers []float64
}

func (k keyValue) units() measure.System { return k.v.Course.Settings.Units }

// shown writes a number with its unit, in the cellar's units.
func (k keyValue) shown(n float64) string {
	q, err := measure.ParseQuantity(k.key.Example)
	if err != nil {
		return measure.Of(n, "").Text
	}
	return strings.Replace(measure.Of(n, q.Unit).In(k.units()), "-", "−", 1)
}

func (k keyValue) text() string { return k.key.Text(&k.e) }

// outside asks about a value outside its likely range.
func (k keyValue) outside() (Ask, bool) {
	l := k.key.Likely
	if !slices.ContainsFunc(k.numbers, func(n float64) bool { return n < l.Low || n > l.High }) {
		return Ask{}, false
	}
	return Ask{Part: k.text(), Meant: k.guessed(),
		Says: fmt.Sprintf("%s %s is outside the usual %s to %s", k.key.Name, k.text(), strings.Fields(k.shown(l.Low))[0], k.shown(l.High))}, true
}

// guessed returns the guesses near the last value; without one, those in the range.
func (k keyValue) guessed() []Meant {
	l := k.key.Likely
	inside := func(n float64) bool { return n >= l.Low && n <= l.High }
	last, _ := k.last()
	if near := k.meant(func(n float64) bool { return inside(n) && k.near(n, last) }); l.Change > 0 && last != nil && near != nil {
		return near
	}
	return k.meant(inside)
}

// last returns the numbers of the last entry with the key, and that entry; none after an act that changes the value.
func (k keyValue) last() ([]float64, *ferment.Entry) {
	for _, had := range slices.Backward(k.v.Course.Entries) {
		if had.At.Time.After(k.e.At.Time) || had.Did.ApartFromCourse() {
			continue
		}
		if changes(k.key.Name, had.Did) || changes(k.key.Name, k.e.Did) {
			return nil, nil
		}
		if last := k.key.Numbers(had); len(last) > 0 {
			return last, had
		}
	}
	return nil, nil
}

// near reports whether a number is within the likely change of the last ones.
func (k keyValue) near(n float64, last []float64) bool {
	return slices.ContainsFunc(last, func(m float64) bool { return math.Abs(n-m) <= k.key.Likely.Change+1e-9 })
}

// jumps asks about a value far from the last one, unless an act in between changes it.
func (k keyValue) jumps() (Ask, bool) {
	l := k.key.Likely
	last, had := k.last()
	if l.Change == 0 || had == nil || l.Within > 0 && k.e.At.Time.Sub(had.At.Time) > l.Within {
		return Ask{}, false
	}
	near := func(n float64) bool { return k.near(n, last) }
	if slices.ContainsFunc(k.numbers, near) {
		return Ask{}, false
	}
	return Ask{Part: k.text(), Meant: k.meant(near), Says: fmt.Sprintf("%s %s is far from the last, %s %s before",
		k.key.Name, k.text(), k.key.Text(had), course.Ago(k.e.At.Time.Sub(had.At.Time)))}, true
}

// changes reports whether an act can change a key by much, so that a jump is no surprise.
func changes(key string, act ferment.Act) bool {
	switch key {
	case "ph", "acidity":
		return act == ferment.Buffer || act == ferment.Acid || act == ferment.FruitIn || act == ferment.Blend || act == ferment.Mix
	case "temperature":
		return act == ferment.Move || act == ferment.Chill
	case "lees":
		return act == ferment.Rack
	}
	return false
}

// meant returns the likely values that one slip, or the wrong unit of temperature, could have turned into the typed
// one.
func (k keyValue) meant(likely func(float64) bool) []Meant {
	q, err := measure.ParseQuantity(k.text())
	if err != nil || len(k.numbers) > 1 && k.numbers[0] != k.numbers[1] {
		return nil
	}
	if q.Unit == "°C" || q.Unit == "°F" {
		other := map[string]string{"°C": "°F", "°F": "°C"}[q.Unit]
		if as := measure.Of(q.Number, other); likely(as.Value()) {
			return []Meant{guess(as.Text)}
		}
	}
	for _, n := range slips(q.Number) {
		if as := measure.Of(n, q.Unit); likely(as.Value()) {
			return []Meant{guess(as.Text)}
		}
	}
	return nil
}

// unlikelyVolume asks about more than the vessel has room for, or had before without an addition.
func unlikelyVolume(v Vessel, e ferment.Entry) []Ask {
	if !e.Volume.Known() || e.Did.ApartFromCourse() {
		return nil
	}
	k, _ := ferment.KeyNamed("volume")
	value := keyValue{*k, v, e, k.Numbers(&e)}
	holds := v.Course.Ferment.Vessel.Brimful
	for _, had := range v.Course.Entries {
		holds = had.To.Brimful.Else(holds)
	}
	if holds = e.To.Brimful.Else(holds); holds.Known() && e.Volume.Value > holds.Value+1e-6 {
		return []Ask{{Part: e.Volume.Text, Meant: value.meant(func(n float64) bool { return n <= float64(holds.Value) && n >= float64(holds.Value)/2 }),
			Says: fmt.Sprintf("%s is more than the vessel takes, %s to the brim", e.Volume.Text, holds.Text)}}
	}
	in := v.Course.Volume
	fills := raises(e.Did) || slices.Contains([]ferment.Act{ferment.Water, ferment.Mix, ferment.Pitch, ferment.Starter, ferment.Nutrient}, e.Did)
	if in.IsKnown() && float64(e.Volume.Value) > 1.05*float64(in.Value) && !fills {
		return []Ask{{Part: e.Volume.Text, Meant: value.meant(func(n float64) bool { return n <= 1.05*float64(in.Value) && n >= float64(in.Value)/2 }),
			Says: fmt.Sprintf("%s is more than was in it, %s, and nothing is written down that went in", e.Volume.Text, in.Value.In(value.units()))}}
	}
	return nil
}
