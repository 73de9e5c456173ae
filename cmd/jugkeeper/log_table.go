package main

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

const largestTable = 32 << 20

// table reads the entries of a spreadsheet or a logger (CSV with a heading). Columns are found by name, in any order: a
// key of an entry, a column of "export table", or date and time, with a unit as in "sample (°F)".
func (s session) table(w world, path, subject string) (tableRead, error) {
	var in io.Reader = w.stdin
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return tableRead{}, err
		}
		defer f.Close()
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, largestTable+1))
	switch {
	case err != nil:
		return tableRead{}, err
	case len(data) > largestTable:
		return tableRead{}, usage("%s is larger than %d MiB: cut it into years", path, largestTable>>20)
	}
	v, _ := s.first.Find(subject)
	t := tableReader{name: path, zone: s.first.Cellar.Settings.Zone, of: []string{subject, v.Ferment.Tag}}
	t.degree = "°C"
	if s.first.Cellar.Settings.Units == measure.US {
		t.degree = "°F"
	}
	return t.read(data)
}

type tableRead struct {
	entries []ferment.Entry
	thinned int      // readings left out on days with more than four
	ignored []string // unused columns
	others  int      // rows of other ferments
}

type tableReader struct {
	name    string
	zone    *time.Location
	of      []string // names of the ferment: rows of others are skipped
	comma   bool     // decimal comma
	slashes string   // the format of dates such as 9/13/2026; empty if they may be either
	degree  string   // unit of a temperature without one
	columns []tableColumn
}

type tableColumn struct {
	name string
	unit string // for a number without one
	key  *ferment.Key
}

// The columns that are not keys of an entry.
var tableWords = []string{"ferment", "tag", "date", "time", "typed", "scale", "low c", "high c", "amount", "unit", "day", "remark", "tasted", "seen"}

// stamps are the headings of loggers for day and hour in one, where no other column has the date.
var stamps = []string{"time", "timestamp", "datetime", "date time"}

func (t *tableReader) read(data []byte) (tableRead, error) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	head, _, _ := bytes.Cut(data, []byte("\n"))
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = delimiter(head), -1, true
	rows, err := r.ReadAll()
	if err != nil {
		return tableRead{}, usage("%s: %v", t.name, err)
	}
	if len(rows) == 0 {
		return tableRead{}, usage("%s is empty: its first row names the columns, e.g. at,gravity,sample,note", t.name)
	}
	t.comma, t.slashes = r.Comma != ',' && decimalComma(rows[1:]), slashes(rows[1:])
	var out tableRead
	if out.ignored, err = t.heading(rows[0]); err != nil {
		return out, err
	}
	for i, cells := range rows[1:] {
		e, mine, err := t.entry(cells)
		if err != nil {
			return out, usage("%s, row %d: %v", t.name, i+2, err)
		}
		if !mine {
			out.others++
			continue
		}
		if !e.Empty() {
			out.entries = append(out.entries, e)
		}
	}
	out.entries, out.thinned = thinned(out.entries, t.zone)
	return out, nil
}

func delimiter(head []byte) rune {
	best, most := ',', 0
	for _, r := range ",;\t|" {
		if n := strings.Count(string(head), string(r)); n > most {
			best, most = r, n
		}
	}
	return best
}

func decimalComma(rows [][]string) bool {
	commas, points := 0, 0
	for _, cells := range rows[:min(len(rows), 200)] {
		for _, c := range cells {
			switch {
			case isNumber(c, ','):
				commas++
			case isNumber(c, '.'):
				points++
			}
		}
	}
	return commas > points
}

func isNumber(cell string, decimal rune) bool {
	whole, part, found := strings.Cut(cell, string(decimal))
	digits := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	return found && digits(strings.TrimPrefix(whole, "-")) && digits(part)
}

// heading finds the columns. There must be one with times and one with values.
func (t *tableReader) heading(names []string) (ignored []string, err error) {
	timed, says := false, false
	dated := has(names, "date") || has(names, "at")
	for _, full := range names {
		name, unit := parted(full)
		if !dated && slices.Contains(stamps, name) { // a column with day and hour
			name, dated = "date", true
		}
		c := tableColumn{name: name, unit: unit}
		if !slices.Contains(tableWords, name) {
			c.key, c.unit = columnKey(full, name, unit)
			again := func(o tableColumn) bool { return o.key != nil && c.key != nil && o.key.Name == c.key.Name }
			if c.key == nil || c.key.Set == nil || c.key.Name == "gravity" && has(names, "typed") || slices.ContainsFunc(t.columns, again) {
				ignored, c = append(ignored, full), tableColumn{}
			}
		}
		timed = timed || c.name == "date" || c.key != nil && c.key.Name == "at"
		says = says || c.key != nil && c.key.Name != "at" || c.name == "typed"
		t.columns = append(t.columns, c)
	}
	switch {
	case !timed:
		return nil, usage("%s has no column with times: call one at or timestamp, or two date and time (its columns are %s)", t.name, strings.Join(names, ", "))
	case !says:
		return nil, usage("%s has no column with a reading or an act, e.g. gravity, temperature, ph, note (its columns are %s)", t.name, strings.Join(names, ", "))
	}
	return ignored, nil
}

func has(names []string, name string) bool {
	return slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(strings.TrimSpace(n), name) })
}

// columnKey returns the key of a heading, by its column in "export table" or its name.
func columnKey(full, name, unit string) (*ferment.Key, string) {
	for i := range ferment.Keys() {
		k := &ferment.Keys()[i]
		if k.Column != "" && strings.EqualFold(k.Column, strings.TrimSpace(full)) {
			_, u := parted(k.Column)
			return k, u
		}
	}
	k, _ := ferment.KeyNamed(cmp.Or(map[string]string{"sg": "gravity", "temp": "temperature"}[name], name))
	return k, unit
}

// parted splits a heading into its name in lower case and its unit.
func parted(heading string) (name, unit string) {
	heading = strings.TrimSpace(heading)
	name, unit, _ = strings.Cut(heading, "(")
	unit = strings.TrimSuffix(strings.TrimSpace(unit), ")")
	name = strings.TrimSpace(name)
	if i := strings.LastIndexByte(name, ' '); i >= 0 && unit == "" {
		if _, known := measure.UnitNamed(name[i+1:]); known && !slices.Contains(tableWords, strings.ToLower(heading)) {
			name, unit = name[:i], name[i+1:]
		}
	}
	return strings.ToLower(strings.TrimSpace(name)), unit
}

// entry reads one row: not mine if it names another ferment; an empty entry if it has no value.
func (t *tableReader) entry(cells []string) (e ferment.Entry, mine bool, err error) {
	switch n := len(t.columns); {
	case strings.TrimSpace(strings.Join(cells, "")) == "":
		return e, true, nil
	case len(cells) > n && strings.Join(cells[n:], "") != "":
		return e, true, fmt.Errorf("it has %d cells, and the heading %d (a cell with a comma goes in quotes, or semicolons separate all)", len(cells), n)
	}
	got := map[string]string{}
	for i, c := range t.columns[:min(len(t.columns), len(cells))] {
		cell := strings.TrimSpace(cells[i])
		if t.comma && isNumber(cell, ',') {
			cell = strings.Replace(cell, ",", ".", 1)
		}
		switch {
		case cell == "" || c.name == "":
		case c.key != nil && c.key.Name == "at":
			got["date"] = cell
		case c.key != nil:
			if err := t.set(&e, c, cell); err != nil {
				return e, true, fmt.Errorf("%s: %w", c.name, err)
			}
		default:
			got[c.name] = cell
		}
	}
	for _, column := range []string{"ferment", "tag"} {
		if name := got[column]; name != "" && !slices.ContainsFunc(t.of, func(n string) bool { return strings.EqualFold(n, name) }) {
			return e, false, nil
		}
	}
	if err := t.rest(&e, got); err != nil {
		return e, true, err
	}
	e.At, err = t.moment(got["date"], got["time"])
	return e, true, err
}

// set adds one cell to an entry. A number gets the unit of its heading, else that of the key.
func (t *tableReader) set(e *ferment.Entry, c tableColumn, cell string) error {
	if _, err := strconv.ParseFloat(cell, 64); err == nil && c.key.Form == ferment.AQuantity {
		unit := c.unit
		switch {
		case unit == "" && (c.key.Name == "sample" || c.key.Name == "temperature"):
			unit = t.degree
		case unit == "" && c.key.Name != "amount":
			cell = measure.WithUnit(cell, c.key.Example)
		}
		if unit == "C" || unit == "F" {
			unit = "°" + unit
		}
		cell = strings.TrimSpace(cell + " " + unit)
	}
	if c.key.Form != ferment.AList {
		return c.key.Set(e, cell, t.zone)
	}
	for _, one := range strings.Split(cell, ",") {
		if err := c.key.Set(e, strings.TrimSpace(one), t.zone); err != nil {
			return err
		}
	}
	return nil
}

// rest adds values from several columns: reading and scale, low and high, amount and unit.
func (t *tableReader) rest(e *ferment.Entry, got map[string]string) error {
	give := func(key, text string) error {
		k, known := ferment.KeyNamed(key)
		if !known || text == "" {
			return nil
		}
		if err := k.Set(e, text, t.zone); err != nil {
			return fmt.Errorf("%s: %w", key, err)
		}
		return nil
	}
	scale := "gravity"
	for _, s := range export.Scales {
		if strings.EqualFold(s[1], got["scale"]) {
			scale = s[0]
		}
	}
	low, high := got["low c"], got["high c"]
	if low != "" {
		low += " °C"
	}
	if high != "" && high+" °C" != low {
		low += " to " + high + " °C"
	}
	for _, pair := range [][2]string{{scale, got["typed"]}, {"temperature", low}, {"amount", strings.TrimSpace(got["amount"] + " " + got["unit"])}} {
		if err := give(pair[0], pair[1]); err != nil {
			return err
		}
	}
	return nil
}

// mostADay is how many readings of a day are kept: a logger's every minute would fill the file, and says nothing more.
const mostADay = 4

// thinned leaves out readings of days with more than four: the last of each quarter of the day stays. Acts and notes
// always stay.
func thinned(entries []ferment.Entry, zone *time.Location) (kept []ferment.Entry, left int) {
	type quarter struct {
		day  string
		part int
	}
	plain := func(e ferment.Entry) bool {
		return e.Did == "" && e.Skipped == "" && e.Note == "" && e.Remind.IsZero() && !e.At.DayOnly
	}
	perDay, last := map[string]int{}, map[quarter]int{}
	of := func(e ferment.Entry) quarter {
		at := e.At.Time.In(zone)
		return quarter{at.Format(time.DateOnly), at.Hour() / 6}
	}
	for i, e := range entries {
		if plain(e) {
			q := of(e)
			perDay[q.day]++
			if j, seen := last[q]; !seen || !entries[j].At.Time.After(e.At.Time) {
				last[q] = i
			}
		}
	}
	for i, e := range entries {
		if q := of(e); plain(e) && perDay[q.day] > mostADay && last[q] != i {
			left++
			continue
		}
		kept = append(kept, e)
	}
	return kept, left
}

// keepTable writes the entries of a table into one ferment, after a preview. Entries in its log are not repeated.
func (s session) keepTable(w world, ids []string, path string, yes bool) error {
	if len(ids) != 1 {
		return usage("a table is for one ferment, e.g. jugkeeper log bh-a --table readings.csv")
	}
	t, err := s.table(w, path, ids[0])
	if err != nil {
		return err
	}
	v, _ := s.first.Find(ids[0])
	if len(t.entries) == 0 {
		return usage("%s has no row for %s", path, v.Label())
	}
	s.notice(w, t.told(v, s.now)...)
	fresh := notIn(v.Ferment.Log, t.entries)
	question := fmt.Sprintf("keep %s in %s? [y/N] ", manyEntries(len(fresh)), v.Label())
	if !yes && len(fresh) > 0 && (s.flags.json || !w.ask(bufio.NewReader(w.stdin), question)) {
		return saysNo("nothing is written; --yes keeps it")
	}
	var kept app.Kept
	if len(fresh) > 0 {
		kept, err = s.app.Log(s.now, ids, fresh...)
	}
	if err != nil || s.flags.json {
		return s.tell(w, kept, err)
	}
	text := fmt.Sprintf("kept: %s %s", v.Label(), manyEntries(len(fresh)))
	if rest := len(t.entries) - len(fresh); rest > 0 {
		text += fmt.Sprintf("; already in the log: %d", rest)
	}
	fmt.Fprintln(w.out(s.flags), text)
	return nil
}

// notIn returns the entries of a table that a log and the rows before lack: none is of that time and act and has all that
// the row says, to the digits that a table has.
func notIn(log, entries []ferment.Entry) []ferment.Entry {
	at := map[int64][]ferment.Entry{}
	for _, e := range log {
		at[e.At.Time.Unix()] = append(at[e.At.Time.Unix()], e)
	}
	return ferment.Where(entries, func(row ferment.Entry) bool {
		then := row.At.Time.Unix()
		had := slices.ContainsFunc(at[then], func(e ferment.Entry) bool {
			return e.Did == row.Did && e.Skipped == row.Skipped && !slices.ContainsFunc(ferment.Keys(), func(k ferment.Key) bool { return k.Has(&row) && !agree(k, &e, &row) })
		})
		at[then] = append(at[then], row)
		return !had
	})
}

// agree reports whether two entries have the same value of a key, to the digits of the table.
func agree(k ferment.Key, a, b *ferment.Entry) bool {
	if k.Numbers == nil {
		return k.Text(a) == k.Text(b)
	}
	return slices.EqualFunc(k.Numbers(a), k.Numbers(b), func(x, y float64) bool { return math.Abs(x-y) <= 0.51*math.Pow10(-max(1, k.Places)) })
}

func manyEntries(n int) string {
	return strings.Replace(words.Plural(n, "entry"), "entrys", "entries", 1)
}

// told returns the preview: the first and the last entry, and what is left out.
func (t tableRead) told(v app.Vessel, now time.Time) []string {
	line := func(e ferment.Entry) string {
		return words.PaperTime(e.At, now) + "  " + words.EntryLine(e, v.Plan, v.Course.Settings.Units)
	}
	texts := []string{"first: " + line(t.entries[0]), "last:  " + line(t.entries[len(t.entries)-1])}
	if later := ferment.Where(t.entries, func(e ferment.Entry) bool { return e.At.Time.After(now) }); len(later) > 0 {
		texts = append(texts, words.Plural(len(later), "row")+" later than now: are day and month exchanged?")
	}
	if t.others > 0 {
		texts = append(texts, words.Plural(t.others, "row")+" of other ferments")
	}
	if t.thinned > 0 {
		texts = append(texts, fmt.Sprintf("left out %s: on a day with more than %d, the last of every six hours is kept", words.Plural(t.thinned, "reading"), mostADay))
	}
	if len(t.ignored) > 0 {
		texts = append(texts, "columns left out: "+strings.Join(t.ignored, ", "))
	}
	return texts
}
