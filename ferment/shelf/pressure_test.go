package shelf_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

func batch(bs ...ferment.Bottles) shelf.Batch {
	return shelf.Of(courseOf([]*ferment.Entry{bottled(bs...)})).Batches[0]
}

// 5 g/L at 12 % vol is 3.1 bar over the air at 20 °C and 4.5 at 30: the gas by
// Commission Regulation (EEC) 2676/90, chapter 37, and 0.8 and 0.9 bar of
// nitrogen in 3 % of headspace, a mole balance by hand.
func TestPressure(t *testing.T) {
	c := courseOf(nil, func(c *course.Course) {
		c.Alcohol = course.Known(measure.Strength(12))
		c.Settings.Bottles = []ferment.BottleKind{{Kind: crown, Stands: measure.Give(measure.Pressure(6), "6 bar")}}
	})
	p := shelf.PressureOf(c, batch(bottles(crown, 8, "", "5.0 g/L", ""), bottles("soft-drink bottle", 1, "", "5.0 g/L", "test")))
	require.True(t, p.IsKnown(), p.Unknown)
	assert.InDelta(t, 3.1, float64(p.Value.At20), 0.1)
	assert.InDelta(t, 4.5, float64(p.Value.Hottest), 0.1)
	require.True(t, p.Value.Strain.IsKnown(), p.Value.Strain.Unknown)
	assert.Equal(t, crown, p.Value.Strain.Value.Bottle.Kind)
	assert.Equal(t, measure.Pressure(6), p.Value.Strain.Value.Limit, "of the two the one that stands less, by its maker")
}

func TestNoPressureWithUnreadableSettings(t *testing.T) {
	c := courseOf(nil, func(c *course.Course) { c.Settings.Unread = true })
	assert.Equal(t, ferment.Unlimited, shelf.PressureOf(c, batch(bottles(crown, 8, "", "5.0 g/L", ""))).Unknown)
}

func TestPressureOfHoneyInTheBottle(t *testing.T) {
	b := bottles(crown, 8, "", "", "")
	b.Honey = measure.Give(measure.Grams(3), "3.0 g")
	p := shelf.PressureOf(courseOf(nil), batch(b))
	require.True(t, p.IsKnown(), p.Unknown)
	// 3 g of honey of 17.2 % water in 0.33 L: 3 × 0.828 × 0.92 × 0.4886 / 0.33
	// = 3.38 g/L on top of the 1.45 that an atmosphere keeps in (stoichiometry).
	assert.InDelta(t, 3.38+1.45, float64(p.Value.CO2), 0.05)
}

func TestPressureOfStillBottles(t *testing.T) {
	warm := ferment.Entry{At: ferment.At(filled.Add(-time.Hour)), Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 20, High: 20}, "20 °C")}
	later := ferment.Entry{At: ferment.At(filled.Add(time.Hour)), Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 30, High: 30}, "30 °C")}
	p := shelf.PressureOf(courseOf([]*ferment.Entry{&warm, &later}), batch(bottles("still-wine bottle", 4, "", "none", "")))
	require.True(t, p.IsKnown(), p.Unknown)
	assert.InDelta(t, 0.79-0.04, float64(p.Value.At20), 0.02, "one atmosphere of gas, of which the headspace takes 4 %, and the nitrogen of another")
	assert.Positive(t, float64(p.Value.Hottest))
	assert.Zero(t, p.Value.Strain.Value.Limit)
}

// Ten points of sugar, not stabilised, in a bottle filled with 1.46 g/L at 20 °C and 11.9 % vol: by a balance of moles
// with 3 % of neck 11.96 g/L are 7.97 bar of gas and 0.79 of air, 7.7 over the air outside. Read later, or what stayed
// in the vessel, changes nothing.
func TestPressureOfSugarLeft(t *testing.T) {
	read := func(at time.Time, g measure.Gravity) course.Reading {
		return course.Reading{At: at, Gravity: g, From: course.Hydrometer}
	}
	c := courseOf([]*ferment.Entry{{At: ferment.At(filled.Add(-time.Hour)), Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 20, High: 20}, "20 °C")}})
	c.DryFinish = course.Known(measure.Gravity(0.997))
	c.Readings = []course.Reading{read(filled.Add(-time.Hour), 1.007), read(filled.Add(time.Hour), 0.997)}
	b := batch(bottles(crown, 4, "", "none", ""))
	b.At = filled
	p := shelf.PressureOf(c, b)
	require.True(t, p.IsKnown(), p.Unknown)
	assert.InDelta(t, 10, p.Value.Points, 1e-6)
	assert.InDelta(t, 7.75, float64(p.Value.At20), 0.05)
	assert.Equal(t, carbonation.Over, p.Value.Strain.Value.Load())
	c.Readings[0].Gravity = 0.999
	assert.Zero(t, shelf.PressureOf(c, b).Value.Points)
}

// A still wine of 1.46 g/L at 30 °C: 1.2 bar with the air where it was filled at
// 20 °C, 1.5 where it was filled at 5 °C (a mole balance by hand, as for figure
// pressure). The filling temperature is the last one recorded by then, the low end
// of a range; none is 20 °C, and that is said.
func TestFilledAt(t *testing.T) {
	for _, c := range []struct {
		log         string
		at, hottest float64
		assumed     string
	}{
		{"", 20, 1.2, "filled at 20 °C, for no temperature is recorded"},
		{"-9 20C", 20, 1.2, ""},
		{"-9 20C|-1 5C", 5, 1.5, ""},
		{"-9 20C|-1 5..9C", 5, 1.5, ""},
		{"-1 20C|1 5C|2 open 5C", 20, 1.2, ""},
	} {
		k := courseOf(logged(t, c.log), func(k *course.Course) { k.Settings.Hottest = 30 })
		f := shelf.FilledAt(k, filled)
		assert.InDelta(t, c.at, float64(f.Value.At), 1e-9, c.log)
		assert.Equal(t, c.assumed, f.Assumed, c.log)
		p, err := f.Value.InBottle(1.46, carbonation.Liquid{Alcohol: 12}, 30, 0)
		require.NoError(t, err)
		assert.InDelta(t, c.hottest, float64(p.Gauge), 0.07, c.log)
	}
}

func TestPressureUnknown(t *testing.T) {
	fizzy := batch(bottles("stone jar of the uncle", 4, "", "5.0 g/L", ""))
	p := shelf.PressureOf(courseOf(nil), fizzy)
	require.True(t, p.IsKnown())
	assert.Contains(t, p.Value.Strain.Unknown, "stone jar of the uncle")
	no := courseOf(nil, func(c *course.Course) { c.Alcohol = course.Unknown[measure.Strength]("no original gravity") })
	assert.Equal(t, "the alcohol is not known: no original gravity", shelf.PressureOf(no, fizzy).Unknown)
	b := bottles(crown, 8, "", "", "")
	b.Honey, b.Size = measure.Give(measure.Grams(3), "3.0 g"), measure.Given[measure.Volume]{}
	assert.Equal(t, "neither fizz nor honey with the size of the bottle is written", shelf.PressureOf(courseOf(nil), batch(b)).Unknown)
}

func TestSigns(t *testing.T) {
	for _, c := range []struct {
		what, fizz, log, says string
		chilled               bool
	}{
		{"nothing yet", "5 g/L", "", "", false},
		{"at the limit", "5 g/L", "7 open hiss=4", "", false},
		{"over it", "5 g/L", "7 open hiss=4.5", "hiss 4.5", false},
		{"the one after is calm", "5 g/L", "7 open hiss=5|14 open hiss=3", "", false},
		{"one that was drunk says nothing", "5 g/L", "7 open hiss=5|14 open bottle=drink", "hiss 5", false},
		{"firm", "5 g/L", "3 squeeze feel=firm", "", false},
		{"hard", "5 g/L", "3 squeeze feel=hard", "the soft test bottle is hard", false},
		{"soft again", "5 g/L", "3 squeeze feel=hard|4 squeeze feel=firm", "", false},
		{"hard, and in the cold", "5 g/L", "3 squeeze feel=hard|3.1 chill", "the soft test bottle is hard", true},
		{"in the cold before", "5 g/L", "2 chill|3 squeeze feel=hard", "the soft test bottle is hard", false},
		{"a still one", "none", "30 open hiss=2", "", false},
		{"a still one that works", "none", "30 open hiss=3", "hiss 3", false},
	} {
		log := append([]*ferment.Entry{bottled(bottles(crown, 8, "", c.fizz, "test"))}, logged(t, c.log)...)
		k := courseOf(log)
		sign, has := shelf.Of(k).SignOf(k, 0)
		assert.Equal(t, c.says != "", has, c.what)
		assert.Equal(t, c.says, sign.Says, c.what)
		assert.Equal(t, c.chilled, !sign.Chill.IsZero(), c.what)
	}
}

func TestStanding(t *testing.T) {
	log := append(logged(t, "-2 15C place=cellar"), gorse())
	place, at := shelf.Of(courseOf(log)).Place(courseOf(log))
	assert.Empty(t, place)
	assert.False(t, at.Known())
	log = append(log, logged(t, `1 move place="the crate by the stair"|2 19C|7 open hiss=2 6C`)...)
	place, at = shelf.Of(courseOf(log)).Place(courseOf(log))
	assert.Equal(t, "the crate by the stair", place)
	assert.Equal(t, measure.Temperature(19), at.Value.High, "not that of the opened bottle")
}
