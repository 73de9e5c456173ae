package shelf

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// Pressure is the expected gauge pressure of a batch, once the sugar that it was filled with has fermented.
type Pressure struct {
	CO2     measure.Content
	Points  float64 // of that sugar, unless it was dry or stabilised
	At20    measure.Pressure
	Hottest measure.Pressure                  // in the hottest place of the bottles
	Strain  course.Figure[carbonation.Strain] // in that place, of the weakest bottle
}

// FilledAt returns how bottles are filled at a time: at the last recorded temperature (the low end of a range, because
// cold mead takes in more air) and with the usual neck. Without a temperature it assumes 20 °C, and notes it.
func FilledAt(c *course.Course, at time.Time) course.Figure[carbonation.Filling] {
	read := func(e *ferment.Entry) bool {
		return e.Temperature.Known() && !e.Did.ApartFromCourse() && !e.At.Time.After(at)
	}
	if e, ok := ferment.LastWhere(c.Entries, read); ok {
		low := min(max(e.Temperature.Value.Low, carbonation.Coldest), carbonation.Hottest)
		return course.Known(carbonation.Filling{At: low, Headspace: carbonation.Usual.Headspace})
	}
	f := course.Known(carbonation.Usual)
	f.Assumed = "filled at " + f.Value.At.In(c.Settings.Units) + ", for no temperature is recorded"
	return f
}

// mostPoints is the most unfinished sugar that a pressure is worked out for: no bottle takes half of it.
const mostPoints = 20

// PressureOf returns the expected pressure of a batch; unknown if its alcohol or CO₂ is.
func PressureOf(c *course.Course, b Batch) course.Figure[Pressure] {
	if c.Settings.Unread {
		return course.Unknown[Pressure](ferment.Unlimited)
	}
	if !c.Alcohol.IsKnown() {
		return course.Unknown[Pressure]("the alcohol is not known: " + c.Alcohol.Unknown)
	}
	liquid := carbonation.Liquid{Alcohol: c.InBottles().Value}
	co2 := b.gas(c, liquid)
	if !co2.IsKnown() {
		return course.Unknown[Pressure](co2.Unknown)
	}
	filling := FilledAt(c, b.At)
	points := 0.0
	if over, sweet := c.SugarLeft(b.At); sweet {
		points = min(1000*float64(over), mostPoints)
	}
	at20, err := filling.Value.InBottle(co2.Value, liquid, 20, points)
	hottest, err2 := filling.Value.InBottle(co2.Value, liquid, c.Settings.Hottest, points)
	if err := cmp.Or(err, err2); err != nil {
		return course.Unknown[Pressure](err.Error())
	}
	p := course.Known(Pressure{CO2: co2.Value, Points: points, At20: at20.Gauge, Hottest: hottest.Gauge})
	p.Value.Strain = b.weakest(c.Settings, func(k carbonation.Bottle) (carbonation.Strain, error) {
		return k.Strain(filling.Value, co2.Value, liquid, c.Settings.Hottest, points)
	})
	p.Assumed = strings.Trim(co2.Assumed+"; "+filling.Assumed, "; ")
	return p
}

// gas returns the CO₂ of a batch: the target, else what the honey in each bottle adds to what was dissolved; in a still
// one only what was dissolved.
func (b Batch) gas(c *course.Course, l carbonation.Liquid) course.Figure[measure.Content] {
	if b.Fizz.Known() && b.Fizz.Value > 0 {
		return course.Known(b.Fizz.Value)
	}
	left, err := carbonation.GasLeft(l, c.WarmestBy(b.At).Value)
	if err != nil {
		return course.Unknown[measure.Content](err.Error())
	}
	left = c.Limits.GasLeft.Or(left)
	if b.Still() {
		f := course.Known(left)
		f.Assumed = "it kept the gas of one atmosphere"
		return f
	}
	most := course.Unknown[measure.Content]("neither fizz nor honey with the size of the bottle is written")
	for _, line := range b.Lines {
		if !line.As.Honey.Known() || !line.As.Size.Known() {
			continue
		}
		made, err := carbonation.Primed(left, line.As.Honey.Value, carbonation.Honey, honey.Typical, line.As.Size.Value)
		if err == nil && (!most.IsKnown() || made > most.Value) {
			most = course.Known(made)
			most.Assumed = fmt.Sprintf("the honey has %s of water", honey.Typical)
		}
	}
	return most
}

// weakest returns the strain of the kind of bottle in the batch that is nearest to its limit.
func (b Batch) weakest(s ferment.Settings, strain func(carbonation.Bottle) (carbonation.Strain, error)) course.Figure[carbonation.Strain] {
	worst := course.Unknown[carbonation.Strain]("no kind of bottle is written")
	for _, line := range b.Lines {
		if !line.Left.Some() || line.As.Kind == "" {
			continue
		}
		bottle, known := KindOf(s, line.As.Kind)
		made, err := strain(bottle)
		switch {
		case !known:
			return course.Unknown[carbonation.Strain]("the pressure that a " + line.As.Kind + " is made for is not known: list it under bottles in cellar.yaml")
		case err != nil:
			return course.Unknown[carbonation.Strain](err.Error())
		case !worst.IsKnown() || made.Share() > worst.Value.Share():
			worst = course.Known(made)
		}
	}
	return worst
}
