package forecast

import (
	"cmp"
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Kind is what a ferment has in common with others: its culture, else its yeast, and the lot of most of its honey.
type Kind struct{ Yeast, Honey string }

// KindOf returns the kind of a ferment.
func KindOf(f ferment.Ferment) Kind {
	k, most := Kind{Yeast: cmp.Or(f.Yeast.Culture, f.Yeast.Name)}, measure.Mass(-1)
	for _, h := range f.Must.Honey {
		if h.Lot != "" && h.Mass.Value > most {
			k.Honey, most = h.Lot, h.Mass.Value
		}
	}
	return k
}

// Did is what one ferment did from its pitch to its rest.
type Did struct {
	Kind
	ID                    string
	Pitched               time.Time
	Original, Finish, Dry measure.Gravity // before the pitch, at rest, and without any sugar
	Alcohol, Told         measure.Strength
	Days                  float64        // until within 0.004 of its finish; 0 if something went in on the way
	Rate, Lag             float64        // logarithms, less the usual ones; with Days only
	Lost                  measure.Volume // at a racking; 0 if unknown
	Fermented             measure.Share  // of the honey's solids; 0 if that is not sure
}

// DidOf returns what a ferment did until it was stabilised, primed, bottled or closed, else until now. It is not ok for
// one that still falls, and for a part of another ferment.
func DidOf(f ferment.Ferment, s ferment.Settings, now time.Time) (d Did, ok bool) {
	d = Did{Kind: KindOf(f), ID: f.ID, Told: f.Yeast.Tolerance.Value}
	pitched := slices.IndexFunc(f.Log, func(e ferment.Entry) bool { return e.Did == ferment.Pitch })
	rackings := measure.Volume(0)
	for i, e := range f.Log {
		if e.Did == ferment.Rack && e.Lost.Known() {
			rackings++
			d.Lost += (e.Lost.Value - d.Lost) / rackings
		}
		if i > pitched && slices.Contains([]ferment.Act{ferment.Sulphite, ferment.Sorbate, ferment.Prime, ferment.Bottle, ferment.Close}, e.Did) && e.At.Latest().Before(now) {
			now = e.At.Latest()
		}
	}
	c := course.Of(f, s, s.Limits, now)
	begin, began := c.FallsFrom()
	if !began || f.From.Ferment != "" || !c.Pitch.Known || !c.DryFinish.IsKnown() || !c.Gravity.IsKnown() || !c.Alcohol.IsKnown() || !rests(c) {
		return d, false
	}
	d.Pitched, d.Original, d.Finish, d.Dry, d.Alcohol = c.Pitch.At, c.Original.Value, c.Gravity.Value.Gravity, c.DryFinish.Value, c.Alcohol.Value
	d.Fermented = shareOf(c, d)
	at, ok := c.FirstMet(ferment.Condition{Kind: ferment.Below, Number: float64(d.Finish + nearEnd)})
	if ok && begin.At.Equal(c.Pitch.At) && d.Ended() != Early {
		d.Days = at.Sub(c.Pitch.At).Hours() / 24
		v := sight{clock: clockOf(c, begin.At), basis: basisOf(c, begin, Expect(nil, c.Ferment))}
		v.finish, v.measured = float64(d.Finish), true
		v.look(c)
		for _, e := range v.explain(v.series) {
			d.Rate, d.Lag = d.Rate+e.weight*(e.at[0]-e.form.rate.mean), d.Lag+e.weight*(e.at[1]-e.form.lag.mean)
		}
	}
	return d, true
}

// rests reports whether it is steady, dry, or falls by 0.002 or half a point a day at most (an assumption).
func rests(c *course.Course) bool {
	last := c.Gravity.Value
	before, ok := ferment.LastWhere(c.Readings, func(r course.Reading) bool {
		return r.Trusted() && r.From != course.FromMust && last.At.Sub(r.At) >= 48*time.Hour
	})
	slow := max(stallFall, 0.0005*last.At.Sub(before.At).Hours()/24)
	return c.Steady.Open || last.Gravity <= c.DryFinish.Value+0.002 || ok && float64(before.Gravity-last.Gravity) <= slow+1e-9
}

// What ended a ferment.
const (
	AtDry   = "dry"
	AtLimit = "at its yeast's limit"
	Early   = "stopped early"
)

// Ended returns what ended it: within 0.010 of dry the sugar, from 2 % vol under its tolerance on the yeast
// (assumptions).
func (d Did) Ended() string {
	switch {
	case d.Finish <= d.Dry+0.010:
		return AtDry
	case d.Alcohol >= cmp.Or(d.Told, alcohol.UsualTolerance)-2:
		return AtLimit
	}
	return Early
}

// trait is a number in which ferments differ: what is usual, and how much of the difference is the cellar's, the
// kind's and the ferment's own, as standard deviations. It is not ok for a ferment that does not show it.
type trait struct {
	usual, cellar, kind, own float64
	of                       func(Did) (v float64, ok bool)
}

// The traits (assumptions, no source; with no ferment known their sums are the priors of the forecast).
var (
	days = trait{math.Log(14), 0.25, 0.63, 0.30, func(d Did) (float64, bool) { return math.Log(d.Days), d.Days > 0 }}
	rate = trait{0, 0.25, 0.63, 0.32, func(d Did) (float64, bool) { return d.Rate, d.Days > 0 }}
	lag  = trait{0, 0.20, 0.54, 0.56, func(d Did) (float64, bool) { return d.Lag, d.Days > 0 }}
	over = trait{0, 0.0020, 0.0040, 0.0032, func(d Did) (float64, bool) { return float64(d.Finish - d.Dry), d.Ended() == AtDry }}
	lost = trait{0.25, 0.08, 0.09, 0.10, func(d Did) (float64, bool) { return float64(d.Lost), d.Lost > 0 }}
)

// next predicts the trait of the next ferment: the mean of its kind, spread also by how ferments of one kind differ.
func (t trait) next(like, others []Did) normal {
	n := t.kindOf(like, others)
	return normal{n.mean, math.Hypot(n.sd, t.own)}
}

// kindOf returns a trait of a kind: what is usual, moved by the others of the cellar, then by those like it, the less the
// fewer there are.
func (t trait) kindOf(like, others []Did) normal {
	n := normal{t.usual, t.cellar}.seen(t, others, math.Hypot(t.kind, t.own))
	return normal{n.mean, math.Hypot(n.sd, t.kind)}.seen(t, like, t.own)
}

// seen returns the mean of a trait after some ferments that differ by sd, weighed by precision.
func (n normal) seen(t trait, ds []Did, sd float64) normal {
	weight, sum := 1/(n.sd*n.sd), n.mean/(n.sd*n.sd)
	for _, d := range ds {
		if v, ok := t.of(d); ok {
			weight, sum = weight+1/(sd*sd), sum+v/(sd*sd)
		}
	}
	return normal{sum / weight, math.Sqrt(1 / weight)}
}

// Next is what the next ferment of a kind may do.
type Next struct {
	Kind
	Like              []Did           // of its yeast, or of its honey if it has no yeast, the latest first
	Stopped           int             // of Like, how many stopped early
	Days, Early, Late float64         // until it is done: the middle, and nine times in ten between the others
	Finish, Low, High measure.Gravity // from the original gravity of the latest
	Tolerance         measure.Strength
	Reached           bool           // the tolerance was seen, and not only told
	Lost              measure.Volume // at a racking

	rate, lag, over, reaches normal
	limited                  int // of Like, how many their yeast ended
}

// Expect returns what the next ferment may do by what others of the cellar did: by those with its yeast and, of what
// its sugar leaves, by those with its honey.
func Expect(ds []Did, f ferment.Ferment) Next {
	ds = slices.DeleteFunc(slices.Clone(ds), func(d Did) bool { return d.ID == f.ID })
	slices.SortFunc(ds, func(a, b Did) int { return b.Pitched.Compare(a.Pitched) })
	split := func(is func(Did) bool) (like, others []Did) {
		return ferment.Where(ds, is), ferment.Where(ds, func(d Did) bool { return !is(d) })
	}
	n := Next{Kind: KindOf(f)}
	sameHoney := func(d Did) bool { return n.Honey != "" && d.Honey == n.Honey }
	like, others := split(func(d Did) bool { return n.Yeast != "" && d.Yeast == n.Yeast || n.Yeast == "" && sameHoney(d) })
	n.Like, n.rate, n.lag = like, rate.next(like, others), lag.next(like, others)
	in, loss := days.next(like, others), lost.next(like, others)
	n.Days, n.Early, n.Late, n.Lost = math.Exp(in.mean), math.Exp(in.at(-1.645)), math.Exp(in.at(1.645)), measure.Volume(loss.mean)
	if n.Honey != "" {
		n.over = over.next(split(sameHoney))
	} else {
		n.over = over.next(like, others)
	}
	// A label is good to 1.5 % vol, the usual one to 2 (assumptions, no source). The yeast showed its tolerance where it
	// ended a ferment, or went dry above it.
	told, label := f.Yeast.Tolerance.Or(alcohol.UsualTolerance), 1.9
	if f.Yeast.Tolerance.Known() {
		label = 1.375
	} else if i := slices.IndexFunc(like, func(d Did) bool { return d.Told > 0 }); i >= 0 {
		told, label = like[i].Told, 1.375
	}
	shows := func(d Did) bool {
		return n.Yeast != "" && (d.Ended() == AtLimit || d.Ended() == AtDry && d.Alcohol > told)
	}
	n.reaches = trait{float64(told), 1e-6, label, 0.6, func(d Did) (float64, bool) { return float64(d.Alcohol), shows(d) }}.next(like, nil)
	n.Tolerance, n.Reached = measure.Strength(n.reaches.mean), slices.ContainsFunc(like, shows)
	n.limited = len(ferment.Where(like, func(d Did) bool { return d.Ended() == AtLimit }))
	n.Stopped = len(ferment.Where(like, func(d Did) bool { return d.Ended() == Early }))
	if len(like) > 0 {
		end, err := alcohol.FinishOf(like[0].Original, measure.Give(n.Tolerance, "seen"), alcohol.Fermentable)
		at := normal{float64(end.Dry) + n.over.mean, n.over.sd}
		if err == nil && end.AtTolerance {
			at = normal{float64(end.Gravity), perStrength * n.reaches.sd}
		}
		n.Finish, n.Low, n.High = measure.Gravity(at.mean), measure.Gravity(at.at(-1.645)), measure.Gravity(at.at(1.645))
	}
	return n
}
