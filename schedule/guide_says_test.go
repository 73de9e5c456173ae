package schedule_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/guide"
	"cellar/jugkeeper/schedule/protocols"
)

// chapter returns the texts of a chapter of the guide by their heads.
func chapter(t *testing.T, name string) map[string]string {
	texts := map[string]string{}
	for _, c := range guide.Chapters() {
		for _, p := range c.Parts {
			if c.Name == name {
				texts[p.Head] = p.Text
			}
		}
	}
	require.NotEmpty(t, texts, name)
	return texts
}

// claim is something that the guide says of a gate, with a jug on either side of its limit.
type claim struct {
	head, says  string
	gate        ferment.Gate
	open, shut  string // logs; after " @ " the time, if not a day after the last reading
	change      func(*jug)
	alsoLimited string // what shuts the second, if the gate could be shut by something else
}

// TestGuideSaysWhatTheGatesDo: each limit in the guide's page of gates is that of the code: just inside of it the gate
// opens, just outside it is shut. No number of the page is left without a claim.
func TestGuideSaysWhatTheGatesDo(t *testing.T) {
	at := func(log string, pairs ...string) string { return strings.NewReplacer(pairs...).Replace(log) }
	tested := atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997"
	high := strings.ReplaceAll(strings.Replace(atRest, "1.000@20", "1.013@20", 1), "0.997@20", "1.0050@20")
	long := func(gravity, first string) string {
		log := at(atRest, "1.000@20", "1.007@20", "60d", first, "0.997@20", gravity+"@20", "62d 18:00 rack", "22d 18:00 rack")
		return log + strings.ReplaceAll("|90d 18:30 G 18C|104d 18:30 G 18C|118d 18:30 G 18C|121d 18:30 G 18C @ 122d 09:00", "G", gravity+"@20")
	}
	week := func(temperature, last string) string {
		return at(`0d 18:30 pitch|1d 12:00 started|5d 18:30 1.045@20|10d 18:30 1.012@20|20d 18:30 1.000@20|60d 18:00 rack clear vol3.2L|60d 18:30 0.997@20 T|
			63d 18:30 0.997@20 T|LAST 0.997@20 T|60d 19:00 forced-test|66d 18:00 forced-test 0.997 @ 68d 09:00`, "T", temperature, "LAST", last)
	}
	four := func(first string) string {
		return at(atRest, "60d 18:30", first, "|68d 18:30 0.997@20 17C", "|66d 18:30 0.997@20 17C|71d 18:30 0.997@20 17C")
	}
	wild := func(j *jug) {
		j.ferment = func(f *ferment.Ferment) { f.Yeast = ferment.Yeast{Kind: ferment.Wild, Culture: "hedge"} }
	}
	bears := func(s measure.Strength) func(*jug) {
		return func(j *jug) {
			j.ferment = func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(s, s.String()) }
		}
	}
	still, fizzy, steady, nutrient := ferment.StillGate, ferment.ConditioningGate, ferment.SteadyGate, ferment.NutrientGate
	has := (jug{plan: "small-jug", gravity: "1.084", log: tested}).course("77d 09:00").Alcohol.Value
	slow := "0d 08:00 pitch|0d 20:00 started|4d 21:00 1.056|6d 21:00 "
	sweet := high + "|76d 19:00 sulphite 0.3g|76d 19:05 sorbate 0.6g|78d 18:00 honey 60g|78d 18:30 1.0090@20 18C|82d 18:30 1.0090@20 18C|87d 18:30 1.0090@20 18C clear|92d 17:30 1.0090@20 18C @ "
	var claims = []claim{
		{"nutrient", "no older than 36 hours", nutrient, "0d 08:00 pitch|0d 20:00 started|1d 21:00 1.080 @ 3d 08:00", "0d 08:00 pitch|0d 20:00 started|1d 21:00 1.080 @ 3d 10:00", nil, "h old"},
		{"nutrient", "0.005 under the one-third break", nutrient, slow + "1.0499 @ 6d 21:10", slow + "1.0497 @ 6d 21:10", nil, "more than 0.005 past the ⅓ break"},
		{"nutrient", "Past the half break", nutrient, "", "0d 08:00 pitch|0d 20:00 started|1d 21:00 1.0401 @ 1d 22:00", nil, "past the ½ break"},
		{"nutrient", "over 9 % vol", nutrient, "", "0d 08:00 pitch|0d 20:00 started|6d 21:00 1.070 @ 6d 22:00", func(j *jug) { bears(18)(j); j.gravity = "1.140" }, "is over 9.0 % vol"},
		{"steady", "at least three hydrometer readings", steady, atRest, at(atRest, "|68d 18:30 0.997@20 17C", ""), nil, ""},
		{"steady", "over 14 days", steady, four("62d 18:30"), four("63d 18:00"), nil, "13 of 14 days"},
		{"steady", "(28 for a wild culture)", steady, four("48d 18:30"), four("49d 18:30"), wild, "27 of 28 days"},
		{"steady", "a fall of 1.3 points in that time", steady, "", at(atRest, "60d", "62d", "0.997@20 17C", "0.9975@20 17C"), nil, "0.43 is the limit"},
		{"steady", "at most a third of it", "", "", "", nil, ""},
		{"steady", "at most 14 days old", steady, atRest + " @ 90d 09:00", atRest + " @ 91d 09:00", nil, "older than 14 days"},
		{"steady", "even to 3 °C", steady, at(atRest, "18C", "20C"), at(atRest, "18C", "20.1C"), nil, "apart"},
		{"steady", "at least 15 °C", steady, at(atRest, "17C", "15C", "18C", "15C"), at(atRest, "17C", "14.9C", "18C", "15C"), nil, "under 15 °C"},
		{"steady", "more than 0.002 off the others starts the days again", steady, at(atRest, "68d 18:30 0.997", "68d 18:30 0.998"), at(atRest, "68d 18:30 0.997", "68d 18:30 0.9991"), nil, "1 of 3"},
		{"steady", "a change of more than 3 °C", steady, at(atRest, "76d 18:30 0.997@20 18C", "76d 18:30 0.997@20 20C"), at(atRest, "76d 18:30 0.997@20 18C", "76d 18:30 0.997@20 21C"), nil, "counted again from the next reading"},
		{"forced test", "the fifth to seventh day", fizzy, at(tested, "75d 18:00 forced-test", "75d 07:00 forced-test"), at(tested, "75d 18:00 forced-test", "74d 23:00 forced-test"), nil, "before the fifth day"},
		{"forced test", "100 mL with dry yeast at 25 °C", fizzy, "", atRest, nil, "keep 100 mL with dry yeast at 25 °C for five to seven days"},
		{"forced test", "Within 0.001 of the vessel", still, high + "|70d 18:00 forced-test|76d 18:00 forced-test 1.0040", high + "|70d 18:00 forced-test|76d 18:00 forced-test 1.0039", nil, "fell 1.1 points"},
		{"still bottling", "at most 0.002 above the dry finish", still, at(atRest, "1.000@20", "1.007@20", "0.997@20", "0.9984@20"), at(atRest, "1.000@20", "1.007@20", "0.997@20", "0.9985@20"), nil, "gravity at most 0.998"},
		{"still bottling", "or 0.004 and ", still, long("1.0004", "60d"), long("1.0005", "60d"), nil, "gravity at most 0.998"},
		{"still bottling", "steady for 60 days", still, long("1.0000", "61d"), long("1.0000", "62d"), nil, "gravity at most 0.998"},
		{"still bottling", "14 days steady after the honey", still, sweet + "92d 18:10", sweet + "92d 17:50", nil, "14 days steady after the honey"},
		{"bottle-conditioning", "(7 days at 18 °C are enough with a forced test)", fizzy, week("18C", "67d 18:30"), week("17.9C", "67d 18:30"), nil, ""},
		{"bottle-conditioning", "(7 days at 18 °C are enough with a forced test)", fizzy, week("18C", "67d 07:00"), week("18C", "66d 18:29"), nil, ""},
		{"bottle-conditioning", "a forced test of the last 30 days", fizzy, tested + "|88d 18:30 0.997@20 18C|98d 18:30 0.997@20 18C @ 99d 09:00", tested + "|88d 18:30 0.997@20 18C|98d 18:30 0.997@20 18C @ 100d 18:00", nil, "a forced test"},
		{"bottle-conditioning", "60 days steady", fizzy, strings.Replace(long("0.997", "61d"), "rack clear", "rack clear", 1), long("0.997", "62d"), nil, "60 days steady"},
		{"bottle-conditioning", "2 % vol more", fizzy, tested, "", bears(has + 2), ""},
		{"bottle-conditioning", "2 % vol more", fizzy, "", tested, bears(has + 1.9), "2 % vol under the tolerance"},
		{"bottle-conditioning", "two points unfinished", "", "", "", nil, ""},
		{"accept", "90 days steady", "", "", "", nil, ""},
	}
	texts := chapter(t, "bottling")
	for _, c := range claims {
		require.Contains(t, texts[c.head], c.says)
		for i, log := range []string{c.open, c.shut} {
			if log == "" || c.open == c.shut {
				continue
			}
			log, now, set := strings.Cut(log, " @ ")
			if !set {
				now = "77d 09:00"
			}
			plan := map[ferment.Gate]string{fizzy: "small-jug bottle-conditioned"}[c.gate]
			if plan == "" {
				plan = "small-jug still"
			}
			j := jug{plan: plan, gravity: "1.084", log: log, settings: softBottles}
			if c.change != nil {
				c.change(&j)
			}
			g := gate(j.day(now), c.gate)
			assert.Equal(t, i == 0, g.Open, "%s, %s: %s", c.head, c.says, unmet(g))
			if i == 1 {
				var all string
				for _, u := range g.Unmet {
					all += u.What + ": " + u.Frees + "; "
				}
				assert.Contains(t, all, c.alsoLimited, "%s, %s", c.head, c.says)
			}
		}
	}
	for head, text := range texts {
		for _, c := range claims {
			if c.head == head {
				text = strings.ReplaceAll(text, c.says, "")
			}
		}
		if head != "how sure is steady" { // TestSteadyBySimulation in ferment/course has those
			assert.NotRegexp(t, `\d`, text, "%s: a number without a claim", head)
		}
	}
}

// TestGuideSaysWithHowMuchSugarABottleIsJudged: the weakest bottle that opens the gate is one for the pressure in the
// hottest place with two points unfinished, one after a forced test.
func TestGuideSaysWithHowMuchSugarABottleIsJudged(t *testing.T) {
	require.Contains(t, chapter(t, "bottling")["bottle-conditioning"], "at the hottest place with two points unfinished, one after a test")
	rests := strings.NewReplacer("60d", "61d", "62d 18:00 rack", "22d 18:00 rack").Replace(atRest) + "|90d 18:30 0.997@20 18C|104d 18:30 0.997@20 18C|118d 18:30 0.997@20 18C|121d 18:30 0.997@20 18C"
	for points, log := range map[float64]string{2: rests, 1: rests + "|110d 18:00 forced-test|115d 18:00 forced-test 0.997"} {
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: log}
		opens := func(stands measure.Pressure) bool {
			j.settings = func(s *ferment.Settings) {
				s.Bottles = []ferment.BottleKind{{Kind: "soft-drink bottle", Holds: measure.Give(measure.Content(6), "6 g/L"), Stands: measure.Give(stands, stands.String())}}
			}
			return gate(j.day("122d 09:00"), ferment.ConditioningGate).Open
		}
		low, high := measure.Pressure(1), measure.Pressure(12)
		for high-low > 0.001 {
			if middle := (low + high) / 2; opens(middle) {
				high = middle
			} else {
				low = middle
			}
		}
		filled := carbonation.Usual
		filled.At = 18 // as the mead was last read
		p, err := filled.InBottle(5, carbonation.Liquid{Alcohol: j.course("122d 09:00").Alcohol.Value}, 30, points)
		require.NoError(t, err)
		assert.InDelta(t, float64(p.Gauge), float64(high), 0.01, "%g points", points)
	}
}

// TestGuideSaysWhenAFinishMayBeAccepted: after ninety days steady, or a passed forced test.
func TestGuideSaysWhenAFinishMayBeAccepted(t *testing.T) {
	require.Contains(t, chapter(t, "bottling")["accept"], "a passed forced test or 90 days steady")
	log := "0d 18:30 pitch|1d 12:00 started|20d 18:30 1.030@20|FIRST 1.012@20 18C|90d 18:30 1.012@20 18C|120d 18:30 1.012@20 18C|150d 18:30 1.012@20 18C"
	for first, may := range map[string]bool{"60d 18:30": true, "61d 18:30": false} {
		j := jug{plan: "small-jug", gravity: "1.084", log: strings.Replace(log, "FIRST", first, 1)}
		assert.Equal(t, may, j.course("151d 09:00").MayAccept(at("151d 09:00")), first)
		j.log += "|140d 18:30 forced-test|145d 18:30 forced-test 1.012"
		assert.True(t, j.course("151d 09:00").MayAccept(at("151d 09:00")), first)
	}
}

// TestGuideSaysWhatResetsTheGates: of all acts, those that the guide names make what was read before count no more.
func TestGuideSaysWhatResetsTheGates(t *testing.T) {
	says := chapter(t, "bottling")["what resets it"]
	resets := map[ferment.Act]string{ferment.Honey: "honey", ferment.FruitIn: "fruit", ferment.Blend: "another mead", ferment.Pitch: "yeast",
		ferment.Starter: "a starter", ferment.Nutrient: "nutrient", ferment.Buffer: "a buffer", ferment.TopUp: "juice"}
	for _, name := range resets {
		assert.Contains(t, says, name)
	}
	for _, name := range ferment.ActNames() {
		act := ferment.Act(name)
		e := ferment.Entry{At: ferment.At(at("76d 19:00")), Did: act, Order: 99}
		if act == ferment.TopUp {
			e.Of = "apple juice"
		}
		j := jug{plan: "small-jug still", gravity: "1.084", log: atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997",
			ferment: func(f *ferment.Ferment) { f.Log = append(f.Log, e) }}
		c := j.course("76d 19:30")
		assert.Equal(t, resets[act] != "", !c.Steady.Open && !c.Test.Passed, act)
		assert.Equal(t, resets[act] != "", strings.Contains(unmet(gate(j.day("76d 19:30"), ferment.StillGate)), "clear"), act)
	}
}

// TestGuideHasTheFigures: what the guide says in words of pressure, sulphite and finish is what the figures say.
func TestGuideHasTheFigures(t *testing.T) {
	work := func(figure, result string, pairs ...string) float64 {
		f, err := bench.Find(figure)
		require.NoError(t, err)
		given := map[string]string{}
		for _, p := range pairs {
			key, value, _ := strings.Cut(p, "=")
			given[key] = value
		}
		a, err := f.Work(given, ferment.DefaultSettings(dublin))
		require.NoError(t, err)
		i := slices.IndexFunc(a.Results, func(r bench.Result) bool { return r.Name == result })
		require.GreaterOrEqual(t, i, 0, result)
		return a.Results[i].Value
	}
	gauge := func(more ...string) float64 {
		return work("pressure", "gauge", append(more, "co2=5g/L", "alcohol=12%")...)
	}
	terms := chapter(t, "words")
	assert.Contains(t, terms["fizz"], fmt.Sprintf("5 g/L make %.1f bar over the air outside at 20 °C and 12 %% vol, %.1f of it", gauge("at=20C"), gauge("at=20C")-gauge("at=20C", "headspace=0%")))
	assert.Contains(t, chapter(t, "urgent")["3"], "at 2 to 4 °C about half of the pressure at 20 °C is left")
	for _, cold := range []string{"at=2C", "at=4C"} {
		assert.InDelta(t, 0.5, gauge(cold)/gauge("at=20C"), 0.06, cold)
	}
	assert.Contains(t, terms["dry finish"], fmt.Sprintf("once %.0f %% of the solids have fermented", ferment.DefaultLimits().Fermentable))
	dry, err := alcohol.DryFinish(1.084, ferment.DefaultLimits().Fermentable)
	require.NoError(t, err)
	assert.InDelta(t, float64(dry), work("finish", "gravity", "og=1.084"), 1e-4)

	// A protocol's comments have figures of sulphite and sorbate.
	comment := func(plan, says string) { assert.Contains(t, string(protocols.Files()[plan]), says, plan) }
	comment("fruit", "amount: 0.07 g/L                  # 40 mg/L of SO2")
	assert.InDelta(t, 40, 70*0.576, 0.5)
	comment("sweetened", "at most 200 mg/L sorbic acid")
	assert.InDelta(t, 0.2/0.7464, work("sorbate", "salt", "volume=1L", "alcohol=8%"), 0.002)
}
