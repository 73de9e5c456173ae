package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// A culture has a log like a ferment, and steps of its own.
func cultureDay(log, now string) schedule.Day {
	k := ferment.Culture{ID: "hawthorn-3", Protocol: "wild-culture", Verdict: "trying"}
	for _, line := range strings.Split(log, "|") {
		k.Log = append(k.Log, entry(line))
	}
	s := ferment.DefaultSettings(dublin)
	return schedule.Plan(builtIn("wild-culture"), course.OfCulture(k, s, s.Limits, at(now)))
}

// TestStepsOfACultureKeepTheirWindows follows an isolate from collecting to its proof (common practice, no source).
func TestStepsOfACultureKeepTheirWindows(t *testing.T) {
	for _, c := range []struct {
		log, now, step string
		state          schedule.State
	}{
		{"0d 12:00 collect", "0d 15:00", "w1", schedule.Due},
		{"0d 12:00 collect", "1d 13:00", "w1", schedule.Late},
		{"0d 12:00 collect", "2d 13:00", "w1", schedule.Lapsed},
		{"0d 12:00 collect|0d 15:00 passage step=w1", "1d 16:00", "w1-look", schedule.Due},
		{"0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=gas,sediment", "4d 09:00", "w2", schedule.Held},
		{"0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=gas,sediment smell=clean", "4d 09:00", "w2", schedule.Due},
		{"0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=gas,sediment smell=clean|4d 10:00 passage", "4d 11:00", "w2", schedule.Done},
		{"0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=mould", "4d 09:00", "danger-mould", schedule.Due},
		{"0d 12:00 collect|0d 15:00 passage step=w1", "14d 16:00", "discard-idle", schedule.Due},
		{"0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=gas", "14d 16:00", "discard-idle", schedule.Waiting},
	} {
		got, ok := task(cultureDay(c.log, c.now), c.step)
		if c.state == schedule.Waiting && !ok {
			continue // unplanned steps wait for ever
		}
		assert.True(t, ok, "%s | %s: %s", c.log, c.now, c.step)
		assert.Equal(t, c.state, got.State, "%s | %s: %s: %s", c.log, c.now, c.step, got.Reason)
	}
	const judged = "0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=gas,sediment smell=clean|4d 10:00 passage step=w2|7d 10:00 passage step=w3|9d 10:00 prove step=w4"
	for log, want := range map[string]bool{judged: true, judged + "|23d 09:00 1.010|23d 10:00 verdict verdict=usable": false, judged + "|10d 10:00 backup": false} {
		got, _ := task(cultureDay(log, "40d 12:00"), "backup")
		assert.Equal(t, want, got.State == schedule.Late, "spare jars are late until it is judged: %s: %s", log, got.State)
	}
	d := cultureDay("0d 12:00 collect|4d 09:00 discard", "4d 10:00")
	assert.Empty(t, d.Tasks, "what is thrown away has no tasks")
	for _, other := range cultureDay("0d 12:00 collect", "0d 15:00").Tasks {
		assert.NotEqual(t, "rack", other.Step, "what a vessel needs is not planned on a culture")
	}
}

// TestWildFerment: a ferment has none of the culture's steps, and gets its nutrient only after the start.
func TestWildFerment(t *testing.T) {
	j := jug{plan: "wild-culture still", gravity: "1.060", log: "0d 18:30 pitch",
		ferment: func(f *ferment.Ferment) {
			f.Yeast.Kind = ferment.Wild
			f.Yeast.Tolerance = measure.Given[measure.Strength]{}
		}}
	d := j.day("2d 09:00")
	_, planned := task(d, "w1")
	assert.False(t, planned)
	got, _ := task(d, "nutrient-1")
	assert.Equal(t, schedule.Held, got.State)
	got, _ = task(j.day("4d 19:00"), "rescue")
	assert.Equal(t, schedule.Due, got.State, "four days without a fall")
	j.log += "|2d 12:00 started"
	_, there := task(j.day("4d 19:00"), "rescue")
	got, _ = task(j.day("4d 19:00"), "rescue")
	assert.True(t, !there || got.State == schedule.Waiting)
}

// TestCultureCautions: 4.6 is the limit of 21 CFR 114.3; the rest is common practice, no source.
func TestCultureCautions(t *testing.T) {
	const grew = "0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=gas,sediment smell=clean"
	for _, c := range []struct {
		log, now, verdict string
		want              []string
	}{
		{"0d 12:00 collect", "1d 12:00", "trying", nil},
		{grew, "5d 12:00", "trying", []string{"warn do-not-taste"}},
		{grew + "|5d 08:00 look seen=mould", "5d 12:00", "trying", []string{"stop mould", "warn do-not-taste"}},
		{grew + "|5d 08:00 look smell=bad", "5d 12:00", "trying", []string{"stop discard", "warn do-not-taste"}},
		{grew + "|5d 08:00 look seen=film", "5d 12:00", "trying", []string{"warn film", "warn do-not-taste"}},
		{grew + "|5d 08:00 ph4.2", "5d 12:00", "trying", []string{"warn do-not-taste"}},
		{grew + "|5d 08:00 ph4.6", "5d 12:00", "trying", []string{"warn low-acid", "warn do-not-taste"}},
		{grew + "|5d 08:00 ph4.7", "5d 12:00", "trying", []string{"stop low-acid", "warn do-not-taste"}},
		{grew + "|5d 08:00 backup", "5d 12:00", "trying", []string{"warn do-not-taste", "note sealed-jar"}},
		{"0d 12:00 collect|0d 15:00 passage step=w1", "14d 16:00", "trying", []string{"warn discard", "warn do-not-taste"}},
		{"0d 12:00 collect|0d 15:00 passage step=w1", "14d 16:00", "usable", []string{"warn do-not-taste"}}, // stored, not looked at
		{grew, "100d 12:00", "usable", []string{"warn do-not-taste", "warn refresh"}},
		{grew + "|5d 08:00 look seen=mould|5d 09:00 discard", "6d 12:00", "trying", nil},
		{grew + "|5d 08:00 look seen=mould", "6d 12:00", "discarded", nil},
	} {
		k := ferment.Culture{ID: "hawthorn-3", Protocol: "wild-culture", Verdict: c.verdict}
		for _, line := range strings.Split(c.log, "|") {
			k.Log = append(k.Log, entry(line))
		}
		s := ferment.DefaultSettings(dublin)
		var got []string
		for _, w := range schedule.CultureCautions(course.OfCulture(k, s, s.Limits, at(c.now))) {
			got = append(got, string(w.Loud)+" "+w.Name)
			assert.NotEmpty(t, w.Text)
		}
		assert.Equal(t, c.want, got, "%s | %s", c.log, c.now)
	}
}

// TestHeldTaskNamesWhatFreesIt: the answer that frees it, not only the act.
func TestHeldTaskNamesWhatFreesIt(t *testing.T) {
	got, _ := task(cultureDay("0d 12:00 collect|0d 15:00 passage step=w1|4d 08:00 look seen=gas,sediment", "4d 09:00"), "w2")
	assert.Equal(t, schedule.Held, got.State)
	assert.Equal(t, "look at it: is the smell clean?", got.Answer)
	d := cultureDay("0d 12:00 collect|0d 15:00 passage step=w1|1d 16:00 seen=gas smell=clean", "1d 17:00")
	assert.True(t, strings.HasPrefix(states(d, "w1-look"), "done"), "an answer without the act settles the look")
}
