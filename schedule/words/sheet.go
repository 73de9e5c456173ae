// Package words writes the day of a cellar: one line for each task, one row for each vessel. It draws nothing; the
// board, the printed day and the commands share it.
package words

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// Sheet is a cellar's day in words, in the order of display.
type Sheet struct {
	At      time.Time
	Dir     string  // the cellar's folder
	Chart   string  // braille or blocks
	Counts  []Count // how many tasks have each word
	Tasks   []Line
	Vessels []Row // fermenting vessels, and cultures that need something; bottled ferments are on the shelf
	Bottled []Row
	Broken  []Broken
	Honey   []Lot
	Days    int    // how many days ahead tasks are listed; 0 for today only
	Next    string // "look at the airlock of HEATH, Sat 21 Nov"; empty if nothing is known
}

// Count is how many tasks have a word.
type Count struct {
	Word Word
	N    int
}

// Line is one task in words.
type Line struct {
	Subject string // the id
	Tag     string
	Trial   string   // trial of the vessel
	Others  []string // ids of others that share the line; see Shared
	Round   []string // tags of the vessels of the weekly round
	Word    Word
	Act     string // "nutrient 2"
	Amount  Amount
	Of      string // "ammonium phosphate"
	First   string // "degas first"
	Stock   *Amount
	StockOf string          // "of the 10 % solution"
	Until   string          // "by Sun noon", "above 1.0445", "19:00"
	Reason  string          // in whole sentences, with what to do
	Short   string          // in up to 40 columns; empty for a task that is only due
	Instead string          // of a stop: what to do
	Danger  bool            // the reason may not be cut
	Alarm   *schedule.Alarm // of a danger: what to do
	Task    schedule.Task
}

// Amount is how much: a number with a unit, or words.
type Amount struct {
	Number string // "1.0"
	Unit   string // "g"
	Words  string // "9 × 330 mL", "not now"
}

// Row is one vessel in words.
type Row struct {
	ID            string
	Tag           string
	Trial         string // sign that joins the rows of a trial: ╭ │ ╰, or empty
	HoneyAndYeast string
	Stage         string // "working", "quiet", or a condition in short: "at limit"
	Steady        bool   // the stage is good
	Quiet         bool   // the row can be a sentence
	Culture       bool   // a culture: a sentence in place of the figures
	Condition     Word   // Late if something must be done, Warn for a look; empty for none
	Day           string
	Gravity       string // "1.057", "·"
	Doubtful      bool
	Ago           string    // "12 h"
	Stale         bool      // older than the limit of something waiting for it
	Pace          string    // "8.7"
	Alcohol       string    // "2.6"
	Curve         []float64 // gravities at equal steps of time, from pitch to last reading
	Next          string    // "read by 11:10"
	Until         string    // for a quiet one: "until Wed 4 Nov"
	Sentence      string    // for a quiet one: "until Wed 4 Nov; next look at the airlock Sat 10 Oct"
	Card          Card
}

// Broken is a file that was left out, or a part of one.
type Broken struct {
	Where   string // "sloe.yaml, line 31"
	What    string // what is wrong, with a right example
	LeftOut string // "sloe is left out"
}

// Lot is honey with a notice.
type Lot struct {
	Name string
	Says string // "20.4 % water: use it now"
}

// Card is a vessel as a stem with its figures.
type Card struct {
	About   []string // "lime blossom, white wine"
	Stem    []Notch  // from the original down to the finish
	Figures []Figure
	Log     []Logged // newest first
}

// Notch is one place on the stem.
type Notch struct {
	Gravity float64
	Number  string // the gravity as it is written
	Kind    NotchKind
	Break   string // "⅓"
	Says    string // "about 14:30 today, ±4 h"
	Short   string // "≈ 14:30"
}

// NotchKind is the kind of a notch.
type NotchKind int

// The kinds of notches.
const (
	Original NotchKind = iota
	Now
	AtBreak
	AtLimit
	Finish
)

// Figure is "falling  8.7  points/d". Unit may have more than the unit; Short never does.
type Figure struct{ Name, Number, Unit, Short string }

// Logged is an entry of the log in one line.
type Logged struct{ When, What string }

type subject struct {
	*app.Vessel
	shown []item
}

// subjectsOf returns vessels and cultures with the tasks that are shown of each.
func subjectsOf(s app.Snapshot) []subject {
	var ss []subject
	for _, vs := range [][]app.Vessel{s.Vessels, s.Cultures} {
		for i := range vs {
			ss = append(ss, subject{&vs[i], shown(&vs[i], s.At)})
		}
	}
	return ss
}

// Of writes the sheet of a snapshot.
func Of(s app.Snapshot) Sheet {
	subjects := subjectsOf(s)
	return sheetOf(s, subjects, func(v subject) []item { return v.shown }, func(v subject) Row {
		r := rowOf(v, s)
		r.Curve = curve(v.Course)
		r.Card = Card{About: about(v.Ferment), Stem: stem(v, s.At), Figures: figures(v.Course, s.At), Log: logOf(*v.Vessel, s.At)}
		return r
	})
}

// Ahead writes a sheet for paper, with tasks of the coming days; 0 for today only.
func Ahead(s app.Snapshot, days int) Sheet {
	sheet := sheetOf(s, subjectsOf(s), func(v subject) []item { return itemsOf(v.Vessel, s.At, days) }, func(v subject) Row { return rowOf(v, s) })
	sheet.Days = days
	return sheet
}

// sheetOf writes the sheet: lines for what is worth one, rows for every subject.
func sheetOf(s app.Snapshot, subjects []subject, worth func(subject) []item, row func(subject) Row) Sheet {
	items := ferment.Flat(subjects, worth)
	sheet := Sheet{
		At:     s.At,
		Dir:    ferment.Harmless(s.Cellar.Dir),
		Chart:  s.Cellar.Settings.Chart,
		Tasks:  linesOf(arranged(items), s.At),
		Broken: brokenOf(s),
		Next:   nextOf(subjects, s.At),
	}
	for _, n := range schedule.LotNotices(s.Cellar, s.At) {
		sheet.Honey = append(sheet.Honey, Lot{n.Lot, n.Reason})
	}
	sheet.Counts = countsOf(Shared(sheet.Tasks))
	tied := ties(s.Vessels)
	for i, v := range subjects[:len(s.Vessels)] {
		r := row(v)
		if r.Trial = tied[i]; v.Course.Stage == course.Bottled {
			sheet.Bottled = append(sheet.Bottled, r)
		} else {
			sheet.Vessels = append(sheet.Vessels, r)
		}
	}
	folds := func(r Row) bool { return r.Quiet && r.Trial == "" } // into one row, the last
	sheet.Vessels = append(slices.DeleteFunc(slices.Clone(sheet.Vessels), folds), ferment.Where(sheet.Vessels, folds)...)
	for _, v := range subjects[len(s.Vessels):] {
		if len(v.shown) > 0 {
			sheet.Vessels = append(sheet.Vessels, cultureRow(v, s.At))
		}
	}
	return sheet
}

// nextOf returns the next task of all: "look at the airlock of HEATH, Sat 21 Nov".
func nextOf(ss []subject, now time.Time) string {
	is := ferment.Flat(ss, func(v subject) []item { return ahead(v.shown) })
	if len(is) == 0 {
		return ""
	}
	first := slices.MinFunc(is, byRank)
	return ActLabel(*first.task) + " of " + first.vessel.Label() + ", " + first.until(now)
}

// Today returns the tasks except those of the days ahead.
func (s Sheet) Today() []Line {
	return slices.DeleteFunc(slices.Clone(s.Tasks), func(l Line) bool {
		return l.Word == Coming && daysApart(comesOn(l.Task, s.At), s.At) > 0
	})
}

// On returns the tasks of a day, so many days from today, by hour.
func (s Sheet) On(days int) []Line {
	var lines []Line
	for _, l := range s.Tasks {
		at := comesOn(l.Task, s.At)
		if l.Word != Coming || daysApart(at, s.At) != days {
			continue
		}
		l.Until = hourOf(l.Task, at.In(s.At.Location()))
		lines = append(lines, l)
	}
	return lines
}

// Calm reports whether there is nothing to do today.
func (s Sheet) Calm() bool {
	return !slices.ContainsFunc(s.Tasks, func(l Line) bool {
		return slices.Contains([]Word{Danger, Stop, Late, Held, Due, Later}, l.Word)
	})
}

// Empty reports whether there is nothing in the cellar.
func (s Sheet) Empty() bool { return len(s.Vessels)+len(s.Bottled)+len(s.Tasks) == 0 }

// Row returns the row of a vessel or a culture, from the board or the shelf.
func (s Sheet) Row(id string) Row {
	row, _ := ferment.FirstWhere(slices.Concat(s.Vessels, s.Bottled), func(r Row) bool { return r.ID == id })
	return row
}

// FullTitle returns "Wednesday 7 October 2026, 07:04".
func (s Sheet) FullTitle() string { return s.At.Format("Monday 2 January 2006, 15:04") }

// Title returns "Wednesday 7 October, 07:04".
func (s Sheet) Title() string { return s.At.Format("Monday 2 January, 15:04") }

// ShortTitle returns "Wed 7 Oct, 07:04".
func (s Sheet) ShortTitle() string { return s.At.Format("Mon 2 Jan, 15:04") }

// Lines returns the tasks of one subject.
func (s Sheet) Lines(subject string) []Line {
	return slices.DeleteFunc(slices.Clone(s.Tasks), func(l Line) bool { return l.Subject != subject })
}
