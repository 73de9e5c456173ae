package form

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/schedule/words"
)

// The cellar here is invented: a lime jug at rest and others.

// pitched is day 0 of every log.
var pitched = time.Date(2026, time.June, 1, 18, 0, 0, 0, time.UTC)

// atRest is a must of 1.084 that was racked clear and read steady for sixteen days, at its dry finish of 0.9964.
const atRest = `0 pitch | 1 started | 5 1.045 | 10 1.012 | 20 1.000 | 60 0.997 17C | 62 rack clear vol3.2L | 68 0.997 17C | 76 0.997 18C ph3.4`

// tested is the same with a forced test.
const tested = atRest + ` | 70 forced-test | 75 forced-test 0.997`

// logOf parses a log of one line: entries separated by bars, each a day and an entry line.
func logOf(text string) []ferment.Entry {
	var log []ferment.Entry
	for _, part := range strings.Split(text, "|") {
		day, typed, _ := strings.Cut(strings.TrimSpace(part), " ")
		days, err := measure.ParseNumber(day)
		if err != nil {
			panic(err)
		}
		at := pitched.Add(time.Duration(days*24*60) * time.Minute)
		l, err := line.Parse(typed, line.Context{Now: at, Zone: time.UTC})
		if err != nil {
			panic(part + ": " + err.Error())
		}
		l.Entry.At, l.Entry.Order = ferment.At(at), len(log)
		log = append(log, l.Entry)
	}
	return log
}

// lime returns a jug of 3.6 L with its log.
func lime(id, log string, changes ...func(*ferment.Ferment)) ferment.Ferment {
	f := ferment.Ferment{ID: id, Tag: strings.ToUpper(id), Name: "lime blossom", Protocol: "small-jug", File: "ferments/" + id + ".yaml",
		Vessel: ferment.Vessel{Kind: "glass jug", Brimful: measure.Give[measure.Volume](4.1, "4.1 L"), Declared: true},
		Yeast:  ferment.Yeast{Name: "white-wine yeast", Tolerance: measure.Give[measure.Strength](15, "15 %")}}
	if log != "" {
		f.Log = logOf(log)
	}
	f.Must.Volume = measure.Give[measure.Volume](3.6, "3.6 L")
	f.Must.Gravity = measure.Give[measure.Gravity](1.084, "1.084")
	f.Must.Honey = []ferment.HoneyPart{{Lot: "lime-26", Mass: measure.Give[measure.Mass](0.98, "980 g")}}
	for _, change := range changes {
		change(&f)
	}
	return f
}

func ends(as ...ferment.Ending) func(*ferment.Ferment) {
	return func(f *ferment.Ferment) { f.Endings = as }
}

// cellar returns a cellar so many days after day 0.
func cellar(days float64, change func(*ferment.Settings), fs ...ferment.Ferment) app.Snapshot {
	now := pitched.Add(time.Duration(days*24*60) * time.Minute)
	c := ferment.Cellar{Dir: "/cellar", Settings: ferment.DefaultSettings(time.UTC), Protocols: journal.Plans(protocols.Files()), Ferments: fs}
	c.Settings.Weighs = measure.Grams(0.01)
	c.Lots = []ferment.Lot{{ID: "lime-26", Mass: measure.Give[measure.Mass](3, "3 kg"), Water: measure.Give[measure.Share](18.1, "18.1 %")}}
	if change != nil {
		change(&c.Settings)
	}
	s := app.Snapshot{At: now, Cellar: c}
	for _, f := range c.Joined(ferment.Parted(fs)) {
		s.Vessels = append(s.Vessels, app.Plan(f, c, now))
	}
	return s
}

// values parses "what=rack after=3.0L"; values with spaces are quoted.
func values(text string) Values {
	vs := Values{}
	for text = strings.TrimSpace(text); text != ""; text = strings.TrimSpace(text) {
		key, rest, _ := strings.Cut(text, "=")
		value := ""
		if quoted, is := strings.CutPrefix(rest, "'"); is {
			value, text, _ = strings.Cut(quoted, "'")
		} else {
			value, text, _ = strings.Cut(rest, " ")
		}
		vs[key] = value
	}
	return vs
}

// said writes the lines of an outcome.
func said(o Outcome) string {
	var lines []string
	for _, a := range o.Answer {
		lines = append(lines, "= "+a)
	}
	for _, l := range o.Lines {
		lines = append(lines, strings.TrimSpace(string(l.Word)+" "+l.Text))
	}
	return strings.Join(lines, "\n")
}

func wrong(o Outcome) string {
	var ws []string
	for _, w := range o.Wrong {
		ws = append(ws, w.Key+": "+w.Text)
	}
	return strings.Join(ws, "\n")
}

// written writes the entries of a change in short: subject, act, measurements.
func written(d ferment.Change) []string {
	var out []string
	for _, l := range d.Entries {
		for _, e := range l.Entries {
			parts := []string{l.Subject, string(e.Did), e.Amount.Text, e.Of}
			for name, text := range map[string]string{"volume": e.Volume.Text} {
				if text != "" {
					parts = append(parts, name+" "+text)
				}
			}
			if e.Lost.Known() {
				parts = append(parts, "lost "+e.Lost.Text)
			}
			if e.Stock.Known() {
				parts = append(parts, "stock "+e.Stock.Text)
			}
			if e.Alcohol.Known() {
				parts = append(parts, "alcohol "+e.Alcohol.Text)
			}
			if e.Lot != "" {
				parts = append(parts, "lot "+e.Lot, "water "+e.Water.Text)
			}
			if e.Left.Known() {
				parts = append(parts, "left "+e.Left.Text)
			}
			if e.Overrode != "" {
				parts = append(parts, "overrode "+e.Overrode+" because "+e.Because)
			}
			out = append(out, strings.Join(strings.Fields(strings.Join(parts, " ")), " "))
		}
	}
	return out
}

// has reports whether an outcome has a line with a word and a text.
func has(o Outcome, word words.Word, text string) bool {
	for _, l := range o.Lines {
		if l.Word == word && strings.Contains(l.Text, text) {
			return true
		}
	}
	return false
}
