package form_test

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/schedule/words"
)

var now = time.Date(2026, time.November, 25, 18, 0, 0, 0, time.UTC)

// aStore has an open ferment, a closed one, a culture and four lots of honey.
var aStore = map[string]string{
	"honey.yaml": `format: 1
lots:
  - {id: lime-26, name: lime blossom, mass: 3 kg, water: 17.2 %}
  - {id: heather-26, name: bell heather, mass: 1 kg, water: 21 %, treated: oxalic acid in August}
  - {id: laurel-25, name: mountain laurel, water: 18 %}
  - {id: hawthorn-26, mass: 500 g, refractive-index: 1.4915, read-at: 20 °C}
`,
	"cultures.yaml": `format: 1
cultures:
  - {id: hedge-3, name: hedge blossom, verdict: usable}
`,
	"ferments/ivy-a.yaml": `format: 1
tag: IVY-A
vessel: {kind: glass jug, brimful: 4.1 L}
protocol: by-thirds
must: {volume: 3.6 L, honey: [{lot: lime-26, mass: 900 g, water: 17.2 %}], gravity: 1.076}
yeast: {name: "white-wine yeast, dry", tolerance: 14 %}
log:
  - {at: 2026-11-20T18:00:00Z, did: pitch}
`,
	"ferments/past/ivy-0.yaml": `format: 1
must: {volume: 1 gal, honey: [{lot: old-20, mass: 2 lb 8 oz}]}
yeast: {name: mead yeast}
nutrient: {kind: yeast-derived nutrient}
log: []
`,
}

// inStore returns a cellar of the files.
func inStore(t testing.TB, files map[string]string) (app.Snapshot, *app.App) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666))
	}
	d := app.New(journal.Open(dir, time.UTC, protocols.Files()))
	s, err := d.OpenWhole(now)
	require.NoError(t, err)
	require.Empty(t, s.Cellar.Problems)
	return s, d
}

// with makes values of keys and texts.
func with(pairs ...string) form.Values {
	v := form.Values{}
	for i := 0; i < len(pairs); i += 2 {
		v[pairs[i]] = pairs[i+1]
	}
	return v
}

func and(v form.Values, pairs ...string) form.Values {
	v = maps.Clone(v)
	maps.Copy(v, with(pairs...))
	return v
}

// worked returns the outcome of the values, and all its text.
func worked(s app.Snapshot, v form.Values) (form.Outcome, string) {
	_, o := form.New(s, nil).Outcome(v)
	said := strings.Join(o.Answer, "\n")
	for _, l := range o.Lines {
		said += "\n" + string(l.Word) + " " + l.Text
	}
	return o, said
}

// made returns the only ferment of the outcome.
func made(t require.TestingT, s app.Snapshot, v form.Values) ferment.Ferment {
	o, _ := worked(s, v)
	require.Empty(t, o.Wrong)
	require.Len(t, o.Change.Ferments, 1)
	return o.Change.Ferments[0]
}

func original(s app.Snapshot, f ferment.Ferment) float64 {
	return float64(app.Plan(f, s.Cellar, s.At).Course.Original.Value)
}

// aMust is a complete set of values.
var aMust = with("file", "lime-a", "gravity", "1.084", "volume", "3.6 L", "yeast", "white-wine yeast, dry", "tolerance", "14 %", "brimful", "4.1 L")

// Recipe-book form, worked by hand with 17.2 % water in the honey: 3 to 3.5 lb in a US gallon; an extension leaflet has
// 1.095 for it (to within 0.001).
func TestHoneyIntoAGallon(t *testing.T) {
	s, _ := inStore(t, nil)
	for pounds, want := range map[string][2]float64{"3 lb": {1.0916, 4.716}, "3.25 lb": {1.0976, 4.794}, "3 lb 8 oz": {1.1033, 4.872}} {
		f := made(t, s, with("from", "water", "file", "a", "honey", pounds, "water", "1 gal"))
		assert.InDelta(t, want[0], original(s, f), 0.001, pounds)
		assert.InDelta(t, want[1], float64(f.Must.Volume.Value), 0.01, pounds)
		assert.Equal(t, pounds, f.Must.Honey[0].Mass.Text, "as it was typed")
		assert.Empty(t, f.Must.Gravity.Text, "it was never measured")
	}
}

// By hand: the must from a kilogram of honey with 17.2 % water, both ways. Volumes are rounded to 0.1 L, 2 % of the
// smallest.
func TestKilogramOfHoney(t *testing.T) {
	s, _ := inStore(t, nil)
	for volume, want := range map[string]float64{"7.1 L": 1.045, "4.0 L": 1.080, "3.2 L": 1.100, "2.6 L": 1.120} {
		masses := made(t, s, with("from", "masses", "file", "a", "honey", "1 kg", "volume", volume))
		assert.InDelta(t, want, original(s, masses), 0.0025, volume)
		target := made(t, s, with("file", "a", "gravity", measure.Gravity(want).Places(3), "volume", volume))
		assert.InDelta(t, 1000, target.Must.Honey[0].Mass.Value.Grams(), 20, volume)
		assert.InDelta(t, want, original(s, target), 0.0002, volume)
	}
}

// The rest of the figures on the page: yeast by AWRI's 0.25 g/L and 1e8 cells/mL
// in a starter, finishes by mass balance, bottles by 3.60 L × 0.9877 − 0.65 L.
func TestFiguresOnThePage(t *testing.T) {
	s, _ := inStore(t, aStore)
	for _, c := range []struct {
		values form.Values
		says   string
	}{
		{aMust, "952 g of lime-26 and 2.95 L of water make 3.6 L at 1.0840"},
		{and(aMust, "gravity", "20bx"), "make 3.6 L at 1.0829"}, // NBS Circular 440, table 114: 1.08297, and by SPS-4 1.08292,
		{and(aMust, "gravity", "1.080"), "dry near 0.9965"},
		{and(aMust, "gravity", "1.100", "tolerance", "18 %"), "dry near 0.9962"},
		{aMust, "yeast: 0.9 g"},
		{and(aMust, "gravity", "1.115"), "yeast: 1.6 g, dry, more than usual"},
		{and(aMust, "kind", "wild", "culture", "hedge-3"), "starter: 180 mL"},
		{and(aMust, "kind", "wild", "culture", "hedge-3"), "nobody knows how dry it gets"},
		{aMust, "nitrogen: 161 mg/L to add: 2.8 g of ammonium phosphate in 2 doses"},
		{and(aMust, "nitrogen", "120 mg/L"), "nitrogen: 100 mg/L to add"},
		{aMust, "8 × 330 mL, or 3 × 750 mL, for 2.91 L"},
		{and(aMust, "gravity", "1.130"), "warn the sugar could make"},
		{and(aMust, "gravity", "1.130"), "it stops sweet near"},
		{and(aMust, "gravity", "1.098"), "note the sugar could make"},
		{and(aMust, "brimful", "3.9 L"), "only 8 % stays free; foam needs 10 to 20; 3.51 L at most, 90 mL over, or 2 such vessels of 1.80 L"},
		{and(aMust, "volume", "8 L", "brimful", "4.1 L"), "it is too small; 3.69 L at most, 4.31 L over, or 3 such vessels of 2.67 L"},
		{and(aMust, "brimful", "10 L"), "note 3.6 L into 10 L: 64 % stays free"},
		{aMust, "lime-26: 2100 g left, 1148 g after this"},
		{and(aMust, "volume", "9 L"), "warn lime-26: 2381 g are wanted, 2100 g are left, 281 g are missing"},
		{and(aMust, "lot", "laurel-25"), "the lot was never weighed"},
		{and(aMust, "lot", "laurel-25"), "warn laurel-25: honey of rhododendron"},
		{and(aMust, "lot", "heather-26"), "warn heather-26: a treatment of the hive"},
		{and(aMust, "lot", "heather-26"), "warn heather-26: wet honey"},
		{and(aMust, "lot", "none"), "note honey may carry spores"},
		{aMust, "warn hot liquid breaks cold glass"},
		{and(aMust, "vessels", "2", "yeast-b", "x"), "warn 3 vessels will be working: several fermenting"},
		{and(aMust, "ending", "bottle-conditioned"), "dry near"},
		{and(aMust, "lot-2", "hawthorn-26", "honey-2", "300 g"), "655 g of lime-26, 300 g of hawthorn-26"},
	} {
		_, said := worked(s, c.values)
		assert.Contains(t, said, c.says, "%v", c.values)
	}
	_, said := worked(s, and(aMust, "kind", "wild", "culture", "hedge-3"))
	assert.NotContains(t, said, "dry near", "nobody knows where a wild culture ends")
	_, said = worked(s, aMust)
	assert.NotContains(t, said, "vessels will be working")
}

// A cellar with US units and Brix shows both, and accepts both.
func TestUnitsOfTheCellar(t *testing.T) {
	s, _ := inStore(t, map[string]string{"cellar.yaml": "format: 1\nunits: us\nscale: brix\nbottles: [{kind: jar, size: 12 fl oz}]\n"})
	o, said := worked(s, and(aMust, "volume", "1 gal", "ending", "bottle-conditioned"))
	assert.Equal(t, "2.21 lb of honey and 0.819 gal of water make 1 gal at 20.26 °Bx", o.Answer[0])
	assert.Contains(t, said, "8 × 12 fl oz jar")
	assert.Contains(t, said, "warn no bottle of cellar.yaml may be filled to 5.0 g/L")
	assert.InDelta(t, 1.084, original(s, o.Change.Ferments[0]), 0.0005)
}

// A must like another has the same honey by the litre at any volume, to the gram.
func TestScaledByTheLitre(t *testing.T) {
	s, _ := inStore(t, aStore)
	rapid.Check(t, func(t *rapid.T) {
		litres := float64(rapid.IntRange(5, 500).Draw(t, "decilitres")) / 10
		f := made(t, s, with("from", "like", "like", "ivy-a", "file", "x", "volume", measure.Decimal(litres, 1)+" L"))
		got := f.Must.Honey[0].Mass.Value.Grams()
		most := 0.5
		if got >= 10000 {
			most = 5
		}
		if want := 250 * litres; got < want-most-1e-6 || got > want+most+1e-6 {
			t.Fatalf("%v L: %v g instead of %v", litres, got, want)
		}
	})
	f := made(t, s, with("from", "like", "like", "ivy-0", "file", "x", "volume", "2 gal"))
	assert.InDelta(t, 5*453.59237, f.Must.Honey[0].Mass.Value.Grams(), 0.5, "2 lb 8 oz in a gallon, twice")
	assert.Equal(t, "mead yeast", f.Yeast.Name)
	assert.Equal(t, "yeast-derived nutrient", f.Nutrient.Kind)
	same := made(t, s, with("from", "like", "like", "ivy-a", "file", "x"))
	assert.Equal(t, "900 g", same.Must.Honey[0].Mass.Text)
	assert.Equal(t, "by-thirds", same.Protocol)
	assert.Empty(t, same.Must.Gravity.Text, "the new one was not measured")
	assert.Empty(t, same.Log, "nor mixed: it is only planned")
	assert.Len(t, made(t, s, and(aMust, "measured", "1.083")).Log, 1, "what was measured is mixed")
	assert.Len(t, made(t, s, and(aMust, "from", "masses", "honey", "980 g")).Log, 1, "and so is what was weighed")
	other := made(t, s, with("from", "like", "like", "ivy-a", "file", "x", "gravity", "1.090"))
	assert.InDelta(t, 1.090, original(s, other), 0.0002, "another gravity is worked out anew")
}

// Everything in the outcome is in the file, and reads back.
func TestWrittenAndReadAgain(t *testing.T) {
	for _, v := range []form.Values{
		aMust,
		with("from", "like", "like", "ivy-0", "file", "x", "volume", "2 L", "when", "-2h", "measured", "1.095", "ph", "3.9"),
		with("from", "water", "file", "x", "honey", "980 g", "water", "2.9 L", "kind", "wild", "culture", "hedge-3", "when", "not yet"),
		with("from", "masses", "file", "x", "measured", "20bx", "volume", "1 gal", "ending", "still, bottle-conditioned"),
		and(aMust, "vessels", "3", "volume", "10 L", "differs", "temperature", "temperature-b", "12 °C", "temperature-c", "15 °C to 18 °C"),
	} {
		s, d := inStore(t, aStore)
		o, _ := worked(s, v)
		require.Empty(t, o.Wrong, "%v", v)
		_, err := d.Apply(now, o.Change)
		require.NoError(t, err)
		after, err := d.OpenWhole(now)
		require.NoError(t, err)
		require.Empty(t, after.Cellar.Problems)
		for _, want := range o.Change.Ferments {
			got, err := after.Cellar.Find(want.ID)
			require.NoError(t, err)
			got.File, got.Stamp, got.Lines = "", 0, nil
			for i := range got.Log {
				got.Log[i].Line, got.Log[i].At.Text = 0, ""
				want.Log[i].At = ferment.At(want.Log[i].At.Time)
			}
			assert.Equal(t, want, got, "%v", v)
		}
	}
}

// The honey of all vessels adds up to what was asked for, and is taken from the lot.
func TestTrialTakesItsHoneyOnce(t *testing.T) {
	s, d := inStore(t, aStore)
	o, _ := worked(s, and(aMust, "volume", "7.2 L", "vessels", "2", "yeast-b", "slow yeast", "volume-b", "2.4 L"))
	require.Empty(t, o.Wrong)
	_, err := d.Apply(now, o.Change)
	require.NoError(t, err)
	after, err := d.OpenWhole(now)
	require.NoError(t, err)
	was, is := larder.Of(s.Cellar.Lots[0], s.Cellar.OpenAndPast(), now), larder.Of(after.Cellar.Lots[0], after.Cellar.OpenAndPast(), now)
	assert.InDelta(t, 1905, (was.Left.Mass - is.Left.Mass).Grams(), 1)
	fs := o.Change.Ferments
	assert.Equal(t, "4.80 L", fs[0].Must.Volume.Text, "the first keeps the rest")
	assert.InDelta(t, 2, float64(fs[0].Must.Honey[0].Mass.Value/fs[1].Must.Honey[0].Mass.Value), 0.002)
}

// The files of a trial differ in what it declares, and otherwise only in names.
func TestTrialDiffersInOneThing(t *testing.T) {
	s, _ := inStore(t, aStore)
	for differs, c := range map[string]struct {
		values []string
		same   func(*ferment.Ferment)
	}{
		"yeast":          {[]string{"yeast-b", "slow yeast", "tolerance-b", "12 %"}, func(f *ferment.Ferment) { f.Yeast = ferment.Yeast{} }},
		"honey":          {[]string{"lot-b", "hawthorn-26"}, func(f *ferment.Ferment) { f.Must.Honey, f.Must.Water = nil, measure.Given[measure.Volume]{} }},
		"nutrient":       {[]string{"nutrient-b", "yeast-derived nutrient"}, func(f *ferment.Ferment) { f.Nutrient = ferment.NutrientPlan{} }},
		"temperature":    {[]string{"temperature-b", "12 °C"}, func(f *ferment.Ferment) { f.Yeast.Temperature = measure.Given[measure.Span[measure.Temperature]]{} }},
		"protocol":       {[]string{"protocol-b", "by-thirds"}, func(f *ferment.Ferment) { f.Protocol = "" }},
		"vessel":         {[]string{"vessel-b", "stoneware jar"}, func(f *ferment.Ferment) { f.Vessel = ferment.Vessel{} }},
		"something else": {[]string{"difference", "kitchen or cellar"}, func(*ferment.Ferment) {}},
	} {
		v := and(aMust, "volume", "7.2 L", "vessels", "2", "differs", differs)
		if differs != "something else" {
			o, _ := worked(s, v)
			assert.NotEmpty(t, o.Wrong, "%s: nothing differs yet", differs)
		}
		o, _ := worked(s, and(v, c.values...))
		require.Empty(t, o.Wrong, differs)
		a, b := o.Change.Ferments[0], o.Change.Ferments[1]
		assert.NotEqual(t, a.ID, b.ID)
		assert.NotEqual(t, a.Tag, b.Tag)
		assert.Equal(t, "lime", b.Trial.Name)
		assert.InDelta(t, original(s, a), original(s, b), 0.0003, differs)
		b.ID, b.Tag = a.ID, a.Tag
		if differs != "something else" {
			assert.NotEqual(t, a, b, differs)
		}
		c.same(&a)
		c.same(&b)
		assert.Equal(t, a, b, differs)
	}
}

// A name gives the file name and tag; six questions are shown, the rest is folded.
func TestNewFermentNeedsOnlyAName(t *testing.T) {
	s, _ := inStore(t, aStore)
	v := with("name", "Bell heather, east hive", "gravity", "1.084", "yeast", "dry wine yeast")
	f := made(t, s, v)
	assert.Equal(t, []string{"bell-heather", "BELL", "Bell heather, east hive", "4.10 L", "3.61 L"}, []string{f.ID, f.Tag, f.Name, f.Vessel.Brimful.Text, f.Must.Volume.Text})
	fields, _ := form.New(s, nil).Outcome(v)
	var asked []string
	for _, field := range fields {
		if !field.More {
			asked = append(asked, field.Label)
		}
	}
	assert.Equal(t, []string{"name", "jug", "must", "gravity", "honey lot", "yeast"}, asked)
	assert.Equal(t, "tag BELL · kept in bell-heather.yaml", fields[2].Does)
}

// Fruit in the must adds its sugar and juice. By hand: 500 g of bramble, 5 % sugar and 88 % water, add 25 g and 440 mL;
// at 17.2 % water that is 30.2 g less honey, and 0.43 L less water.
func TestFruitInAMust(t *testing.T) {
	s, _ := inStore(t, aStore)
	plain, fruity := made(t, s, aMust), made(t, s, and(aMust, "fruit", "bramble", "fruit-mass", "500 g"))
	assert.InDelta(t, 30.2, (plain.Must.Honey[0].Mass.Value - fruity.Must.Honey[0].Mass.Value).Grams(), 1)
	assert.InDelta(t, 0.465-0.0302/0.9982, float64(plain.Must.Water.Value-fruity.Must.Water.Value), 0.011)
	assert.InDelta(t, 1.084, original(s, fruity), 0.0003)
	assert.Equal(t, "fruit", fruity.Protocol)
	assert.Equal(t, "500 g", fruity.Must.Fruit[0].Mass.Text)
	_, says := worked(s, and(aMust, "fruit", "bramble", "fruit-mass", "500 g"))
	assert.Contains(t, says, "500 g of bramble and ")
	o, _ := worked(s, and(aMust, "fruit", "bramble"))
	assert.Equal(t, "fruit-mass", o.Wrong[0].Key)
	fields, _ := form.New(s, nil).Outcome(and(aMust, "fruit", "bramble"))
	for _, f := range fields {
		assert.False(t, strings.HasPrefix(f.Label, "its "), "%s: below a honey lot nobody knows whose it is", f.Label)
	}
	parted, _ := worked(s, and(aMust, "volume", "7.2 L", "vessels", "2", "differs", "something else", "difference", "place", "fruit", "bramble", "fruit-mass", "500 g"))
	require.Empty(t, parted.Wrong)
	assert.InDelta(t, 250, parted.Change.Ferments[1].Must.Fruit[0].Mass.Value.Grams(), 1)
}

// A bought yeast next to a wild culture has the plan of a bought yeast, and the other way round.
func TestEachYeastOfATrialHasItsPlan(t *testing.T) {
	s, _ := inStore(t, aStore)
	wild := []string{"kind", "wild", "culture", "hedge-3"}
	o, _ := worked(s, and(and(aMust, wild...), "volume", "7.2 L", "vessels", "2", "differs", "yeast", "yeast-b", "white-wine yeast, dry"))
	require.Empty(t, o.Wrong)
	assert.Equal(t, []string{"wild-culture", "small-jug"}, []string{o.Change.Ferments[0].Protocol, o.Change.Ferments[1].Protocol})
	o, _ = worked(s, and(aMust, "volume", "7.2 L", "vessels", "2", "differs", "yeast", "kind-b", "wild", "culture-b", "hedge-3"))
	require.Empty(t, o.Wrong)
	assert.Equal(t, []string{"small-jug", "wild-culture"}, []string{o.Change.Ferments[0].Protocol, o.Change.Ferments[1].Protocol})
	o, _ = worked(s, and(aMust, "volume", "7.2 L", "vessels", "2", "differs", "yeast", "yeast-b", "slow", "protocol", "by-thirds"))
	assert.Equal(t, "by-thirds", o.Change.Ferments[1].Protocol, "two bought ones share a plan")
}

// Names: legal and free, and a free one is proposed.
func TestNamesOfANewFermentAreChecked(t *testing.T) {
	s, _ := inStore(t, aStore)
	for _, c := range []struct{ key, value, says string }{
		{"file", "ivy-a", "e.g. ivy-b"}, {"file", "IVY-A", "e.g. IVY-B"}, {"file", "ivy-0", "e.g. ivy-0-2"}, {"file", "hedge-3", "the name of a culture already, e.g. hedge-4"},
		{"file", "../x", "e.g. lime-a"}, {"file", strings.Repeat("x", 65), "e.g. lime-a"}, {"file", "", "e.g. Lime blossom"},
		{"tag", "ivy-a", "already, e.g. IVY-B"}, {"tag", "LIME-AB", "wider than six columns, e.g. LIM-AB"},
	} {
		o, _ := worked(s, and(aMust, c.key, c.value))
		require.Len(t, o.Wrong, 1, c.value)
		assert.Equal(t, map[bool]string{true: "name", false: c.key}[c.value == ""], o.Wrong[0].Key)
		assert.Contains(t, o.Wrong[0].Text, c.says, c.value)
		assert.Empty(t, o.Change)
	}
	o, _ := worked(s, and(aMust, "vessels", "2", "yeast-b", "x", "file-b", "lime-a", "tag-b", "LIME-A"))
	require.Len(t, o.Wrong, 2)
	assert.Contains(t, o.Wrong[0].Text, "e.g. lime-b")
}

// everyWay asks for every field there is.
var everyWay = []form.Values{
	and(aMust, "lot-2", "hawthorn-26", "honey-2", "100 g", "kind", "wild", "fruit", "bramble", "fruit-mass", "300 g"),
	with("from", "masses", "file", "a"), with("from", "water", "file", "a", "honey", "1 kg", "water", "3 L"), with("from", "like", "file", "a"),
	and(aMust, "vessels", "2", "differs", "yeast", "kind-b", "wild"), and(aMust, "vessels", "3", "differs", "honey"), and(aMust, "vessels", "4", "differs", "nutrient"),
	and(aMust, "vessels", "2", "differs", "temperature"), and(aMust, "vessels", "2", "differs", "protocol"), and(aMust, "vessels", "2", "differs", "vessel"),
	and(aMust, "vessels", "2", "differs", "something else"),
}

// freeText are the fields with free text.
var freeText = map[string]bool{"fruit": true, "name": true, "vessel": true, "yeast": true, "trial": true, "differs": true, "difference": true}

func TestWrongValueShowsARightExample(t *testing.T) {
	s, _ := inStore(t, aStore)
	asked := 0
	for _, way := range everyWay {
		f := form.New(s, nil)
		fields, _ := f.Filled(way)
		for _, field := range fields {
			assert.LessOrEqual(t, len([]rune(field.Label)), 13, field.Label)
			key, _, _ := strings.Cut(field.Key, "-")
			if field.Words == nil && freeText[key] {
				continue
			}
			asked++
			for _, nonsense := range []string{"a lot of it, surely", "-1 g", "1e9 L"} {
				if key == "tag" && len(nonsense) <= 6 {
					continue // a tag allows more
				}
				_, o := f.Outcome(and(way, field.Key, nonsense))
				var said string
				for _, w := range o.Wrong {
					if w.Key == field.Key {
						said = w.Text
					}
				}
				assert.True(t, strings.Contains(said, "e.g.") || strings.HasPrefix(said, "choose one of "), "%s=%s: %q", field.Key, nonsense, said)
				assert.Empty(t, o.Change)
			}
		}
	}
	assert.Greater(t, asked, 100)
}

// Any text is handled, and what is written can be read.
func TestAnyTextIsHandled(t *testing.T) {
	s, _ := inStore(t, aStore)
	typed := []string{"", "0 L", "1 L", "3.6 L", "2000 L", "1 gal", "980 g", "0 g", "1 kg", "1000 kg", "1.084", "1.000", "0.98", "1.25", "20bx", "17 %", "12 %", "26 %", "100 %",
		"x", "lime-a", "ivy-a", "lime-26", "heather-26", "hawthorn-26", "none", "hedge-3", "wild", "slurry", "15 °C", "not yet", "-2h", "2030-01-01", "honey", "yeast", "4", "2",
		"like", "masses", "water", "target", "something else", "by-thirds", "\x00", "é", "−", "1e9"}
	var keys []string
	for _, way := range everyWay {
		fields, _ := form.New(s, nil).Filled(way)
		for _, f := range fields {
			keys = append(keys, f.Key)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v := maps.Clone(rapid.SampledFrom(everyWay).Draw(t, "way"))
		for range rapid.IntRange(0, 8).Draw(t, "changes") {
			v[rapid.SampledFrom(keys).Draw(t, "key")] = rapid.OneOf(rapid.SampledFrom(typed), rapid.StringN(0, 8, 20)).Draw(t, "value")
		}
		fields, o := form.New(s, nil).Outcome(v)
		if len(fields) == 0 {
			t.Fatal("no field")
		}
		for _, f := range o.Change.Ferments {
			text, err := journal.NewFerment(f)
			if err != nil {
				t.Fatalf("%v: %v\n%s", v, err, text)
			}
		}
	})
}

// A form opens by its name, like the selected vessel if that is asked.
func TestOpensByItsName(t *testing.T) {
	s, _ := inStore(t, aStore)
	f, ok := form.Open("new", s, "ivy-a", nil)
	require.True(t, ok)
	_, o := f.Outcome(with("from", "like", "file", "x"))
	require.Empty(t, o.Wrong)
	assert.Equal(t, "white-wine yeast, dry", o.Change.Ferments[0].Yeast.Name)
	_, ok = form.Open("new", app.Snapshot{Cellar: ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC)}}, "", nil)
	assert.True(t, ok, "in an empty cellar")
	var loud []string
	for _, l := range o.Lines {
		if l.Word == words.Warn {
			loud = append(loud, l.Text)
		}
	}
	assert.Len(t, loud, 1, "no more than what must be seen")
}

// TestPastFermentsSuggestTheFermentableShare: a closed ferment of the lot that went to 0.990 says that more than 86 % of
// it ferments; that is told and not filled in. By hand: 0.990 from 1.080 is 92.8 %; pulled to 86 by 9/(9 + 18.25) it is 90.6
// ± 1.645 × 2.46.
func TestPastFermentsSuggestTheFermentableShare(t *testing.T) {
	files := maps.Clone(aStore)
	files["ferments/past/lime-0.yaml"] = `format: 1
must: {volume: 3.6 L, honey: [{lot: lime-26, mass: 900 g}], gravity: 1.080}
yeast: {name: mead yeast}
log:
  - {at: 2026-08-01T18:00:00Z, did: pitch}
  - {at: 2026-08-20T18:00:00Z, gravity: 0.992}
  - {at: 2026-09-01T18:00:00Z, gravity: 0.990}
  - {at: 2026-09-10T18:00:00Z, gravity: 0.990}
  - {at: 2026-10-20T18:00:00Z, did: close}
`
	const suggests = "from 1 of yours with this lot: 91 % ferments (86 to 95 %)"
	field := func(s app.Snapshot, lot string) form.Field {
		fields, _ := form.New(s, nil).Outcome(and(aMust, "lot", lot))
		return fields[slices.IndexFunc(fields, func(f form.Field) bool { return f.Key == "fermentable" })]
	}
	s, _ := inStore(t, files)
	assert.Equal(t, suggests, field(s, "lime-26").From)
	assert.Empty(t, field(s, "lime-26").Value)
	assert.Contains(t, field(s, "heather-26").From, "86 % of its solids if left out")
	o, said := worked(s, and(aMust, "lot", "lime-26"))
	assert.Contains(t, said, suggests)
	assert.False(t, o.Change.Ferments[0].Must.Fermentable.Known(), "it is not applied")
	o, said = worked(s, and(aMust, "lot", "lime-26", "fermentable", "90 %"))
	assert.NotContains(t, said, "of yours")
	assert.Contains(t, said, "dry near 0.992")
	assert.Equal(t, "90 %", o.Change.Ferments[0].Must.Fermentable.Text)
	o, _ = worked(s, and(aMust, "fermentable", "40 %"))
	assert.Equal(t, "fermentable", o.Wrong[0].Key)

	files["honey.yaml"] = strings.Replace(aStore["honey.yaml"], "mass: 3 kg,", "mass: 3 kg, fermentable: 91 %,", 1)
	s, _ = inStore(t, files)
	assert.Equal(t, "91 % by honey.yaml if left out", field(s, "lime-26").From)
}
