package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// bottled is a batch on the shelf as a form finds it.
type bottled struct {
	snapshot app.Snapshot
	vessel   app.Vessel
	stock    shelf.Shelf
	batch    int
}

// Batch is the key under which a form of bottles is given the batch that it is
// of: its place on the shelf, from 0.
const Batch = "batch"

// ofBatch is a kind of form that a batch of bottles has; without a word of which
// it is the first that has some left.
func ofBatch(make func(bottled) Form) kind {
	return func(s app.Snapshot, subject string, given Values) (Form, bool) {
		v, found := s.Find(subject)
		b := bottled{s, v, shelf.Of(v.Course), 0}
		n, err := strconv.Atoi(given[Batch])
		if err != nil {
			n = slices.IndexFunc(b.stock.Batches, func(b shelf.Batch) bool { return b.Left().Some() })
		}
		if b.batch = n; !found || n < 0 || n >= len(b.stock.Batches) || !b.of().Left().Some() {
			return Form{}, false
		}
		return make(b), true
	}
}

func (b bottled) of() shelf.Batch { return b.stock.Batches[b.batch] }

// field is the one that asks which bottle.
func (b bottled) field(purposes ...string) Field {
	f := Field{Key: "bottle", Label: "bottle", From: "its code, or what it is for: " + strings.Join(ferment.ForWords, ", ")}
	for _, p := range purposes {
		if f.Value = b.stock.Name(b.batch, p); f.Value != "" {
			break
		}
	}
	return f
}

// wrong says that no bottle is meant.
func (b bottled) wrong(name string) []Wrong {
	if b.stock.Knows(name) {
		return nil
	}
	right := shelf.Drink
	for _, l := range b.of().Lines {
		if len(l.Codes) > 0 {
			right = l.Codes[0]
			break
		}
	}
	return []Wrong{{"bottle", fmt.Sprintf("no bottle of %s is called %q: write its code or what it is for, e.g. %s", b.vessel.Label(), name, right)}}
}

// taken is what an entry takes off the shelf.
func (b bottled) taken(e ferment.Entry) (t shelf.Taken, after shelf.Shelf) {
	after = b.stock.With(e)
	if n := len(after.Taken); n > len(b.stock.Taken) {
		t = after.Taken[n-1]
	}
	return t, after
}

// less says what is left on the shelf afterwards: "GORSE 10 to 9".
func (b bottled) less(after shelf.Shelf) string {
	return fmt.Sprintf("%s %s to %s", b.vessel.Label(), b.stock.Left(), after.Left())
}

// eats warns where a bottle is missed by the tastings that are still to come.
func (b bottled) eats(t shelf.Taken) []Line {
	if t.Again || t.Batch != b.batch || t.Purpose == "" {
		return nil
	}
	toCome := words.TastingsToCome(b.vessel, b.of(), b.snapshot.At)
	if !b.of().Eats(t.Purpose, toCome) {
		return nil
	}
	left := plural(b.of().Left(shelf.Tasting, shelf.Drink).N-1, "bottle") + " left for them"
	if t.Purpose == shelf.Tasting {
		left = "this is one of the " + plural(b.of().Left(shelf.Tasting).N, "bottle") + " kept for them"
	}
	return []Line{{words.Warn, fmt.Sprintf("%s of it still to come, and %s: another batch, or one tasting fewer", plural(toCome, "tasting"), left)}}
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
