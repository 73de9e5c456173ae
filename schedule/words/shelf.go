package words

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
)

// Shelf is the bottles in words, in the order of the screen.
type Shelf struct {
	Total  string // "31 bottles, 10.2 L"
	Due    []ShelfTask
	Rows   []ShelfRow
	Made   string  // "made this year: 21.9 L, 5.8 US gal; check your local law"
	Counts []Count // of what is due
}

// ShelfRow is one batch of one ferment.
type ShelfRow struct {
	ID      string
	Batch   int
	Tag     string
	Trial   string // sign that joins a trial: ╭ │ ╰, or empty
	Of      string // the trial's name
	Honey   string
	Bottled string // "20 Sep 26"
	Age     string
	Fizz    string // "5.0 g/L", "still"
	Left    shelf.Count
	Filled  shelf.Count
	Drink   shelf.Count
	Keep    shelf.Count
	Tasting shelf.Count
	Test    shelf.Count
	Card    ShelfCard
}

// ShelfOf writes the shelf, with today's lines about bottles and the year's total.
func ShelfOf(s app.Snapshot, day Sheet) Shelf {
	var out Shelf
	var all shelf.Count
	var volume measure.Volume
	unsized := false
	var of []app.Vessel // of each row
	for _, v := range slices.Concat(s.Vessels, s.Past) {
		stock := shelf.Of(v.Course)
		for i, b := range stock.Batches {
			left := b.Left()
			if !left.Some() {
				continue
			}
			out.Rows, of = append(out.Rows, shelfRow(v, stock, i, s)), append(of, v)
			litres, known := b.Volume()
			all.N, all.Unknown, volume, unsized = all.N+left.N, all.Unknown || left.Unknown, volume+litres, unsized || !known
		}
	}
	for i, t := range ties(of) {
		out.Rows[i].Trial = t
	}
	out.Due = dueOnShelf(out.Rows, day, s)
	units := s.Cellar.Settings.Units
	out.Made = madeOf(s.Cellar.OpenAndPast(), s.At, units)
	out.Total = Plural(all.N, "bottle")
	if all.Unknown {
		out.Total += " and some that nobody counted"
	}
	switch {
	case unsized:
	case units == measure.US:
		out.Total += ", " + volume.In(units)
	default:
		out.Total += ", " + measure.Decimal(float64(volume), 1) + " L"
	}
	out.Counts = countsOf(ferment.Map(out.Due, func(t ShelfTask) Line { return t.Line }))
	return out
}

// Plural writes a count with its noun, with an s unless it is 1.
func Plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func madeOf(fs []ferment.Ferment, now time.Time, units measure.System) string {
	var said []string
	for _, y := range shelf.MadeIn(fs) {
		name, is := map[int]string{now.Year(): "made this year", now.Year() - 1: "last year"}[y.Year]
		if !is {
			continue
		}
		text := name + ": "
		if units != measure.US {
			text += measure.Decimal(float64(y.Volume), 1) + " L, "
		}
		text += measure.Decimal(float64(y.Volume)/measure.LitresPerUSGallon, 1) + " US gal"
		if y.Unknown > 0 {
			text += " and " + Plural(y.Unknown, "must") + " of unknown volume"
		}
		said = append(said, text)
	}
	return strings.Join(append(said, "check your local law"), "; ")
}

func shelfRow(v app.Vessel, stock shelf.Shelf, i int, s app.Snapshot) ShelfRow {
	b := stock.Batches[i]
	fizz := "primed"
	if b.Still() {
		fizz = "still"
	} else if b.Fizz.Known() {
		fizz = b.Fizz.Value.String()
	}
	return ShelfRow{
		ID: v.ID(), Batch: i, Tag: v.Label(), Of: v.Ferment.Trial.Name, Honey: honeysOf(v.Ferment, s.Cellar.Lots),
		Bottled: b.At.In(s.At.Location()).Format("2 Jan 06"), Age: Age(s.At.Sub(b.At)), Fizz: fizz,
		Left: b.Left(), Filled: b.Filled(), Drink: b.Left(shelf.Drink), Keep: b.Left(shelf.Keep), Tasting: b.Left(shelf.Tasting), Test: b.Left(shelf.Test),
		Card: shelfCard(v, stock, i, s.At),
	}
}

// TastingsToCome counts a batch's tastings still to come, by the plan or the usual ages.
func TastingsToCome(v app.Vessel, b shelf.Batch, now time.Time) int {
	n, planned := 0, false
	for _, t := range v.Day.Tasks {
		if t.Do != string(ferment.Taste) || t.Due.Before(b.At) {
			continue
		}
		planned = true
		switch WordOf(t) {
		case Coming, Later, Due, Late, Held:
			n++
		}
	}
	if planned {
		return n
	}
	for _, months := range shelf.Ages {
		if b.At.AddDate(0, months, 0).After(now) {
			n++
		}
	}
	return n
}

// tastings returns what was tasted, by whole months since bottling, or since the pitch.
func tastings(vs []app.Vessel) []Compared {
	return aged(vs, func(v app.Vessel) []found {
		from := v.Course.Pitch.At
		if b, ok := v.Course.First(ferment.Bottle); ok {
			from = b.At.Time
		}
		var out []found
		for _, e := range v.Course.Entries {
			if e.Did == ferment.Taste {
				out = append(out, found{Months(from, e.At.Time), tasted(e)})
			}
		}
		return out
	})
}

// tasted returns score, words and verdict of a tasting in one text.
func tasted(e *ferment.Entry) string {
	score := ""
	if e.Taste.Score.Known() {
		score = measure.Decimal(e.Taste.Score.Value, 0)
	}
	return Join(", ", score, e.Taste.Found(), e.Taste.Again, ferment.Harmless(e.Note))
}

// Months writes an age in whole months: "12 months".
func Months(from, to time.Time) string {
	return Plural(int(math.Round(to.Sub(from).Hours()/24/30.4)), "month")
}
