package app_test

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	entryline "cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// The cellar below is invented: two jugs of one lime must, a heather jug, and a
// hawthorn culture.

func at(day, hour, minute int) time.Time {
	return time.Date(2026, time.October, day, hour, minute, 0, 0, time.UTC)
}

// shelf is a store in memory. Its logs take entries like the files.
type shelf struct {
	cellar ferment.Cellar
	full   string // the subject whose file cannot be written
	lost   string // the subject whose last entry was edited

	written []ferment.Written
}

var (
	errFull    = errors.New("the disk is full")
	errChanged = errors.New("it does not stand as it was written")
)

func (s *shelf) Load(time.Time) (ferment.Cellar, error) {
	c := s.cellar
	c.Ferments, c.Cultures = slices.Clone(c.Ferments), slices.Clone(c.Cultures)
	return c, nil
}

func (s *shelf) Changed() bool { return false }

// log returns the log of a subject.
func (s *shelf) log(subject string) *[]ferment.Entry {
	for i := range s.cellar.Ferments {
		if f := &s.cellar.Ferments[i]; f.ID == subject {
			f.Stamp++
			return &f.Log
		}
	}
	for i := range s.cellar.Cultures {
		if k := &s.cellar.Cultures[i]; k.ID == subject {
			return &k.Log
		}
	}
	return nil
}

func (s *shelf) Append(subject string, entries []ferment.Entry) (ferment.Receipt, error) {
	if subject == s.full {
		return ferment.Receipt{}, errFull
	}
	log := s.log(subject)
	for _, e := range entries {
		e.Order = len(*log)
		*log = append(*log, e)
	}
	return ferment.Receipt{Subject: subject, Entries: entries}, nil
}

// Apply keeps only the entries of a change.
func (s *shelf) Apply(change ferment.Change) (receipts []ferment.Receipt, err error) {
	for _, l := range change.Entries {
		r, err := s.Append(l.Subject, l.Entries)
		if err != nil {
			return receipts, err
		}
		receipts = append(receipts, r)
	}
	return receipts, nil
}

func (s *shelf) Past(time.Time) ([]ferment.Ferment, []ferment.Problem, error) { return nil, nil, nil }
func (s *shelf) OfPast(func(ferment.Ferment) any) []json.RawMessage           { return nil }
func (s *shelf) Protocols() ferment.Plans                                     { return s.cellar.Protocols }

func (s *shelf) Check(now time.Time) (ferment.Cellar, error)   { return s.Load(now) }
func (s *shelf) Quote(ps []ferment.Problem) []ferment.Problem  { return ps }
func (s *shelf) Lost(ferment.Cellar) ([]ferment.Lost, error)   { return nil, nil }
func (s *shelf) Restore(ferment.Lost) (ferment.Receipt, error) { return ferment.Receipt{}, nil }
func (s *shelf) Dismiss(ferment.Lost) error                    { return nil }

// Strike takes an entry out of the log, wherever it is.
func (s *shelf) Strike(subject string, e ferment.Entry, _ string, instead ...ferment.Entry) (ferment.Receipt, error) {
	log := s.log(subject)
	*log = slices.DeleteFunc(slices.Clone(*log), func(o ferment.Entry) bool { return o.At.Time.Equal(e.At.Time) && o.Line == e.Line })
	*log = append(*log, instead...)
	return ferment.Receipt{Subject: subject, Entries: []ferment.Entry{e}, Instead: instead, Struck: true}, nil
}

func (s *shelf) Written() []ferment.Written     { return s.written }
func (s *shelf) SetWritten(w []ferment.Written) { s.written = w }

func (s *shelf) Undo(r ferment.Receipt) error {
	switch r.Subject {
	case s.lost:
		return errChanged
	case s.full:
		return &journal.WriteError{File: r.File, Err: errFull}
	}
	log := s.log(r.Subject)
	*log = (*log)[:len(*log)-len(r.Entries)]
	return nil
}

// line parses an entry line after its day and hour: "5 07:00 1.066".
func line(text string) ferment.Entry {
	day, rest, _ := strings.Cut(text, " ")
	hour, what, _ := strings.Cut(rest, " ")
	when, err := time.Parse("2 15:04 Jan 2006", day+" "+hour+" Oct 2026")
	if err != nil {
		panic(err)
	}
	l, err := entryline.Parse(what, entryline.Context{Now: when, Zone: time.UTC})
	if err != nil {
		panic(text + ": " + err.Error())
	}
	l.Entry.At = ferment.At(when)
	return l.Entry
}

func lines(text string) []ferment.Entry {
	var es []ferment.Entry
	for _, one := range strings.Split(text, "|") {
		if strings.TrimSpace(one) != "" {
			es = append(es, line(strings.TrimSpace(one)))
		}
	}
	return es
}

// jug returns a lime jug of so many litres with its log.
func jug(id string, litres float64, log string) ferment.Ferment {
	f := ferment.Ferment{ID: id, Tag: strings.ToUpper(id), Protocol: "small-jug", File: "ferments/" + id + ".yaml", Log: lines(log),
		Yeast: ferment.Yeast{Name: "white-wine yeast", Tolerance: measure.Give(measure.Strength(14), "14 %")}}
	f.Must.Volume = measure.Give(measure.Volume(litres), measure.Decimal(litres, 1)+" L")
	f.Must.Gravity = measure.Give(measure.Gravity(1.084), "1.084")
	return f
}

// lime returns a trial of two jugs of different size, both fermenting.
func lime() *shelf {
	log := "3 11:00 pitch|4 08:00 started|5 07:00 1.072"
	a, b := jug("lime-a", 3.5, log), jug("lime-b", 1.8, log)
	a.Trial.Name, b.Trial.Name = "lime", "lime"
	return holding(a, b)
}

// holding returns a store of some ferments and the hawthorn culture.
func holding(fs ...ferment.Ferment) *shelf {
	s := &shelf{cellar: ferment.Cellar{Dir: "/cellar", Settings: ferment.DefaultSettings(time.UTC), Protocols: journal.Plans(protocols.Files()), Ferments: fs}}
	s.cellar.Cultures = []ferment.Culture{{ID: "hawthorn-3", Name: "hawthorn blossom", Protocol: "wild-culture", Verdict: "trying",
		Log: lines("4 12:00 collect")}}
	return s
}

// vessel returns a subject at a moment.
func vessel(s *shelf, id string, now time.Time) (app.Snapshot, app.Vessel) {
	snapshot, err := app.New(s).Open(now)
	if err != nil {
		panic(err)
	}
	v, ok := snapshot.Find(id)
	if !ok {
		panic("no vessel " + id)
	}
	return snapshot, v
}

// written returns the last entries of a subject's log in short: when, the act or step, the amount.
func written(s *shelf, id string, n int) []string {
	log := *s.log(id)
	var out []string
	for _, e := range log[len(log)-n:] {
		parts := []string{e.At.Time.Format("15:04:05"), string(e.Did), e.Step, e.Skipped, e.Amount.Text, e.Overrode, e.Because}
		if e.Amount.Unknown {
			parts = append(parts, "unknown")
		}
		out = append(out, strings.Join(strings.Fields(strings.Join(parts, " ")), " "))
	}
	return out
}
