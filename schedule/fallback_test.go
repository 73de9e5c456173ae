package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
)

// A jug whose plan has ended still has tasks: a reading, then what to do with it, repeatedly.
func TestDryJugIsStillAskedAbout(t *testing.T) {
	skipped := "|79d 12:00 skipped=ending because=later|84d 18:00 0.997@20 17C"
	for _, c := range []struct {
		what, log, now, step string
		state                schedule.State
	}{
		{"a plan of one step, unread for a week", "0d 08:00 pitch|0d 20:00 started|3d 08:00 1.060", "8d 09:00", schedule.Reading, schedule.Due},
		{"the same in its third month", "0d 08:00 pitch|0d 20:00 started|3d 08:00 1.060|60d 08:00 1.020|75d 08:00 1.0185", "96d 09:00", schedule.Reading, schedule.Due},
		{"at rest, the question set aside", atRest + skipped, "120d 09:00", schedule.WhatNext, schedule.Waiting},
		{"and two months later", atRest + skipped, "141d 09:00", schedule.WhatNext, schedule.Due},
		{"and half a year later", atRest + skipped, "240d 09:00", schedule.WhatNext, schedule.Late},
	} {
		j := jug{plan: "small-jug", gravity: "1.084", log: c.log}
		p := j.protocol()
		p.Steps = p.Steps[:1]
		if c.step == schedule.WhatNext {
			p = j.protocol()
		}
		got, ok := task(schedule.Plan(p, j.course(c.now)), c.step)
		assert.True(t, ok, c.what)
		assert.Equal(t, c.state, got.State, "%s: %s", c.what, got.Reason)
	}
}

// A fermenting jug is read before 4 points may have fallen: at 8 points a day after one day, and not twice if the plan
// asks too.
func TestReadingByPace(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: "0d 08:00 pitch|0d 20:00 started|2d 08:00 1.068|3d 08:00 1.060"}
	p := j.protocol()
	p.Steps = p.Steps[:1]
	for now, want := range map[string]bool{"3d 20:00": false, "4d 09:00": true} {
		got, _ := task(schedule.Plan(p, j.course(now)), schedule.Reading)
		assert.Equal(t, want, got.State == schedule.Due && got.Open, "%s: %s", now, got.Reason)
	}
	asked := 0
	for _, got := range j.day("5d 09:00").Tasks {
		if got.Do == ferment.DoGravity && (got.State == schedule.Due || got.State == schedule.Late) {
			asked++
		}
	}
	assert.LessOrEqual(t, asked, 1)
}

// TestNoFermentIsLeftWithoutTasks: over random histories and plans, built-in and with steps left out, an open ferment
// always has a next task.
func TestNoFermentIsLeftWithoutTasks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		p := j.protocol()
		p.Steps = p.Steps[:rapid.IntRange(0, len(p.Steps)).Draw(t, "steps")]
		c := j.courseAt(now)
		d := schedule.Plan(p, c)
		if c.Over() || c.Stage == course.Bottled || !c.Pitch.Known && len(d.Tasks) == 0 {
			return
		}
		if d.Quiet != nil && d.Quiet.To.After(now) {
			return
		}
		for _, task := range d.Tasks {
			switch task.State {
			case schedule.Due, schedule.Late, schedule.Held:
				return
			case schedule.Waiting:
				if task.Due.After(now) || task.Opens.After(now) {
					return
				}
			}
		}
		t.Fatalf("forgotten on %s: %s\n%s", now.Format(time.DateTime), j.log, plain(d))
	})
}
