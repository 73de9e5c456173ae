package alcohol

import (
	"cmp"
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Liquid is an amount of ethanol in water, without sugar.
type Liquid struct {
	Volume   measure.Volume
	Strength measure.Strength
}

// Mix returns the mixture of two liquids. The masses of water and ethanol add up, and the density of the mixture
// gives its volume, which is less than the sum: half a litre of water and half a litre of ethanol make 0.9646 L.
//
// Range: 0.1 mL to 2000 L, 0 to 100 % vol; outside an error. Source: OIML R 22 (1975), at 20 °C.
func Mix(a, b Liquid) (Liquid, error) {
	if err := cmp.Or(a.check(), b.check()); err != nil {
		return Liquid{}, err
	}
	massA, ethanolA := a.masses()
	massB, ethanolB := b.masses()
	share := measure.Share(min(100, 100*(ethanolA+ethanolB)/(massA+massB)))
	strength, err := gravity.EthanolByVolume(share)
	if err != nil {
		return Liquid{}, err
	}
	density, err := gravity.EthanolWater(share, 20)
	if err != nil {
		return Liquid{}, err
	}
	return Liquid{measure.Volume((massA + massB) * 1000 / float64(density)), strength}, nil
}

func (l Liquid) check() error {
	return cmp.Or(inVolume(l.Volume), measure.InRange("alcohol", l.Strength, 0, 100, "% vol"))
}

// masses returns the mass of the liquid and of its ethanol, in kg.
func (l Liquid) masses() (whole, ethanol float64) {
	share, _ := gravity.EthanolByMass(l.Strength)
	density, _ := gravity.EthanolWater(share, 20)
	whole = float64(l.Volume) * float64(density) / 1000
	return whole, whole * float64(share) / 100
}

// Dose is how much spirit to add to a medium, and the mixture that results.
type Dose struct {
	Spirit measure.Volume
	Made   Liquid // by OIML R 22, for a medium without sugar
}

// Spirit returns the spirit that brings a medium without alcohol to a strength at which
// only yeast grows that tolerates it:
//
//	v = V A/(S − A)
//
// Range: medium 1 mL to 2000 L, A 0.5 to 20 % vol and under S, S up to 100 % vol; outside an error. By definition;
// the exact mixture, given with it, is within 0.1 % vol of A up to 10 % vol.
func Spirit(medium measure.Volume, to, spirit measure.Strength) (Dose, error) {
	err := cmp.Or(
		measure.InRange("volume of the medium", medium, 0.001, mostVolume, "L"),
		measure.InRange("alcohol wanted", to, 0.5, 20, "% vol"),
		measure.InRange("alcohol of the spirit", spirit, 0.5, 100, "% vol"),
	)
	if err == nil && to >= spirit {
		err = fmt.Errorf("a spirit of %v cannot bring a medium to %v: it must be stronger, e.g. 40 %%", spirit, to)
	}
	if err != nil {
		return Dose{}, err
	}
	v := medium * measure.Volume(to/(spirit-to))
	made, err := Mix(Liquid{medium, 0}, Liquid{v, spirit})
	return Dose{v, made}, err
}

// Corrected corrects a hydrometer reading of a ferment to 20/20 °C where the alcohol of the sample is not known but
// follows from the original gravity: the correction of gravity.Hydrometer and the alcohol of BalanceOf, in turn until
// both agree. A reading above the original is treated as must.
//
// Range: original 1.002 to 1.250, else that of gravity.Hydrometer; outside an
// error. Uncertainty: 0.001, 0.002 with gas in the sample.
func Corrected(h gravity.Hydrometer, reads measure.Gravity, sample measure.Temperature, original measure.Gravity) (measure.Gravity, error) {
	if err := measure.InRange("original gravity", original, weakest, measure.HighestGravity, ""); err != nil {
		return 0, err
	}
	g, err := h.Correct(reads, sample, 0)
	for before := 0.0; err == nil && math.Abs(float64(g)-before) > 1e-5; { // each round is closer by a factor of some hundred
		before = float64(g)
		g, err = h.Correct(reads, sample, balance(original, g).Alcohol)
	}
	return g, err
}

// Refractometer returns the gravity of a ferment by the reading of a Brix refractometer, on which alcohol has an
// effect too. It searches the gravity below the original for which Balling's sugar and alcohol would give the
// reading, by gravity.IndexOfMixture. A reading equal to the original returns exactly the original.
//
// Range: original 1 to 50 °Bx, reading from that of 0.980 to 0.5 °Bx over the original;
// outside an error. Source: Lorentz and Lorenz, Balling 1865, the refraction of ethanol
// from memory. Uncertainty: 0.003; enough to see how far a ferment is, not to call it done.
func Refractometer(original, reads measure.Brix) (measure.Gravity, error) {
	if err := measure.InRange("original sugar", original, 1, 50, "°Bx"); err != nil {
		return 0, err
	}
	start, err := gravity.FromBrix(original)
	if err != nil {
		return 0, err
	}
	// The lowest possible reading is that of the lightest liquid, but no instrument reads under 0.
	lightest, err := refracts(start, gravity.Lowest)
	if err != nil {
		return 0, err
	}
	water, _ := gravity.RefractiveIndex(0)
	least, err := gravity.BrixOf(max(lightest, water))
	if err != nil {
		return 0, err
	}
	if err := measure.InRange("refractometer reading", reads, tenth(least), tenth(original+0.5), "°Bx"); err != nil {
		return 0, fmt.Errorf("%w, where the must began with %v", err, original)
	}
	if reads >= original {
		return start, nil
	}
	shown, err := gravity.RefractiveIndex(reads)
	if err != nil {
		return 0, err
	}
	return measure.Root(gravity.Lowest, start, func(g measure.Gravity) float64 {
		n, _ := refracts(start, g)
		return float64(n - shown)
	}), nil
}

// tenth rounds a reading to 0.1 °Bx, as an instrument shows it.
func tenth(b measure.Brix) measure.Brix { return measure.Brix(math.Round(10*float64(b)) / 10) }

// refracts returns the refractive index of a ferment that has come down to a gravity.
func refracts(original, g measure.Gravity) (gravity.Index, error) {
	b := balance(original, g)
	return gravity.IndexOfMixture(b.RealExtract, b.Mass, g)
}

// Compensated corrects a reading of a Brix refractometer without temperature compensation
// to 20 °C. It adds to the reading b
//
//	u (0.6024 + 0.7082 x − 0.9158 x² + 0.3574 x³) + u² (0.0908 − 0.1246 x)
//
// in °Bx, with u = (t − 20)/10 and x = b/100. Range 5 to 30 °C and 0 to 75 °Bx, outside an error. Source: fitted to
// the tables of OIV-MA-AS2-02 (2012) and of the interstate standard for refractometers, to 0.025 °Bx from 5 to 22 °C;
// above 22 °C to a few points from memory, 0.03 °Bx.
func Compensated(reads measure.Brix, sample measure.Temperature) (measure.Brix, error) {
	err := cmp.Or(
		measure.InRange("refractometer reading", reads, 0, 75, "°Bx"),
		measure.InRange("temperature of the sample", sample, 5, 30, "°C"),
	)
	if err != nil {
		return 0, err
	}
	u, x := float64(sample-20)/10, float64(reads)/100
	slope := 0.60243 + x*(0.70817+x*(-0.91578+x*0.35741))
	bend := 0.09084 - 0.12457*x
	return reads + measure.Brix(u*slope+u*u*bend), nil
}
