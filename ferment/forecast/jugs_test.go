package forecast_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
)

// jug is a simulated must whose yeast grows on nitrogen until that is gone; then its uptake of sugar decays by itself
// and under ethanol. The equations and their numbers are not those of must: uptake is lost at a rate of its own after
// growth ends (turnover of transporters), and ethanol stops growth before uptake.
type jug struct {
	solids, fermentable  float64 // g/L, share
	nitrogen             float64 // g of it per g of yeast at most is 0.1
	grow, eat, decay     float64 // a day
	bears                float64 // % vol
	degrees              func(day float64) float64
	nutrientOn, nutrient float64
	honeyOn, honey       float64 // g/L
	shockOn              float64
	second               float64 // share of a yeast that bears half as much
	yield                float64
}

// gravities returns the gravity on each hour.
func (j jug) gravities(days float64) []float64 {
	const step = 1.0 / 48
	var out []float64
	sugar, other, ethanol, nitrogen := j.solids*j.fermentable, j.solids*(1-j.fermentable), 0.0, j.nitrogen
	yeast, active, warm := [2]float64{0.25 * (1 - j.second), 0.25 * j.second}, [2]float64{1, 1}, 1.0
	vigour := 1.0
	for i := 0; float64(i)*step < days; i++ {
		day := float64(i) * step
		if i%2 == 0 {
			out = append(out, gravityOf(sugar+other, ethanol))
		}
		if j.nutrientOn > 0 && math.Abs(day-j.nutrientOn) < step/2 {
			nitrogen += j.nutrient
		}
		if j.honeyOn > 0 && math.Abs(day-j.honeyOn) < step/2 {
			sugar, other = sugar+j.honey*j.fermentable, other+j.honey*(1-j.fermentable)
			thinner := 1 / (1 + 0.7*j.honey/800) // 0.8 of honey is solids, 1 kg of honey is 0.7 L
			sugar, other, ethanol, nitrogen = sugar*thinner, other*thinner, ethanol*thinner, nitrogen*thinner
			yeast[0], yeast[1] = yeast[0]*thinner, yeast[1]*thinner
		}
		if j.shockOn > 0 && math.Abs(day-j.shockOn) < step/2 {
			vigour = 0.001
		}
		warm = math.Pow(2.1, (j.degrees(day)-20)/10) * vigour
		for k := range yeast {
			bears := j.bears
			if k == 1 {
				bears /= 2
			}
			strong := ethanol / 7.89 / bears
			grown := warm * j.grow * nitrogen / (nitrogen + 20) * max(0, 1-1.3*strong) * sugar / (sugar + 3) * yeast[k]
			eaten := warm * j.eat * active[k] * yeast[k] * sugar / (sugar + 6 + sugar*sugar/900) * max(0, 1-math.Pow(strong, 4))
			yeast[k] += step * grown
			active[k] += step * (0.6*grown/max(yeast[k], 1e-9)*(1-active[k]) - warm*j.decay*(0.3+strong)*active[k]*20/(20+nitrogen))
			nitrogen = max(0, nitrogen-step*grown*90)
			gone := min(sugar, step*eaten)
			sugar -= gone
			other += gone * (1 - j.yield)
			ethanol += 0.511 * j.yield * gone
		}
	}
	return out
}

type dice struct{ *rand.Rand }

func (d dice) between(a, b float64) float64 { return a + (b-a)*d.Float64() }

// heavy is Student's t with 3 degrees of freedom, of about unit middle.
func (d dice) heavy() float64 {
	x := 0.0
	for range 3 {
		z := d.NormFloat64()
		x += z * z
	}
	return d.NormFloat64() / math.Sqrt(x/3)
}

func (d dice) jug() jug {
	return jug{
		solids: d.between(180, 300), fermentable: d.between(0.92, 0.975), nitrogen: d.between(60, 260), grow: d.between(0.9, 2.2), eat: d.between(12, 26),
		decay: d.between(0.02, 0.10), bears: d.between(13.5, 18.5), degrees: func(float64) float64 { return 20 }, yield: d.between(0.95, 0.975),
	}
}

// read takes readings of hourly gravities, from a day on, at uneven times.
func (d dice) read(name string, hourly []float64, every float64, off func(i int) float64, degrees func(day float64) float64) run {
	r := run{name: name}
	for day := 0.0; int(day*24) < len(hourly); {
		at := int(day * 24)
		warm := 0.0
		if degrees != nil {
			warm = math.Round(degrees(day))
		}
		r.points = append(r.points, point{float64(at) / 24, math.Round(1000*(hourly[at]+off(len(r.points)))) / 1000, warm})
		day += every * d.between(0.6, 1.4)
	}
	r.points[0].gravity = math.Round(1000*hourly[0]) / 1000
	return r
}

// lasts returns how long to look: 1.6 times the days until it is 0.003 over its gravity of day 150, and the interval.
func (d dice) lasts(hourly []float64) (days, every float64) {
	end := hourly[len(hourly)-1]
	for i, g := range hourly {
		if g <= end+0.003 {
			days = float64(i) / 24
			break
		}
	}
	return min(1.6*days+8, 150), max(0.3, min(days/d.between(4, 14), 9))
}

func steady(d dice) func(int) float64 {
	sd := d.between(0.0004, 0.0012)
	return func(int) float64 { return sd * d.NormFloat64() }
}

// jugKinds are kinds of jugs, each with the run of one and the day of its shock.
var jugKinds = []struct {
	name string
	make func(d dice) (run, float64)
}{
	{"own model", func(d dice) (run, float64) { return d.plain(d.jug(), steady(d), true), 0 }},
	{"no temperature", func(d dice) (run, float64) { return d.plain(d.jug(), steady(d), false), 0 }},
	{"cellars of other temperature", func(d dice) (run, float64) {
		j, t := d.jug(), d.between(11, 28)
		j.degrees = func(float64) float64 { return t }
		return d.plain(j, steady(d), true), 0
	}},
	{"swinging temperature", func(d dice) (run, float64) {
		j, t, amp, per, ph := d.jug(), d.between(16, 22), d.between(2, 6), d.between(2, 12), d.between(0, 6)
		j.degrees = func(day float64) float64 { return t + amp*math.Sin(2*math.Pi*day/per+ph) }
		return d.plain(j, steady(d), true), 0
	}},
	{"heavy tail", func(d dice) (run, float64) {
		return d.plain(d.jug(), func(int) float64 { return 0.001 * d.heavy() }, true), 0
	}},
	{"one gross slip", func(d dice) (run, float64) {
		r := d.plain(d.jug(), steady(d), true)
		i := 1 + d.IntN(max(1, r.done()-1))
		r.points[i].gravity += []float64{-1, 1}[d.IntN(2)] * math.Round(d.between(5, 14)) / 1000
		return r, 0
	}},
	{"strong, told wrong", func(d dice) (run, float64) {
		j := d.jug()
		j.solids = d.between(300, 380)
		r := d.plain(j, steady(d), true)
		r.told = math.Round(j.bears + d.between(-2.5, 1.5))
		return r, 0
	}},
	{"fed with honey", func(d dice) (run, float64) {
		j := d.jug()
		j.solids = d.between(160, 220)
		j.honeyOn, j.honey = math.Round(d.between(3, 9)), math.Round(d.between(30, 90))
		return d.fed(j), 0
	}},
	{"growth curves, one in four stops", func(d dice) (run, float64) { return d.curveRun(), 0 }},
	{"sudden stop", func(d dice) (run, float64) {
		j := d.jug()
		h := j.gravities(150)
		left := d.between(0.25, 0.75)
		for i, g := range h {
			if (g-h[len(h)-1])/(h[0]-h[len(h)-1]) < left {
				j.shockOn = float64(i) / 24
				break
			}
		}
		return d.plain(j, steady(d), true), j.shockOn
	}},
	{"two doses of nutrient", func(d dice) (run, float64) {
		j := d.jug()
		j.nitrogen = d.between(30, 90)
		j.nutrientOn, j.nutrient = math.Round(d.between(1, 7)), d.between(40, 120)
		r := d.plain(j, steady(d), true)
		r.acts = append(r.acts, act(j.nutrientOn+0.01, "nutrient 1g"))
		return r, 0
	}},
	{"two yeasts, one weak", func(d dice) (run, float64) {
		j := d.jug()
		j.second = d.between(0.5, 0.95)
		return d.plain(j, steady(d), true), 0
	}},
	{"read every week", func(d dice) (run, float64) {
		j := d.jug()
		j.eat, j.nitrogen = j.eat/2, j.nitrogen/2
		h := j.gravities(150)
		days, _ := d.lasts(h)
		return d.read("", h[:int(days*24)], 7, steady(d), nil), 0
	}},
	{"starved, slowing to a stop", func(d dice) (run, float64) {
		j := d.jug()
		j.nitrogen, j.decay = d.between(25, 60), d.between(0.15, 0.4)
		return d.plain(j, steady(d), true), 0
	}},
}

func (d dice) plain(j jug, off func(int) float64, warm bool) run {
	h := j.gravities(150)
	days, every := d.lasts(h)
	degrees := j.degrees
	if !warm {
		degrees = nil
	}
	return d.read("", h[:int(days*24)], every, off, degrees)
}

func (d dice) fed(j jug) run {
	h := j.gravities(150)
	days, every := d.lasts(h)
	off := steady(d)
	r := d.read("", h[:int(days*24)], every, off, j.degrees)
	at := int(j.honeyOn*24) + 2
	after := point{float64(at) / 24, math.Round(1000*(h[at]+off(0))) / 1000, 20}
	var out []point
	for _, p := range r.points {
		switch {
		case p.day < j.honeyOn-0.02:
			out = append(out, p)
		case p.day > after.day+0.3:
			if r.from == 0 {
				out = append(out, after)
				r.from = len(out) + 1
			}
			out = append(out, p)
		}
	}
	r.points = out
	// per litre: density of honey 1.42, 80 % solids; 4 L
	kilos := j.honey / 0.8 * 4 / 1000
	r.acts = []ferment.Entry{act(j.honeyOn, fmt.Sprintf("honey %.0fg", 1000*kilos))}
	return r
}

func (d dice) curveRun() run {
	original, k, lag := d.between(1.065, 1.125), 0.45*math.Exp(0.6*d.NormFloat64()), d.between(0.2, 3)
	end := 1 - (original-1)*0.045 + 0.003*d.NormFloat64()
	if d.IntN(4) == 0 {
		end += d.between(0.1, 0.5) * (original - end)
	}
	nu := math.Exp(0.8*d.NormFloat64()) - 0.9
	at := func(day float64) float64 {
		raw := func(day float64) float64 {
			x := math.Exp(1 + k*(lag+2/k-day))
			if nu > -0.05 && nu < 0.05 {
				return math.Exp(-x)
			}
			if 1+nu*x <= 0 {
				return 0
			}
			return math.Pow(1+nu*x, -1/nu)
		}
		return end + (original-end)*(1-raw(day))/(1-raw(0))
	}
	var h []float64
	for i := range 150 * 24 {
		h = append(h, at(float64(i)/24))
	}
	days, every := d.lasts(h)
	return d.read("", h[:int(days*24)], every, steady(d), nil)
}

// jugRuns returns so many runs of a kind, and the day of the shock of each.
func jugRuns(kind int, seed uint64, n int) (runs []run, shocks []float64) {
	d := dice{rand.New(rand.NewPCG(seed, uint64(kind)))}
	for len(runs) < n {
		r, shock := jugKinds[kind].make(d)
		if len(r.points) < 4 || r.done() < max(3, r.from) {
			continue
		}
		r.name = fmt.Sprint(jugKinds[kind].name, " ", len(runs))
		runs, shocks = append(runs, r), append(shocks, shock)
	}
	return runs, shocks
}

// act returns an entry as typed on a day.
func act(day float64, typed string) ferment.Entry {
	l, err := line.Parse(typed, line.Context{Now: dayAt(day), Zone: time.UTC})
	if err != nil {
		panic(err)
	}
	l.Entry.At = ferment.At(dayAt(day))
	return l.Entry
}
