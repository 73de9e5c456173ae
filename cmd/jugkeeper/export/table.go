package export

import (
	"encoding/csv"
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

var columns = []column{
	{"ferment", func(i item) string { return i.vessel.ID() }},
	{"tag", func(i item) string { return i.vessel.Ferment.Tag }},
	{"at", at},
	{"day", day},
	{"gravity", func(i item) string { return i.reading(func(r course.Reading) string { return number(r.Gravity, 4) }) }},
	{"typed", func(i item) string { text, _ := typed(i.entry); return text }},
	{"scale", func(i item) string { _, scale := typed(i.entry); return scale }},
	{"sample C", func(i item) string { return given(i.entry.Sample, 1) }},
	{"low C", func(i item) string { return temperature(i.entry, lowest) }},
	{"high C", func(i item) string { return temperature(i.entry, highest) }},
	{"pH", func(i item) string { return given(i.entry.PH, 2) }},
	{"acidity g/L", func(i item) string { return given(i.entry.Acidity, 2) }},
	{"volume L", func(i item) string { return given(i.entry.Volume, 3) }},
	{"lost L", func(i item) string { return given(i.entry.Lost, 3) }},
	{"did", func(i item) string { return string(i.entry.Did) }},
	{"step", func(i item) string { return i.entry.Step }},
	{"amount", func(i item) string { number, _ := amount(i.entry.Amount); return number }},
	{"unit", func(i item) string { _, unit := amount(i.entry.Amount); return unit }},
	{"of", func(i item) string { return i.entry.Of }},
	{"stock %", func(i item) string { return given(i.entry.Stock, 1) }},
	{"lot", func(i item) string { return i.entry.Lot }},
	{"skipped", func(i item) string { return i.entry.Skipped }},
	{"overrode", func(i item) string { return i.entry.Overrode }},
	{"because", func(i item) string { return i.entry.Because }},
	{"seen", func(i item) string { return strings.Join(words.Noticed(*i.entry, measure.Metric), ", ") }},
	{"bottles", func(i item) string { return strings.Join(bottles(i.entry), "; ") }},
	{"score", func(i item) string { return given(i.entry.Taste.Score, 0) }},
	{"tasted", func(i item) string { return words.Tasted(i.entry.Taste) }},
	{"note", func(i item) string { return i.entry.Note }},
	{"remark", remark},
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
