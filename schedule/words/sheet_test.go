package words_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// said writes a line in one row.
func said(l words.Line) string {
	parts := []string{l.Tag, l.Word.String(), l.Act, l.Amount.String(), l.Of, l.First, l.Until, l.Reason, l.Short, l.Instead}
	return strings.Join(strings.Fields(strings.Join(parts, " | ")), " ")
}

func lines(s words.Sheet) []string {
	var out []string
	for _, l := range s.Tasks {
		out = append(out, fmt.Sprintf("%s %s %s %s", l.Tag, l.Word, l.Act, l.Until))
	}
	return out
}

func TestOrderOfTheMorning(t *testing.T) {
	assert.Equal(t, []string{
		"LIME-A ▲ late nutrient 2 by tonight",
		"LIME-B ◆ held nutrient 2 ",
		"HEATH ● today degas by 16:20",
		"HEATH ○ option nutrient above 1.0511",
		"BRAM ● today bottle by 1 Jan",
		"HEATH ○ later gravity 19:00",
		"LIME-A ○ coming gravity Thu 11:00",
		"IVY ○ coming look at the airlock Sat 10 Oct",
		"HEATH × missed nutrient 4 ",
	}, lines(words.Of(morning())))
}

func TestTitleAndBottomLineOfTheMorning(t *testing.T) {
	s := words.Of(morning())
	assert.Equal(t, "Wednesday 7 October, 07:04", s.Title())
	assert.Equal(t, []words.Count{{Word: words.Late, N: 1}, {Word: words.Held, N: 1}, {Word: words.Due, N: 2}}, s.Counts)
	require.Len(t, s.Broken, 1)
	assert.Equal(t, `sloe.yaml, line 31: gravity "1,0555" is not a density (write 1.055)`, s.Broken[0].Where+": "+s.Broken[0].What)
	assert.Equal(t, "sloe is left out", s.Broken[0].LeftOut)
	assert.Equal(t, "gravity of LIME-A, Thu 11:00", words.Of(without(morning(), "heath")).Next)
	assert.False(t, s.Calm())
}

func without(s app.Snapshot, id string) app.Snapshot {
	var vs []app.Vessel
	for _, v := range s.Vessels {
		if v.ID() != id {
			vs = append(vs, v)
		}
	}
	s.Vessels = vs
	return s
}

func TestTodayLeavesOutLaterTasks(t *testing.T) {
	for days, want := range map[int]int{0: 7, 1: 8, 2: 8, 3: 9} {
		assert.Len(t, words.Ahead(morning(), days).Tasks, want, "%d days", days)
	}
}

// A sheet for several days shows every occurrence, the board only the next.
func TestAheadShowsEveryOccurrence(t *testing.T) {
	again := readTomorrow
	again.Occurrence, again.Opens, again.Due, again.Closes = 4, at(10, 9, 0), at(10, 11, 0), at(11, 11, 0)
	s := app.Snapshot{At: now, Vessels: []app.Vessel{vessel("HEATH", "heath", course.Working, at(2, 19, 0), 1.06, at(6, 19, 0), readTomorrow, again)}}
	assert.Len(t, words.Of(s).Tasks, 1)
	for days, want := range map[int]int{0: 0, 1: 1, 2: 1, 3: 2, 366: 2} {
		assert.Len(t, words.Ahead(s, days).Tasks, want, "%d days", days)
	}
}

func TestRowsOfTheMorning(t *testing.T) {
	s := words.Of(morning())
	var got []string
	for _, r := range s.Vessels {
		got = append(got, strings.TrimSpace(fmt.Sprintf("%s%s %s %s %s %s %s %s", r.Trial, r.Tag, r.Stage, r.Day, r.Gravity, r.Ago, r.Pace, r.Alcohol)))
	}
	assert.Equal(t, []string{
		"╭LIME-A working 3 1.057 12 h 8.7 2.6",
		"╰LIME-B working 3 1.066 41 h 8.7 2.6",
		"HEATH working 4 1.061 11 h 8.7 2.6",
		"BRAM steady 123 0.997 4 d 0.0 2.6",
		"IVY quiet 21 0.998 9 d 8.7 2.6",
	}, got)
	assert.True(t, s.Vessels[1].Stale, "something is held until it is read")
	assert.False(t, s.Vessels[0].Stale)
	assert.Equal(t, "gravity now", s.Vessels[1].Next)
	assert.Equal(t, "gravity 19:00", s.Vessels[2].Next)
	assert.Equal(t, "bottle by 1 Jan", s.Vessels[3].Next)
	assert.Equal(t, "until Wed 4 Nov; next look at the airlock Sat 10 Oct", s.Vessels[4].Sentence)
	assert.Equal(t, "airlock Sat 10 Oct", s.Vessels[4].Next)
	assert.True(t, s.Vessels[3].Steady)
}

func TestLines(t *testing.T) {
	stop := schedule.Task{
		Step: "bottle", Do: "bottle", State: schedule.Held, Danger: true, Due: at(7, 9, 0), Opens: at(1, 0, 0), Closes: at(20, 0, 0),
		Amount: &schedule.Amount{Words: "9 × 330 mL", Of: "still"},
		Reason: "it ferments again; closed bottles of it may burst", Instead: "fit the airlock, leave it, read gravity again",
	}
	done := lateDose
	done.State, done.Settled, done.Reason = schedule.Done, at(7, 7, 4), "done 7 Oct 07:04"
	asks := schedule.Task{Step: "pitch", Do: "pitch", State: schedule.Late, Asks: true, Reason: "the time for it is over: was it done"}
	unknown := lateDose
	unknown.Amount = &schedule.Amount{Of: "ammonium phosphate", Unknown: "the volume is unknown"}
	reminder := schedule.Task{Step: schedule.Reminder, Do: schedule.Reminder, State: schedule.Due, Open: true, Say: "wash the bung", Reason: "wash the bung",
		Opens: at(7, 0, 0), Closes: at(8, 0, 0)}
	expected := look
	expected.Opens, expected.Due, expected.Expected = time.Time{}, time.Time{}, &course.Expected{At: at(26, 4, 0), Within: 5 * 24 * time.Hour}
	notRead := expected
	notRead.Expected = &course.Expected{At: at(7, 4, 0), Within: 5 * time.Hour}
	passed := lateDose
	passed.Until = &schedule.Limit{Gravity: lateDose.Until.Gravity, Expected: &course.Expected{At: at(7, 4, 0), Within: 5 * time.Hour}}
	inDays := schedule.Task{Step: "gravity", Do: "gravity", State: schedule.Due, Open: true, Opens: at(6, 8, 0), Closes: at(9, 8, 0)}
	inHours := schedule.Task{Step: "gravity", Do: "gravity", State: schedule.Due, Open: true, Opens: at(7, 1, 0), Closes: at(9, 1, 0)}
	for _, c := range []struct {
		task schedule.Task
		want string
	}{
		{inDays, "HEATH | ○ any day | gravity | | | | by Fri 9 Oct | | |"},
		{inHours, "HEATH | ○ any day | gravity | | | | by Fri 01:00 | | |"},
		{expected, "HEATH | ○ coming | look at the airlock | | ±5 d: take a reading | | ≈ Mon 26 Oct | | |"},
		{notRead, "HEATH | ○ coming | look at the airlock | | ±5 h: take a reading | | ≈ now | | |"},
		{passed, "HEATH | ▲ late | nutrient 2 | 1.0 g | ammonium phosphate | degas first | above 1.0445 | 8 h late: give it before gravity reaches 1.044 | 8 h late: give it above 1.044 |"},
		{reminder, "HEATH | ● today | reminder | | wash the bung | | by Thu 00:00 | | |"},
		{lateDose, "HEATH | ▲ late | nutrient 2 | 1.0 g | ammonium phosphate | degas first | by tonight | 8 h late: give it before gravity reaches 1.044 | 8 h late: give it above 1.044 |"},
		{heldDose, "HEATH | ◆ held | nutrient 2 | 1.0 g | ammonium phosphate | | | The reading is 41 h old, the limit is 36 h. Read gravity. | read gravity first |"},
		{stop, "HEATH | ◆ stop | bottle | not now | | | was due today | it ferments again; closed bottles of it may burst | | fit the airlock, leave it, read gravity again"},
		{lapsedDose, "HEATH | × missed | nutrient 4 | | | | | too late: 1.0612 is more than 0.005 past the ⅓ break | too late: a third of the sugar is gone |"},
		{offered, "HEATH | ○ option | nutrient | 3.8 g | yeast-derived | | above 1.0511 | | |"},
		{bottle, "HEATH | ● today | bottle | 9 × 330 mL | still | | by 1 Jan | steady 28 d, clear, racked; 3.05 L in the vessel | |"},
		{readTonight, "HEATH | ○ later | gravity | | | | 19:00 | | |"},
		{look, "HEATH | ○ coming | look at the airlock | | | | Sat 10 Oct | | |"},
		{done, "HEATH | ✓ done | nutrient 2 | 1.0 g | ammonium phosphate | | 07:04 | | |"},
		{asks, "HEATH | ▲ late | pitch | | | | | The time for this is over and nothing is written down. Was it done? Mark it as done with its time, or skip it. | was it done? mark it, or skip it |"},
		{unknown, "HEATH | ▲ late | nutrient 2 | amount unknown | ammonium phosphate | degas first | by tonight | 8 h late: give it before gravity reaches 1.044 | 8 h late: give it above 1.044 |"},
	} {
		v := vessel("HEATH", "heath", course.Working, at(2, 19, 0), 1.0612, at(6, 19, 10))
		assert.Equal(t, c.want, said(words.LineOf(c.task, v, now)))
	}
}

func TestLinesInUSUnits(t *testing.T) {
	v := vessel("HEATH", "heath", course.Working, at(2, 19, 0), 1.0612, at(6, 19, 10))
	v.Course.Settings.Units = measure.US
	honey := schedule.Task{Step: "feed", Do: "honey", State: schedule.Due, Open: true, Amount: &schedule.Amount{Known: true, Number: 500, Unit: "g"}}
	l := words.LineOf(honey, v, now)
	assert.Equal(t, "17.64 oz", l.Amount.String(), "500 g by the avoirdupois ounce of 28.349523125 g, NIST SP 811")
}

// A degas that goes first is named with the dose, not separately; if the dose is held, it waits with it.
func TestFirstActIsListedOnce(t *testing.T) {
	for _, c := range []struct {
		name string
		with schedule.Task
		want int
	}{{"late", lateDose, 1}, {"held", heldDose, 1}, {"offered", offered, 2}, {"other", bottle, 2}} {
		s := app.Snapshot{At: now, Vessels: []app.Vessel{vessel("HEATH", "heath", course.Working, at(2, 19, 0), 1.06, at(6, 19, 0), degas, c.with)}}
		assert.Len(t, words.Of(s).Tasks, c.want, c.name)
	}
}

func TestTasksDoneTogetherShareALine(t *testing.T) {
	dose, first := lateDose, degas
	dose.State, dose.Settled = schedule.Done, at(7, 7, 4)
	first.State, first.Settled = schedule.Done, at(7, 7, 3)
	s := words.Of(app.Snapshot{At: at(7, 7, 5), Vessels: []app.Vessel{vessel("LIME-A", "lime-a", course.Working, at(3, 11, 0), 1.06, at(6, 19, 0), dose, first)}})
	require.Len(t, s.Tasks, 1)
	assert.Equal(t, "degassed first, 07:03", s.Tasks[0].Reason)
	assert.Empty(t, s.Counts, "what is done waits for nobody")
}

func TestTasksWithoutALine(t *testing.T) {
	older := lapsedDose
	older.Settled = at(5, 23, 59)
	replaced := degas
	replaced.State, replaced.Settled, replaced.Occurrence = schedule.Lapsed, at(6, 19, 0), 3
	doneBefore := degas
	doneBefore.State, doneBefore.Settled = schedule.Done, at(6, 23, 59)
	shut := offered
	shut.State = schedule.Held
	far := look
	far.Opens, far.Due = at(7, 0, 0).AddDate(0, 0, 61), at(7, 0, 0).AddDate(0, 0, 61)
	for _, c := range []struct {
		name  string
		tasks []schedule.Task
		want  int
	}{
		{"lapsed yesterday", []schedule.Task{lapsedDose}, 1}, {"lapsed before", []schedule.Task{older}, 0},
		{"missed, and due again", []schedule.Task{replaced, degas}, 1}, {"done yesterday", []schedule.Task{doneBefore}, 0},
		{"offered, but shut", []schedule.Task{shut}, 0}, {"months ahead", []schedule.Task{far}, 0},
	} {
		s := app.Snapshot{At: now, Vessels: []app.Vessel{vessel("HEATH", "heath", course.Working, at(2, 19, 0), 1.06, at(6, 19, 0), c.tasks...)}}
		assert.Len(t, words.Of(s).Tasks, c.want, c.name)
	}
}

func TestQuietPeriodHidesRoutineLines(t *testing.T) {
	routine := readTomorrow
	routine.Routine = true
	v := vessel("IVY", "ivy", course.Clearing, at(1, 0, 0), 1, at(3, 0, 0), routine, look)
	v.Day.Quiet = &schedule.Quiet{From: at(1, 0, 0), To: at(9, 0, 0)}
	s := words.Of(app.Snapshot{At: now, Vessels: []app.Vessel{v}})
	require.Len(t, s.Tasks, 1)
	assert.Equal(t, "look at the airlock", s.Tasks[0].Act)
	assert.True(t, s.Calm())
}

func TestConditionReplacesTheStage(t *testing.T) {
	for _, c := range []struct {
		have []course.Condition
		word string
		mark words.Word
		next string
	}{
		{[]course.Condition{{Name: course.Stuck, Why: "0.001 in 80 h", Look: []string{"warm it", "stir the lees"}}}, "stuck", words.Late, "0.001 in 80 h: warm it, stir the lees"},
		{[]course.Condition{{Name: course.AtLimit, Why: "13.8 of 14 % vol"}}, "at limit", words.Warn, "13.8 of 14 % vol"},
		{[]course.Condition{{Name: course.DoubtfulLabel}, {Name: course.Mould, Look: []string{"all of it, away"}}}, "mould", words.Late, "all of it, away"},
		{[]course.Condition{{Name: course.SlowToStart}}, "slow start", words.Warn, ""},
		{[]course.Condition{{Name: course.OriginalUnknown}}, "original?", words.Warn, ""},
	} {
		v := vessel("ROWAN", "rowan", course.Working, at(1, 0, 0), 1.034, at(7, 1, 0))
		v.Course.Conditions = c.have
		r := words.Of(app.Snapshot{At: now, Vessels: []app.Vessel{v}}).Vessels[0]
		assert.Equal(t, c.word, r.Stage)
		assert.Equal(t, c.mark, r.Condition)
		assert.Equal(t, c.next, r.Next)
	}
}

// TestAdvice: everything to look at, the most severe condition first.
func TestAdvice(t *testing.T) {
	v := vessel("ROWAN", "rowan", course.Working, at(1, 0, 0), 1.034, at(7, 1, 0))
	v.Course.Conditions = []course.Condition{
		{Name: course.OriginalUnknown}, {Name: course.Sluggish, Why: "1.5 a day", Look: []string{"warm it", "read the pH"}}, {Name: course.Film, Look: []string{"smell it"}},
	}
	assert.Equal(t, []words.Advice{
		{Mark: words.Late, Says: "film", Look: []string{"smell it"}},
		{Mark: words.Warn, Says: "sluggish: 1.5 a day", Look: []string{"warm it", "read the pH"}},
		{Mark: words.Warn, Says: "original unknown"},
	}, words.AdviceOf(v))
}

func TestUnknownValueIsADot(t *testing.T) {
	v := app.Vessel{Ferment: ferment.Ferment{ID: "oak"}, Course: &course.Course{
		Settings: ferment.DefaultSettings(time.UTC),
		Gravity:  course.Unknown[course.Reading]("never read"),
		Pace:     course.Unknown[float64]("two readings are needed"),
		Alcohol:  course.Unknown[measure.Strength]("the original gravity is unknown"),
	}}
	r := words.Of(app.Snapshot{At: now, Vessels: []app.Vessel{v}}).Vessels[0]
	for _, got := range []string{r.Stage, r.Day, r.Gravity, r.Ago, r.Pace, r.Alcohol} {
		assert.Equal(t, "·", got)
	}
	assert.Equal(t, "oak", r.Tag)
	assert.Empty(t, r.Curve)
}

func TestReadingInDoubtIsShownAndMarked(t *testing.T) {
	v := vessel("MINT", "mint", course.Working, at(3, 0, 0), 1.063, at(6, 6, 0))
	v.Course.Readings = append(v.Course.Readings, course.Reading{At: at(7, 6, 0), Gravity: 1.071, Doubt: "rose by 0.008"})
	r := words.Of(app.Snapshot{At: now, Vessels: []app.Vessel{v}}).Vessels[0]
	assert.Equal(t, "1.071", r.Gravity)
	assert.True(t, r.Doubtful)
	assert.InDelta(t, 1.063, r.Curve[len(r.Curve)-1], 1e-9, "it is not on the curve")
}

func TestCurveIsEqualSteps(t *testing.T) {
	v := vessel("LIME", "lime", course.Working, at(1, 0, 0), 1.050, at(7, 0, 0))
	v.Course.Readings = []course.Reading{{At: at(1, 0, 0), Gravity: 1.080}, {At: at(3, 0, 0), Gravity: 1.070}, {At: at(7, 0, 0), Gravity: 1.050}}
	curve := words.Of(app.Snapshot{At: now, Vessels: []app.Vessel{v}}).Vessels[0].Curve
	require.Len(t, curve, 24)
	for i, g := range curve { // the readings are on one line, 0.005 a day
		assert.InDelta(t, 1.080-0.030*float64(i)/23, g, 1e-6, i)
	}
}

// A break at which nutrient ends comes before a reading that is due later.
func TestNextIsTheBreakOrTheTask(t *testing.T) {
	reading := func(day, hour int, g measure.Gravity) ferment.Entry {
		return ferment.Entry{At: ferment.At(at(day, hour, 0)), Gravity: measure.Give(g, g.String())}
	}
	f := ferment.Ferment{ID: "lime-a", Tag: "LIME-A", Log: []ferment.Entry{
		{At: ferment.At(at(3, 11, 0)), Did: ferment.Pitch, Step: "pitch"}, reading(5, 6, 1.075), reading(6, 6, 1.066), reading(7, 6, 1.057),
	}}
	f.Must.Gravity = measure.Give[measure.Gravity](1.080, "1.080")
	c := course.Of(f, ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), now)
	for _, s := range []struct {
		tasks []schedule.Task
		want  string
	}{
		{[]schedule.Task{lateDose, readTomorrow}, `^⅓ break ≈ \d\d:\d\d$`},
		{[]schedule.Task{lateDose, {Step: "ph", Do: "ph", State: schedule.Due, Due: at(7, 8, 0), Opens: at(7, 8, 0)}}, "^pH 08:00$"},
		{[]schedule.Task{readTomorrow}, "^gravity Thu 11:00$"},
	} {
		v := app.Vessel{Ferment: f, Course: c, Day: schedule.Day{Tasks: s.tasks}}
		assert.Regexp(t, s.want, words.Of(app.Snapshot{At: now, Vessels: []app.Vessel{v}}).Vessels[0].Next)
	}
}

// The stem goes from the original to the finish, by the course's figures.
func TestStemOfACard(t *testing.T) {
	f := ferment.Ferment{ID: "lime-a", Log: []ferment.Entry{
		{At: ferment.At(at(3, 11, 0)), Did: ferment.Pitch, Step: "pitch"},
		{At: ferment.At(at(7, 6, 0)), Gravity: measure.Give[measure.Gravity](1.057, "1.057")},
	}}
	f.Must.Gravity = measure.Give[measure.Gravity](1.080, "1.080")
	c := course.Of(f, ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), now)
	dose := lateDose
	dose.Until = &schedule.Limit{Gravity: c.Break(1.0/3).Value - 0.005}
	card := words.Of(app.Snapshot{At: now, Vessels: []app.Vessel{{Ferment: f, Course: c, Day: schedule.Day{Tasks: []schedule.Task{dose}}}}}).Vessels[0].Card
	var got []string
	for i, n := range card.Stem {
		got = append(got, n.Break+n.Says)
		assert.True(t, i == 0 || n.Gravity <= card.Stem[i-1].Gravity, "it goes down")
		assert.Equal(t, measure.Gravity(n.Gravity).Places(4), n.Number)
	}
	require.Len(t, got, 8, "%q", got)
	assert.Equal(t, "pitched Sat 3 Oct, 11:00", got[0])
	assert.Equal(t, "06:00, 64 min ago", got[1])
	assert.Equal(t, "nutrient 2 ends", got[3])
	assert.Equal(t, "near finish", got[6])
	assert.Contains(t, got[7], "expected finish, ")
	assert.Equal(t, []words.Logged{{When: "06:00", What: "1.057"}, {When: "Sat 11:00", What: "pitch"}}, card.Log)
}

func TestHoneyAndYeast(t *testing.T) {
	lots := []ferment.Lot{{ID: "lime-26", Name: "lime"}}
	for _, c := range []struct {
		f     ferment.Ferment
		want  string
		about []string
	}{
		{ferment.Ferment{}, "", nil},
		{ferment.Ferment{Name: "Lime, lane trees", Must: ferment.Must{Honey: []ferment.HoneyPart{{Lot: "lime-26"}}}, Yeast: ferment.Yeast{Name: "white-wine yeast"},
			Trial: ferment.Trial{Name: "lime", Differs: "yeast"}}, "lime, white-wine", []string{"Lime, lane trees", "white-wine yeast; differs in yeast"}},
		{ferment.Ferment{Name: "Heather, sheltered hives", Yeast: ferment.Yeast{Culture: "hawthorn-3"}}, "Heather, hawthorn 3", []string{"Heather, sheltered hives", "hawthorn 3"}},
		{ferment.Ferment{Must: ferment.Must{Honey: []ferment.HoneyPart{{Lot: "ivy-set"}}}}, "ivy set", nil},
	} {
		s := app.Snapshot{At: now, Cellar: ferment.Cellar{Lots: lots}, Vessels: []app.Vessel{app.Unplanned(c.f)}}
		r := words.Of(s).Vessels[0]
		assert.Equal(t, c.want, r.HoneyAndYeast)
		assert.ElementsMatch(t, c.about, r.Card.About)
	}
}

func TestDayInOneLine(t *testing.T) {
	s := words.Of(morning())
	assert.Equal(t, "1 late: LIME-A nutrient 2, 1.0 g; 2 today; 1 held", s.OneLine())
	danger, late := s.Urgent()
	assert.False(t, danger)
	assert.True(t, late)
	assert.Equal(t, "nothing to do today", words.Sheet{}.OneLine())
	hard := words.Line{Tag: "GORSE", Act: "chill the whole crate", Word: words.Held, Danger: true}
	s = words.Sheet{Tasks: append([]words.Line{hard}, s.Tasks...)}
	assert.Equal(t, "danger: GORSE chill the whole crate; 1 late; 2 today; 1 held", s.OneLine())
	danger, _ = s.Urgent()
	assert.True(t, danger)
}
