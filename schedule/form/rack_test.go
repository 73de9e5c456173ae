package form

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

func rack(s app.Snapshot, text string) ([]Field, Outcome) {
	return Rack(s, s.Vessels[0], nil).Outcome(values(text))
}

// afterwards returns the volume of a ferment after a change.
func afterwards(s app.Snapshot, d ferment.Change, id string) measure.Volume {
	v, ok := (jug{record{s}, s.Vessels[0]}).afterChange(d, id)
	if !ok || !v.Course.Volume.IsKnown() {
		return -1
	}
	return v.Course.Volume.Value
}

func TestRackWrites(t *testing.T) {
	for _, c := range []struct {
		what, log, typed string
		writes           []string
		volume           measure.Volume
		wrong            string
	}{
		{"measured", atRest, "after=3.0L", []string{"lime-a rack volume 3.0 L lost 0.20 L"}, 3, ""},
		{"loss alone", atRest, "lost=0.3L", []string{"lime-a rack lost 0.3 L"}, 2.9, ""},
		{"both, and measured counts", atRest, "after=2.8L lost=0.3L", []string{"lime-a rack volume 2.8 L lost 0.3 L"}, 2.8, ""},
		{"more than before", atRest, "after=3.3L", []string{"lime-a rack volume 3.3 L"}, 3.3, ""},
		{"nothing measured", atRest, "", nil, 0, "after: measure what came over, e.g. 3.2 L, or give what was left behind"},
		{"more lost than there", atRest, "lost=3.3L", nil, 0, "lost: 3.3 L is more than the 3.20 L that were there"},
		{"two ways to read it", atRest, "after=3,000mL", nil, 0, `after: "3,000mL" could be 3000mL or 3.000mL (write 3000 or 3.000)`},
		{"too small a vessel", atRest, "after=3.0L brimful=2.9L", nil, 0, "brimful: 3.00 L do not go into 2.9 L: take a larger vessel"},
		{"topped with water", atRest, "after=3.0L with=water amount=0.2L", []string{"lime-a rack volume 3.0 L lost 0.20 L", "lime-a top-up 0.2 L water"}, 3.2, ""},
		{"topped with itself", atRest, "after=3.0L with='the same mead' amount=0.2L",
			[]string{"lime-a rack volume 3.0 L lost 0.20 L", "lime-a top-up 0.2 L the same mead"}, 3.2, ""},
		{"topped with nothing of it", atRest, "after=3.0L with=water amount=0L", nil, 0, "amount: 0 L is no amount: say how much goes in, e.g. 0.2 L"},
		{"unknown before", "0 pitch | 5 honey unknown | 20 1.000", "after=3.0L", []string{"lime-a rack volume 3.0 L"}, 3, ""},
		{"a US vessel", atRest, "after=0.8gal", []string{"lime-a rack volume 0.8 gal lost 0.17 L"}, 3.0283, ""},
		{"in the future", atRest, "after=3.0L when='2027-01-01 10:00'", nil, 0, "when: 2027-01-01 10:00 is in the future: write it down once it is done"},
		{"no time", atRest, "after=3.0L when=soon", nil, 0, `when: "soon" is not a time (e.g. 18:30, yesterday 20:00, -2h, 2026-09-14 or 2026-09-14 07:15)`},
		{"no such act", atRest, "what=drink", nil, 0, "what: choose one of rack, into two, top up, blend, fruit, fine, stabilise, sweeten"},
	} {
		s := cellar(77, nil, lime("lime-a", c.log))
		_, o := rack(s, c.typed)
		if c.wrong != "" {
			assert.Contains(t, wrong(o), c.wrong, c.what)
			assert.Equal(t, ferment.Change{}, o.Change, "%s: nothing is written", c.what)
			continue
		}
		require.Empty(t, wrong(o), c.what)
		assert.Equal(t, c.writes, written(o.Change), c.what)
		assert.InDelta(t, float64(c.volume), float64(afterwards(s, o.Change, "lime-a")), 1e-3, c.what)
	}
}

// TestRackingWarnsOfHeadspace: headspace is filled to the neck, or the next smaller vessel of the cellar is used (common practice, no
// source).
func TestRackingWarnsOfHeadspace(t *testing.T) {
	smaller := lime("heath", atRest, func(f *ferment.Ferment) { f.Vessel.Brimful = measure.Give[measure.Volume](3.2, "3.2 L") })
	s := cellar(77, nil, lime("lime-a", atRest), smaller)
	fields, o := rack(s, "after=3.0L brimful=4.1L")
	assert.Contains(t, fmt.Sprint(fields), "3.2 L", "the next smaller vessel is proposed")
	assert.True(t, has(o, words.Warn, "1.10 L of air over it: fill it to the neck with 0.98 L, or take the next smaller vessel, glass jug of 3.2 L"), said(o))
	_, o = rack(s, "after=3.1L")
	assert.True(t, has(o, words.Note, "0.10 L of air over it"), said(o))
	// By the solubilities of the wine method at 18 and 8 °C (2.0 of 1.55 g/L bar,
	// 24.8 kJ/mol) 3.1 L draw in about 1.1 L.
	assert.Regexp(t, `from 18 °C to 8 °C it draws in 1\.[01]\d L of air`, said(o))
	assert.True(t, has(o, words.Note, "do not splash"), "a note after the first racking")
	_, o = rack(cellar(77, nil, lime("lime-a", strings.Replace(atRest, "rack clear vol3.2L", "vol3.2L clear", 1))), "after=3.0L")
	assert.True(t, has(o, words.Warn, "do not splash"), "a warning at the first")
}

// TestRackingTakesAReading: all that is asked goes into the entry of the racking.
func TestRackingTakesAReading(t *testing.T) {
	_, o := rack(cellar(77, nil, lime("lime-a", atRest)), "after=3.1L gravity=0.998 sample=19C lees=1.5cm clarity=hazy temperature=18C")
	require.Empty(t, wrong(o))
	e := o.Change.Entries[0].Entries[0]
	assert.Equal(t, []string{"rack", "0.998", "19 °C", "1.5 cm", "hazy", "18 °C", "3.1 L"}, []string{string(e.Did), e.Gravity.Text, e.Sample.Text, e.Lees.Text, string(e.Clarity), e.Temperature.Text, e.Volume.Text})
}

// Each form asks for at most six things; the rest has a usual value and is folded, or follows from an answer.
func TestAtMostSixQuestions(t *testing.T) {
	conditioned := lime("lime-a", atRest, func(f *ferment.Ferment) { f.Endings = []ferment.Ending{ferment.BottleConditioned} })
	both := lime("lime-a", atRest, func(f *ferment.Ferment) { f.Endings = []ferment.Ending{ferment.BottleConditioned, ferment.Still} })
	for _, f := range []ferment.Ferment{lime("lime-a", atRest), conditioned, both} {
		s := cellar(77, nil, f, lime("heath", atRest))
		forms := map[string]Form{"bottle": Bottle(s, s.Vessels[0], nil), "close": Bottle(s, s.Vessels[0], Values{"what": "close"})}
		for _, what := range rackingWords {
			forms[what] = Rack(s, s.Vessels[0], Values{"what": what})
		}
		for _, name := range []string{"new", "culture", "lot"} {
			f, ok := Open(name, s, "", nil)
			require.True(t, ok)
			forms[name] = f
		}
		for name, f := range forms {
			var asked []string
			for _, field := range f.Fields(nil) {
				if !field.More {
					asked = append(asked, field.Label)
				}
			}
			assert.LessOrEqual(t, len(asked), 6, "%s: %q", name, asked)
		}
	}
	fields, _ := bottle(cellar(77, nil, lime("lime-a", atRest)), "count-1=6")
	i := slices.IndexFunc(fields, func(f Field) bool { return f.Key == "kind-2" })
	assert.False(t, fields[i].More, "what is left over asks for its bottles")
}

// TestTopUp: 3.45 L topped up with 0.15 L of water is 3.45/3.60 as strong; worked
// by mass balance from 13.9 % vol and 0.996: 13.32 % vol, 0.9962.
func TestTopUp(t *testing.T) {
	strong := lime("lime-a", "0 pitch | 1 started | 20 0.996 | 30 vol3.45L rack", func(f *ferment.Ferment) { f.Must.Gravity = measure.Give[measure.Gravity](1.0985, "1.0985") })
	s := cellar(40, nil, strong)
	before := s.Vessels[0].Course.Alcohol.Value
	require.InDelta(t, 13.9, float64(before), 0.2)
	_, o := rack(s, "what='top up' amount=0.15L")
	assert.Contains(t, said(o), fmt.Sprintf("3.60 L at 0.9962 with %.1f %% vol", float64(before)*3.45/3.60))
	v, _ := jug{record{s}, s.Vessels[0]}.afterChange(o.Change, "lime-a")
	assert.InDelta(t, 13.32, float64(v.Course.Alcohol.Value), 0.2, "the course says the same")

	_, o = rack(s, "what='top up' with='another mead' of=heath amount=0.15L")
	assert.True(t, has(o, words.Note, "the result is not known"), said(o))
	_, o = rack(s, "what='top up' amount=0.7L")
	assert.Contains(t, wrong(o), "amount: 4.15 L do not go into glass jug of 4.1 L")
	unread := cellar(40, nil, lime("lime-a", "0 pitch | 30 vol3.45L"))
	unread.Cellar.Ferments[0].Must = ferment.Must{}
	unread = cellar(40, nil, unread.Cellar.Ferments[0])
	_, o = rack(unread, "what='top up' amount=0.15L")
	assert.True(t, has(o, words.Note, "the result is not known"), said(o))
}

// TestParting: the new part is a ferment of its own with the past of its parent, and volumes add up.
func TestParting(t *testing.T) {
	s := cellar(77, nil, lime("lime-a", atRest))
	_, o := rack(s, "what='into two' part=1.0L after=2.0L ending=still")
	require.Empty(t, wrong(o))
	require.Len(t, o.Change.Ferments, 1)
	f := o.Change.Ferments[0]
	assert.Equal(t, "lime-b", f.ID)
	assert.Equal(t, "LIME-B", f.Tag)
	assert.Equal(t, []ferment.Ending{ferment.Still}, f.Endings)
	assert.Equal(t, ferment.Origin{Ferment: "lime-a", At: ferment.At(s.At), Volume: measure.Give[measure.Volume](1, "1.0 L")}, f.From)
	assert.Equal(t, []string{"lime-a rack volume 3 L lost 0.20 L"}, written(o.Change))
	assert.InDelta(t, 2.0, float64(afterwards(s, o.Change, "lime-a")), 1e-9)
	assert.InDelta(t, 1.0, float64(afterwards(s, o.Change, "lime-b")), 1e-9)
	v, _ := jug{record{s}, s.Vessels[0]}.afterChange(o.Change, "lime-b")
	assert.Equal(t, s.Vessels[0].Course.Alcohol.Value, v.Course.Alcohol.Value, "it has the past of its parent")
	assert.Equal(t, s.Vessels[0].Course.Steady.Open, v.Course.Steady.Open)

	for typed, want := range map[string]string{
		"what='into two' after=2.0L":                         "part: measure what is split off, e.g. 1.0 L",
		"what='into two' part=1.0L":                          "after: measure what came over",
		"what='into two' part=0L after=2.0L":                 "part: 0 L is not an amount",
		"what='into two' part=1.0L after=2.0L name=lime/b":   `name: "lime/b" is no name of a file`,
		"what='into two' part=1.0L after=2.0L name=LIME-A":   `name: "LIME-A" is the name of a ferment already, e.g. LIME-B`,
		"what='into two' part=1.0L after=2.0L tag=LIME-A":    `tag: "LIME-A" is the name of a ferment already, e.g. LIME-B`,
		"what='into two' part=1.0L after=2.0L tag=LIME-BEE":  `tag: "LIME-BEE" is wider than six columns`,
		"what='into two' part=1.0L after=2.0L ending=frozen": "ending: choose one of undecided, still, bottle-conditioned, sweetened",
	} {
		_, o := rack(s, typed)
		assert.Contains(t, wrong(o), want, typed)
	}
}

// TestBlending: three parts of 14 and two of 9 % vol are 12 (Pearson's square, by hand). The other's log records the
// loss, and it is closed when nothing is left.
func TestBlending(t *testing.T) {
	mead := func(id, og, volume string) ferment.Ferment {
		f := lime(id, "0 pitch | 1 started | 20 0.997 | 30 rack vol"+volume)
		g, _ := measure.ParseGravity(og)
		f.Must.Gravity = g
		f.Vessel.Brimful = measure.Give[measure.Volume](6, "6 L")
		return f
	}
	s := cellar(40, nil, mead("lime-a", "1.1002", "3.0L"), mead("heath", "1.0655", "2.2L"))
	a, b := s.Vessels[0].Course.Alcohol.Value, s.Vessels[1].Course.Alcohol.Value
	require.InDelta(t, 14, float64(a), 0.15)
	require.InDelta(t, 9, float64(b), 0.2)
	_, o := rack(s, "what=blend amount=2.0L")
	require.Empty(t, wrong(o))
	assert.Contains(t, said(o), fmt.Sprintf("5.00 L at 0.9970 with %.1f %% vol", (3*float64(a)+2*float64(b))/5))
	assert.Equal(t, []string{"lime-a blend 2.0 L heath alcohol 9.2 %", "heath lost 2.0 L"}, written(o.Change))
	assert.Empty(t, o.Change.Closes)
	assert.InDelta(t, 0.2, float64(afterwards(s, o.Change, "heath")), 1e-9)
	v, _ := jug{record{s}, s.Vessels[0]}.afterChange(o.Change, "lime-a")
	assert.InDelta(t, 12, float64(v.Course.Alcohol.Value), 0.2, "the course says the same")
	assert.False(t, v.Course.Steady.Open)
	assert.True(t, has(o, words.Warn, "HEATH is not steady"), said(o))

	_, o = rack(s, "what=blend amount=2.0L rest=0L")
	assert.Equal(t, []string{"lime-a blend 2.0 L heath alcohol 9.2 %", "heath close lost 2.2 L"}, written(o.Change))
	assert.Equal(t, []string{"heath"}, o.Change.Closes)
	v, _ = jug{record{s}, s.Vessels[0]}.afterChange(o.Change, "heath")
	assert.True(t, v.Course.Over())

	_, o = rack(s, "what=blend amount=2.3L")
	assert.Contains(t, wrong(o), "amount: HEATH has 2.20 L")
	_, o = rack(cellar(40, nil, mead("lime-a", "1.100", "3.0L")), "what=blend")
	assert.Contains(t, wrong(o), "what: there is no other open ferment to blend with")
	sick := mead("heath", "1.0655", "2.2L")
	sick.Log = append(sick.Log, logOf("35 look seen=film")...)
	_, o = rack(cellar(40, nil, mead("lime-a", "1.1002", "3.0L"), sick), "what=blend amount=1L because=taste")
	assert.Equal(t, "film", o.Closed)
	assert.Contains(t, written(o.Change)[0], "overrode film because taste")
}

// TestBlendProposesOnlyWhatHasMead: a jug that is empty by the record, or all in bottles, is not among the choices.
func TestBlendProposesOnlyWhatHasMead(t *testing.T) {
	empty := lime("empty", "0 pitch | 1 started | 20 0.997 | 30 rack vol0L")
	filled := lime("filled", atRest)
	filled.Log = append(filled.Log, ferment.Entry{At: ferment.At(pitched.Add(77 * 24 * time.Hour)), Did: ferment.Bottle,
		Bottles: []ferment.Bottles{{Kind: "crown beer bottle", Size: measure.Give[measure.Volume](0.33, "330 mL"), Count: 9}}})
	for name, others := range map[string][]ferment.Ferment{"HEATH": {empty, filled, lime("heath", atRest)}, "": {empty, filled}} {
		fields, o := rack(cellar(90, nil, append([]ferment.Ferment{lime("lime-a", atRest)}, others...)...), "what=blend amount=0.2L")
		if name == "" {
			assert.Contains(t, wrong(o), "what: there is no other open ferment to blend with")
			continue
		}
		at := slices.IndexFunc(fields, func(f Field) bool { return f.Key == "other" })
		require.Positive(t, at)
		assert.Equal(t, []string{name}, fields[at].Words)
	}
}

// TestStabilising: at 12 % vol and 20 °C the mixed pK is 1.955 (OIV-MA-AS323-04C,
// table 2, from memory), so pH 3.4 wants 0.8 × (1 + 10^1.445) = 23.1 mg/L free,
// 33.0 added with 30 % bound, 0.189 g of metabisulphite in 3.3 L (0.576 of the salt
// by atomic weights); sorbate by stoichiometry, 0.7464 of the salt.
func TestStabilising(t *testing.T) {
	for _, c := range []struct {
		what, log, typed string
		weighs           float64
		writes           []string
		closed           string
		wrong            string
	}{
		{"by the figures", atRest, "volume=3.3L alcohol=12%", 0.01, []string{"lime-a volume 3.3 L", "lime-a sulphite 0.19 g metabisulphite", "lime-a sorbate 0.66 g potassium sorbate"}, "", ""},
		{"too coarse a scale", atRest, "alcohol=12%", 1, []string{"lime-a sulphite 1.8 mL metabisulphite stock 10 %", "lime-a sorbate 6.4 mL potassium sorbate stock 10 %"}, "", ""},
		{"0.1 g is too coarse for both", atRest, "alcohol=12%", 0.1, []string{"lime-a sulphite 1.8 mL metabisulphite stock 10 %", "lime-a sorbate 6.4 mL potassium sorbate stock 10 %"}, "", ""},
		{"sulphite alone", atRest, "sorbate=none", 0.01, []string{"lime-a sulphite 0.19 g metabisulphite"}, "", ""},
		{"nothing", atRest, "sorbate=none sulphite=none", 0.01, nil, "", "sulphite: nothing goes in"},
		{"sorbate alone", atRest, "sulphite=none because=tried", 0.01, []string{"lime-a sorbate 0.67 g potassium sorbate overrode sorbate because tried"}, "sorbate", ""},
		{"where bacteria worked", atRest + " | 76 look of=malolactic", "because=tried", 0.01,
			[]string{"lime-a sulphite 0.19 g metabisulphite", "lime-a sorbate 0.67 g potassium sorbate overrode sorbate because tried"}, "sorbate", ""},
		{"before it is steady", "0 pitch | 1 started | 20 1.000 | 21 vol3.2L ph3.4", "because=tried", 0.01,
			[]string{"lime-a sulphite 0.19 g metabisulphite", "lime-a sorbate 0.71 g potassium sorbate overrode steady and too early because tried"}, "steady and too early", ""},
		{"no pH", strings.Replace(atRest, " ph3.4", "", 1), "", 0.01, []string{"lime-a sulphite 0.29 g metabisulphite", "lime-a sorbate 0.67 g potassium sorbate"}, "", ""},
		{"no volume", "0 pitch | 5 honey unknown | 60 0.997", "", 0.01, nil, "", "volume: measure what is in the vessel, e.g. 3.2 L"},
		{"no alcohol", "0 pitch | 5 honey unknown | 60 0.997", "volume=3L ph=3.4", 0.01, nil, "", "alcohol: give its alcohol, e.g. 12 %"},
		{"no dose", atRest, "sulphite=2C", 0.01, nil, "", `sulphite: "2C" is no dose`},
		{"a pH of wet wood", atRest, "ph=7", 0.01, nil, "", "sulphite: say how much, or none: pH 7 is outside 2.5 to 4.6"},
	} {
		s := cellar(77, func(s *ferment.Settings) { s.Weighs = measure.Grams(c.weighs) }, lime("lime-a", c.log))
		_, o := rack(s, "what=stabilise "+c.typed)
		if c.wrong != "" {
			assert.Contains(t, wrong(o), c.wrong, c.what)
			continue
		}
		require.Empty(t, wrong(o), c.what)
		assert.Equal(t, c.writes, written(o.Change), c.what)
		assert.Equal(t, c.closed, o.Closed, c.what)
		assert.True(t, has(o, words.Warn, "asthma"), c.what)
		v, _ := jug{record{s}, s.Vessels[0]}.afterChange(o.Change, "lime-a")
		holds, _ := v.Course.Holds(ferment.Condition{Kind: ferment.Stabilised, Text: "stabilised"})
		assert.Equal(t, holds, has(o, words.Done, "stabilised"), c.what)
		assert.Equal(t, len(c.writes) >= 2 && c.what != "before it is steady", holds, c.what)
	}
	s := cellar(77, nil, lime("lime-a", atRest, ends(ferment.BottleConditioned)))
	_, o := rack(s, "what=stabilise")
	assert.True(t, has(o, words.Warn, "cannot be bottle-conditioned"), said(o))
}

// TestSweetening: 50 g of honey in a litre raise gravity by about 0.0155 (worked by
// mass balance); the volume and the alcohol come from the same balance.
func TestSweetening(t *testing.T) {
	ready := atRest + " | 77 sulphite 0.2g | 77.1 sorbate 0.6g"
	s := cellar(79, nil, lime("lime-a", ready))
	_, o := rack(s, "what=sweeten amount=160g")
	require.Empty(t, wrong(o))
	assert.Empty(t, o.Closed)
	assert.Regexp(t, `then 3\.31 L at 1\.012[0-9] with 11\.3 % vol`, said(o))
	assert.Equal(t, []string{"lime-a honey 160 g honey lot lime-26 water 18.1 %"}, written(o.Change))
	v, _ := jug{record{s}, s.Vessels[0]}.afterChange(o.Change, "lime-a")
	assert.InDelta(t, 3.2+0.16*0.684, float64(v.Course.Volume.Value), 0.005, "a kilogram takes 0.684 L")
	assert.Contains(t, said(o), "lime-26: 2020 g left, 1860 g after this")
	for amount, want := range map[string]string{
		"2020g": "lime-26: 2020 g left, 0.0 g after this", "2021g": "lime-26: 2021 g are wanted, 2020 g are left, 1.0 g are missing",
	} {
		_, o := rack(s, "what=sweeten amount="+amount)
		assert.Contains(t, said(o), want)
		assert.Equal(t, amount == "2021g", has(o, words.Warn, "1.0 g are missing"), amount)
	}

	for typed, want := range map[string]string{
		"what=sweeten":               "amount: say how sweet it is to be",
		"what=sweeten to=0.990":      "to: ",
		"what=sweeten to=0.997":      "", // as it is: no honey
		"what=sweeten to=dry":        `to: "dry" is neither a gravity, a content nor a glass, e.g. 1.010, 30 g/L or 2 g in 100 mL`,
		"what=sweeten to=900g/L":     "to: sugar wanted 900 g/L is outside",
		"what=sweeten amount=50kg":   "amount: that is sweeter than can be worked out",
		"what=sweeten amount=0g":     "amount: it is already as sweet as that",
		"what=sweeten to=1.01 lot=x": "lot: choose one of lime-26, of no lot",
	} {
		_, o := rack(s, typed)
		assert.NotEmpty(t, wrong(o), typed)
		assert.Contains(t, wrong(o), want, typed)
	}

	// A content and the resulting gravity need the same honey.
	fields, _ := rack(s, "what=sweeten to=30g/L")
	byContent := fields[len(fields)-3].Value
	_, o = rack(s, "what=sweeten amount='"+byContent+"'")
	assert.Contains(t, said(o), "30 g/L more of sugar")

	// The glass with 2 g in 100 mL was the best: 64 g in 3.2 L.
	fields, _ = rack(s, "what=sweeten to='2 g in 100 mL'")
	assert.Equal(t, "64 g", fields[len(fields)-3].Value)

	wet := cellar(79, nil, lime("lime-a", ready))
	wet.Cellar.Lots[0].Water, wet.Cellar.Lots[0].Treated = measure.Give[measure.Share](19.5, "19.5 %"), "formic acid, 2026-05-01"
	_, o = rack(wet, "what=sweeten to=1.010")
	assert.True(t, has(o, words.Warn, "treatment"), said(o))
	_, o = rack(wet, "what=sweeten amount=2.1kg")
	assert.NotEmpty(t, said(o)+wrong(o))

	_, o = rack(cellar(20.5, nil, lime("lime-a", "0 pitch | 1 started | 20 1.000")), "what=sweeten to=1.010")
	assert.True(t, has(o, words.Warn, "the yeast will ferment the honey"), said(o))
	assert.Empty(t, o.Closed, "before it was steady nothing stands against it")
}

// TestFining: an amount by the litre is converted to the vessel's, and allergens are mentioned.
func TestFining(t *testing.T) {
	s := cellar(77, nil, lime("lime-a", atRest))
	_, o := rack(s, "what=fine of='isinglass' amount=0.5g/L")
	require.Empty(t, wrong(o))
	assert.Equal(t, []string{"lime-a fine 1.6 g isinglass"}, written(o.Change))
	assert.True(t, has(o, words.Warn, "fish"), said(o))
	_, o = rack(s, "what=fine of=bentonite amount=1.5g")
	assert.False(t, has(o, words.Warn, "label"), said(o))
	for typed, want := range map[string]string{"what=fine amount=1g": "of: name the fining", "what=fine of=bentonite": "amount: say how much", "what=fine of=bentonite amount=3bar": "is not an amount"} {
		_, o = rack(s, typed)
		assert.Contains(t, wrong(o), want, typed)
	}
}

// TestVolumesAddUp: after racking, splitting and blending the volumes in the vessels and the losses add up to those
// before.
func TestVolumesAddUp(t *testing.T) {
	s := cellar(77, nil, lime("lime-a", atRest), lime("heath", atRest))
	const before = 3.2
	rapid.Check(t, func(t *rapid.T) {
		ml := func(name string, least, most int) (string, float64) {
			v := rapid.IntRange(least, most).Draw(t, name)
			return fmt.Sprintf("%d mL", v), float64(v) / 1000
		}
		total := func(o Outcome, ids ...string) (sum float64) {
			require.Empty(t, wrong(o))
			for _, id := range ids {
				sum += float64(afterwards(s, o.Change, id))
			}
			return sum
		}
		lost, l := ml("lost", 0, 1000)
		part, q := ml("part", 1, 1000)
		_, o := rack(s, "lost='"+lost+"'")
		assert.InDelta(t, before-l, total(o, "lime-a"), 1e-6)
		_, o = rack(s, "what='into two' part='"+part+"' lost='"+lost+"'")
		assert.InDelta(t, before-l, total(o, "lime-a", "lime-b"), 1e-6)
		assert.InDelta(t, q, total(o, "lime-b"), 1e-6)
		_, o = rack(s, "what=blend amount='"+part+"' brimful=9L")
		if before+q <= 4.1 {
			assert.InDelta(t, 2*before, total(o, "lime-a", "heath"), 0.006, "what stays is shown to 10 mL")
		}
	})
}

// anyValues draws valid and invalid values for the fields of a form.
func anyValues(t *rapid.T, form Form) Values {
	vs := Values{}
	for range 4 { // a value may add further fields
		fields, _ := form.Outcome(vs)
		for _, f := range fields {
			if _, set := vs[f.Key]; set || rapid.IntRange(0, 2).Draw(t, "leave "+f.Key) == 0 {
				continue
			}
			some := []string{"", "none", "0 L", "1 L", "0.2 L", "5 L", "-1 L", "12 %", "0 %", "3.4", "1.010", "0.997", "30 g/L", "5 g/L", "0.3 g", "1e9 g", "40 g",
				"3", "0", "-2h", "now", "yesterday 20:00", "2 test 1 keep", "drink", "X 1-4", "330 mL", "0 mL", "∞", "NaN", "2000 L", "1 gal", "12 fl oz", "1 psi", "because"}
			vs[f.Key] = rapid.SampledFrom(append(some, f.Words...)).Draw(t, f.Key)
		}
	}
	return vs
}

// TestAnyValues: the form handles any text; what it would write is complete, and never passes a gate without a reason.
func TestAnyValues(t *testing.T) {
	logs := []string{"", "0 pitch", "0 pitch | 5 honey unknown | 60 0.997", atRest, tested, tested + " | 76 hazy", atRest + " | 76 look seen=mould",
		atRest + " | 76 sulphite 0.2g | 76.1 sorbate 0.5g"}
	forms := map[string]func(app.Snapshot, app.Vessel, Values) Form{"rack": Rack, "bottle": Bottle}
	rapid.Check(t, func(t *rapid.T) {
		s := cellar(rapid.Float64Range(0, 120).Draw(t, "day"), func(s *ferment.Settings) {
			s.Units = rapid.SampledFrom([]measure.System{measure.Metric, measure.US}).Draw(t, "units")
		}, lime("lime-a", rapid.SampledFrom(logs).Draw(t, "log"), ends(rapid.SampledFrom([][]ferment.Ending{nil, {ferment.Still}, {ferment.Still, ferment.BottleConditioned}}).Draw(t, "ends")...)),
			lime("heath", atRest))
		form := forms[rapid.SampledFrom(sortedKeys(forms)).Draw(t, "form")](s, s.Vessels[0], nil)
		vs := anyValues(t, form)
		fields, o := form.Outcome(vs)
		for _, f := range fields {
			assert.LessOrEqual(t, len([]rune(f.Label)), 13, f.Label)
		}
		if len(o.Wrong) > 0 {
			for _, w := range o.Wrong {
				assert.NotEmpty(t, w.Text, w.Key)
			}
			return
		}
		assert.NotEqual(t, ferment.Change{}, o.Change, "it would write something")
		for _, l := range o.Change.Entries {
			overrode := false
			for _, e := range l.Entries {
				assert.NoError(t, e.Check(), "%v", vs)
				assert.False(t, e.At.Earliest().After(s.At), "nothing lies ahead")
				overrode = overrode || e.Overrode != ""
			}
			assert.Equal(t, o.Closed != "" && l.Subject == "lime-a", overrode, "%v", vs)
		}
		assert.False(t, o.Closed != "" && strings.TrimSpace(vs[Because]) == "", "closed without a reason")
		for _, l := range append(o.Answer, said(o)) {
			assert.NotContains(t, l, "NaN")
			assert.NotContains(t, l, "Inf")
		}
		v, ok := jug{record{s}, s.Vessels[0]}.afterChange(o.Change, "lime-a")
		require.True(t, ok)
		assert.False(t, math.IsNaN(float64(v.Course.Volume.Value)))
	})
}

func sortedKeys[T any](m map[string]T) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// TestOneSulphiteDose: plan, form and bench agree for any settings: by hand at pH 3.45 and 13.3 % vol, pK 1.981 by
// table 2 of OIV-MA-AS323-04C (from memory): 0.8 × (1 + 10^1.469) = 24.4 mg/L free, 34.8 added, 0.193 g in 3.2 L.
func TestOneSulphiteDose(t *testing.T) {
	for _, c := range []struct {
		limits func(*ferment.Limits)
		grams  float64
	}{
		{func(*ferment.Limits) {}, 0.193},
		{func(l *ferment.Limits) { l.Bound = measure.Give[measure.Share](0, "0 %") }, 0.1353},
		{func(l *ferment.Limits) { l.PK = measure.Give(1.81, "1.81") }, 0.8 * 44.65 * 3.2 / 0.7 / 576.3},
		{func(l *ferment.Limits) { l.Molecular = measure.Give(measure.MilligramsPerLitre(0.5), "0.5 mg/L") }, 0.193 * 5 / 8},
	} {
		s := cellar(77, func(s *ferment.Settings) { s.Weighs = measure.Grams(0.001); c.limits(&s.Limits) }, lime("lime-a", strings.Replace(atRest, "ph3.4", "ph3.45", 1)))
		v := s.Vessels[0].Course
		v.Alcohol, v.Volume = course.Known(measure.Strength(13.3)), course.Known(measure.Volume(3.2))
		plan := schedule.AmountBy(v, ferment.Sulphite)
		assert.InDelta(t, c.grams, plan.Number, 0.001)

		_, o := rack(s, "what=stabilise alcohol=13.3% volume=3.2L")
		assert.Contains(t, said(o), measure.Decimal(plan.Number, 2)+" g metabisulphite")

		f, err := bench.Find("sulphite")
		require.NoError(t, err)
		a, err := f.Work(map[string]string{"ph": v.PH.Value.String(), "volume": "3.2 L", "alcohol": "13.3 %"}, s.Cellar.Settings)
		require.NoError(t, err)
		assert.InDelta(t, plan.Number, a.Results[1].Value, 1e-6, "salt")
	}
}

// TestSorbateStatesItsLimits: it is reliable under pH 3.5, and not above 3.8 (common practice, no source).
func TestSorbateStatesItsLimits(t *testing.T) {
	for ph, want := range map[string]string{"3.6": "sorbate works under pH 3.5, and less well at 3.6", "3.85": "at pH 3.85 no dose is reliable: lower the pH first"} {
		_, o := rack(cellar(77, nil, lime("lime-a", atRest)), "what=stabilise because=tried ph="+ph)
		assert.Contains(t, said(o), want)
	}
	_, o := rack(cellar(77, nil, lime("lime-a", atRest)), "what=stabilise ph=3.4")
	assert.NotContains(t, said(o), "for pH under 3.5")
}
