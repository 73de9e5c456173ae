package app

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/remark"
	"cellar/jugkeeper/schedule"
)

// Kept is what was written, by subject.
type Kept struct {
	Receipts []ferment.Receipt
	Notices  []string // what a person should know about it: "too soon: …"
}

// Log adds entries to the log of each subject. They are always written; what a gate has against them is returned as a
// notice. An amount in g/L is converted to each vessel's own.
func (d *App) Log(now time.Time, subjects []string, entries ...ferment.Entry) (Kept, error) {
	return d.settle(now, subjects, func(v Vessel, s Snapshot) ([]ferment.Entry, []string, error) { return stated(v, entries, s.At) })
}

// stated fills in what entries leave to the vessel: time and amount.
func stated(v Vessel, entries []ferment.Entry, now time.Time) ([]ferment.Entry, []string, error) {
	var out []ferment.Entry
	var notices []string
	for _, e := range entries {
		e.At = orNow(e.At, now)
		var err error
		if e.Amount, err = ownAmount(e.Amount, v); err != nil {
			return nil, nil, err
		}
		if no := against(v, e); no != nil && e.Overrode == "" && !hasOwnGate(e, entries) && no.Name != string(e.Clarity) {
			says := fmt.Sprintf("%s: %s, %s: %s. It is kept and counted. Better: %s", v.Ferment.Label(), e.Did, no.Verdict, strings.Join(no.Why, "; "), no.Instead)
			notices = append(notices, strings.TrimSuffix(says, " Better: "))
		}
		out = append(out, e)
	}
	return out, notices, nil
}

// hasOwnGate reports whether an entry belongs to a bottling, which has its own gate.
func hasOwnGate(e ferment.Entry, with []ferment.Entry) bool {
	named := slices.ContainsFunc(with, func(o ferment.Entry) bool { return o.Did == ferment.Bottle && len(o.Bottles) > 0 })
	return named && (e.Did == ferment.Prime || e.Did == ferment.Bottle)
}

// against returns what forbids an act that an entry says was done.
func against(v Vessel, e ferment.Entry) *schedule.No {
	t, err := mustMean(v, string(e.Did))
	if e.Did == "" || err != nil {
		return nil
	}
	return schedule.Refusal(t, v.Day, v.Course)
}

// ownAmount converts an amount per litre to the vessel's own.
func ownAmount(a ferment.Amount, v Vessel) (ferment.Amount, error) {
	if a.Unknown || a.Dimension() != measure.OfContent {
		return a, nil
	}
	volume := v.Course.Volume
	if !volume.IsKnown() {
		return a, fmt.Errorf("%s: %s needs the volume in the vessel: %s", v.Ferment.Label(), a.Text, volume.Unknown)
	}
	grams := a.Value() * float64(volume.Value)
	return ferment.Amount{Quantity: measure.Of(measure.Round(grams, 2), "g")}, nil
}

// write adds the entries of entriesFor to each vessel's log, after checking all of them, and what they pour in to the log of the other.
func (d *App) write(s Snapshot, vessels []Vessel, entriesFor func(Vessel) ([]ferment.Entry, []string, error)) (Kept, error) {
	var kept Kept
	var first, refused *Refused
	perVessel := make([][]ferment.Entry, len(vessels))
	for i, v := range vessels {
		entries, notices, err := entriesFor(v)
		switch {
		case errors.As(err, &refused) && first == nil:
			first = refused
		case errors.As(err, &refused):
			first.Others = append(first.Others, refused)
		case err != nil:
			return Kept{}, err
		}
		perVessel[i], kept.Notices = entries, append(kept.Notices, notices...)
	}
	if first != nil {
		return Kept{}, first
	}
	for i, v := range vessels {
		for _, loss := range v.Ferment.Losses(perVessel[i], s.Cellar.Ferments) {
			other, _ := s.Find(loss.Subject)
			vessels, perVessel = append(vessels, other), append(perVessel, loss.Entries)
		}
	}
	var failed error
	for i, v := range vessels {
		receipts, err := d.put(v, perVessel[i])
		failed = errors.Join(failed, err)
		said := func(r ferment.Receipt) []string { return ofReceipt(v, r) }
		kept.Notices = append(kept.Notices, ferment.Flat(receipts, said)...)
		kept.Receipts = append(kept.Receipts, receipts...)
	}
	d.remember(s.At, kept.Receipts)
	return kept, failed
}

// put writes entries into one file. An entry that closes a ferment moves the file too.
func (d *App) put(v Vessel, entries []ferment.Entry) ([]ferment.Receipt, error) {
	closes := slices.ContainsFunc(entries, func(e ferment.Entry) bool { return e.Did == ferment.Close })
	if closes && v.Culture == nil {
		return d.store.Apply(ferment.Change{Entries: []ferment.Logged{{Subject: v.ID(), Entries: entries}}, Closes: []string{v.ID()}})
	}
	receipt, err := d.store.Append(v.ID(), entries)
	if err != nil {
		return nil, err
	}
	return []ferment.Receipt{receipt}, nil
}

// ofReceipt returns what a person should know about how something was written.
func ofReceipt(v Vessel, r ferment.Receipt) []string {
	switch {
	case r.Stood:
		return []string{v.Label() + ": it was there already, so nothing was added"}
	case v.Course.Settings.Unread && len(r.Entries) > 0:
		return []string{fmt.Sprintf("%s: cellar.yaml cannot be read: its time has the offset of this machine, %s", v.Label(), r.Entries[0].At.Time.Format("-07:00"))}
	case r.Alone != "":
		return []string{fmt.Sprintf("%s: it is in its file only, because the second record cannot be written: %s", v.Label(), r.Alone)}
	}
	return nil
}

// remember stores receipts for undo, except for entries that were there already.
func (d *App) remember(now time.Time, receipts []ferment.Receipt) {
	if wrote := ferment.Where(receipts, func(r ferment.Receipt) bool { return !r.Stood }); len(wrote) > 0 {
		d.store.SetWritten(append(d.store.Written(), ferment.Written{At: now, Receipts: wrote}))
	}
}

// When an entry is unlikely (common practice, no source): gravity rises by more than a hydrometer's error, falls faster
// than a jug ferments, or two jugs of one must differ on the first day.
const (
	unlikelyRise    = 0.003
	unlikelyFall    = 0.030 // a day
	unlikelySibling = 0.010
	offTheMust      = 0.004 // from the must in the file, for a reading before the pitch
)

// Unlikely returns the questions about an entry of a vessel of the snapshot before it is kept.
func Unlikely(s Snapshot, v Vessel, e ferment.Entry) []Ask {
	e.At = orNow(e.At, s.At)
	return unlikely(s, v, withEntry(s, v, e), e)
}

// unlikely asks about what is unlikely in an entry, given the vessel before and after it.
func unlikely(s Snapshot, v, after Vessel, e ferment.Entry) []Ask {
	return slices.Concat(unlikelyTime(v, e, s.At), implausible(s, v, after, e), unlikelyAgain(v, e, s.At), unlikelyPour(s, v, e))
}

// implausible returns the questions about the values of an entry, at any time.
func implausible(s Snapshot, v, after Vessel, e ferment.Entry) []Ask {
	asks := slices.Concat(unlikelyVessel(v, e), unlikelyValues(v, e), unlikelyDose(s, v, after, e))
	r, ok := after.Course.ReadingOf(&e)
	if !ok {
		return asks
	}
	if o := v.Course.Original; v.Culture == nil && !v.Course.Pitch.Known && o.IsKnown() && math.Abs(float64(r.Gravity-o.Value)) > offTheMust+1e-9 {
		asks = append(asks, Ask{Part: e.DensityText(), Says: fmt.Sprintf("%s, but by what went in the must should be at %s: which is wrong?", e.DensityText(), o.Value.Places(3))})
	}
	if before, ok := readBefore(v.Course, r.At); ok {
		asks = append(asks, unlikelyChange(before, r, e, v)...)
	}
	if slices.ContainsFunc(v.Course.Readings, func(had course.Reading) bool {
		return had.IsMeasured() && had.Gravity == r.Gravity && had.At.Sub(r.At).Abs() < time.Minute
	}) {
		asks = append(asks, asked("the same reading is written down already, less than a minute away: typed twice?")...)
	}
	return append(asks, unlikelySiblings(s, v, r)...)
}

func unlikelyTime(v Vessel, e ferment.Entry, now time.Time) []Ask {
	switch {
	case e.At.Earliest().After(now):
		return asked("it is in the future: another day? the clock?")
	case v.Course.Pitch.Known && !v.Course.Pitch.Assumed && e.Did != ferment.Mix && e.At.Latest().Before(v.Course.Pitch.At):
		return asked("it is before the pitch, " + v.Course.Pitch.At.Format("2 Jan 15:04") + ": another day? another vessel?")
	}
	if mix, mixed := v.Course.First(ferment.Mix); mixed && e.Did != ferment.Mix && e.At.Latest().Before(mix.At.Time) {
		return asked("it is before the must was mixed, " + mix.At.Time.Format("2 Jan 15:04") + ": another day? another vessel?")
	}
	return nil
}

// unlikelyChange asks about a rise without a reason, and a fall faster than a jug ferments or three times this one's
// pace. For a rise, marking it doubtful ignores the later reading, and confirming it ignores the earlier one.
func unlikelyChange(before, r course.Reading, e ferment.Entry, v Vessel) []Ask {
	change := measure.Round(float64(r.Gravity-before.Gravity), 4)
	apart := e.At.Latest().Sub(before.At) // an entry without hour counts as late as possible
	raised := raises(e.Did) || slices.ContainsFunc(v.Course.Entries, func(e *ferment.Entry) bool {
		return raises(e.Did) && !e.At.Time.Before(before.At) && !e.At.Time.After(r.At)
	})
	switch {
	case change > unlikelyRise && e.Doubt == ferment.NoWord && !raised:
		says := fmt.Sprintf("+%s points in %s: gas on the stem? honey at the bottom? the other vessel?", measure.Decimal(change*1000, 1), course.Ago(apart))
		if !before.IsMeasured() {
			return asked(says)
		}
		typed := e.DensityText()
		says += fmt.Sprintf(" Which one is wrong, this one or %s of %s?", before.Gravity.Places(3), before.At.Format("2 Jan 15:04"))
		return []Ask{{Part: typed, Says: says, Named: true, Meant: []Meant{
			{Type: typed + " ?", Says: "this one is wrong"}, {Type: typed + " doubt=false", Says: "the earlier one is wrong"}}}}
	case -change > steepestFall(v.Course, apart):
		return asked(fmt.Sprintf("%s points in %s: a typing slip? the other vessel?", measure.Decimal(change*1000, 1), course.Ago(apart)))
	}
	return nil
}

// steepestFall returns the largest fall that is not asked about: three times the pace of a fermenting jug, and at least
// that of a fast day, because a slow start says nothing yet.
func steepestFall(c *course.Course, apart time.Duration) float64 {
	days := math.Max(apart.Hours(), 1) / 24
	most := unlikelyFall * days
	read := func(r course.Reading) bool { return r.IsMeasured() && r.Trusted() }
	if c.Pace.IsKnown() && c.Pace.Value > 0 && len(ferment.Where(c.Readings, read)) >= 2 {
		most = math.Min(most, math.Max(3*c.Pace.Value/1000*days, math.Max(0.012*days, 0.005)))
	}
	return measure.Round(most, 5)
}

// readBefore returns the latest reading, up to the minute of a time, that is not in doubt.
func readBefore(c *course.Course, at time.Time) (course.Reading, bool) {
	return trustedBefore(c, at.Add(time.Nanosecond))
}

func raises(a ferment.Act) bool {
	return slices.Contains([]ferment.Act{ferment.Honey, ferment.FruitIn, ferment.Blend, ferment.TopUp, ferment.Passage, ferment.Prove}, a)
}

// unlikelySiblings compares with the other jugs of the trial: on the first day they are alike; later a reading that
// fits the other jug and is far from this one's own may have been taken there.
func unlikelySiblings(s Snapshot, v Vessel, r course.Reading) []Ask {
	if v.Ferment.Trial.Name == "" || !v.Course.Pitch.Known {
		return nil
	}
	if before, ok := readBefore(v.Course, r.At); ok && before.From != course.FromMust && before.From != course.FromStart &&
		r.At.Sub(before.At) <= time.Hour && r.At.Sub(before.At) >= time.Minute {
		return asked("a reading is written down already, " + before.At.Format("2 Jan 15:04") + ": a second one? the other vessel?")
	}
	first := r.At.Sub(v.Course.Pitch.At) <= 24*time.Hour
	for _, other := range s.Vessels {
		if other.ID() == v.ID() || other.Ferment.Trial.Name != v.Ferment.Trial.Name || !other.Course.Gravity.IsKnown() {
			continue
		}
		there := other.Course.Gravity.Value
		apart := math.Abs(float64(r.Gravity - there.Gravity))
		switch {
		case first && apart >= unlikelySibling:
			return asked(fmt.Sprintf("%s, from the same must, is at %s: the other vessel? not mixed through?",
				other.Label(), there.Gravity.Places(4)))
		case !first && apart <= siblingSame && r.Gravity > sameEnd && r.At.Sub(there.At).Abs() < 24*time.Hour && farFromOwn(v.Course, r):
			return asked(fmt.Sprintf("%s is at that gravity: did you mean the other vessel?", other.Label()))
		}
	}
	return nil
}

// When a reading may be the other jug's (common practice, no source).
const (
	siblingSame = 0.001
	sameEnd     = 1.006 // below it jugs of one must are alike again
	ownFar      = 0.005
)

// farFromOwn reports whether a reading is far from the expected one by its jug's pace.
func farFromOwn(c *course.Course, r course.Reading) bool {
	before, ok := readBefore(c, r.At)
	if !ok || !c.Pace.IsKnown() {
		return false
	}
	expected := float64(before.Gravity) - c.Pace.Value/1000*r.At.Sub(before.At).Hours()/24
	return math.Abs(float64(r.Gravity)-expected) >= ownFar && math.Abs(float64(r.Gravity-before.Gravity)) > siblingSame
}

// Check reads every file and returns problems and remarks, including lost entries, in the order of their places, with
// the text of each line.
func (d *App) Check(now time.Time) (problems, remarks []ferment.Problem, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	c, err := d.store.Check(now)
	if err != nil {
		return nil, nil, err
	}
	remarks = append(append(c.Remarks, remark.Of(c, now)...), d.lostRemarks(c)...)
	remarks = append(remarks, stillUnlikely(c, now, remarks)...)
	ferment.SortProblems(remarks)
	return d.store.Quote(c.Problems), d.store.Quote(remarks), nil
}

// lostRemarks returns remarks on entries that are in no file any more.
func (d *App) lostRemarks(c ferment.Cellar) []ferment.Problem {
	lost, err := d.store.Lost(c)
	if err != nil {
		return []ferment.Problem{{File: "entries.jsonl", Message: fmt.Sprintf(
			"the record of entries cannot be read, so none is offered back: %s", err)}}
	}
	return ferment.Map(lost, func(l ferment.Lost) ferment.Problem {
		return ferment.Problem{File: l.File, Text: l.Text, Message: fmt.Sprintf(
			"an entry of %s that was given is not in the file (the board offers it back)", l.Entry.At.Time.Format("2006-01-02 15:04"))}
	})
}
