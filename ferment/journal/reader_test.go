package journal_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
)

const heather = `format: 1
name: Bell heather, east hive          # free text
tag: BH-A
vessel: {kind: glass jug, brimful: 4.1 L}
trial: {name: bell-heather, differs: yeast}
from: {ferment: bh-0, at: 2026-09-10, volume: 1.0 L}
protocol: small-jug
ending: [still, bottle-conditioned]
must:
  volume: 3.6 L
  honey:
    - {lot: bell-heather-26, mass: 980 g, water: 18.1 %}
  water: 2.9 L
  fruit: [{name: bramble, mass: 14 oz, sugar: 8 %, water: 85 %}]
  gravity: 1.080
  ph: 3.9
yeast:
  name: white-wine yeast, dry
  kind: wild
  culture: hawthorn-3
  demand: high
  tolerance: 14 %
  temperature: 15 °C to 22 °C
nutrient: {target: 200 mg/L, own: 20 mg/L, kind: ammonium phosphate}
log:
  - at: 2026-09-12T18:30:00+01:00
    did: pitch
    amount: unknown
  - {at: 2026-09-14 07:15, gravity: 1.050, sample: 72 F, with: hydrometer, degassed: false, temperature: 17 to 24 °C, doubt: true}
  - {at: 2026-09-15, seen: [gas, film], airlock: sucked-back, smell: 12, lost: 0.2 L, remind: 2027-02-10, note: yes}
  - at: 2026-12-01T12:00:00Z
    did: bottle
    bottles:
      - {kind: crown beer bottle, size: 330 mL, count: 8, codes: BH-A 1-8, fizz: none, for: drink}
      - {kind: soft-drink bottle, size: 0.5 L, count: 1, fizz: 2.5 volumes, honey: 3.0 g, for: test}
    left: 0.6 L
  - {at: 2027-02-01, did: taste, bottle: BH-A 3, hiss: 3, foam: 2 cm, taste: {nose: heather, faults: [], score: 72.5, blind: true}, triangle: {with: bh-b, codes: [417, 902, 655], odd: 902, said: 417}}
`

func TestReadFerment(t *testing.T) {
	dublin, err := time.LoadLocation("Europe/Dublin")
	require.NoError(t, err)
	r := journal.ReadFerment("ferments/bh-a.yaml", []byte(heather), dublin)
	require.Empty(t, r.Problems)
	f := r.Value
	assert.True(t, r.Readable)
	assert.False(t, f.Incomplete)
	assert.Equal(t, "bh-a", f.ID)
	assert.Equal(t, "Bell heather, east hive", f.Name)
	assert.Equal(t, []ferment.Ending{ferment.Still, ferment.BottleConditioned}, f.Endings)
	assert.Equal(t, ferment.Vessel{Kind: "glass jug", Brimful: measure.Give(measure.Volume(4.1), "4.1 L"), Declared: true}, f.Vessel)
	assert.Equal(t, "bh-0", f.From.Ferment)
	assert.True(t, f.From.At.DayOnly)
	assert.Equal(t, "1.080", f.Must.Gravity.Text, "digits stay")
	assert.InDelta(t, 0.3969, float64(f.Must.Fruit[0].Mass.Value), 1e-4) // 14 oz of 28.3495 g, international avoirdupois ounce
	assert.Equal(t, measure.Span[measure.Temperature]{Low: 15, High: 22}, f.Yeast.Temperature.Value)
	assert.Equal(t, ferment.High, f.Yeast.Demand)

	require.Len(t, f.Log, 5)
	pitch, reading, look, bottling, tasting := f.Log[0], f.Log[1], f.Log[2], f.Log[3], f.Log[4]
	assert.True(t, pitch.Amount.Unknown)
	assert.Equal(t, 26, pitch.Line)
	assert.True(t, pitch.At.Time.Equal(time.Date(2026, 9, 12, 17, 30, 0, 0, time.UTC)))
	assert.True(t, reading.At.Time.Equal(time.Date(2026, 9, 14, 6, 15, 0, 0, time.UTC)), "wall time in the cellar's zone")
	assert.Equal(t, "1.050", reading.Gravity.Text)
	assert.InDelta(t, 22.22, float64(reading.Sample.Value), 0.01) // (72 − 32) / 1.8
	assert.True(t, reading.Undegassed)
	assert.Equal(t, ferment.Doubtful, reading.Doubt)
	assert.Equal(t, measure.Temperature(17), reading.Temperature.Value.Low)
	assert.Equal(t, []string{"gas", "film"}, look.Seen)
	assert.Equal(t, "12", look.Smell, "text is taken as it is written")
	assert.Equal(t, "yes", look.Note)
	assert.True(t, look.Remind.DayOnly)
	assert.Equal(t, "none", bottling.Bottles[0].Fizz.Text)
	assert.Equal(t, 8, bottling.Bottles[0].Count)
	assert.InDelta(t, 2.5*measure.CO2PerVolume, float64(bottling.Bottles[1].Fizz.Value), 1e-9)
	assert.Equal(t, 72.5, tasting.Taste.Score.Value)
	assert.True(t, tasting.Taste.Blind)
	assert.Equal(t, ferment.Triangle{With: "bh-b", Codes: []int{417, 902, 655}, Odd: 902, Said: 417}, tasting.Triangle)
}

func TestUndecidedIsNotAnEnding(t *testing.T) {
	r := journal.ReadFerment("ferments/a.yaml", []byte("ending: undecided\n"), time.UTC)
	require.Empty(t, r.Problems)
	assert.True(t, r.Value.Undecided())
}

// Each problem has its exact place and its whole message.
func TestProblemsOutsideTheLog(t *testing.T) {
	for _, c := range []struct{ text, problem string }{
		{"nam: x", `1:1: "nam" is no key of a ferment (did you mean name, e.g. name: Bell heather, east hive)`},
		{"xyzzyq: x", `1:1: "xyzzyq" is no key of a ferment (it has format, name, tag, vessel, trial, from, protocol, ending, must, yeast, nutrient, note, log)`},
		{"tag: A\ntag: B", `2:1: "tag" is twice in a ferment (leave one, e.g. tag: BH-A)`},
		{"vessel: {brimful: 4}", `1:19: brimful "4" needs its unit (a number and mL, L, fl oz or gal, e.g. 3.6 L)`},
		{"vessel: {brimful: 4 g}", `1:19: brimful "4 g" is not a volume (a number and mL, L, fl oz or gal, e.g. 3.6 L)`},
		{"vessel: glass", `1:9: a vessel is written with its keys (e.g. {kind: glass jug, brimful: 4.1 L})`},
		{"vessel:", `1:8: vessel has no value (e.g. vessel: {kind: glass jug, brimful: 4.1 L})`},
		{"name: [a, b]", `1:7: name is a list here, and takes one value (e.g. name: Bell heather, east hive)`},
		{"name: {a: b}", `1:7: name is a group of keys here, and takes one value (e.g. name: Bell heather, east hive)`},
		{"must: {gravity: 1.2501}", `1:17: gravity "1.2501" is not a density (use a point and three or four decimals, e.g. 1.055)`},
		{"must:\n  gravity: 1,0555", `2:12: gravity "1,0555" is not a density (use a point and three or four decimals, e.g. 1.055)`},
		{"must: {gravity: 1,055}", `1:19: "055" has no value in a must: between braces a comma separates keys (write decimals with a point, e.g. 1.055)`},
		{"must: {gravity: .nan}", `1:17: gravity ".nan" is not a density (use a point and three or four decimals, e.g. 1.055)`},
		{"must: {volume: .inf}", `1:16: volume ".inf" is not a volume (a number and mL, L, fl oz or gal, e.g. 3.6 L)`},
		{"must: {ph: 1_4}", `1:12: ph "1_4" is not a pH (a plain number, e.g. 3.4)`},
		{"must: {ph: 14.1}", `1:12: ph "14.1" is out of range for a pH (0 to 14, e.g. 3.4)`},
		{"must: {ph: }", `1:12: ph has no value (e.g. ph: 3.9)`},
		{"yeast: {kind: wil}", `1:15: kind "wil" is not one of its words (did you mean kind: wild)`},
		{"yeast: {kind: bread}", `1:15: kind "bread" is not one of its words (one of bought, wild, slurry)`},
		{"ending: [still, undecided]", `1:17: ending undecided cannot be combined (e.g. ending: [still, bottle-conditioned])`},
		{"name: *a", `1:7: name "*a" begins with a sign that YAML keeps for itself (put the text in quotes, e.g. name: "*a")`},
		{"name: &a b", `1:7: name has an anchor, which is not taken: text that begins with & goes in quotes (e.g. name: Bell heather, east hive)`},
		{"name: !a b", `1:7: name has the tag "!a", which is not taken: text that begins with ! goes in quotes (e.g. name: Bell heather, east hive)`},
		{"tag: &a x\nname: *a", `1:6: tag has an anchor, which is not taken: text that begins with & goes in quotes (e.g. tag: BH-A)
2:7: name is an alias, which is not taken: text that begins with * goes in quotes (e.g. name: Bell heather, east hive)`},
		{"&a {name: x}", `1:1: the file has an anchor, which is not taken: text that begins with & goes in quotes (it begins with format: 1)`},
		{"log: &a\n", `1:6: log has an anchor, which is not taken: text that begins with & goes in quotes (e.g. log: [{at: 2026-09-12T18:30:00+01:00, did: pitch}])`},
		{"&a", `1:1: the file has an anchor, which is not taken: text that begins with & goes in quotes (it begins with format: 1)`},
		{"format: one", `1:9: format "one" is no format of these files (e.g. format: 1)`},
		{"format: 2\nfuture: x", `1:9: format 2 is newer than this program, which reads format 1: the file is left as it is`},
		{"log: pitch", `1:6: log is not a list of entries (e.g. - {at: 2026-09-12T18:30:00+01:00, did: pitch}, one a line)`},
		{"name: a\n---\nname: b", `2:1: a second document begins here: a file has only one (put it into a file of its own)`},
		{"", `the file is empty (it begins with format: 1, name, must, yeast and log)`},
		{"---\n# nothing\n...", `the file is empty (it begins with format: 1, name, must, yeast and log)`},
		{"- a", `1:1: a ferment is written with its keys (e.g. {format: 1, name: Bell heather, east hive})`},
		{"name: \v\ntag: é\x1b[2J", "1:7: there is a control character here, which YAML does not take (leave it out)\n2:7: there is a control character here, which YAML does not take (leave it out)"},
		{"name: smell: eggs", `1:7: name "smell: eggs" has a colon in it (put the text in quotes, e.g. name: "smell: eggs")`},
		{"name: a\n<<<<<<< HEAD\ntag: A\n=======\ntag: B\n>>>>>>> other\n", `2:1: a merge left <<<<<<< here (keep one of the two texts, and take the marks out)
4:1: a merge left ======= here (keep one of the two texts, and take the marks out)
5:1: "tag" is twice in a ferment (leave one, e.g. tag: BH-A)
6:1: a merge left >>>>>>> here (keep one of the two texts, and take the marks out)`},
		{"note: |\n  =======\n  heath\nnam: x", `4:1: "nam" is no key of a ferment (did you mean name, e.g. name: Bell heather, east hive)`},
		{"must:\n\tvolume: 3.6 L", `2:1: the line is indented with a tab (use spaces)`},
		{"must: {volume: 3.6 L", `1:1: this line keeps the file from being read as YAML (look at its indentation, quotes, brackets and colons; free text goes in quotes, e.g. name: "heather: east")`},
		{"name: heather\xff", `1:14: the byte 0xFF here is no UTF-8 text (save the file as UTF-8)`},
		{"\xff\xfen\x00", `1:1: the byte 0xFF here is no UTF-8 text (save the file as UTF-8)`},
		{"name: \ufffd\x00", `1:8: the byte 0x00 here is no UTF-8 text (save the file as UTF-8)`},
		{"\ufefftagg: x\r\nvesel: y", `1:1: "tagg" is no key of a ferment (did you mean tag, e.g. tag: BH-A)
2:1: "vesel" is no key of a ferment (did you mean vessel, e.g. vessel: {kind: glass jug, brimful: 4.1 L})`},
		{"name: é\ntag: \"a\nnote: b", `2:6: tag "\"a" begins a quote that does not end (put the text in quotes, e.g. tag: "a")`},
		{"name: x: y\nnam: b\nnote: *c", `1:7: name "x: y" has a colon in it (put the text in quotes, e.g. name: "x: y")
2:1: "nam" is no key of a ferment (did you mean name, e.g. name: Bell heather, east hive)
3:7: note "*c" begins with a sign that YAML keeps for itself (put the text in quotes, e.g. note: "*c")`},
		{"tag: \"" + strings.Repeat("x", 200) + "\"\nyeast: {kind: \"\x1b[31m\"}", ""},
	} {
		r := journal.ReadFerment("", []byte(c.text), time.UTC)
		if c.problem == "" {
			continue
		}
		assert.Equal(t, c.problem, lines(r.Problems), c.text)
		assert.False(t, r.Readable, c.text)
	}
}

func lines(ps []ferment.Problem) string {
	var all []string
	for _, p := range ps {
		all = append(all, strings.TrimPrefix(strings.TrimPrefix(p.String(), ":"), " "))
	}
	return strings.Join(all, "\n")
}

// A problem inside an entry leaves out that entry only.
func TestProblemsInTheLog(t *testing.T) {
	for _, c := range []struct{ entry, problem string }{
		{"- gravity: 1.050", `4:5: an entry needs at (e.g. at: 2026-09-12T18:30:00+01:00)`},
		{"- at: 2026-02-30", `4:9: at "2026-02-30" `},
		{"- {at: 2026-09-13, gravity: \"1,0555\"}", `4:31: gravity "1,0555" is not a density (use a point and three or four decimals, e.g. 1.055)`},
		{"- {at: 2026-09-13, gravty: 1.055}", `4:22: "gravty" is no key of an entry (did you mean gravity, e.g. gravity: 1.066)`},
		{"- {at: 2026-09-13, at: 2026-09-14}", `4:22: "at" is twice in an entry (leave one, e.g. at: 2026-09-12T18:30:00+01:00)`},
		{"- {at: 2026-09-13, did: pitch, skipped: degas}", `4:5: an entry has did or skipped, not both (make two entries of it)`},
		{"- {at: 2026-09-13, amount: 1.5}", `4:30: amount "1.5" needs its unit (e.g. amount: 1.5 g, or amount: unknown)`},
		{"- {at: 2026-09-13, amount: -1 g}", `4:30: amount "-1 g" is negative (e.g. amount: 1.5 g)`},
		{"- {at: 2026-09-13, doubt: maybe}", `4:29: doubt "maybe" is neither true nor false (e.g. doubt: true)`},
		{"- {at: 2026-09-13, hiss: 6}", `4:28: hiss "6" is out of range for a hiss (0 to 5, e.g. 3)`},
		{"- {at: 2026-09-13, seen: [gas, fom]}", `4:34: seen "fom" is not one of its words (did you mean seen: foam)`},
		{"- {at: 2026-09-13, bottles: [{count: 0}]}", `4:40: count "0" is out of range (1 to 10000, e.g. count: 8)`},
		{"- {at: 2026-09-13, bottles: [{count: 1.5}]}", `4:40: count "1.5" is not a whole number (e.g. count: 8)`},
		{"-", `4:4: this entry is empty (e.g. - {at: 2026-09-12T18:30:00+01:00, did: pitch})`},
		{"- pitch", `4:5: an entry is written with its keys (e.g. {at: 2026-09-12T18:30:00+01:00, gravity: 1.066})`},
		{"- at: 2026-09-13\n    note: smell: eggs", `5:11: note "smell: eggs" has a colon in it (put the text in quotes, e.g. note: "smell: eggs")`},
		{"- at: 2026-09-13\n    note: \"smell", `5:11: note "\"smell" begins a quote that does not end (put the text in quotes, e.g. note: "smell")`},
		{"- at: 2026-09-13\n    note: @foam", `5:11: note "@foam" begins with a sign that YAML keeps for itself (put the text in quotes, e.g. note: "@foam")`},
		{"- at: 2026-09-13\n\tdid: degas", `5:1: the line is indented with a tab (use spaces)`},
		{"- at: 2026-09-13\n   did: degas", `4:3: this entry does not read as YAML (look at its indentation, quotes, brackets and colons; free text goes in quotes, e.g. note: "smell: eggs")`},
		{"- {at: 2026-09-13, note: smell: eggs}", `4:3: this entry does not read as YAML (look at its indentation, quotes, brackets and colons; free text goes in quotes, e.g. note: "smell: eggs")`},
	} {
		text := "log:\n  - {at: 2026-09-12, did: pitch}\n  # a comment\n  " + c.entry + "\n\n  - {at: 2026-09-14, did: degas}\nname: x\n"
		r := journal.ReadFerment("", []byte(text), time.UTC)
		require.True(t, r.Readable, c.entry)
		assert.True(t, r.Value.Incomplete, c.entry)
		assert.Equal(t, "x", r.Value.Name, c.entry)
		require.Len(t, r.Value.Log, 2, c.entry)
		assert.Equal(t, ferment.Pitch, r.Value.Log[0].Did, c.entry)
		assert.Equal(t, ferment.Degas, r.Value.Log[1].Did, c.entry)
		if got := lines(r.Problems); strings.HasSuffix(c.problem, " ") {
			assert.True(t, strings.HasPrefix(got, c.problem), got)
		} else {
			assert.Equal(t, c.problem, got)
		}
	}
}

func TestProblemIsEscapedAndShort(t *testing.T) {
	r := journal.ReadFerment("ferments/a.yaml", []byte("yeast: {kind: \"\\e[31m"+strings.Repeat("x", 90)+"\"}\nnam: \x1b\n"), time.UTC)
	require.NotEmpty(t, r.Problems)
	for _, p := range r.Problems {
		assert.NotContains(t, p.String()+p.Text, "\x1b")
		assert.Less(t, len(p.Message), 250)
	}
}

// A syntax error names the wrong line, not a comment with a colon or a quote that continues on the next line.
func TestWrongLineIsNamed(t *testing.T) {
	const innocent = "format: 1\nname: Heath # note: from here\nnote: \"two\n  lines: of it\"\n"
	for wrong, want := range map[string]string{
		"tag: [a\n":              "a:5:1: this line keeps",
		"tag: A\n  yeast: {}\n":  "a:6:3: this line keeps",
		"must: {volume: 3.6 L\n": "a:5:1: this line keeps",
		"tag: A: b\n":            `a:5:6: tag "A: b" has a colon`,
		"tag: 'A\n":              "a:5:6: tag \"'A\" begins a quote",
		"tag: @A\n":              `a:5:6: tag "@A" begins with a sign`,
	} {
		r := journal.ReadFerment("a", []byte(innocent+wrong+"protocol: small-jug # or: another\nlog: []\n"), time.UTC)
		if assert.Len(t, r.Problems, 1, wrong) {
			assert.Contains(t, r.Problems[0].String(), want)
		}
	}
}

// A YAML version may be declared: these files use nothing that differs between 1.1 and 1.2.
func TestYAMLVersionIsAccepted(t *testing.T) {
	const text = "%YAML 1.2\n---\nname: Heath\nlog:\n  - {at: 2026-09-12, did: pitch}\n"
	r := journal.ReadFerment("a", []byte(text), time.UTC)
	require.Empty(t, r.Problems)
	assert.Len(t, r.Value.Log, 1)
	got, err := journal.Insert([]byte(text), r.Value.Log[0])
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(got.Text), text))
}

func TestManyProblemsAreCounted(t *testing.T) {
	r := journal.ReadFerment("", []byte(strings.Repeat("- a\n", 3000)), time.UTC)
	assert.Len(t, r.Problems, 1)
	r = journal.ReadFerment("", []byte("log:\n"+strings.Repeat("- a\n", 3000)), time.UTC)
	assert.Len(t, r.Problems, 201)
	assert.Contains(t, r.Problems[200].Message, "more problems follow")
	assert.Empty(t, r.Value.Log, "entries past the last one told are wrong all the same")
}

func TestRemarkOnGallons(t *testing.T) {
	r := journal.ReadFerment("a", []byte("must: {volume: 1 gal, water: 2 gal}\nvessel: {brimful: 1 imp gal}\n"), time.UTC)
	require.Empty(t, r.Problems)
	assert.Equal(t, `a:1:16: volume "1 gal" is taken as US gallons of 3.785 L (write imp gal for those of 4.546 L)`, lines(r.Remarks))
}

func TestTooLarge(t *testing.T) {
	most := "note: " + strings.Repeat("x", 1<<20-6)
	assert.True(t, journal.ReadFerment("a", []byte(most), time.UTC).Readable)
	r := journal.ReadFerment("a", []byte(most+"x"), time.UTC)
	assert.Equal(t, "a: the file is larger than 1 MiB, some ten thousand entries (move old text elsewhere)", lines(r.Problems))
}

// Any text is read quickly: within 0.9 s at the size limit on an idle machine. Here a quarter of that size is read,
// which shows anything that grows faster than the text; the limit is relative to the bare parser, for a busy machine.
func TestHostileFiles(t *testing.T) {
	full := func(s string) string { return strings.Repeat(s, (1<<18)/len(s)) }
	for _, text := range []string{
		full("["), full("- "), full("? "), full("a: b\n"), full("- #\n"), full("- &a b\n"), "[" + full("a,"), full("\n#"),
		"log:\n" + full("- a\n"), "log:\n" + full("- a: b: c\n"), "log:\n" + full("- \"\n"), full("log:\n-\n") + "\t",
		full("a: b: c\n"), full("\t\n") + "x: y: z", "must: {" + full("volume: x, ") + "}", "name: \"" + full("x\n"), full("\u2028"),
	} {
		var r journal.Reading[ferment.Ferment]
		quick := func() bool { // times the bare parse beside it; on a busy machine once more decides
			start := time.Now()
			var doc yaml.Node
			_ = yaml.Unmarshal([]byte(text), &doc)
			bare := time.Since(start)
			start = time.Now()
			r = journal.ReadFerment("a", []byte(text), time.UTC)
			return time.Since(start) < journal.Slowness*(2*time.Second+10*bare)
		}
		held := quick()
		for again := 0; !held && again < 2; again++ {
			held = quick()
		}
		assert.True(t, held, text[:20])
		assert.LessOrEqual(t, len(r.Problems), 201)
	}
}
