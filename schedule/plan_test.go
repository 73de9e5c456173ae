package schedule_test

import (
	"github.com/stretchr/testify/assert"

	"fmt"
	"strconv"
	"strings"
	"testing"

	"time"

	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/protocols"
)

// jug is a ferment of 3.6 L of must in the tests. Its log is one entry a line, each with its day and hour and an entry
// line: "2d 07:00 1.066@22 ph3.4".
type jug struct {
	plan     string // names of a protocol and of endings
	gravity  string // of the must
	log      string // entries separated by "|"
	settings func(*ferment.Settings)
	ferment  func(*ferment.Ferment)
}

// dublin changes its clocks on 25 October 2026 and 28 March 2027.
var dublin = func() *time.Location {
	zone, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		panic(err)
	}
	return zone
}()

const clockLayout = "15:04:05"

// at parses a time in a test: "2d 07:00", counted from 12 September 2026.
func at(text string) time.Time {
	day, clock, ok := strings.Cut(strings.TrimSpace(text), " ")
	n, err := strconv.Atoi(strings.TrimSuffix(day, "d"))
	hour, err2 := time.Parse(clockLayout[:len(clock)], clock)
	if !ok || err != nil || err2 != nil {
		panic("not a time of a story: " + text)
	}
	return time.Date(2026, 9, 12+n, hour.Hour(), hour.Minute(), hour.Second(), 0, dublin)
}

func entry(said string) ferment.Entry {
	words := strings.SplitN(strings.TrimSpace(said), " ", 3)
	when := at(words[0] + " " + words[1])
	l, err := line.Parse(words[2], line.Context{Now: when, Zone: dublin})
	if err != nil {
		panic(fmt.Sprintf("%s: %v", said, err))
	}
	e := l.Entry
	e.At = ferment.At(when)
	return e
}

func (j jug) course(now string) *course.Course { return j.courseAt(at(now)) }

func (j jug) courseAt(now time.Time) *course.Course {
	f := ferment.Ferment{ID: "heath", Tag: "HEATH",
		Must:  ferment.Must{Volume: measure.Give(measure.Volume(3.6), "3.6 L")},
		Yeast: ferment.Yeast{Name: "white-wine yeast", Tolerance: measure.Give(measure.Strength(14), "14 %")}}
	if j.gravity != "" {
		g, err := measure.ParseGravity(j.gravity)
		if err != nil {
			panic(err)
		}
		f.Must.Gravity = g
	}
	for _, line := range strings.Split(j.log, "|") {
		if strings.TrimSpace(line) != "" {
			e := entry(line)
			e.Order = len(f.Log)
			f.Log = append(f.Log, e)
		}
	}
	for _, name := range strings.Fields(j.plan)[1:] {
		f.Endings = append(f.Endings, ferment.Ending(name))
	}
	if j.ferment != nil {
		j.ferment(&f)
	}
	s := ferment.DefaultSettings(dublin)
	if j.settings != nil {
		j.settings(&s)
	}
	limits := s.Limits
	if p := j.protocol(); p.Limits != nil {
		limits = p.Limits(limits)
	}
	return course.Of(f, s, limits, now)
}

func (j jug) protocol() ferment.Protocol {
	names := strings.Fields(j.plan)
	plan := builtIn(names[0])
	var endings []ferment.Protocol
	for _, name := range names[1:] {
		endings = append(endings, builtIn(name))
	}
	return schedule.Merge(plan, endings...)
}

func (j jug) day(now string) schedule.Day { return schedule.Plan(j.protocol(), j.course(now)) }

var readPlans = map[string]ferment.Protocol{}

func builtIn(name string) ferment.Protocol {
	if p, ok := readPlans[name]; ok {
		return p
	}
	p, problems := journal.ReadProtocol("protocols/"+name+".yaml", protocols.Files()[name])
	if len(problems) > 0 {
		panic(fmt.Sprint(problems))
	}
	p = schedule.InUnits(p, measure.Metric)
	readPlans[name] = p
	return p
}

// task returns the task of a step: an open one, else the last settled, else the next.
func task(d schedule.Day, step string) (schedule.Task, bool) {
	for _, state := range []schedule.State{schedule.Late, schedule.Held, schedule.Due, schedule.Skipped, schedule.Done, schedule.Lapsed, schedule.Waiting} {
		for _, t := range d.Tasks {
			if t.Step == step && t.State == state {
				return t, true
			}
		}
	}
	return schedule.Task{}, false
}

// states writes the states of a step's tasks in one line, by occurrence.
func states(d schedule.Day, step string) string {
	var words []string
	for n := 1; n < 100; n++ {
		for _, t := range d.Tasks {
			if t.Step == step && t.Occurrence == n {
				words = append(words, string(t.State))
			}
		}
	}
	return strings.Join(words, " ")
}

func TestBuiltInPlansAreRead(t *testing.T) {
	names := []string{"small-jug", "by-thirds", "light-sparkling", "fruit", "wild-culture", "still", "bottle-conditioned", "sweetened"}
	for _, name := range names {
		p, problems := journal.ReadProtocol("protocols/"+name+".yaml", protocols.Files()[name])
		require.Empty(t, problems, name)
		require.Equal(t, name, p.Name)
		require.NotEmpty(t, p.Steps)
	}
	require.Len(t, protocols.Files(), len(names))
}

// TestFruitInASecondary: the cap is punched down daily and the fruit taken out after one or two weeks (common practice,
// no source); a jug without fruit is not asked.
func TestFruitInASecondary(t *testing.T) {
	const dry = "0d 18:30 pitch|1d 18:30 started|30d 18:30 0.998@20|31d 10:00 rack 3.2L"
	for _, c := range []struct{ log, now, step, want string }{
		{dry, "40d 11:00", "punch", "waiting"},
		{dry, "40d 11:00", "fruit-out", "waiting"},
		{dry + "|35d 10:00 fruit-in 500g of=bramble", "36d 11:00", "punch", "due waiting"},
		{dry + "|35d 10:00 fruit-in 500g of=bramble", "45d 11:00", "fruit-out", "due"},
		{dry + "|35d 10:00 fruit-in 500g of=bramble", "52d 11:00", "fruit-out", "late"},
		{dry + "|35d 10:00 fruit-in 500g of=bramble|44d 10:00 fruit-out lost=0.2L", "45d 11:00", "fruit-out", "done"},
	} {
		d := jug{plan: "small-jug", gravity: "1.084", log: c.log}.day(c.now)
		assert.Equal(t, c.want, strings.ReplaceAll(states(d, c.step), "waiting ", ""), "%s %s", c.now, c.step)
	}
}
