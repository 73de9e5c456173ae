package forecast

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Did is the course of one ferment from its pitch to its end, in numbers.
type Did struct {
	Name             string
	Pitched          time.Time
	Original, Finish measure.Gravity
	Dry              measure.Gravity // the finish with no sugar left
	Days             float64         // until 0.004 over its finish
}

// DidOf returns the numbers of a finished ferment. It is not ok unless the ferment is steady, bottled or closed, and
// nothing was added after the pitch.
func DidOf(c course.Course) (Did, bool) {
	begin, ok := c.FallsFrom()
	ended := c.Over() || c.Stage == course.Bottled || c.Steady.Open
	if !ok || !ended || !c.Pitch.Known || !begin.At.Equal(c.Pitch.At) || !c.DryFinish.IsKnown() || !c.Gravity.IsKnown() {
		return Did{}, false
	}
	d := Did{c.Ferment.ID, c.Pitch.At, begin.Gravity, c.Gravity.Value.Gravity, c.DryFinish.Value, 0}
	to, before := d.Finish+nearEnd, begin
	for _, r := range c.Readings {
		if !r.Trusted() || r.From == course.FromStart || !r.At.After(begin.At) {
			continue
		}
		if r.Gravity <= to {
			from, span := before.At.Sub(c.Pitch.At).Hours()/24, r.At.Sub(before.At).Hours()/24
			d.Days = from + span*float64((before.Gravity-to)/max(before.Gravity-r.Gravity, 1e-6))
			return d, d.Days > 0
		}
		before = r
	}
	return Did{}, false
}

// Expects is what to expect of the next ferment of a yeast: the median and the range that contains it nine times in
// ten.
type Expects struct {
	Days, EarlyDays, LateDays  float64
	OverDry, LowOver, HighOver measure.Gravity // its finish over the dry one
	From                       int             // number of ferments behind it
}

// Expect combines the finished ferments of one yeast with a prior for all yeasts; with few ferments the prior counts
// more. The prior is about the logarithm of the days and the finish over dry, between yeasts and between ferments of
// one (assumptions: dry in about two weeks, within a factor of two).
func Expect(ds []Did) Expects {
	const in90 = 1.645 // standard deviations
	var days, over []float64
	for _, d := range ds {
		days, over = append(days, math.Log(d.Days)), append(over, float64(d.Finish-d.Dry))
	}
	n, f := normal{math.Log(14), 0.75}.after(days, 0.30), normal{0.002, 0.006}.after(over, 0.004)
	return Expects{
		math.Exp(n.mean), math.Exp(n.mean - in90*n.sd), math.Exp(n.mean + in90*n.sd),
		measure.Gravity(f.mean), measure.Gravity(f.mean - in90*f.sd), measure.Gravity(f.mean + in90*f.sd), len(ds),
	}
}

// after returns the prediction of the next value after some were seen, which differ by the standard deviation within:
// mean and data weighted by precision, plus within for the one to come.
func (n normal) after(seen []float64, within float64) normal {
	weight, sum := 1/(n.sd*n.sd), n.mean/(n.sd*n.sd)
	for _, v := range seen {
		weight, sum = weight+1/(within*within), sum+v/(within*within)
	}
	return normal{sum / weight, math.Sqrt(1/weight + within*within)}
}
