package tui

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/intent"
)

// on moves down the list until a vessel is selected.
func on(d *driver, id string) *driver {
	d.t.Helper()
	d.keys("home")
	for range 20 {
		if d.is().board().Subject() == id {
			return d
		}
		d.keys("j")
	}
	require.Failf(d.t, "not on the board", "%s in\n%s", id, d.screen())
	return d
}

func TestReadingTakesNineKeys(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	subject := d.is().board().Subject()
	keys := strings.Split("g 1 0 5 5 @ 2 3 enter", " ")
	require.LessOrEqual(t, len(keys), 9, "keys for a reading of the vessel under the cursor")
	d.keys(keys...)
	log := d.log(subject)
	require.Len(t, log, 1)
	assert.Equal(t, "1055", strings.ReplaceAll(log[0].Gravity.Value.Places(3), ".", ""))
	assert.Equal(t, measure.Temperature(23), log[0].Sample.Value)
	d.shows("✓ kept: LIME-B 1.055 at 23 °C, 07:04", "u takes it back")
}

func TestNutrientTakesTwoKeys(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("space", "enter")
	log := d.log("heath")
	require.Len(t, log, 2)
	assert.Equal(t, []ferment.Act{ferment.Degas, ferment.Nutrient}, []ferment.Act{log[0].Did, log[1].Did})
	assert.Equal(t, time.Minute, log[1].At.Time.Sub(log[0].At.Time), "what goes first is written a minute earlier")
	assert.True(t, log[1].Amount.Known(), "the planned amount was filled in")
	d.shows("✓ kept: HEATH degas and nutrient")
}

func TestTypingReplacesThePlannedAmount(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("space")
	d.shows("given: 2.9 g", "planned   2.9 g ammonium phosphate", "△ warn")
	d.keys("1", ".", "4", "g").shows("given: 1.4g", "writes    degas, 07:03, then nutrient, 1.4 g")
	d.keys("enter")
	assert.Equal(t, measure.Mass(0.0014), must(d.log("heath")[1].Mass()))
}

func must[T any](v T, ok bool) T {
	if !ok {
		panic("no value")
	}
	return v
}

func TestSeveralKeysInOneMessage(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("text:jj")
	after := d.is().board().Subject()
	one := drive(t, newShelf(), 80, 24).keys("j", "j")
	assert.Equal(t, one.is().board().Subject(), after)
	one.keys("k", "k", "j", "j")
	d.keys("text:kkjj")
	assert.Equal(t, one.screen(), d.screen())

	d.keys("esc", "text:g1055@23")
	d.shows("1.0558  corrected, from 1.055 at 23 °C")
}

// Text longer than any line is refused, with a message.
func TestTooMuchPastedIsRefused(t *testing.T) {
	d := drive(t, newShelf(), 80, 24).keys("g", "text:1.0")
	d.keys("paste:"+strings.Repeat("must ", 1000)).shows("too much was pasted", "entry: 1.0 ")
	d.keys("paste:\x1a").shows("too much was pasted", "entry: 1.0 ")
	d.keys("text:6").shows("entry: 1.06 ")
}

func TestPaste(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	before := d.screen()
	d.keys("paste:q", "paste:u1j")
	assert.Equal(t, before, d.screen(), "a paste is no key")
	assert.False(t, d.quit)
	d.keys("g", "paste:1055@23\nq").shows("1055@23 q")
	assert.False(t, d.quit)
}

func TestUnclearLineIsNotKept(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("g", "text:12@23", "enter").shows("? unclear", "12bx")
	assert.Empty(t, d.log("lime-b"))
	d.shows("12@23")
}

func TestUnlikelyIsAskedOnce(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("g", "text:1074@23").shows("gravity does not rise by itself")
	d.lacks("△ ask")
	d.keys("enter").shows("△ ask", "Enter again keeps 1074@23")
	assert.Empty(t, d.log("lime-b"))
	d.keys("backspace", "4", "enter").shows("△ ask")
	d.keys("enter")
	assert.Len(t, d.log("lime-b"), 1)
}

func TestKeptIsSaidOnlyAfterTheWrite(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.shelf.saveErr = errDisk
	d.keys("g", "text:1055@23", "enter").shows("1055@23", "the disk is full")
	d.lacks("kept:")
	d.shelf.saveErr = nil
	d.keys("enter").shows("✓ kept: LIME-B 1.055 at 23 °C")
}

// A refused entry that has become unlikely since is asked about, instead of showing the old refusal.
func TestQuestionAfterARefusalIsSeen(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.shelf.saveErr = errDisk
	d.keys("g", "text:1080", "enter").shows("the disk is full")
	d.shelf.saveErr = nil
	_, err := d.shelf.Append("heath", []ferment.Entry{{At: ago(hours(1)), Gravity: gravity("1.060")}})
	require.NoError(t, err)
	d.send(ticked{now: morning, changed: true})
	d.keys("enter").lacks("the disk is full")
	d.shows("Enter again keeps 1080")
	d.keys("enter").shows("✓ kept: HEATH 1.080")
}

func TestUndoGoesBackStepByStep(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("space", "enter")
	on(d, "heath").keys("g", "text:1080", "enter", "u")
	d.shows("taken back: HEATH 1.080", "u one more")
	d.keys("u").shows("taken back: HEATH degas and nutrient", "it is due again")
	d.lacks("one more")
	d.keys("u").shows("there is nothing to take back")
	assert.Empty(t, d.log("heath"))
}

func TestSkipNeedsAReason(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("s", "enter").shows("needs a reason")
	d.keys("text:away", "enter").shows("✓ kept: HEATH skipped: nutrient 2")
	assert.Equal(t, "nutrient-2", d.log("heath")[0].Skipped)
	assert.Equal(t, "away", d.log("heath")[0].Because)
}

func TestNote(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("n", "text:bready; a little", "enter")
	assert.Equal(t, "bready; a little", d.log("lime-b")[0].Note)
}

func TestRefusalNeedsATypedReason(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("space").shows("◆ no", "nutrient 2, 1.9 g ammonium phosphate: held", "why", "do it anyway, because")
	d.keys("enter").shows("only with a reason")
	assert.Empty(t, d.log("lime-b"))
	d.keys("text:read at noon", "enter").shows("given: 1.9 g", "because read at noon")
	d.keys("enter")
	log := d.log("lime-b")
	require.Len(t, log, 2)
	assert.Equal(t, "read at noon", log[1].Because)
	assert.NotEmpty(t, log[1].Overrode)
}

func TestRefusalOffersTheReadingThatFreesIt(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("space").shows("↓ read gravity")
	d.keys("down", "text:1055").shows("nutrient 2 may now be done")
}

func TestRefusalOffersTheOtherNutrient(t *testing.T) {
	s := newShelf()
	s.cellar.Settings.Nutrients = append(s.cellar.Settings.Nutrients,
		ferment.NutrientKind{Name: "yeast-derived nutrient", Kind: "organic", Nitrogen: measure.Give(measure.Yield(40), "40 mg/g")})
	s.cellar.Ferments[0].Log[1].Gravity = gravity("1.0640")
	d := drive(t, s, 80, 24)
	v, ok := d.is().snapshot.Find("heath")
	require.True(t, ok)
	i := slices.IndexFunc(v.Day.Tasks, func(t schedule.Task) bool { return t.Step == "nutrient-2" })
	m, _ := d.is().settle(v, v.Day.Tasks[i])
	d.model = m
	d.shows("nutrient 2: closed", "why", "instead", "↓ the other one instead")
	d.keys("down").shows("yeast-derived nutrient", "given:")
	d.keys("enter")
	assert.Equal(t, "yeast-derived nutrient", d.log("heath")[1].Of)
}

// planned returns a cellar whose plan is one act, due now.
func planned(act ferment.Act) *shelf {
	s := newShelf()
	plan := s.cellar.Protocols["short"]()
	plan.Steps = []ferment.Step{{Name: string(act), Do: string(act), Due: ferment.When{Point: ferment.Point{Anchor: "pitch"}},
		Window: ferment.Window{Closes: ferment.Offset{Number: 9, Unit: ferment.Day}}, Missed: ferment.Late}}
	s.cellar.Protocols = plansOf(plan)
	return s
}

// Text typed after an act is kept completely, not only its amount.
func TestTextTypedWithADoneTaskIsKept(t *testing.T) {
	d := on(drive(t, planned(ferment.Water), 80, 24), "heath")
	d.keys("space").shows("water, given:")
	d.keys("text:0.1L vol3.1L lost=0.2L -30min ; cloudy").shows("06:34", "0.20 L lost; cloudy")
	d.keys("enter")
	e := d.log("heath")[0]
	assert.Equal(t, ferment.Water, e.Did)
	assert.Equal(t, measure.Volume(3.1), e.Volume.Value)
	assert.Equal(t, measure.Volume(0.2), e.Lost.Value)
	assert.Equal(t, "cloudy", e.Note)
	assert.Equal(t, 30*time.Minute, morning.Sub(e.At.Time))
}

// Unlikely values are asked about once, and keys that an act cannot have are refused, as on the entry line and by the
// command.
func TestTextTypedWithADoneTaskIsChecked(t *testing.T) {
	d := on(drive(t, planned(ferment.Water), 80, 24), "heath")
	d.keys("space", "text:0.1L 23:30").shows("23:30 is later than now: yesterday").keys("esc")
	d.keys("space", "text: step=degas", "enter").shows("? unclear", "leave step=degas out").keys("esc")
	assert.Empty(t, d.log("heath"))
	d = on(drive(t, planned(ferment.Water), 80, 24), "heath")
	d.keys("space", "text:0.1L 2026-09-20 08:00").lacks("△ ask")
	d.keys("enter").shows("△ ask", "it is before the pitch", "Enter again keeps it")
	assert.Empty(t, d.log("heath"))
	d.keys("enter")
	assert.Len(t, d.log("heath"), 1)
}

// An act that needs more than a line is done by a form, and settles its task.
func TestSpaceOpensTheFormOfARacking(t *testing.T) {
	d := on(drive(t, planned(ferment.Rack), 80, 24), "heath")
	d.keys("space").shows("rack     HEATH", "came over")
	d.keys("down", "text:3.1 L", "down", "text:0.2 L", "enter").shows("✓ kept: HEATH rack")
	e := d.log("heath")[0]
	assert.Equal(t, ferment.Rack, e.Did)
	assert.Equal(t, measure.Volume(3.1), e.Volume.Value)
	d.keys("r", "text:x", "esc").shows("vessel   stage")
}

// A form that was left opens with its values again, and is asked about on leaving.
func TestClosedFormIsOfferedAgain(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath").keys("r", "down", "text:3.1 L", "esc", "q").shows("the form rack HEATH is filled in and not kept")
	assert.False(t, d.quit)
	d.keys("r").shows("3.1 L").keys("esc", "q", "q")
	assert.True(t, d.quit)
}

func TestSecondDoseTooSoonIsRefused(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("space", "enter")
	d.now = morning.Add(3 * time.Hour)
	d.send(ticked{now: d.now})
	on(d, "heath").keys("g", "text:nutrient 1g").shows("· note")
}

func TestMeasurementAsksForItsValue(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	for range 10 {
		if line, ok := d.is().board().Task(d.is().frame()); ok && line.Task.Do == ferment.DoGravity {
			break
		}
		d.keys("j")
	}
	d.keys("space").shows("@23 sample °C")
}

func TestDoneForAll(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("a").shows("each", "HEATH 2.9 g, LIME-A 1.9 g")
	d.keys("enter")
	assert.Len(t, d.log("heath"), 2)
	assert.Len(t, d.log("lime-a"), 2)
	assert.Empty(t, d.log("lime-b"), "what is held elsewhere is left alone")
	assert.NotEqual(t, d.log("heath")[1].Amount, d.log("lime-a")[1].Amount, "each its own amount")
	d.keys("u")
	assert.Empty(t, d.log("heath"))
	assert.Empty(t, d.log("lime-a"))
}

func TestPutOffUntilTomorrowMorning(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.shows("HEATH    ● today   nutrient 2")
	d.keys("p").shows("put off until Thu 07:00: HEATH nutrient 2")
	d.lacks("HEATH    ● today   nutrient 2")
	d.now = time.Date(2026, time.October, 8, 7, 0, 0, 0, time.UTC)
	d.send(ticked{now: d.now})
	d.shows("HEATH    ▲ late    nutrient 2")
}

// Tab completes the last word of a line as far as possible, and shows the candidates.
func TestTabCompletesAWord(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath").keys("g", "text:1084@21 nut", "tab").shows("1084@21 nutrient ")
	d.keys("ctrl+u", "text:deg", "tab").shows("entry: degas", "degas  degassed=")
	d.keys("ctrl+u", "text:fruit-in of=bramb", "tab").shows("of=bramble", "of=bramble  of=brambles")
	d.keys("ctrl+u", "text:seen=fi", "tab").shows("seen=film ")
	d.keys("ctrl+u", "text:zz", "tab").shows("entry: zz").keys("ctrl+u", "text:; deg", "tab").shows("entry: ; deg ")
}

// A postponed task stays hidden until its morning in any run.
func TestPutOffLastsAcrossRuns(t *testing.T) {
	var kept []intent.Draft
	on(drive(t, newShelf(), 80, 24, withDrafts(&kept)), "heath").keys("p")
	require.Len(t, kept, 1, "at once, not only when the board is left")
	d := drive(t, newShelf(), 80, 24, withDrafts(&kept, kept...)).lacks("HEATH    ● today   nutrient 2")
	d.now = time.Date(2026, time.October, 8, 7, 0, 0, 0, time.UTC)
	d.send(ticked{now: d.now})
	d.shows("HEATH    ▲ late    nutrient 2").keys("q")
	assert.True(t, d.quit)
	assert.Empty(t, kept)
}

// Esc discards what was typed, unless the next key brings it back.
func TestEscDropsTheLineAndUBringsItBack(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("g", "text:1.007", "esc").shows("not kept: HEATH 1.007", "u brings it back")
	d.keys("g").lacks("1.007")
	d.keys("text:1084@21", "enter")
	assert.Len(t, d.log("heath"), 1)
	on(d, "heath").keys("g", "text:ph3.", "esc", "u", "text:4", "enter")
	require.Len(t, d.log("heath"), 2)
	assert.Equal(t, "3.4", d.log("heath")[1].PH.Text)
}

// After another key, the key that brings a line back is undo again.
func TestUndoAfterAnotherKey(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("g", "text:1069@21", "enter", "g", "text:108", "esc", "k", "j", "u")
	assert.Empty(t, d.log("heath"))
	assert.Nil(t, d.is().line)
}

// Closing an empty line has nothing to bring back.
func TestEscOnAnEmptyLineSaysNothing(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath").keys("g", "esc").lacks("not kept")
	d.keys("space", "esc").lacks("not kept")
}

func TestLeavingAsksOnlyWhenSomethingWouldBeLost(t *testing.T) {
	assert.True(t, drive(t, newShelf(), 80, 24).keys("q").quit)

	d := drive(t, newShelf(), 80, 24, func(o *Options) {
		o.Keep = func(drafts []intent.Draft) error { return nil }
	})
	assert.True(t, d.keys("g", "text:105", "esc", "q").quit, "what was given up is not asked about")
}

func TestAbortFromALine(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("g", "text:105", "ctrl+c")
	assert.False(t, d.quit)
	d.keys("5").shows("1055")
	d.keys("ctrl+c")
	assert.False(t, d.quit, "it asks again after more was typed")
	d.keys("ctrl+c")
	assert.True(t, d.quit)
}

func TestSignalKeepsWhatIsTyped(t *testing.T) {
	var kept []intent.Draft
	d := drive(t, newShelf(), 80, 24, func(o *Options) {
		o.Keep = func(drafts []intent.Draft) error { kept = drafts; return nil }
	})
	d.keys("g", "text:1055")
	d.send(told{})
	assert.True(t, d.quit)
	assert.Equal(t, []intent.Draft{{Kind: "reading", Subject: "lime-b", Text: "1055", Cellar: "/cellar", Typed: morning}}, kept)
}

func TestReloadDisturbsNothing(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("g", "text:1080@2")
	_, err := d.shelf.Append("lime-a", []ferment.Entry{{At: ferment.At(morning), Did: ferment.Degas}})
	require.NoError(t, err)
	d.now = morning.Add(time.Minute)
	d.send(ticked{now: d.now, changed: true})
	d.shows("07:05", "1080@2")
	assert.Equal(t, "heath", d.is().board().Subject())
	d.keys("3", "enter")
	assert.Len(t, d.log("heath"), 1)
}

func TestUnchangedFilesAreNotReadWithinTheMinute(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	loads := d.shelf.loads
	d.send(ticked{now: morning.Add(20 * time.Second)})
	assert.Equal(t, loads, d.shelf.loads)
	d.send(ticked{now: morning.Add(time.Minute)})
	assert.Equal(t, loads+1, d.shelf.loads)
	d.send(ticked{now: morning.Add(20 * time.Second), changed: true})
	assert.Equal(t, loads+3, d.shelf.loads, "once for the board, once for what an edit has lost")
}

func TestFailedReloadKeepsTheLastGoodState(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.shelf.loadErr = errDisk
	d.keys(".").shows("the disk is full", "what you see is from 07:04", "LIME-A")
	d.shelf.loadErr = nil
	d.keys(".").shows("read again, 07:04:00")
}

func TestBoardWithUnreadableCellarCanBeLeft(t *testing.T) {
	s := newShelf()
	s.loadErr = errDisk
	d := drive(t, s, 80, 24)
	d.shows("the disk is full")
	assert.True(t, d.keys("q").quit)
}

func TestTwoBoardsOnOneCellar(t *testing.T) {
	s := newShelf()
	one, two := on(drive(t, s, 80, 24), "heath"), on(drive(t, s, 80, 24), "heath")
	one.keys("g", "text:1080", "enter")
	two.keys("space", "enter")
	assert.Len(t, s.log("heath").Log[2:], 3)
	one.send(ticked{now: morning, changed: true})
	assert.Equal(t, one.is().words.Tasks, two.is().words.Tasks)
}

// A dose given on the other board meanwhile is known when writing.
func TestDoseGivenMeanwhileIsRefused(t *testing.T) {
	s := newShelf()
	one, two := on(drive(t, s, 80, 24), "heath"), on(drive(t, s, 80, 24), "heath")
	one.keys("space")
	two.keys("space", "enter")
	one.keys("enter").shows("◆ no", "why", "do it anyway, because")
	assert.Len(t, s.log("heath").Log[2:], 2)
	one.keys("text:half of it was spilled", "enter")
	log := one.log("heath")
	last := log[len(log)-1]
	assert.Equal(t, "half of it was spilled", last.Because)
	assert.Equal(t, "2.9 g", last.Amount.Text, "what was typed before the refusal")
}

func TestLateRepliesAreDropped(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	old := opened{request: request{number: d.is().shown}, snapshot: d.is().snapshot}
	d.keys("g", "text:1055", "enter")
	now := d.screen()
	d.send(old)
	assert.Equal(t, now, d.screen())
}

func TestKeysWaitWhileSomethingIsWritten(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("g", "text:1055@23")
	next, write := d.model.Update(keyMsg("enter"))
	d.model = next
	d.keys("j", "g", "text:10")
	d.shows("1055@23")
	d.run(write)
	d.shows("10")
	assert.Len(t, d.log("lime-b"), 1)
	assert.NotEqual(t, "lime-b", d.is().board().Subject())
	require.NotNil(t, d.is().line)
	assert.Equal(t, "10", d.is().line.Draft().Text)
}

func TestFind(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("/", "text:heath")
	assert.Equal(t, "heath", d.is().board().Subject())
	d.keys("enter", "/", "text:gravity", "enter")
	line, ok := d.is().board().Task(d.is().frame())
	require.True(t, ok)
	assert.Equal(t, "gravity", line.Task.Do)
	first := line.Subject
	d.keys("/", "enter")
	line, _ = d.is().board().Task(d.is().frame())
	assert.NotEqual(t, first, line.Subject, "the next one")
	d.keys("/", "text:sorbate").shows(`nothing here is called "sorbate"`)
}

func TestVesselPage(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("enter").shows("HEATH    heath honey", "working, day 3", "original", "original    1.106 measured")
	d.keys("end").shows("log, newest first", "pitch")
	d.keys("g", "text:1080").shows("1.0800").lacks("gravity   x")
	d.keys("enter").shows("✓ kept: HEATH 1.080")
	d.keys("space", "enter").shows("✓ kept: HEATH degas and nutrient")
	d.keys("esc").shows("vessel   stage")
	d.keys("enter", "q").shows("vessel   stage")
	assert.False(t, d.quit)
}

func TestEditorOpensTheFileAtTheEntry(t *testing.T) {
	var file string
	var line int
	d := drive(t, newShelf(), 80, 24, func(o *Options) {
		o.Editor = func(f string, n int) *exec.Cmd { file, line = f, n; return exec.Command("true") }
	})
	on(d, "heath").keys("e")
	assert.Equal(t, "ferments/heath.yaml", file)
	assert.Equal(t, 24, line, "the newest entry")
	d.keys("enter", "end", "e")
	assert.Contains(t, []int{20, 24}, line)
	drive(t, newShelf(), 80, 24).keys("e").shows("no editor is named")
}

func TestSuspendAndResume(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("g", "text:1055", "ctrl+z")
	assert.Equal(t, []tea.Msg{tea.SuspendMsg{}}, d.asked)
	loads := d.shelf.loads
	d.now = morning.Add(time.Hour)
	d.send(tea.ResumeMsg{})
	assert.Greater(t, d.shelf.loads, loads)
	d.shows("08:04", "1055")
}

func TestPanicInACommandIsReported(t *testing.T) {
	d := drive(t, newShelf(), 80, 24, func(o *Options) {
		o.Trouble = func(string) (string, error) { return "/state/stack.txt", nil }
	})
	d.run(d.is().options.guarded(func() tea.Msg { panic("out of must") }))
	d.shows("something went wrong inside: out of must", "the stack is in /state/stack.txt")
	d.keys("j").lacks("out of must")
}

// leaking is a line that panics.
type leaking struct{ entry.Line }

func (leaking) Press(intent.Stroke) (entry.Line, intent.Intent) { panic("out of must") }

func TestPanicInTheModelEndsCleanly(t *testing.T) {
	var kept []intent.Draft
	d := drive(t, newShelf(), 80, 24, func(o *Options) {
		o.Keep = func(drafts []intent.Draft) error { kept = drafts; return nil }
	})
	d.keys("g", "text:1055")
	m := d.is()
	m.line = leaking{m.line}
	d.model = sheltered{model: m}
	d.keys("5")
	assert.True(t, d.quit)
	assert.Equal(t, "1055", kept[0].Text)
	require.NotNil(t, d.model.(sheltered).trouble)
}

func TestMessageStaysUntilTheNextKey(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.keys("g", "text:1055", "enter").shows("✓ kept")
	d.send(ticked{now: morning.Add(time.Minute)})
	d.shows("✓ kept")
	d.keys("j").lacks("✓ kept").shows("g reading")
}

// The vessel written to stays selected, so that the next key is for it.
func TestSelectionStaysOnWhatWasWrittenTo(t *testing.T) {
	d := on(drive(t, newShelf(), 100, 30), "heath").keys("space", "enter")
	assert.Equal(t, "heath", d.is().board().Subject())
	d.shows("next: LIME-A nutrient 2")
	d.keys("g", "text:aerate", "enter")
	assert.Equal(t, "heath", d.is().board().Subject())
	assert.Len(t, d.log("heath"), 3)
	on(d, "lime-b").keys("enter", "g", "text:1060@20", "enter", "esc")
	assert.Equal(t, "lime-b", d.is().board().Subject())
}

// The undone task is selected again.
func TestUndoGoesToTheLineItTookBack(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath").keys("space", "enter")
	on(d, "lime-b").keys("u")
	line, ok := d.is().board().Task(d.is().frame())
	require.True(t, ok)
	assert.Equal(t, "heath", line.Subject)
	assert.Equal(t, "nutrient-2", line.Task.Step)
}

func TestMissingEditorIsExplained(t *testing.T) {
	d := drive(t, newShelf(), 120, 24)
	d.send(edited{&exec.Error{Name: "unheard-of", Err: exec.ErrNotFound}})
	d.shows("there is no editor called unheard-of: set VISUAL or EDITOR")
}

// On the page Enter goes into the log; there an entry is struck with a reason, or opened in
// the editor, and an undo brings a struck one back.
func TestAnEntryIsStruck(t *testing.T) {
	var file string
	var line int
	d := on(drive(t, newShelf(), 80, 24, func(o *Options) {
		o.Editor = func(f string, n int) *exec.Cmd { file, line = f, n; return exec.Command("true") }
	}), "heath")
	d.keys("g", "text:1.080", "enter", "enter", "enter").shows("▌", "Enter correct", "s strike out", "e file")
	d.keys("e")
	assert.Equal(t, "ferments/heath.yaml", file)
	assert.Equal(t, 102, line, "the entry under the cursor")
	d.keys("s", "enter").shows("takes out", "1.080", "a struck entry needs a reason")
	d.keys("text:typed twice", "enter").shows("✓ kept: HEATH removed: 1.080, 07:04")
	require.Len(t, d.shelf.log("heath").Log, 2)
	d.keys("u").shows("taken back: HEATH removed: 1.080, 07:04")
	assert.Len(t, d.shelf.log("heath").Log, 3)
}

// In the log Enter opens the line with what the entry said. What is unlikely is asked about, then why; a line that says
// the same is not kept, Esc goes back step by step, and what was typed comes back by one key.
func TestAnEntryIsCorrected(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("g", "text:1.080 19C", "enter", "enter", "enter", "enter").shows("HEATH    correct: 2026-10-07 07:04 1.080 19C", "it said")
	d.keys("enter").shows("it says what it said: change it first")
	d.keys("ctrl+u", "text:2026-10-07 07:04 1.180 19C", "enter").shows("△ ask", "Enter again keeps it")
	d.keys("ctrl+u", "text:2026-10-07 07:04 1.081 19C", "enter").shows("corrected, because:", "it said   07:04 1.080, 19 °C", "writes    07:04 1.081, 19 °C")
	d.keys("esc").shows("correct: 2026-10-07 07:04 1.081 19C")
	d.keys("esc").shows("not kept: HEATH 2026-10-07 07:04 1.081 19C", "u brings it back")
	d.keys("u", "enter", "enter").shows("✓ kept: HEATH corrected: 1.081, 19 °C, 07:04")
	log := d.shelf.log("heath").Log
	require.Len(t, log, 3)
	assert.Equal(t, "1.081", log[2].Gravity.Text)
	d.keys("u").shows("taken back: HEATH corrected: 1.081")
	for i := range d.shelf.log("heath").Log {
		d.shelf.log("heath").Log[i].Note = "two\nlines"
	}
	d.shelf.log("heath").Stamp++
	d.keys("esc", ".", "enter", "end", "enter").shows("a line cannot say all of this entry: e opens it in the editor")
}

func TestRefractometerIsNamedOnce(t *testing.T) {
	d := on(drive(t, newShelf(), 120, 24), "heath")
	d.keys("g", "text:14.2 refractometer").shows("corrected, from 14.2 on the refractometer").lacks("refractometer by refractometer")
}

// What was written before the board was opened is named by the first undo, and taken
// back by the second.
func TestUndoNamesWhatWasWrittenEarlier(t *testing.T) {
	s := newShelf()
	first := on(drive(t, s, 80, 24), "heath")
	first.keys("g", "text:1.080", "enter")
	s.written[0].At = morning.Add(-hours(20))
	again := drive(t, s, 80, 24)
	again.keys("u").shows("last written, Tue 11:04: HEATH 1.080, 07:04", "u again takes it back")
	require.Len(t, s.log("heath").Log, 3)
	again.keys("down", "u").shows("u again takes it back")
	require.Len(t, s.log("heath").Log, 3)
	again.keys("u").shows("taken back: HEATH 1.080")
	assert.Len(t, s.log("heath").Log, 2)
}
