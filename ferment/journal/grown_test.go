package journal_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
)

// Values as people write them: bare, in quotes, over several lines. %s is the margin of continued lines.
var noteStyles = []string{
	"foam", "'it''s foam'", `"foam \" # and ] more"`, "foam # a comment", "a #hash, [and] {more}",
	"foam\n%s  and more", "\"foam\n\n%s  # not a comment\"", "'foam\n%s  - and more'",
	"|\n%s  foam\n\n%s  # not a comment", "|-\n%s  foam\n", "|+\n%s  foam\n\n", ">\n%s  foam\n%s  and more\n\n\n", "|2\n%s    deeper\n%s  foam",
	"мёд 🐝", "蜜", "",
}

// between returns lines that may be between two lines of a document.
func between(t *rapid.T) string {
	return rapid.SampledFrom([]string{"", "", "", "\n", "\n\n", "# a comment\n", "  # deeper\n", "\n      # deepest\n\n"}).Draw(t, "between")
}

// logItem returns one entry of a block list, its dash included.
func logItem(t *rapid.T, margin string) string {
	if rapid.IntRange(0, 3).Draw(t, "brackets") == 0 {
		return margin + "- {at: 2026-09-12, note: \"[ \\\" }\"}\n"
	}
	gap := rapid.SampledFrom([]string{" ", "   "}).Draw(t, "gap")
	deep := margin + " " + gap
	note := strings.ReplaceAll(rapid.SampledFrom(noteStyles).Draw(t, "note"), "%s", deep)
	return margin + "-" + gap + "at: 2026-09-12\n" + between(t) + deep + "note: " + note + "\n"
}

// aLog returns a log in one of the ways to write one.
func aLog(t *rapid.T) string {
	switch rapid.IntRange(0, 9).Draw(t, "kind of log") {
	case 0:
		return ""
	case 1:
		return rapid.SampledFrom([]string{"log:\n", "log: ~\n", "log: null # none\n", "log: []\n", "\"log\": [ ] # none\n"}).Draw(t, "empty log")
	case 2:
		items := rapid.SliceOfN(rapid.SampledFrom([]string{"{at: 2026-09-12}", "{at: 2026-09-12, note: 'a ] b'}"}), 1, 3).Draw(t, "items")
		parts := rapid.SampledFrom([]string{", ", ",\n    ", " , # a comment ]\n  "}).Draw(t, "parting")
		return "log: [" + strings.Join(items, parts) + rapid.SampledFrom([]string{"]", ",]", "\n  ] # end"}).Draw(t, "end") + "\n"
	}
	margin := strings.Repeat(" ", rapid.SampledFrom([]int{0, 2, 4}).Draw(t, "margin"))
	log := "log:" + rapid.SampledFrom([]string{"", " # a comment"}).Draw(t, "beside log") + "\n"
	for range rapid.IntRange(1, 4).Draw(t, "entries") {
		log += between(t) + logItem(t, margin)
	}
	return log
}

// document returns a ferment's file with its log at any place.
func document(t *rapid.T) []byte {
	parts := []string{"name: Heather\n", "tag: \"H # 1\"\n", "must:\n  volume: 3.6 L\n", "vessel: {kind: jug}\n", aLog(t)}
	parts = rapid.Permutation(parts).Draw(t, "order")
	text := between(t)
	for _, p := range parts[:rapid.IntRange(3, len(parts)).Draw(t, "parts")] {
		text += p + between(t)
	}
	if rapid.Bool().Draw(t, "no line end") {
		text = strings.TrimSuffix(text, "\n")
	}
	if rapid.Bool().Draw(t, "carriage returns") {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return []byte(rapid.SampledFrom([]string{"", "", "\ufeff"}).Draw(t, "mark") + text)
}

func anyEntry(t *rapid.T) ferment.Entry {
	e := degassed()
	e.At.Time = e.At.Time.Add(time.Duration(rapid.IntRange(0, 1e6).Draw(t, "seconds")) * time.Second)
	e.Note = strings.TrimSpace(ferment.HarmlessLines(strings.ToValidUTF8(rapid.String().Draw(t, "words"), "")))
	e.Of = strings.TrimSpace(rapid.SampledFrom([]string{"", "yes", "~", "- a", "a: b", "a #b", "#", "'", "[", "1.050", "null", "a:", "-1", "? x", "% vol", "<<"}).Draw(t, "of"))
	return e
}

func TestInsertionKeepsEverythingElse(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text, entries := document(r), []ferment.Entry{anyEntry(r)}
		if rapid.Bool().Draw(r, "two") {
			entries = append(entries, anyEntry(r))
		}
		if !journal.ReadFerment("a", text, time.UTC).Readable {
			r.Skip("not a file that can be read")
		}
		got, err := journal.Insert(text, entries...)
		if err != nil {
			r.Fatalf("%s\n%q", err, text)
		}
		requireGrown(r, text, got, entries...)
	})
}

// The generator is only useful if most of its documents are readable.
func TestDocumentsAreMostlyReadable(t *testing.T) {
	readable, all := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		all++
		if text := document(r); journal.ReadFerment("a", text, time.UTC).Readable {
			readable++
		}
	})
	require.Greater(t, readable, all*3/5, fmt.Sprintf("%d of %d", readable, all))
}

func FuzzReader(f *testing.F) {
	for _, seed := range seeds() {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		r := journal.ReadFerment("ferments/a.yaml", text, time.UTC)
		require.Equal(t, len(r.Problems) == 0, r.Readable && !r.Value.Incomplete)
		for _, p := range r.Problems {
			require.NotEmpty(t, p.Message)
			require.Equal(t, ferment.Harmless(p.Message), p.Message)
			require.LessOrEqual(t, p.Line, strings.Count(string(text), "\n")+strings.Count(string(text), "\r")+strings.Count(string(text), "\u0085")+
				strings.Count(string(text), "\u2028")+strings.Count(string(text), "\u2029")+1)
		}
		journal.ReadSettings("cellar.yaml", text, time.UTC)
		journal.ReadLots("honey.yaml", text, time.UTC)
		journal.ReadCultures("cultures.yaml", text, time.UTC)
		journal.ReadProtocol("protocols/a.yaml", text)
	})
}

func FuzzInsert(f *testing.F) {
	for _, seed := range seeds() {
		f.Add([]byte(seed), "lively: two fingers")
	}
	f.Fuzz(func(t *testing.T, text []byte, note string) {
		before := journal.ReadFerment("a", text, time.UTC)
		e := degassed()
		e.Note = strings.TrimSpace(ferment.HarmlessLines(note))
		got, err := journal.Insert(text, e)
		if err != nil || !before.Readable {
			return
		}
		requireGrown(t, text, got, e)
	})
}

func seeds() []string {
	return []string{
		heather, cultures, "", "log:\n- at: 2026-09-12\n", "log: [{at: 2026-09-12}]", "{log: ~}", "log:\n  - at: 2026-09-12\n    note: |+\n      a\n\n",
		"log:\n  - note: a: b\n", "name: \"\\e[31m\"\n", "a: &a [*a]", "\ufefflog:\r\n", "--- {}\n...\n", "---", "~", "A: \v", "? [a]\n: b\n", "log: !!seq []\n",
	}
}
