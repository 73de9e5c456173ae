package journal_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
)

// innerList returns a list inside an item, in one of the ways to write it.
func innerList(t *rapid.T, key, one, margin string) string {
	switch rapid.IntRange(0, 6).Draw(t, "kind of inner list") {
	case 0:
		return ""
	case 1:
		return margin + key + ":" + rapid.SampledFrom([]string{"", " ~", " null # none", " []", " [ ] # none"}).Draw(t, "empty") + "\n"
	case 2:
		return margin + key + ": [" + one + rapid.SampledFrom([]string{"]", ",]", " ] # end", ",\n" + margin + "    " + one + "\n" + margin + "  ]"}).Draw(t, "end") + "\n"
	}
	text := margin + key + ":\n"
	deep := margin + rapid.SampledFrom([]string{"", "  ", "    "}).Draw(t, "inner margin")
	for range rapid.IntRange(1, 3).Draw(t, "inner items") {
		text += between(t) + deep + "- " + one + "\n"
	}
	return text
}

// outerItem returns one lot or culture of a block list, its dash included.
func outerItem(t *rapid.T, id, key, one, margin string) string {
	if rapid.IntRange(0, 4).Draw(t, "brackets") == 0 {
		held := rapid.SampledFrom([]string{"", ", " + key + ": [" + one + "]", ", " + key + ": []", ", " + key + ": "}).Draw(t, "held")
		return margin + "- {id: " + id + ", note: \"a, ] b\"" + held + "}\n"
	}
	gap := rapid.SampledFrom([]string{" ", "   "}).Draw(t, "gap")
	deep := margin + " " + gap
	note := strings.ReplaceAll(rapid.SampledFrom(noteStyles).Draw(t, "note"), "%s", deep)
	parts := []string{deep + "note: " + note + "\n", innerList(t, key, one, deep), deep + "name: bell # heather\n"}
	text := margin + "-" + gap + "id: " + id + "\n"
	if rapid.IntRange(0, 4).Draw(t, "dash alone") == 0 {
		text = margin + "-\n" + deep + "id: " + id + "\n"
	}
	for _, p := range rapid.Permutation(parts).Draw(t, "order") {
		text += between(t) + p
	}
	return text
}

// listDocument returns a file of lots or cultures.
func listDocument(t *rapid.T, list, key, one string) []byte {
	text := between(t)
	switch rapid.IntRange(0, 8).Draw(t, "kind of list") {
	case 0:
		text += rapid.SampledFrom([]string{"", "# nothing yet\n", "---\n", "format: 1\n", "format: 1\n# none\n", "{format: 1}\n"}).Draw(t, "no list")
	case 1:
		text += rapid.SampledFrom([]string{"%s:\n", "%s: ~\n", "format: 1\n%s: null # none\n", "%s: []\nformat: 1\n", "\"%s\": [ ] # none\n", "{%s: [], format: 1}"}).Draw(t, "empty list")
		text = strings.ReplaceAll(text, "%s", list)
	case 2:
		items := "{id: a, " + key + ": [" + one + "]}" + rapid.SampledFrom([]string{", ", ",\n  ", " , # ]\n "}).Draw(t, "parting") + "{id: b}"
		text += "format: 1\n" + list + ": [" + items + rapid.SampledFrom([]string{"]", ",]", "\n ] # end"}).Draw(t, "end") + "\n"
	default:
		margin := strings.Repeat(" ", rapid.SampledFrom([]int{0, 2, 4}).Draw(t, "margin"))
		text += rapid.SampledFrom([]string{"format: 1\n", "---\nformat: 1 # first\n"}).Draw(t, "head") + list + ": # all of them\n"
		for i := range rapid.IntRange(1, 3).Draw(t, "items") {
			text += between(t) + outerItem(t, string(rune('a'+i)), key, one, margin)
		}
		text += rapid.SampledFrom([]string{"", "", "# that is all\n", "...\n"}).Draw(t, "foot")
	}
	if rapid.Bool().Draw(t, "no line end") {
		text = strings.TrimSuffix(text, "\n")
	}
	if rapid.Bool().Draw(t, "carriage returns") {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return []byte(rapid.SampledFrom([]string{"", "", "\ufeff"}).Draw(t, "mark") + text)
}

func lotDocument(t *rapid.T) []byte {
	return listDocument(t, "lots", "used", "{at: 2026-10-02, mass: 500 g, for: \"a ] b\"}")
}

func cultureDocument(t *rapid.T) []byte {
	return listDocument(t, "cultures", "log", "{at: 2026-05-18, did: collect}")
}

func lotsIn(t require.TestingT, text []byte) []ferment.Lot {
	r := journal.ReadLots("honey.yaml", text, time.UTC)
	require.True(t, r.Readable, "%s\n%s", text, lines(r.Problems))
	for i := range r.Value {
		r.Value[i].Line = 0
	}
	return r.Value
}

func culturesIn(t require.TestingT, text []byte) []ferment.Culture {
	r := journal.ReadCultures("cultures.yaml", text, time.UTC)
	require.True(t, r.Readable, "%s\n%s", text, lines(r.Problems))
	for i := range r.Value {
		r.Value[i].Line = 0
		for j := range r.Value[i].Log {
			e := &r.Value[i].Log[j]
			e.Line, e.Order = 0, 0
			e.At.Text = ""
		}
	}
	return r.Value
}

// requireBytes checks that every byte except the inserted ones is unchanged, and that only a word for "nothing" was
// replaced.
func requireBytes(t require.TestingT, before []byte, got journal.Insertion) {
	whole := string(got.Text)
	require.Equal(t, got.Added, whole[got.Offset:got.Offset+len(got.Added)])
	require.Equal(t, string(before), whole[:got.Offset]+got.Removed+whole[got.Offset+len(got.Added):])
	require.Contains(t, []string{"", "~", "null", "Null", "NULL"}, got.Removed)
}

// requireMore checks that a list has the new items at its end or its beginning.
func requireMore[T any](t require.TestingT, before, after, items []T) {
	require.Len(t, after, len(before)+len(items))
	at := len(before)
	if fmt.Sprint(before) != fmt.Sprint(after[:at]) {
		at = 0
	}
	require.Equal(t, fmt.Sprint(items), fmt.Sprint(after[at:at+len(items)]))
	require.Equal(t, fmt.Sprint(before), fmt.Sprint(append(append([]T(nil), after[:at]...), after[at+len(items):]...)))
}

func anyWords(t *rapid.T) string {
	return strings.TrimSpace(ferment.Harmless(strings.ToValidUTF8(rapid.String().Draw(t, "words"), "")))
}

func anyDay(t *rapid.T) ferment.Moment {
	d := time.Date(2026, 7, rapid.IntRange(1, 31).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
	return ferment.Moment{Time: d, DayOnly: true, Text: d.Format(time.DateOnly)}
}

func anyMass(t *rapid.T) measure.Given[measure.Mass] {
	m, err := measure.ParseMass(rapid.SampledFrom([]string{"8.20 kg", "500 g", "2 lb 8 oz"}).Draw(t, "mass"))
	require.NoError(t, err)
	return m
}

func anyUse(t *rapid.T) ferment.Use {
	return ferment.Use{At: anyDay(t), Mass: anyMass(t), For: anyWords(t)}
}

func anyLot(t *rapid.T, id string) ferment.Lot {
	l := ferment.Lot{ID: id, Name: anyWords(t), Taken: anyDay(t), Mass: anyMass(t), Treated: anyWords(t), Note: anyWords(t),
		State: rapid.SampledFrom(ferment.LotStates).Draw(t, "state")}
	for range rapid.IntRange(0, 2).Draw(t, "uses") {
		l.Used = append(l.Used, anyUse(t))
	}
	return l
}

func TestLotsAndUsesKeepEverythingElse(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := lotDocument(r)
		if !journal.ReadLots("honey.yaml", text, time.UTC).Readable {
			r.Skip("not a file that can be read")
		}
		before := lotsIn(r, text)
		lots := []ferment.Lot{anyLot(r, "new-1"), anyLot(r, "new-2")}[:rapid.IntRange(1, 2).Draw(r, "lots")]
		got, err := journal.InsertLots(text, lots...)
		if err != nil {
			r.Fatalf("%s\n%q", err, text)
		}
		requireBytes(r, text, got)
		after := lotsIn(r, got.Text)
		requireMore(r, before, after, lots)

		i := rapid.IntRange(0, len(after)-1).Draw(r, "which lot")
		uses := []ferment.Use{anyUse(r)}
		more, err := journal.InsertUses(got.Text, after[i].ID, uses...)
		if err != nil {
			r.Fatalf("%s\n%q", err, got.Text)
		}
		requireBytes(r, got.Text, more)
		last := lotsIn(r, more.Text)
		requireMore(r, after[i].Used, last[i].Used, uses)
		last[i].Used, after[i].Used = nil, nil
		require.Equal(r, fmt.Sprint(after), fmt.Sprint(last))
	})
}

func TestCulturesKeepEverythingElse(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := cultureDocument(r)
		if !journal.ReadCultures("cultures.yaml", text, time.UTC).Readable {
			r.Skip("not a file that can be read")
		}
		before := culturesIn(r, text)
		one := ferment.Culture{ID: "new-1", Name: anyWords(r), Source: anyWords(r), Note: anyWords(r), Verdict: "trying"}
		for range rapid.IntRange(0, 2).Draw(r, "entries") {
			one.Log = append(one.Log, anyEntry(r))
		}
		got, err := journal.InsertCultures(text, one)
		if err != nil {
			r.Fatalf("%s\n%q", err, text)
		}
		requireBytes(r, text, got)
		after := culturesIn(r, got.Text)
		requireMore(r, before, after, []ferment.Culture{one})

		i := rapid.IntRange(0, len(after)-1).Draw(r, "which culture")
		more, err := journal.InsertCulture(got.Text, after[i].ID, degassed())
		if err != nil {
			r.Fatalf("%s\n%q", err, got.Text)
		}
		requireBytes(r, got.Text, more)
		last := culturesIn(r, more.Text)
		requireMore(r, after[i].Log, last[i].Log, []ferment.Entry{degassed()})
		last[i].Log, after[i].Log = nil, nil
		require.Equal(r, fmt.Sprint(after), fmt.Sprint(last))
	})
}

// The generators are only useful if most of their documents are readable.
func TestListDocumentsAreMostlyReadable(t *testing.T) {
	readable, all := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		all += 2
		if journal.ReadLots("honey.yaml", lotDocument(r), time.UTC).Readable {
			readable++
		}
		if journal.ReadCultures("cultures.yaml", cultureDocument(r), time.UTC).Readable {
			readable++
		}
	})
	require.Greater(t, readable, all*3/5, fmt.Sprintf("%d of %d", readable, all))
}

// For any file of lots or cultures: what is inserted into a readable one is there afterwards, with everything else
// unchanged, or nothing is inserted.
func FuzzInsertList(f *testing.F) {
	for _, seed := range []string{
		"", "# none yet\n", "format: 1\nlots:\n  - id: a\n    used: []\n", "lots: [{id: a, used: [{at: 2026-10-02, mass: 500 g}]}, {id: b}]\n", "{format: 1}\n",
		"lots:\n- id: a\n  note: |+\n    dark\n\n", "\ufefflots:\r\n  -\r\n    id: a\r\n    used: ~\r\n# end\r\n", "lots: null # none\nformat: 1",
		cultures, "cultures:\n  - {id: a, log: [{at: 2026-05-18, did: collect}]}\n...\n", "cultures:\n  - id: a\n    log:\n    - at: 2026-05-18\n      note: 'a\n\n        b'\n    name: x\n",
	} {
		f.Add([]byte(seed), "table: \"two\" # jars")
	}
	f.Fuzz(func(t *testing.T, text []byte, words string) {
		words = strings.TrimSpace(ferment.Harmless(strings.ToValidUTF8(words, "\ufffd")))
		if bytes.Contains(text, []byte("new-1")) {
			t.Skip("the id is taken")
		}
		if journal.ReadLots("honey.yaml", text, time.UTC).Readable {
			before, lot := lotsIn(t, text), ferment.Lot{ID: "new-1", Note: words}
			if got, err := journal.InsertLots(text, lot); err == nil {
				requireBytes(t, text, got)
				requireMore(t, before, lotsIn(t, got.Text), []ferment.Lot{lot})
			}
			use := ferment.Use{At: ferment.Moment{Time: time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC), DayOnly: true, Text: "2026-07-01"}, For: words}
			for i, lot := range before {
				if got, err := journal.InsertUses(text, lot.ID, use); err == nil && i == firstOf(before, lot.ID) {
					requireBytes(t, text, got)
					requireMore(t, lot.Used, lotsIn(t, got.Text)[i].Used, []ferment.Use{use})
				}
			}
		}
		if journal.ReadCultures("cultures.yaml", text, time.UTC).Readable {
			before, one := culturesIn(t, text), ferment.Culture{ID: "new-1", Source: words, Log: []ferment.Entry{degassed()}}
			if got, err := journal.InsertCultures(text, one); err == nil {
				requireBytes(t, text, got)
				requireMore(t, before, culturesIn(t, got.Text), []ferment.Culture{one})
			}
		}
	})
}

// firstOf returns the index of the first lot with an id.
func firstOf(lots []ferment.Lot, id string) int {
	return slices.IndexFunc(lots, func(l ferment.Lot) bool { return l.ID == id })
}
