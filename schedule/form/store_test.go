package form

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// hedge returns a cellar with a culture and its log.
func hedge(days float64, log string) app.Snapshot {
	s := cellar(days, nil, lime("lime-a", atRest))
	k := ferment.Culture{ID: "hawthorn-2", Name: "hawthorn blossom", Source: "lane hedge", Protocol: "wild-culture", Verdict: "trying", Log: logOf(log)}
	s.Cellar.Cultures = []ferment.Culture{k}
	s.Cultures = []app.Vessel{app.PlanCulture(k, s.Cellar, s.At)}
	return s
}

func opened(t *testing.T, name string, s app.Snapshot, subject, text string) Outcome {
	t.Helper()
	f, ok := Open(name, s, subject, nil)
	require.True(t, ok, name)
	_, o := f.Outcome(values(text))
	return o
}

// TestHarvestBecomesALot: 1.4912 is 18.1 % water by Wedmore's equation (AOAC 969.38); 80.0 on a sugar refractometer is 18.3 % (1.7
// points less than 100 minus the reading).
func TestHarvestBecomesALot(t *testing.T) {
	s := cellar(80, nil, lime("lime-a", atRest))
	o := opened(t, "lot", s, "", "name='Bell heather, east hive' mass='8.2 kg' measured='refractive index' index=1.4912 read-at='20 °C' treated='thymol, 2026-08-02' note=dark taken=2026-08-10")
	require.Empty(t, wrong(o))
	require.Len(t, o.Change.Lots, 1)
	l := o.Change.Lots[0]
	assert.Equal(t, "bell-heather-26", l.ID)
	assert.Equal(t, "1.4912", l.RefractiveIndex.Text)
	assert.False(t, l.Water.Known())
	assert.Equal(t, "thymol, 2026-08-02", l.Treated)
	assert.Contains(t, o.Answer[0], "18.1 % water, 18.1 to 18.6 %: use it this year")
	assert.Contains(t, o.Answer[1], "at 1.080")
	assert.True(t, has(o, words.Warn, "treatment of the hive"))
	assert.True(t, has(o, words.Note, "infants"))

	o = opened(t, "lot", s, "", "name=Lime measured=°Bx brix=80.0")
	require.Empty(t, wrong(o))
	assert.Equal(t, "lime-2-26", o.Change.Lots[0].ID, "lime-26 is there already")
	assert.InDelta(t, 18.3, float64(o.Change.Lots[0].Water.Value), 0.15)
	assert.Equal(t, "water from 80.0 °Bx", o.Change.Lots[0].Note)

	first := s
	first.Cellar.Lots = nil
	assert.True(t, has(opened(t, "lot", first, "", "name=Lime"), words.Warn, "infants"), "it is seen with the first lot")
	assert.True(t, has(opened(t, "lot", s, "", "name=Rhododendron"), words.Warn, "can poison"))
	assert.Contains(t, opened(t, "lot", s, "", "name=x state=cappings-wash").Answer[0], "within a day or two")
	for text, key := range map[string]string{
		"name=x id=lime-26": "id", "name=x id=a/b": "id", "name=x mass=8,200kg": "mass", "name=x water=much": "water", "name=x taken=2027-01-01": "taken",
		"name=x measured='refractive index' index=1.33": "index", "name=x measured='refractive index'": "index", "name=x measured=°Bx brix=20": "brix", "name=x state=eaten": "state",
	} {
		assert.Contains(t, wrong(opened(t, "lot", s, "", text)), key+": ", text)
	}
}

func TestHoneyUsedElsewhereIsTakenOffItsLot(t *testing.T) {
	s := cellar(80, nil, lime("lime-a", atRest))
	o := opened(t, "use", s, "lime-26", "mass='500 g' for='a friend'")
	require.Empty(t, wrong(o))
	require.Len(t, o.Change.Uses, 1)
	assert.Equal(t, "lime-26", o.Change.Uses[0].Lot)
	assert.Equal(t, "500 g", o.Change.Uses[0].Use.Mass.Text)
	assert.Equal(t, []string{"1520 g is left of lime-26"}, o.Answer, "3 kg less the 980 g of the jug and 500 g")
	o = opened(t, "use", s, "lime-26", "mass='4 kg'")
	assert.True(t, has(o, words.Warn, "more than is left"))
	assert.Contains(t, wrong(opened(t, "use", s, "lime-26", "")), "mass: ")
	s.Cellar.Lots = nil
	_, ok := Open("use", s, "", nil)
	assert.False(t, ok)
}

// TestPassage: 100 mL of 5 % need 12.5 mL of 40 % spirit and 87.5 mL of medium (V A/S, with the exact mixture by OIML R
// 22 within 0.1 % of it); the limits are 4.6 of 21 CFR 114.3, and 4.2 by common practice, no source.
func TestPassage(t *testing.T) {
	s := hedge(0.2, "0 collect")
	o := opened(t, "passage", s, "hawthorn-2", "ph=4.1")
	require.Empty(t, wrong(o))
	assert.Equal(t, "87.5 mL of medium and 12.5 mL of spirit of 40.0 %", o.Answer[0])
	require.Len(t, o.Change.Entries, 1)
	assert.Equal(t, "hawthorn-2", o.Change.Entries[0].Subject)
	e := o.Change.Entries[0].Entries[0]
	assert.Equal(t, ferment.Passage, e.Did)
	assert.Equal(t, "w1", e.Step)
	assert.Equal(t, []string{"100 mL", "1.035", "5 %", "4.1", "12.5 mL"}, []string{e.Medium.Text, e.Gravity.Text, e.Alcohol.Text, e.PH.Text, e.Amount.Text})
	assert.Equal(t, "spirit 40.0 % in malt", e.Of, "the amount is of the spirit")
	assert.True(t, has(o, words.Warn, "spirit vapour"))
	for ph, want := range map[string]words.Word{"4.2": "", "4.3": words.Warn, "4.6": words.Warn, "4.7": words.Stop} {
		o := opened(t, "passage", s, "hawthorn-2", "ph="+ph)
		for _, w := range []words.Word{words.Warn, words.Stop} {
			assert.Equal(t, w == want, has(o, w, "the medium is at pH"), "%s: %s", ph, said(o))
		}
		assert.Equal(t, want == words.Stop, o.Closed == "low-acid", ph)
	}
	o = opened(t, "passage", s, "hawthorn-2", "ph=4.7 because='it goes to waste tonight'")
	require.Empty(t, wrong(o))
	assert.Equal(t, "low-acid", o.Change.Entries[0].Entries[0].Overrode)
	for text, key := range map[string]string{"spirit='5 %'": "spirit", "spirit=": "spirit", "medium=": "medium", "medium=1,000mL": "medium", "gravity=1,03555": "gravity"} {
		assert.Contains(t, wrong(opened(t, "passage", s, "hawthorn-2", text)), key+": ", text)
	}
	mouldy := hedge(5, "0 collect | 0.1 passage step=w1 | 4 look seen=gas,sediment,mould smell=clean")
	o = opened(t, "passage", mouldy, "hawthorn-2", "step='step up the culture' ph=4.1")
	assert.NotEmpty(t, o.Closed, said(o))
	o = opened(t, "passage", mouldy, "hawthorn-2", "step=none medium='100 mL' ph=4.1")
	assert.Equal(t, "mould", o.Closed)
	_, ok := Open("passage", s, "lime-a", nil)
	assert.False(t, ok, "a ferment has no passage")
}

// What stays in the jar counts with the new medium: 10 mL of sediment and 100 mL are 110 mL, in the form, in the entry
// and in what is left of the culture; a volume that is typed is kept.
func TestAStepUpCountsTheSediment(t *testing.T) {
	s := hedge(5, "0 collect | 0.1 passage step=w1 medium=100mL | 4 look seen=gas,sediment smell=clean")
	o := opened(t, "passage", s, "hawthorn-2", "ph=4.1")
	require.Empty(t, wrong(o))
	assert.True(t, has(o, words.Note, "with the sediment it is 110 mL in the jar"), said(o))
	e := o.Change.Entries[0].Entries[0]
	assert.Equal(t, []string{"w2", "100 mL", "110 mL"}, []string{e.Step, e.Medium.Text, e.Volume.Text})
	k := s.Cellar.Cultures[0]
	k.Log = append(k.Log, e)
	assert.InDelta(t, 0.110, float64(k.Stock(nil, s.At).Left), 1e-9)
	for typed, volume := range map[string]string{"medium=100mL": "110 mL", "medium=90mL vol105mL": "105 mL", "": ""} {
		entries, _, err := app.Settling(s.Cultures[0], app.Wish{Step: "w2", Typed: app.Typed{Line: typed}}, s.At)
		require.NoError(t, err)
		assert.Equal(t, volume, entries[len(entries)-1].Volume.Text, typed)
	}
}

// The proof is a passage into the actual must, without spirit.
func TestProof(t *testing.T) {
	s := hedge(12, "0 collect | 0.1 passage step=w1 | 4 look seen=gas,sediment smell=clean | 5 passage step=w2 | 7 look seen=gas,sediment smell=clean | 7.1 passage step=w3 | 9 look seen=gas,sediment smell=clean")
	o := opened(t, "passage", s, "hawthorn-2", "gravity=1.084 ph=3.9")
	require.Empty(t, wrong(o))
	e := o.Change.Entries[0].Entries[0]
	assert.Equal(t, ferment.Prove, e.Did)
	assert.Equal(t, "250 mL", e.Medium.Text)
	assert.False(t, e.Alcohol.Known())
}

func TestCulture(t *testing.T) {
	s := hedge(30, "0 collect")
	o := opened(t, "culture", s, "", "name='Rowan berry' source='berry skin' note='after rain' start=later")
	require.Empty(t, wrong(o))
	k := o.Change.Cultures[0]
	assert.Equal(t, []string{"rowan-berry-1", "", "wild-culture", "trying"}, []string{k.ID, k.From, k.Protocol, k.Verdict})
	require.Len(t, k.Log, 1)
	assert.Equal(t, ferment.Collect, k.Log[0].Did)
	assert.Equal(t, "generation 1, not grown from another", o.Answer[0])
	assert.True(t, strings.HasPrefix(o.Answer[1], "start the culture"), "%v", o.Answer)
	assert.True(t, has(o, words.Warn, "do not taste"))

	o = opened(t, "culture", s, "", "name='Rowan berry' source='berry skin' mass='20 g' made=honey ph=4.1")
	require.Empty(t, wrong(o))
	k = o.Change.Cultures[0]
	require.Len(t, k.Log, 2, "collected and started in one act")
	first := k.Log[1]
	assert.Equal(t, []string{"20 g", "berry skin"}, []string{k.Log[0].Amount.Text, k.Log[0].Of})
	assert.Equal(t, []string{"passage", "w1", "100 mL", "12.5 mL", "4.1"}, []string{string(first.Did), first.Step, first.Medium.Text, first.Amount.Text, first.PH.Text})
	assert.Contains(t, o.Answer[0], "87.5 mL of medium and 12.5 mL of spirit", "they are all of the 100 mL")
	assert.True(t, has(o, words.Note, "honey has too little nitrogen for yeast: add 0.05 g of nutrient"), said(o))
	o = opened(t, "culture", s, "", "name='Rowan berry'")
	assert.True(t, has(o, words.Note, "malt is near pH 5.3 by itself: about 0.19 g of citric acid"), said(o))
	o = opened(t, "culture", s, "", "name='Rowan berry' ph=4.8")
	assert.Equal(t, "low-acid", o.Closed, "what stands above pH 4.6 is not closed up warm")

	o = opened(t, "culture", s, "hawthorn-2", "")
	require.Empty(t, wrong(o))
	k = o.Change.Cultures[0]
	assert.Equal(t, []string{"hawthorn-3", "hawthorn-2", "lane hedge"}, []string{k.ID, k.From, k.Source})
	assert.Contains(t, o.Answer, "generation 2, made from hawthorn-2")
	assert.Contains(t, wrong(opened(t, "culture", s, "", "id=hawthorn-2")), "id: ")
	assert.Contains(t, wrong(opened(t, "culture", s, "", "id=lime-a")), "id: ", "commands name ferments and cultures alike")
}

func TestIDFromAName(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"Bell heather, east hive", "bell-heather"}, {"", "honey"}, {"Łąka", "ka"}, {"蜂蜜", "honey"},
		{strings.Repeat("long ", 40), "long-long-long-long-long-long-long-long"},
	} {
		got := stem(c.name, "honey")
		assert.Equal(t, c.want, got)
		assert.True(t, ferment.LegalName(got))
	}
}
