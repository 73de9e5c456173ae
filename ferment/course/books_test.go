package course

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/gravity"
)

// TestVolumeAndSugarBalance: volume and sugar (as if none had fermented) after additions and removals agree with an
// independent sum. A kilogram of water has 1/0.998203 L at 20 °C (ICUMSA SPS-4), a kilogram of sugar adds about 0.6225
// L; within 0.5 % of the sugar and 5 mL.
func TestVolumeAndSugarBalance(t *testing.T) {
	const water, sugar = 1 / 0.998203, 0.6225
	s, err := gravity.Solids(1.090)
	require.NoError(t, err)
	rapid.Check(t, func(r *rapid.T) {
		volume, solids := 3.0, float64(s)*3.0
		log := []string{"0 pitch"}
		for day := range rapid.IntRange(0, 8).Draw(r, "acts") {
			n := float64(rapid.IntRange(50, 400).Draw(r, "amount"))
			act := rapid.SampledFrom([]string{"honey %gg water=18%%", "water %gmL", "fruit-in %gg of=bramble", "degas lost=%gmL"}).Draw(r, "act")
			switch {
			case strings.HasPrefix(act, "honey"):
				volume, solids = volume+(n*0.18*water+n*0.82*sugar)/1000, solids+n*0.82
			case strings.HasPrefix(act, "water"):
				volume += n / 1000
			case strings.HasPrefix(act, "fruit"):
				volume, solids = volume+(n*0.88*water+n*0.05*sugar)/1000, solids+n*0.05
			default:
				solids -= solids * n / 1000 / volume
				volume -= n / 1000
			}
			log = append(log, fmt.Sprintf("%d "+act, day+1, n))
		}
		c := after(t, 20, strings.Join(log, " | "), threeLitres)
		require.True(r, c.Effective.IsKnown(), c.Effective.Unknown)
		assert.InDelta(r, volume, float64(c.Volume.Value), 0.005)
		got, err := gravity.Solids(c.Effective.Value)
		require.NoError(r, err)
		assert.InEpsilon(r, solids, float64(got)*float64(c.Volume.Value), 0.005)
	})
}

// TestAlcoholAfterSweetening: honey dilutes the alcohol of a dry mead and raises its gravity without fermenting. By
// hand: 3.2 L and 160 g of honey of 18.1 % water, 0.1096 L, are 3.3096 L of 0.9669 times the strength, and weigh 3.3447
// kg.
func TestAlcoholAfterSweetening(t *testing.T) {
	const dry = "0 pitch | 20 0.997 | 30 vol3.2L"
	before, c := after(t, 40, dry, threeLitres), after(t, 40, dry+" | 35 honey 160g water=18.1%", threeLitres)
	assert.InDelta(t, 3.3096, float64(c.Volume.Value), 0.0005)
	assert.InDelta(t, 0.9669*float64(before.Alcohol.Value), float64(c.Alcohol.Value), 0.005)
	assert.InDelta(t, 3.3447/3.3096/0.998203, float64(c.Present.Value), 0.0003)
	assert.InDelta(t, 1, c.SugarGone.Value.Share+float64((c.Present.Value-c.DryFinish.Value)/(c.Effective.Value-c.DryFinish.Value)), 1e-6)
	_, unit := before.SugarGone.Value.Parts()
	assert.Equal(t, "% or more", unit, "nobody tested that it is all gone")
	tested := after(t, 40, dry+" | 31 forced-test | 37 forced-test 0.997", threeLitres)
	share, unit := tested.SugarGone.Value.Parts()
	assert.Equal(t, "100 %", share+" "+unit)

	read := after(t, 40, dry+" | 35 honey 160g water=18.1% | 36 1.0124", threeLitres)
	assert.InDelta(t, float64(c.Alcohol.Value), float64(read.Alcohol.Value), 0.1, "the next reading says the same")
}
