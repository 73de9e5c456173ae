package app

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// early are the acts on a fermenting must, never done to bottles.
var early = []ferment.Act{ferment.Pitch, ferment.Started, ferment.Degas, ferment.Aerate, ferment.Nutrient, ferment.Punch, ferment.FruitIn, ferment.FruitOut}

// dry is a gravity at which there is no sugar left for the yeast (common practice, no source).
const dry measure.Gravity = 1.000

// stillWorks is the pace of a ferment that no bottle can hold, in points of gravity a day (common practice, no source).
const stillWorks = 2

// unlikelyVessel asks about an act that makes no sense on a ferment: another may be meant.
func unlikelyVessel(v Vessel, e ferment.Entry) []Ask {
	g := v.Course.Gravity
	end, closed := v.Course.Last(ferment.Close)
	feeds := func(s ferment.Step) bool { return s.Culture && s.Do == string(ferment.Nutrient) }
	switch {
	case closed && e.At.Time.After(end.At.Time) && e.Bottle == "" && e.Did != ferment.Taste && (e.Did != "" || e.HasDensity()):
		return asked("it is closed: the other vessel?")
	case v.Course.Stage == course.Bottled && slices.Contains(early, e.Did):
		return asked(fmt.Sprintf("%s, and all of it is in bottles: the other vessel?", e.Did))
	case e.Did == ferment.Close && shelf.Of(v.Course).Left(shelf.Test, shelf.Tasting).Some():
		return asked("bottles for tests or tastings are left, and nobody reminds you of them once it is closed: open and taste them first?")
	case e.Did == ferment.Bottle && e.Because == "" && g.IsKnown() && g.Value.Gravity > dry && v.Course.Pace.Value >= stillWorks:
		return asked(fmt.Sprintf("it still falls %s points a day, so its bottles would burst: the other vessel?", measure.Decimal(v.Course.Pace.Value, 1)))
	case e.Bottle != "":
		if says := shelf.Of(v.Course).Unlikely(&e); says != "" {
			return []Ask{{Part: e.Bottle, Says: says + ": the other vessel? another number?"}}
		}
		return nil
	case e.Did == ferment.FruitOut && !v.hasFruit():
		return asked("no fruit is in it by its record: the other vessel?")
	case v.Course.Steady.Open && bringsSugar(e):
		if stable, _ := v.Course.Holds(ferment.Condition{Kind: ferment.Stabilised}); stable {
			return nil
		}
		return asked(fmt.Sprintf("%s: this mead is steady and not stabilised, so it will ferment again, and bottles filled too soon burst. Stabilise it first, or let it finish once more", strings.ReplaceAll(string(e.Did), "-", " ")))
	case e.Did != ferment.Nutrient:
		return nil
	case v.Culture != nil && !slices.ContainsFunc(v.Plan.Steps, feeds):
		return asked("nutrient for a culture whose plan asks for none: the other vessel?")
	case v.Culture == nil && g.IsKnown() && g.Value.Gravity <= dry:
		return asked(fmt.Sprintf("nutrient at %s, where no sugar is left: the other vessel?", g.Value.Gravity.Places(3)))
	}
	return nil
}

// hasFruit reports whether fruit went in and was not taken out since.
func (v Vessel) hasFruit() bool {
	in, put := v.Course.Last(ferment.FruitIn)
	out, taken := v.Course.Last(ferment.FruitOut)
	return !taken && len(v.Ferment.Must.Fruit) > 0 || put && (!taken || in.At.Time.After(out.At.Time))
}

// unlikelyPour asks about more of another ferment than it has, and about a racking without what came over.
func unlikelyPour(s Snapshot, v Vessel, e ferment.Entry) (asks []Ask) {
	amount, is := e.Amount.Volume()
	litres := func(v measure.Volume) string { return v.In(s.Cellar.Settings.Units) }
	switch {
	case e.Did == ferment.Rack && !is && !e.Volume.Known() && !e.Lost.Known() && e.Clarity == "" && v.Course.Volume.IsKnown():
		return asked(measure.Fill("how much came over? Write it behind, e.g. rack {3.1 L}; without it the record keeps all "+litres(v.Course.Volume.Value)+
			", lees too", s.Cellar.Settings.Units))
	case e.Did != ferment.TopUp && e.Did != ferment.Blend || !is:
		return nil
	}
	for _, o := range s.Vessels {
		has := o.Course.Volume
		if v.Ferment.Pours(&e) && o.Ferment.Called(e.Of) && has.IsKnown() && amount > has.Value+0.005 {
			asks = append(asks, Ask{Part: e.Amount.Text, Says: fmt.Sprintf("%s has %s: measure it, or take less", o.Label(), litres(has.Value))})
		}
	}
	return asks
}

func bringsSugar(e ferment.Entry) bool {
	of := strings.ToLower(e.Of)
	return e.Did == ferment.Honey || e.Did == ferment.FruitIn || e.Did == ferment.TopUp && (strings.Contains(of, "juice") || strings.Contains(of, "honey"))
}
