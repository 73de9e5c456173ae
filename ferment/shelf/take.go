package shelf

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// The order of purposes for an entry that does not name its bottle: an opening takes a test bottle, a tasting one of
// the tastings. Bottles to keep are last.
var (
	opens  = []string{Test, Drink, Tasting, Keep}
	tastes = []string{Tasting, Drink, Test, Keep}
)

// sameEvening is how long an opened bottle counts as the same one.
const sameEvening = 12 * time.Hour

// take removes the bottle of an entry: the one with its code, else for its purpose or of its kind, else by the order
// above. A bottle that is opened and then tasted is removed once.
func (s *Shelf) take(e *ferment.Entry) {
	if named := s.coded(e.Bottle); len(named) > 0 {
		for _, at := range named {
			l := &s.Batches[at.batch].Lines[at.line]
			i := slices.Index(l.Codes, at.code)
			if i >= 0 {
				l.Codes = slices.Delete(slices.Clone(l.Codes), i, i+1)
				l.Left.N = max(l.Left.N-1, 0)
			}
			s.Taken = append(s.Taken, Taken{Entry: e, Batch: at.batch, Purpose: l.Purpose(), Code: at.code, Again: i < 0})
		}
		return
	}
	if before, ok := s.stillOpen(e); ok {
		before.Entry, before.Again = e, true
		s.Taken = append(s.Taken, before)
		return
	}
	b, l, ok := s.choose(e)
	t := Taken{Entry: e, Batch: b}
	if ok {
		line := &s.Batches[b].Lines[l]
		t.Purpose, line.Left.N = line.Purpose(), max(line.Left.N-1, 0)
	}
	s.Taken = append(s.Taken, t)
}

type place struct {
	batch, line int
	code        string
}

// coded returns the places of bottles named by codes; codes that are on no bottle are left out.
func (s *Shelf) coded(text string) []place {
	var out []place
	for _, written := range Codes(text) {
		if at, ok := s.find(written); ok {
			out = append(out, at)
		}
	}
	return out
}

func (s *Shelf) find(written string) (place, bool) {
	for b, batch := range s.Batches {
		for l, line := range batch.Lines {
			for _, code := range line.all {
				if sameCode(written, code) {
					return place{b, l, code}, true
				}
			}
		}
	}
	return place{}, false
}

// stillOpen returns the bottle opened last, if the entry is a tasting on the same evening that names no other.
func (s *Shelf) stillOpen(e *ferment.Entry) (Taken, bool) {
	n := len(s.Taken)
	if e.Did != ferment.Taste || n == 0 {
		return Taken{}, false
	}
	last := s.Taken[n-1]
	same := e.Bottle == "" || strings.EqualFold(e.Bottle, last.Entry.Bottle)
	return last, same && last.Entry.Did != ferment.Dump && e.At.Time.Sub(last.Entry.At.Time) <= sameEvening
}

// choose returns the line of bottles that an entry takes from: as it names it, else by the usual order of purposes.
func (s *Shelf) choose(e *ferment.Entry) (batch, line int, ok bool) {
	order := opens
	if e.Did == ferment.Taste {
		order = tastes
	}
	fits := func(l Line, purpose string) bool { return l.Purpose() == purpose }
	if name := strings.TrimSpace(e.Bottle); slices.Contains(ferment.ForWords, strings.ToLower(name)) {
		order = []string{strings.ToLower(name)}
	} else if s.hasKind(name) {
		fits = func(l Line, purpose string) bool { return l.Purpose() == purpose && strings.EqualFold(l.As.Kind, name) }
	}
	for _, purpose := range order {
		for _, soft := range []bool{false, true} { // soft bottles last: they are for squeezing
			for b, batch := range s.Batches {
				for l, line := range batch.Lines {
					if line.Left.Some() && fits(line, purpose) && IsSoft(line.As.Kind) == soft {
						return b, l, true
					}
				}
			}
		}
	}
	return max(len(s.Batches)-1, 0), 0, false
}

func (s *Shelf) hasKind(name string) bool {
	return name != "" && slices.ContainsFunc(s.Batches, func(b Batch) bool {
		return slices.ContainsFunc(b.Lines, func(l Line) bool { return strings.EqualFold(l.As.Kind, name) })
	})
}

// IsSoft reports whether a kind of bottle gives under the hand.
func IsSoft(kind string) bool { return strings.Contains(strings.ToLower(kind), "soft") }

// Knows reports whether a text names a bottle: by code, by what it is for or by kind.
func (s Shelf) Knows(text string) bool {
	text = strings.TrimSpace(text)
	return len(s.coded(text)) > 0 || slices.Contains(ferment.ForWords, strings.ToLower(text)) || s.hasKind(text)
}

// Unlikely returns what is wrong with a bottle that an entry names by code: it was never filled, or was opened before;
// empty if nothing is.
func (s Shelf) Unlikely(e *ferment.Entry) string {
	if e.Did != ferment.Open && e.Did != ferment.Taste && e.Did != ferment.Dump || e.Bottle == "" {
		return ""
	}
	for _, code := range Codes(e.Bottle) {
		at, is := s.find(code)
		if !is && !s.Knows(code) {
			return "no bottle " + code + " was filled of it"
		}
		for _, t := range s.Taken {
			if is && t.Code == at.code && e.At.Time.Sub(t.Entry.At.Time) > sameEvening {
				return "bottle " + at.code + " was opened on " + t.Entry.At.Time.Format("2 Jan 2006") + " already"
			}
		}
	}
	return ""
}

// Name returns the text by which an entry names a bottle for a purpose: its first code left, else the purpose, or the
// kind if the purpose is ambiguous; empty if only the soft bottle is left.
func (s Shelf) Name(batch int, purpose string) string {
	lines := s.Batches[batch].Lines
	i := slices.IndexFunc(lines, func(l Line) bool { return l.Purpose() == purpose && l.Left.Some() && !IsSoft(l.As.Kind) })
	if i < 0 {
		return ""
	}
	switch l := lines[i]; {
	case len(l.Codes) > 0:
		return l.Codes[0]
	case l.As.Kind != "" && s.Left(purpose) != s.Batches[batch].Left(purpose):
		return l.As.Kind
	}
	return purpose
}

// With returns the shelf after one more entry.
func (s Shelf) With(e ferment.Entry) Shelf {
	after := Shelf{holds: s.holds, Taken: slices.Clone(s.Taken)}
	for _, b := range s.Batches {
		b.Lines = slices.Clone(b.Lines)
		after.Batches = append(after.Batches, b)
	}
	after.enter(&e)
	return after
}

// Opening is a bottle that was opened, and what it showed.
type Opening struct {
	At     time.Time
	Days   int // since the bottling
	Hiss   measure.Given[float64]
	Foam   measure.Given[measure.Depth]
	Palate string
}

// Openings returns the opened bottles of a batch with a result, by time.
func (s Shelf) Openings(batch int) []Opening {
	var out []Opening
	for _, t := range s.Taken {
		e := t.Entry
		if t.Batch != batch || e.Did != ferment.Open || !e.Hiss.Known() && !e.Foam.Known() && e.Taste.Palate == "" {
			continue
		}
		out = append(out, Opening{e.At.Time, days(s.Batches[batch].At, e.At.Time), e.Hiss, e.Foam, e.Taste.Palate})
	}
	return out
}

// days returns how many midnights are between two times.
func days(from, to time.Time) int {
	midnight := func(t time.Time) time.Time {
		y, m, d := t.Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return int(midnight(to.In(from.Location())).Sub(midnight(from)) / (24 * time.Hour))
}

// FeltLast returns the entry that last says how the soft bottle felt, since a time.
func FeltLast(c *course.Course, since time.Time) (*ferment.Entry, bool) {
	return ferment.LastWhere(c.Entries, func(e *ferment.Entry) bool { return e.Feel != "" && !e.At.Time.Before(since) })
}

// Sign is a sign of too much pressure in a batch.
type Sign struct {
	At    time.Time
	Says  string    // "hiss 5", "the soft test bottle is hard"
	Chill time.Time // when the whole crate was chilled after it; zero for never
}

// SignOf returns the last opening or squeeze of a batch if it shows too much pressure: a hiss over 4, or over 2 in a
// still batch, which then ferments again (common practice, no source).
func (s Shelf) SignOf(c *course.Course, batch int) (Sign, bool) {
	var sign Sign
	b := s.Batches[batch]
	most := 4.0
	if b.Still() {
		most = 2
	}
	for _, o := range s.Openings(batch) {
		if o.Hiss.Known() {
			sign = Sign{}
		}
		if o.Hiss.Known() && o.Hiss.Value > most {
			sign = Sign{At: o.At, Says: "hiss " + o.Hiss.Text}
		}
	}
	if f, felt := FeltLast(c, b.At); felt && f.Feel == "hard" && sign.At.IsZero() {
		sign = Sign{At: f.At.Time, Says: "the soft test bottle is hard"}
	}
	if sign.At.IsZero() {
		return sign, false
	}
	if chill, ok := c.Last(ferment.Chill); ok && !chill.At.Time.Before(sign.At) {
		sign.Chill = chill.At.Time
	}
	return sign, true
}

// Place returns where the bottles are and their last temperature; empty if unknown.
func (s Shelf) Place(c *course.Course) (place string, at measure.Given[measure.Span[measure.Temperature]]) {
	if len(s.Batches) == 0 {
		return "", at
	}
	for _, e := range c.Entries {
		if e.At.Time.Before(s.Batches[0].At) {
			continue
		}
		if e.Place != "" {
			place = e.Place
		}
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			at = e.Temperature
		}
	}
	return place, at
}
