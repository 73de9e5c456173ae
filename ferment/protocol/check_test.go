package protocol

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

func when(t *testing.T, text string) ferment.When {
	t.Helper()
	w, err := ParseWhen(text)
	require.NoError(t, err)
	return w
}

func condition(t *testing.T, text string) ferment.Condition {
	t.Helper()
	c, err := ParseCondition(text)
	require.NoError(t, err)
	return c
}

// sound returns a plan without faults, which each case changes.
func sound(t *testing.T) ferment.Protocol {
	rack, from := when(t, "rack"), when(t, "last rack")
	return ferment.Protocol{Name: "hedge", Steps: []ferment.Step{
		{Name: "pitch", Do: "pitch", Due: when(t, "mix")},
		{Name: "nutrient-1", Do: "nutrient", Due: when(t, "started + 6 h"), Share: 1, First: []ferment.Act{ferment.Degas}},
		{Name: "quiet", Quiet: &ferment.Quiet{From: ferment.When{Last: []ferment.When{when(t, "pitch + 14 d"), when(t, "near finish")}}, To: when(t, "quiet + 60 d"),
			BrokenBy: []ferment.Condition{condition(t, "film")}}},
		{Name: "look", Do: "look", Due: when(t, "quiet + 7 d"), Repeat: &ferment.Repeat{Every: offset(7, ferment.Day), Until: &rack}},
		{Name: "rack", Do: "rack", Due: when(t, "end of quiet"), Window: ferment.Window{Opens: offset(-14, ferment.Day), Closes: offset(14, ferment.Day)}},
		{Name: "tail", Do: "gravity", Due: when(t, "last ph"), Repeat: &ferment.Repeat{At: []ferment.Offset{offset(7, ferment.Day)}, From: &from},
			Needs: []ferment.Condition{condition(t, "nutrient-1"), condition(t, "gravity since rack")}},
	}}
}

func TestSoundProtocolHasNoErrors(t *testing.T) {
	assert.Empty(t, Check(sound(t), nil))
}

func TestProtocolCheck(t *testing.T) {
	elk := func(t *testing.T) *ferment.When { w := when(t, "last elk"); return &w }
	for _, c := range []struct {
		name  string
		spoil func(t *testing.T, s []ferment.Step)
		index int
		key   string
		want  string
	}{
		{"a name twice", func(t *testing.T, s []ferment.Step) { s[3].Name = "pitch" }, 3, "step", `step "pitch": an earlier step has the same name (e.g. pitch-again)`},
		{"no name", func(t *testing.T, s []ferment.Step) { s[3].Name = "" }, 3, "step", `step "": its name is not one word`},
		{"a name of two words", func(t *testing.T, s []ferment.Step) { s[3].Name = "look well" }, 3, "step", "is not one word"},
		{"nothing to do", func(t *testing.T, s []ferment.Step) { s[3].Do = "" }, 3, "do", "does not say what to do (e.g. do: degas)"},
		{"an unknown act", func(t *testing.T, s []ferment.Step) { s[3].Do = "stare" }, 3, "do", `"stare" is no act and no measurement`},
		{"quiet with an act", func(t *testing.T, s []ferment.Step) { s[2].Do = "look" }, 2, "quiet", "leave out do: look"},
		{"no time", func(t *testing.T, s []ferment.Step) { s[3].Due = ferment.When{} }, 3, "due", "does not say when (e.g. due: pitch + 1 d)"},
		{"an unknown anchor", func(t *testing.T, s []ferment.Step) { s[3].Due = when(t, "nutrient-2 + 1 d") }, 3, "due", `step "look": "nutrient-2" is no act, no condition and no step of the plan (nutrient-1?)`},
		{"an unknown anchor among several", func(t *testing.T, s []ferment.Step) { s[2].Quiet.From.Last[0] = *elk(t) }, 2, "quiet", `"elk" is no act`},
		{"an unknown end", func(t *testing.T, s []ferment.Step) { s[4].Due = when(t, "end of rest") }, 4, "due", `"rest" is no condition and no step`},
		{"the end of what has none", func(t *testing.T, s []ferment.Step) { s[4].Due = when(t, "end of look") }, 4, "due", `"look" has no end`},
		{"an unknown step in needs", func(t *testing.T, s []ferment.Step) { s[5].Needs[0] = condition(t, "elk") }, 5, "needs", `"elk" is no condition and no step`},
		{"an act that is no step in when", func(t *testing.T, s []ferment.Step) { s[5].When = []ferment.Condition{condition(t, "prime")} }, 5, "when", `"prime" is no condition and no step`},
		{"an unknown step in unless", func(t *testing.T, s []ferment.Step) {
			s[5].Unless = []ferment.Condition{condition(t, "gravity since elk")}
		}, 5, "unless", `"elk" is no`},
		{"an unknown step in broken-by", func(t *testing.T, s []ferment.Step) { s[2].Quiet.BrokenBy[0] = condition(t, "elk") }, 2, "broken-by", `"elk" is no`},
		{"an unknown end of a step", func(t *testing.T, s []ferment.Step) { s[5].Ends = elk(t) }, 5, "ends", `"elk" is no`},
		{"an unknown end of repeats", func(t *testing.T, s []ferment.Step) { s[3].Repeat.Until = elk(t) }, 3, "repeat", `"elk" is no`},
		{"an unknown start of repeats", func(t *testing.T, s []ferment.Step) { s[5].Repeat.From = elk(t) }, 5, "repeat", `"elk" is no`},
		{"at without from", func(t *testing.T, s []ferment.Step) { s[5].Repeat.From = nil }, 5, "repeat", "nothing to count from (e.g. {at: [7 d, 21 d], from: rack})"},
		{"every and at", func(t *testing.T, s []ferment.Step) { s[5].Repeat.Every = offset(1, ferment.Day) }, 5, "repeat", "both at an interval and at set times"},
		{"neither every nor at", func(t *testing.T, s []ferment.Step) { s[3].Repeat.Every = ferment.Offset{} }, 3, "repeat", "how often it repeats"},
		{"a negative interval", func(t *testing.T, s []ferment.Step) { s[3].Repeat.Every = offset(-1, ferment.Day) }, 3, "repeat", "goes backwards"},
		{"a negative number of times", func(t *testing.T, s []ferment.Step) { s[3].Repeat.AtMost = -1 }, 3, "repeat", "number of repeats is negative"},
		{"a window that never opens", func(t *testing.T, s []ferment.Step) {
			s[4].Window = ferment.Window{Opens: offset(1, ferment.Day), Closes: offset(24, ferment.Hour)}
		}, 4, "window", "closes before it opens"},
		{"a share over one", func(t *testing.T, s []ferment.Step) { s[1].Share = 1.001 }, 1, "share", "not between 0 % and 100 % (e.g. share: 50 %)"},
		{"a share under nothing", func(t *testing.T, s []ferment.Step) { s[1].Share = -0.001 }, 1, "share", "not between 0 %"},
		{"an unknown first act", func(t *testing.T, s []ferment.Step) { s[1].First[0] = "stare" }, 1, "first", `"stare" is no act`},
	} {
		p := sound(t)
		c.spoil(t, p.Steps)
		errs := Check(p, nil)
		if !assert.NotEmpty(t, errs, c.name) {
			continue
		}
		assert.Equal(t, c.index, errs[0].Index, c.name)
		assert.Equal(t, c.key, errs[0].Key, c.name)
		assert.Contains(t, errs[0].Message, c.want, c.name)
	}
}

func TestCheckFindsEveryError(t *testing.T) {
	p := sound(t)
	p.Steps[0].Due, p.Steps[1].Share, p.Steps[4].Name = when(t, "elk"), 2, "rack again"
	var found []int
	for _, e := range Check(p, nil) {
		found = append(found, e.Index)
	}
	assert.Equal(t, []int{4, 0, 1, 5}, found, "the reading since rack has lost its step")
}

func TestFragmentMayNameStepsOfAnotherProtocol(t *testing.T) {
	p := ferment.Protocol{Steps: []ferment.Step{{Name: "warm", Do: "move", Due: when(t, "open-2"), Needs: []ferment.Condition{condition(t, "cold-rest")}}}}
	assert.Len(t, Check(p, nil), 2)
	assert.Empty(t, Check(p, func(step string) bool { return step == "open-2" || step == "cold-rest" }))
	assert.Len(t, Check(p, func(step string) bool { return step == "open-2" }), 1)
}
