package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule"
)

func (j jug) refuse(now, step string) *schedule.No {
	d := j.day(now)
	t, ok := task(d, step)
	if !ok {
		t = schedule.Task{Step: step, Do: step}
	}
	return schedule.Refusal(t, d, j.course(now))
}

// TestRefusal: done is refused with the reason and what to do instead.
func TestRefusal(t *testing.T) {
	started := "0d 08:00 pitch|0d 20:00 started"
	for _, c := range []struct {
		what, log, now, step string
		name, verdict        string // verdict is empty if nothing is against it
	}{
		{"a dose that is due", started, "1d 06:00", "nutrient-1", "", ""},
		{"a dose that is late", missedDose + "|4d 08:00 1.068", "4d 09:00", "nutrient-2", "", ""},
		{"past the grace", missedDose + "|5d 08:00 1.058", "5d 09:00", "nutrient-2", "nutrient", "closed"},
		{"past the half", missedDose + "|7d 08:00 1.040", "7d 09:00", "nutrient-2", "nutrient", "closed"},
		{"an old reading", missedDose + "|4d 08:00 1.068", "6d 00:00", "nutrient-2", "nutrient", "held"},
		{"before the start", "0d 08:00 pitch", "1d 09:00", "nutrient-1", "started", "held"},
		{"twice in two hours", missedDose + "|3d 08:30 nutrient 1.4g step=nutrient-2", "3d 10:30", "nutrient-2", "spacing", "too soon"},
		{"11:59 after it", missedDose + "|3d 08:30 nutrient 1g step=nutrient-2", "3d 20:29", "nutrient-2", "spacing", "too soon"},
		{"twelve hours after it", missedDose + "|3d 08:30 nutrient 1g step=nutrient-2", "3d 20:30", "nutrient-2", "", ""},
		{"all given", missedDose + "|3d 08:30 nutrient 2g step=nutrient-2", "3d 20:30", "nutrient-2", "nutrient", "enough"},
		{"degas at any time", missedDose, "9d 10:30", "degas", "", ""},
		{"a bottling nobody planned", missedDose, "9d 10:30", "bottle", "still bottling", "shut"},
		{"sorbate without sulphite", missedDose, "9d 10:30", "sorbate", "sorbate", "stop"},
		{"sorbate after sulphite", missedDose + "|9d 10:00 sulphite 0.2g", "9d 10:30", "sorbate", "", ""},
		{"sorbate after priming", missedDose + "|9d 10:00 sulphite 0.2g|9d 10:10 prime 30g", "9d 10:30", "sorbate", "sorbate", "stop"},
		{"racking with mould seen", missedDose + "|9d 10:00 look seen=mould", "9d 10:30", "rack", "mould", "stop"},
	} {
		no := jug{plan: "small-jug", gravity: "1.100", log: c.log}.refuse(c.now, c.step)
		if c.name == "" {
			assert.Nil(t, no, c.what)
			continue
		}
		require.NotNil(t, no, c.what)
		assert.Equal(t, c.name, no.Name, c.what)
		assert.Equal(t, c.verdict, no.Verdict, c.what)
		assert.NotEmpty(t, no.Why, c.what)
	}
}

// TestRefusalSaysWhatToDo: an instruction, not a word of the record.
func TestRefusalSaysWhatToDo(t *testing.T) {
	plan := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch"}
	assert.Equal(t, "check that it has started, and write it down: started", plan.refuse("1d 09:00", "nutrient-1").Instead)
	plan.log = missedDose + "|4d 08:00 1.068"
	assert.Equal(t, "read gravity first", plan.refuse("6d 00:00", "nutrient-2").Instead)
}

// TestRefusalSaysWhy: the limit, the values in the record, and the other dose that may be chosen.
func TestRefusalSaysWhy(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: missedDose + "|5d 08:00 1.058", settings: yeastDerived}
	no := j.refuse("5d 09:00", "nutrient-2")
	assert.Equal(t, []string{"it ends 0.005 past the ⅓ break, at 1.0607", "it was at 1.0580 on 17 Sep 08:00, and gravity only falls"}, no.Why)
	require.NotNil(t, no.Option)
	assert.Equal(t, schedule.LateNutrient, no.Option.Step)
	assert.Equal(t, "yeast-derived nutrient, once, down to 1.0485, the ½ break", no.Instead)

	j.log = missedDose + "|3d 08:30 nutrient 1.4g step=nutrient-2"
	no = j.refuse("3d 10:30", "nutrient-2")
	assert.Equal(t, "1.4 g went in at 08:30; doses must be 12 h apart: not before 20:30", no.Why[0])
	assert.Contains(t, no.Why[1], "of 180 mg/L of nitrogen are given")
}

// TestSugarAfterSteady: sugar waits until a day after stabilising; before the gravity was steady it feeds the yeast.
func TestSugarAfterSteady(t *testing.T) {
	stabilised := atRest + "|78d 18:00 sulphite 0.4g|78d 18:30 sorbate 0.6g"
	for _, c := range []struct{ what, log, now, why string }{
		{"while it works", "0d 18:30 pitch|1d 12:00 started|5d 18:30 1.045@20", "6d 09:00", ""},
		{"steady", atRest, "77d 09:00", "it has been steady and is not stabilised: the sugar would ferment"},
		{"sulphite alone", atRest + "|78d 18:00 sulphite 0.4g", "80d 09:00", "it has been steady and is not stabilised: the sugar would ferment"},
		{"23:59 after", stabilised, "79d 18:29", "stabilised"},
		{"24:00 after", stabilised, "79d 18:30", ""},
	} {
		for _, act := range []string{"honey", "fruit-in"} {
			j := jug{plan: "small-jug still", gravity: "1.084", log: c.log}
			no := schedule.Refusal(schedule.Task{Step: act, Do: act}, j.day(c.now), j.course(c.now))
			if c.why == "" || act == "fruit-in" { // fruit is meant to ferment
				assert.Nil(t, no, "%s: %s", c.what, act)
				continue
			}
			require.NotNil(t, no, "%s: %s", c.what, act)
			assert.Equal(t, "sweetening", no.Name)
			assert.Contains(t, no.Why[0], c.why, c.what)
		}
	}
}

// TestBurstBottlesLogIsRefused follows a published home log of the kind of those in testdata: a must of 1.120 racked at
// 1.010 on day 9, given a tablet of sulphite and no sorbate, sweetened to 1.019 four days later and bottled the next
// day. Each of these acts is refused with the reason and what to do instead.
func TestBurstBottlesLogIsRefused(t *testing.T) {
	const log = "0d 09:00 pitch|1d 09:00 started|3d 09:00 1.080@20 20C|6d 09:00 1.040@20 20C|9d 09:00 1.010@20 20C"
	for _, c := range []struct {
		now, do, log, why, instead string
	}{
		{"9d 10:00", "rack", "", "it still falls, 10.0 points a day", "leave it on its lees"},
		{"9d 12:00", "sulphite", "|9d 11:00 rack vol3.2L", "sulphite alone does not stop yeast", "until it is steady"},
		{"13d 10:00", "honey", "|9d 11:00 rack vol3.2L|9d 12:00 sulphite 0.4g|13d 09:00 1.008@20 20C", "not stabilised: the sugar would ferment", "sorbate"},
		{"14d 10:00", "bottle", "|9d 11:00 rack vol3.2L|9d 12:00 sulphite 0.4g|13d 09:00 1.008@20 20C|13d 10:00 honey 100g|14d 09:00 1.019@20 20C", "still bottling is not ready", ""},
	} {
		j := jug{plan: "small-jug still", gravity: "1.120", log: log + c.log}
		d := j.day(c.now)
		task, _ := task(d, c.do)
		if task.State != schedule.Held && task.State != schedule.Due {
			task = schedule.Task{Step: c.do, Do: c.do, Open: true}
		}
		no := schedule.Refusal(task, d, j.course(c.now))
		if assert.NotNil(t, no, c.do) {
			assert.Contains(t, strings.Join(no.Why, "; "), c.why, c.do)
			assert.Contains(t, no.Instead, c.instead, c.do)
			assert.NotEmpty(t, no.Instead, c.do)
		}
	}
}
