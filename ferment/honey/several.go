package honey

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// Portion is honey of one lot in a must.
type Portion struct {
	Mass  measure.Mass
	Water measure.Share
}

// Together is honey of several lots as one: the sum of the masses, and the mean
// of their water by mass.
func Together(ps ...Portion) Portion {
	var all Portion
	var water float64
	for _, p := range ps {
		all.Mass += p.Mass
		water += float64(p.Mass) * float64(p.Water)
	}
	if all.Mass > 0 {
		all.Water = measure.Share(water / float64(all.Mass))
	}
	return all
}

// RestFor is how much honey a must of a gravity and a volume wants besides what
// goes in of other lots:
//
//	honey = (V s − Σ others (1 − w))/(1 − w)
//
// Range and source as ForGravity; others that bring more than the gravity by
// themselves are an error.
func RestFor(g measure.Gravity, volume measure.Volume, water measure.Share, others ...Portion) (measure.Mass, error) {
	alone, err := ForGravity(g, volume, water)
	if err != nil {
		return 0, err
	}
	solids := Solids(alone.Honey, water)
	for _, p := range others {
		solids -= Solids(p.Mass, p.Water)
	}
	if solids < 0 {
		return 0, fmt.Errorf("the other honey alone brings more than %s", g)
	}
	return solids / measure.Mass(1-float64(water)/100), nil
}
