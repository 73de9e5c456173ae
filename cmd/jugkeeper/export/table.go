package export

import (
	"encoding/csv"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Table is every entry of some ferments as comma-separated values (RFC 4180),
// one a row, the oldest first. Numbers have a decimal point and metric units,
// whatever the cellar shows; gravity is the corrected one, typed what the person
// read on the scale beside it. The names of the columns are plain letters, which
// spreadsheets read right in whatever encoding they guess.
func Table(vs []app.Vessel) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	head := make([]string, len(columns))
	for i, c := range columns {
		head[i] = c.name
	}
	w.Write(head) // a builder takes everything
	for _, v := range vs {
		for _, e := range append(v.Course.Entries[:len(v.Course.Entries):len(v.Course.Entries)], v.Course.Later...) {
			cells := make([]string, len(columns))
			for i, c := range columns {
				cells[i] = cell(c.of(item{v, e}))
			}
			w.Write(cells)
		}
	}
	w.Flush()
	return b.String()
}

// item is an entry of a vessel.
type item struct {
	vessel app.Vessel
	entry  *ferment.Entry
}

// column is one thing of an entry, empty where it says nothing of it.
type column struct {
	name string
	of   func(item) string
}

// columns are first the ones that were always there, in their places, then
// every other key of an entry that has a column.
var columns = withTheRest([]column{
	{"ferment", func(i item) string { return i.vessel.ID() }},
	{"tag", func(i item) string { return i.vessel.Ferment.Tag }},
	{"at", at},
	{"day", day},
	{"gravity", func(i item) string { return i.reading(func(r course.Reading) string { return number(r.Gravity, 4) }) }},
	{"typed", func(i item) string { text, _ := typed(i.entry); return text }},
	{"scale", func(i item) string { _, scale := typed(i.entry); return scale }},
	keyed("sample"),
	{"low C", func(i item) string { return temperature(i.entry, lowest) }},
	{"high C", func(i item) string { return temperature(i.entry, highest) }},
	keyed("ph"), keyed("acidity"), keyed("volume"), keyed("lost"), keyed("did"), keyed("step"),
	{"amount", func(i item) string { number, _ := amount(i.entry.Amount); return number }},
	{"unit", func(i item) string { _, unit := amount(i.entry.Amount); return unit }},
	keyed("of"), keyed("stock"), keyed("lot"), keyed("skipped"), keyed("overrode"), keyed("because"),
	{"seen", func(i item) string { return strings.Join(words.Noticed(*i.entry, measure.Metric), ", ") }},
	keyed("bottles"), keyed("score"),
	{"tasted", func(i item) string { return i.entry.Taste.Found() }},
	keyed("note"),
	{"remark", remark},
})

// keyed is the column of a key of an entry.
func keyed(name string) column {
	k, _ := ferment.KeyNamed(name)
	return column{k.Column, func(i item) string { return columnText(k, i.entry) }}
}

// columnText is what an entry says of a key, as a spreadsheet has it.
func columnText(k *ferment.Key, e *ferment.Entry) string {
	if v, is := k.Value(e).(float64); is {
		return number(v, k.Places)
	}
	if k.Has(e) {
		return k.Text(e)
	}
	return ""
}

func withTheRest(first []column) []column {
	for _, k := range ferment.Keys() {
		if k.Column != "" && !slices.ContainsFunc(first, func(c column) bool { return c.name == k.Column }) {
			first = append(first, keyed(k.Name))
		}
	}
	return first
}

func at(i item) string {
	if m := i.entry.At; m.DayOnly {
		return m.Time.Format(time.DateOnly)
	}
	return i.entry.At.Time.In(i.vessel.Course.Settings.Zone).Format(time.RFC3339)
}

// day is the days since the pitch.
func day(i item) string {
	if p := i.vessel.Course.Pitch; p.Known {
		return number(i.entry.At.Time.Sub(p.At).Hours()/24, 2)
	}
	return ""
}

func (i item) reading(write func(course.Reading) string) string {
	if r, ok := i.vessel.Course.ReadingOf(i.entry); ok {
		return write(r)
	}
	return ""
}

// remark is why the entry does not count, wholly or in part.
func remark(i item) string {
	if i.entry.At.Earliest().After(i.vessel.Course.Now) {
		return "later than now, not counted"
	}
	return i.reading(func(r course.Reading) string {
		switch {
		case r.Doubt != "":
			return "in doubt: " + r.Doubt
		case r.Replaced:
			return "a later reading took its place"
		}
		return ""
	})
}
