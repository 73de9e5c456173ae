package app_test

import (
	"testing"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// TestUnlikelyChange: what a form or a command will write is asked about like an entry, and like check's remarks.
func TestUnlikelyChange(t *testing.T) {
	mass := func(kg float64, text string) measure.Given[measure.Mass] { return measure.Give(measure.Mass(kg), text) }
	must := func(gravity string, honey ferment.HoneyPart) ferment.Ferment {
		f := ferment.Ferment{ID: "new", Must: ferment.Must{Volume: measure.Give(measure.Volume(3.6), "3.6 L"), Honey: []ferment.HoneyPart{honey}},
			Vessel: ferment.Vessel{Brimful: measure.Give(measure.Volume(4.1), "4.1 L")}, Log: []ferment.Entry{{At: ferment.At(at(60, 9, 0)), Did: ferment.Mix}}}
		f.Must.Gravity, _ = measure.ParseGravity(gravity)
		return f
	}
	larger := must("1.086", ferment.HoneyPart{Mass: mass(0.98, "980 g")})
	larger.Must.Volume = measure.Give(measure.Volume(36), "36 L")
	larger.Must.Gravity, larger.Must.Honey = measure.Given[measure.Gravity]{}, nil
	filled := func(codes string) ferment.Entry {
		return ferment.Entry{At: ferment.At(at(70, 9, 0)), Did: ferment.Bottle, Bottles: []ferment.Bottles{{Kind: "crown beer bottle", Count: 3, Codes: codes}}}
	}
	of := func(e ferment.Entry) ferment.Change {
		return ferment.Change{Entries: []ferment.Logged{{Subject: "heath", Entries: []ferment.Entry{e}}}}
	}
	opened := func(code string, day int) ferment.Change {
		return of(ferment.Entry{At: ferment.At(at(day, 19, 0)), Did: ferment.Open, Bottle: code})
	}
	for _, c := range []struct {
		what   string
		change ferment.Change
		asks   string
	}{
		{"a likely must", ferment.Change{Ferments: []ferment.Ferment{must("1.086", ferment.HoneyPart{Mass: mass(0.98, "980 g")})}}, ""},
		{"gravity against masses", ferment.Change{Ferments: []ferment.Ferment{must("1.068", ferment.HoneyPart{Mass: mass(0.98, "980 g")})}}, "the must was read at 1.068, and its honey in 3.6 L comes to 1.086"},
		{"too strong", ferment.Change{Ferments: []ferment.Ferment{must("1.140", ferment.HoneyPart{})}}, "over 1.130"},
		{"volume against the glass", ferment.Change{Ferments: []ferment.Ferment{larger}}, "36 L is more than the vessel takes, 4.1 L to the brim"},
		{"honey over its lot", ferment.Change{Ferments: []ferment.Ferment{must("1.086", ferment.HoneyPart{Lot: "moor", Mass: mass(0.98, "980 g")})}}, `lot "moor": 900 g was taken and 980 g is used`},
		{"a use over its lot", ferment.Change{Uses: []ferment.LotUse{{Lot: "moor", Use: ferment.Use{Mass: mass(1, "1 kg"), For: "table"}}}}, `lot "moor": 900 g was taken`},
		{"before the harvest", ferment.Change{Uses: []ferment.LotUse{{Lot: "moor", Use: ferment.Use{At: ferment.At(at(-70, 9, 0)), Mass: mass(0.1, "100 g"), For: "table"}}}}, `lot "moor" was taken on 2026-08-20, and table has honey of it`},
		{"codes of their own", of(filled("H 4-6")), ""},
		{"codes twice", of(filled("H 3-5")), `the bottle code "H 3" is that of`},
		{"a bottle that is there", opened("H 2", 72), ""},
		{"a bottle that is not", opened("H 9", 72), "no bottle H 9 was filled of it"},
		{"a bottle that was opened", opened("H 1", 72), "bottle H 1 was opened on 10 Dec 2026 already"},
		{"the same evening", opened("H 1", 71), ""},
		{"a dose of a form", of(ferment.Entry{At: ferment.At(at(71, 20, 0)), Did: ferment.Nutrient, Amount: ferment.Amount{Unknown: true}}), "and all of it is in bottles"},
	} {
		f := jug("heath", 3.6, "3 11:00 pitch|14 07:00 0.997")
		f.Log = append(f.Log, filled("H 1-3"), ferment.Entry{At: ferment.At(at(71, 19, 0)), Did: ferment.Open, Bottle: "H 1"})
		f.Log[len(f.Log)-2].At = ferment.At(at(62, 9, 0))
		s := holding(f)
		s.cellar.Lots = []ferment.Lot{{ID: "moor", Taken: ferment.At(time.Date(2026, 8, 20, 0, 0, 0, 0, time.UTC)), Mass: mass(0.9, "900 g")}}
		snapshot, _ := vessel(s, "heath", at(74, 9, 0))
		assertAsks(t, c.asks, app.Says(app.UnlikelyChange(snapshot, c.change)), c.what)
	}
}
