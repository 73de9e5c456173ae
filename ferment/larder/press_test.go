package larder_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
)

func water(v float64) measure.Given[measure.Share] { return measure.Give(measure.Share(v), "as read") }

// TestWater: 1.4900 is 18.6 % and 1.4865 is 20.0 % at 20 °C (AOAC 969.38); a
// kelvin more takes 0.00023 off the index (IHC 2009).
func TestWater(t *testing.T) {
	index := func(n float64) ferment.Lot { return ferment.Lot{RefractiveIndex: measure.Give(n, "as read")} }
	warm := index(1.4900 - 0.00023*5)
	warm.ReadAt = measure.Give(measure.Temperature(25), "25 °C")
	both := index(1.4900)
	both.Water = water(17)
	for _, c := range []struct {
		lot     ferment.Lot
		want    float64
		assumed bool
	}{{index(1.4900), 18.6, true}, {index(1.4865), 20.0, true}, {warm, 18.6, false}, {both, 17, false}} {
		w := larder.Of(c.lot, nil, now).Water
		require.True(t, w.Known())
		assert.InDelta(t, c.want, float64(w.Share), 0.03)
		assert.Equal(t, c.assumed, w.Assumed)
	}
	for _, l := range []ferment.Lot{{}, index(1.33)} {
		assert.NotEmpty(t, larder.Of(l, nil, now).Water.Unknown)
	}
}

// TestByUrgency: the limits are those of honey.KeepingOf; the order among lots is common
// practice, no source.
func TestByUrgency(t *testing.T) {
	aged := func(id string, days int, w float64) ferment.Lot {
		l := ferment.Lot{ID: id, Taken: ferment.At(now.AddDate(0, 0, -days))}
		if w > 0 {
			l.Water = water(w)
		}
		return l
	}
	wash := aged("wash", 1, 60)
	wash.State = larder.CappingsWash
	treated := aged("treated", 50, 21)
	treated.Treated = "thymol, 2026-08-02"
	gone := aged("gone", 50, 21)
	gone.Mass, gone.Used = mass("1 kg"), []ferment.Use{{Mass: mass("1 kg")}}
	lots := []ferment.Lot{gone, treated, aged("dry-new", 10, 17), aged("dry-old", 400, 17.9), aged("unmeasured", 30, 0),
		aged("18.1", 30, 18.1), aged("18.7", 30, 18.7), aged("20.1", 30, 20.1), wash}
	var ids []string
	for _, a := range larder.ByUrgency(larder.All(lots, nil, now)) {
		ids = append(ids, a.Lot.ID)
	}
	assert.Equal(t, []string{"wash", "20.1", "18.7", "18.1", "unmeasured", "dry-old", "dry-new", "treated", "gone"}, ids)
	assert.False(t, larder.Of(wash, nil, now).WashTooOld())
	assert.True(t, larder.Of(wash, nil, now.Add(25*time.Hour)).WashTooOld())
}

// TestMakes: a kilogram of 17.2 % makes 7.1 L at 1.045, 4.0 L at 1.080 and 3.2 L at 1.100,
// calculated with 2607 g/L of solids a unit of gravity, which is within 1 % of ICUMSA SPS-4
// between them.
func TestMakes(t *testing.T) {
	lot := ferment.Lot{ID: "x", Mass: mass("1.000 kg"), Water: water(17.2)}
	made, err := larder.Of(lot, nil, now).Makes(4.1)
	require.NoError(t, err)
	for i, want := range []struct {
		g, litres float64
		vessels   int
	}{{1.045, 7.1, 2}, {1.080, 4.0, 1}, {1.100, 3.2, 0}} {
		assert.InDelta(t, want.g, float64(made[i].Gravity), 1e-9)
		assert.InDelta(t, want.litres, float64(made[i].Volume), 0.07)
		assert.Equal(t, want.vessels, made[i].Vessels, "3.49 L go into a jug of 4.1 L")
	}
	lot.Water = measure.Given[measure.Share]{}
	assumed, err := larder.Of(lot, nil, now).Makes(4.1)
	require.NoError(t, err)
	assert.InDelta(t, float64(made[1].Volume), float64(assumed[1].Volume), 1e-9, "the mean of all honeys")
	lot.State = larder.CappingsWash
	_, err = larder.Of(lot, nil, now).Makes(4.1)
	assert.Error(t, err, "of a wash nobody knows anything without a reading")
	_, err = larder.Of(ferment.Lot{ID: "x"}, nil, now).Makes(4.1)
	assert.Error(t, err)
}

func TestUsualVessel(t *testing.T) {
	jug := func(v float64) ferment.Ferment {
		return ferment.Ferment{Vessel: ferment.Vessel{Brimful: measure.Give(measure.Volume(v), "as measured")}}
	}
	assert.EqualValues(t, 4.1, larder.UsualVessel(nil))
	assert.EqualValues(t, 5, larder.UsualVessel([]ferment.Ferment{jug(4), jug(5), {}, jug(10), jug(5)}))
	assert.EqualValues(t, 4, larder.UsualVessel([]ferment.Ferment{jug(5), jug(4)}))
}
