package course

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// cellarOf is a cellar of a jug of 3 L from 1.090 at 0.997 and a demijohn of 2 L from 1.110 at 1.020.
func cellarOf(t *testing.T, jug, demijohn string) ferment.Cellar {
	heath := ferment.Ferment{ID: "heath", Log: logOf(t, "0 pitch | 20 0.997 "+jug)}
	threeLitres(&heath)
	clover := ferment.Ferment{ID: "clover", Tag: "CLO", Log: logOf(t, "0 pitch | 20 1.020 "+demijohn), Must: ferment.Must{
		Volume: measure.Give(measure.Volume(2), "2 L"), Gravity: measure.Give(measure.Gravity(1.110), "1.110")}}
	return ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC), Ferments: []ferment.Ferment{heath, clover}}
}

// onDay gives the courses of both on a day, each with what the other knows of it.
func onDay(c ferment.Cellar, days int) (heath, clover *Course) {
	whole := c.Joined(ferment.Parted(c.Ferments))
	of := func(f ferment.Ferment) *Course {
		return Of(Joined(f, c, pitchedAt.AddDate(0, 0, days)), c.Settings, c.Settings.Limits, pitchedAt.AddDate(0, 0, days))
	}
	return of(whole[0]), of(whole[1])
}

// TestBlendByTheOtherRecord is worked by hand, by volume: 3 L at 0.997 and 1 L at 1.020 are at 1.0028; 234.7 and
// 286.5 g/L of solids (ICUMSA SPS-4) are 247.7, an original of 1.0950.
func TestBlendByTheOtherRecord(t *testing.T) {
	before, source := onDay(cellarOf(t, "", ""), 40)
	for _, of := range []string{"blend 1L of=clover", "blend 1L of=CLO", `top-up 1L of=clover`, "blend 1L of=clover alcohol=3%"} {
		c, _ := onDay(cellarOf(t, "| 30 "+of, ""), 40)
		require.True(t, c.Alcohol.IsKnown(), c.Alcohol.Unknown)
		assert.InDelta(t, 4, float64(c.Volume.Value), 1e-9, of)
		assert.InDelta(t, 1.00275, float64(c.Present.Value), 0.0001, of)
		assert.InDelta(t, 1.0950, float64(c.Effective.Value), 0.0003, of)
		assert.InDelta(t, float64(3*before.Alcohol.Value+source.Alcohol.Value)/4, float64(c.Alcohol.Value), 0.001, of)
	}
	read, _ := onDay(cellarOf(t, "| 30 blend 1L of=clover | 31 1.0028", ""), 40)
	assert.InDelta(t, float64(3*before.Alcohol.Value+source.Alcohol.Value)/4, float64(read.Alcohol.Value), 0.15, "the next reading says the same")
	assert.Empty(t, read.Readings[len(read.Readings)-1].Doubt)
}

// TestBlendOfAll: without an amount all that there was goes in.
func TestBlendOfAll(t *testing.T) {
	c, other := onDay(cellarOf(t, "| 30 blend of=clover", "| 30 left=0L"), 40)
	assert.InDelta(t, 5, float64(c.Volume.Value), 1e-9)
	assert.Zero(t, other.Volume.Value)
	c, _ = onDay(cellarOf(t, "| 30 blend unknown of=clover", ""), 40)
	assert.False(t, c.Volume.IsKnown())
}

// TestPouredThereAndBack: each mead has what the other was before.
func TestPouredThereAndBack(t *testing.T) {
	c, other := onDay(cellarOf(t, "| 30 blend 1L of=clover", "| 35 blend 1L of=heath"), 40)
	assert.InDelta(t, 4, float64(c.Volume.Value), 1e-9)
	assert.InDelta(t, 3, float64(other.Volume.Value), 1e-9)
	assert.InDelta(t, (2*1.020+1.00275)/3, float64(other.Present.Value), 0.0001)
}

// TestTopUpWithTheSameMead changes nothing but the volume.
func TestTopUpWithTheSameMead(t *testing.T) {
	before, _ := onDay(cellarOf(t, "| 27 0.997 | 34 0.997 19C", ""), 40)
	for _, of := range []string{`"the same mead" alcohol=12%`, "heath"} {
		c, _ := onDay(cellarOf(t, "| 27 0.997 | 30 top-up 0.5L of="+of+" | 34 0.997 19C", ""), 40)
		assert.InDelta(t, 3.5, float64(c.Volume.Value), 1e-9)
		assert.Equal(t, before.Alcohol, c.Alcohol)
		assert.Equal(t, before.Steady, c.Steady)
	}
}
