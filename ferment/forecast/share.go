package forecast

import (
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// lightest is the original gravity under which a finish says too little of the share: 0.001 is 2 % there.
const lightest measure.Gravity = 1.050

// diluting are the acts after which the original gravity is no longer that of the honey alone.
var diluting = []ferment.Act{ferment.FruitIn, ferment.Honey, ferment.Water, ferment.TopUp, ferment.Blend, ferment.Starter}

// shareOf returns the share of a honey's solids that a ferment fermented: of one that ended dry or passed a forced test,
// was made of one lot alone, and to which nothing was added since its pitch; else 0. One that rests higher without a
// test may be stuck.
func shareOf(c *course.Course, d Did) measure.Share {
	m := c.Ferment.Must
	added := slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return slices.Contains(diluting, e.Did) && e.At.Time.After(c.Pitch.At) })
	others := slices.ContainsFunc(m.Honey, func(h ferment.HoneyPart) bool { return h.Lot != d.Honey })
	dry := d.Ended() == AtDry || c.Test.Passed && d.Ended() != AtLimit
	if d.Honey == "" || others || len(m.Fruit) > 0 || !dry || added || d.Original < lightest {
		return 0
	}
	share, _ := alcohol.ShareFermented(d.Original, d.Finish) // 0 outside of its range
	return share
}

// fermented is the share of a honey's solids that ferments; the spreads are those of over at 1.100, the honeys' own from
// honeydew with 75 % to 95 % (assumptions, no source).
var fermented = trait{float64(alcohol.Fermentable), 1.5, 4, 3, func(d Did) (float64, bool) { return float64(d.Fermented), d.Fermented > 0 }}

// Share is what a lot's ferments suggest for its fermentable share.
type Share struct {
	Of               int           // ferments
	Share, Low, High measure.Share // nine times in ten between low and high
}

// String says the share, its spread and from how many ferments it is.
func (s Share) String() string {
	return fmt.Sprintf("from %d of yours with this lot: %.0f %% ferments (%.0f to %.0f %%)", s.Of, s.Share, s.Low, s.High)
}

// ShareOf returns the fermentable share that the ferments of a lot suggest, pulled toward the usual one and toward that
// of the other lots, the less the more there are. It is not ok without a ferment of that lot.
func ShareOf(ds []Did, lot string, usual measure.Share) (s Share, ok bool) {
	like := ferment.Where(ds, func(d Did) bool { return lot != "" && d.Honey == lot && d.Fermented > 0 })
	others := ferment.Where(ds, func(d Did) bool { return d.Honey != lot })
	t := fermented
	t.usual = float64(usual)
	n := t.kindOf(like, others)
	return Share{len(like), measure.Share(n.mean), measure.Share(n.at(-1.645)), measure.Share(min(n.at(1.645), 100))}, len(like) > 0
}
