package export

import (
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Table returns every entry of some ferments as comma-separated values (RFC 4180), one a row, the oldest first, in
// metric units with a decimal point: gravity is corrected, typed is what was read. A decimal comma puts semicolons
// between cells.
func Table(vs []app.Vessel, comma bool) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if comma {
		w.Comma = ';'
	}
	w.Write(ferment.Map(columns, func(c column) string { return c.name })) // a builder has no errors
	for _, v := range vs {
		for _, e := range append(v.Course.Entries[:len(v.Course.Entries):len(v.Course.Entries)], v.Course.Later...) {
			cells := make([]string, len(columns))
			for i, c := range columns {
				cells[i] = cell(c.of(item{v, e}))
				if comma && aNumber().MatchString(cells[i]) {
					cells[i] = strings.Replace(cells[i], ".", ",", 1)
				}
			}
			w.Write(cells)
		}
	}
	w.Flush()
	return b.String()
}

type item struct {
	vessel app.Vessel
	entry  *ferment.Entry
}

type column struct {
	name string
	of   func(item) string
}

// columns are the first ones, whose places are fixed, then every other key with a column.
var columns = withTheRest([]column{
	{"ferment", func(i item) string { return i.vessel.ID() }},
	{"tag", func(i item) string { return i.vessel.Ferment.Tag }},
	{"at", at},
	{"day", day},
	{"gravity", func(i item) string { return i.reading(func(r course.Reading) string { return number(r.Gravity, 4) }) }},
	{"typed", func(i item) string { text, _ := typedGravity(i.entry); return text }},
	{"scale", func(i item) string { _, scale := typedGravity(i.entry); return scale }},
	keyed("sample"),
	{"low C", func(i item) string { low, _ := temperatures(i.entry); return low }},
	{"high C", func(i item) string { _, high := temperatures(i.entry); return high }},
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

func keyed(name string) column {
	k, _ := ferment.KeyNamed(name)
	return column{k.Column, func(i item) string {
		if v, is := k.Value(i.entry).(float64); is {
			return number(v, k.Places)
		}
		if k.Has(i.entry) {
			return k.Text(i.entry)
		}
		return ""
	}}
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

func day(i item) string {
	if p := i.vessel.Course.Pitch; p.Known {
		return number(i.entry.At.Time.Sub(p.At).Hours()/24, 2)
	}
	return ""
}

// reading writes the reading of the entry; empty if it has none.
func (i item) reading(write func(course.Reading) string) string {
	if r, ok := i.vessel.Course.ReadingOf(i.entry); ok {
		return write(r)
	}
	return ""
}

// remark says why the entry does not count, completely or in part.
func remark(i item) string {
	if i.entry.At.Earliest().After(i.vessel.Course.Now) {
		return "in the future, not counted"
	}
	return i.reading(func(r course.Reading) string {
		switch {
		case r.Doubt != "":
			return "in doubt: " + r.Doubt
		case r.Replaced:
			return "replaced by a later reading"
		}
		return ""
	})
}

// grid is the frame with gravities at the left and days under it.
func (p *plot) grid() {
	settings := p.traces[0].vessel.Course.Settings
	for g := p.low; g < p.high+p.distance/2; g += p.distance {
		p.line(frameLeft, p.y(g), frameRight, p.y(g), "#e4e4e4", "")
		p.say(frameLeft-8, p.y(g)+4, "end", ink, words.Glass(measure.Gravity(g), settings))
	}
	p.line(frameLeft, frameTop, frameLeft, frameBottom, ink, "")
	p.line(frameLeft, frameBottom, frameRight, frameBottom, ink, "")
	span := p.last - p.first
	days := every(span, 365*math.Ceil(span/365/9), 1, 2, 7, 14, 28, 91, 182)
	for d := math.Ceil(p.first/days) * days; d <= p.last; d += days {
		p.line(p.x(d), frameBottom, p.x(d), frameBottom+5, ink, "")
		p.say(p.x(d), frameBottom+19, "middle", ink, p.dayName(d))
	}
	if !p.alone() {
		p.say((frameLeft+frameRight)/2, frameBottom+37, "middle", pencil, "days since the pitch")
	}
}

func (p *plot) dayName(d float64) string {
	if !p.alone() {
		return fmt.Sprintf("%.0f", d)
	}
	at := p.traces[0].from.AddDate(0, 0, int(d))
	if d == 0 {
		return at.Format("2 Jan 2006")
	}
	return at.Format("2 Jan")
}

// levels draws breaks and finish, named at the right; where two would overlap the lower name moves down.
func (p *plot) levels() {
	c, under := p.traces[0].vessel.Course, 0.0
	name := func(g measure.Gravity, text string) {
		y := p.y(float64(g))
		p.line(frameLeft, y, frameRight, y, pencil, "2 4")
		under = max(y+4, under+14)
		p.say(frameRight+6, under, "start", ink, text+" "+exact(g, c.Settings))
	}
	for _, b := range words.Breaks {
		if g := c.Break(b.Share); g.IsKnown() {
			name(g.Value, b.Name)
		}
	}
	if c.Finish.IsKnown() {
		name(c.Finish.Value, "finish")
	}
}

var letters = map[rune]string{
	'A': ".###. #...# ##### #...# #...#", 'B': "####. #...# ####. #...# ####.",
	'C': ".#### #.... #.... #.... .####", 'D': "####. #...# #...# #...# ####.",
	'E': "##### #.... ####. #.... #####", 'F': "##### #.... ####. #.... #....",
	'G': ".#### #.... #..## #...# .####", 'H': "#...# #...# ##### #...# #...#",
	'I': ".###. ..#.. ..#.. ..#.. .###.", 'J': "..### ...#. ...#. #..#. .##..",
	'K': "#..#. #.#.. ##... #.#.. #..#.", 'L': "#.... #.... #.... #.... #####",
	'M': "#...# ##.## #.#.# #...# #...#", 'N': "#...# ##..# #.#.# #..## #...#",
	'O': ".###. #...# #...# #...# .###.", 'P': "####. #...# ####. #.... #....",
	'Q': ".###. #...# #.#.# #..#. .##.#", 'R': "####. #...# ####. #..#. #...#",
	'S': ".#### #.... .###. ....# ####.", 'T': "##### ..#.. ..#.. ..#.. ..#..",
	'U': "#...# #...# #...# #...# .###.", 'V': "#...# #...# #...# .#.#. ..#..",
	'W': "#...# #...# #.#.# ##.## #...#", 'X': "#...# .#.#. ..#.. .#.#. #...#",
	'Y': "#...# .#.#. ..#.. ..#.. ..#..", 'Z': "##### ...#. ..#.. .#... #####",
	'0': ".###. #..## #.#.# ##..# .###.", '1': "..#.. .##.. ..#.. ..#.. .###.",
	'2': "####. ....# .###. #.... #####", '3': "####. ....# .###. ....# ####.",
	'4': "#..#. #..#. ##### ...#. ...#.", '5': "##### #.... ####. ....# ####.",
	'6': ".###. #.... ####. #...# .###.", '7': "##### ....# ...#. ..#.. ..#..",
	'8': ".###. #...# .###. #...# .###.", '9': ".###. #...# .#### ....# .###.",
	'-': "..... ..... .###. ..... .....", '_': "..... ..... ..... ..... #####",
	' ': "..... ..... ..... ..... .....", '.': "..... ..... ..... ..... ..#..",
}

// big writes a short text in letters readable across a room; a long text, or one with other letters, stays.
func big(text string) []string {
	rows := make([]string, 5)
	for i, r := range []rune(strings.ToUpper(text)) {
		dots, known := letters[r]
		if !known || i >= 6 {
			return []string{text}
		}
		for y, row := range strings.Fields(dots) {
			rows[y] += strings.ReplaceAll(row, ".", " ") + " "
		}
	}
	for y := range rows {
		rows[y] = strings.TrimRight(rows[y], " ")
	}
	return rows
}
