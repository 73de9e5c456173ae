package tui

import (
	"fmt"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Back and leave go one screen back, to where the bench was opened.
func TestBenchGoesBackToWhereItWasOpened(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	for _, away := range []string{"esc", "q"} {
		d.keys("enter", "4").shows("bench")
		if away == "q" {
			d.keys("tab") // out of the field, in which q is a letter
		}
		d.keys(away).shows("HEATH    heath honey")
		d.keys("esc").shows("vessel   stage")
	}
	d.keys("4", "tab", "q").shows("vessel   stage")
	assert.False(t, d.quit)
}

func TestCompareScreenMovesAndCloses(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	on(d, "lime-a").keys("m")
	on(d, "heath").keys("m", "v").shows("LIME-A")
	top := d.screen()
	d.keys("end")
	end := d.screen()
	assert.NotEqual(t, top, end)
	d.keys("pgdown", "down", "down")
	assert.Equal(t, end, d.screen(), "nothing lies under the end")
	d.keys("up")
	assert.NotEqual(t, end, d.screen(), "one row up is seen at once")
	d.keys("home")
	assert.Equal(t, top, d.screen())
	d.keys("4", "esc")
	assert.Equal(t, top, d.screen())
	d.keys("q").shows("vessel   stage")
	assert.False(t, d.quit)
}

// The help is shown over the screen on which it was opened.
func TestHelpIsOfTheShownScreen(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "lime-a")
	d.keys("m", "?").shows("board ").keys("esc")
	d.keys("4", "tab", "?").shows("bench ").keys("esc", "esc")
	on(d, "heath").keys("m", "v", "?").shows("side by side ").lacks("vessel   stage")
}

func TestProblemOpensItsLine(t *testing.T) {
	s := newShelf()
	s.cellar.Problems = []ferment.Problem{{File: "ferments/sloe.yaml", Line: 31, Message: `gravity "1,0555" is not a density`}}
	opened := ""
	d := drive(t, s, 80, 24, func(o *Options) {
		o.Editor = func(file string, line int) *exec.Cmd {
			opened = fmt.Sprintf("%s:%d", file, line)
			return exec.Command("true")
		}
	})
	d.keys("!").shows("cannot be read: 1", "ferments/sloe.yaml, line 31")
	d.keys("enter")
	assert.Equal(t, "ferments/sloe.yaml:31", opened)
	s.cellar.Problems, s.changed = nil, true
	d.send(ticked{now: d.now, changed: true})
	d.shows("nothing looks unlikely").keys("esc").shows("vessel   stage")
}

func TestShelfOpensAndCloses(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("2").shows("Nothing is bottled yet", "check your local law").keys("esc").shows("vessel   stage")
	s := newShelf()
	heath := s.log("heath")
	heath.Log = append(heath.Log, finished(), ferment.Entry{At: ago(hours(24)), Did: ferment.Bottle, Bottles: []ferment.Bottles{{Count: 3, Codes: "H 1-3", Fizz: measure.Give(measure.Content(0), "none")}}})
	d = drive(t, s, 80, 24)
	d.keys("2").shows("the shelf: 3 bottles", "HEATH").keys("space").shows("one of HEATH", "HEATH: 2 of 3 bottles left").keys("enter")
	assert.Equal(t, "H 1", heath.Log[len(heath.Log)-1].Bottle)
	d.shows("the shelf: 2 bottles").keys("enter").shows("HEATH    heath honey").keys("esc").shows("the shelf: 2 bottles")
}

// finished is the reading of a dry mead, before it is bottled.
func finished() ferment.Entry {
	return ferment.Entry{At: ago(hours(25)), Gravity: measure.Give(measure.Gravity(0.996), "0.996")}
}

// bottledPair returns the trial of the two limes, bottled yesterday.
func bottledPair() *shelf {
	s := newShelf()
	for _, id := range []string{"lime-a", "lime-b"} {
		f := s.log(id)
		f.Trial = ferment.Trial{Name: "lime", Differs: "yeast"}
		f.Log = append(f.Log, finished(), ferment.Entry{At: ago(hours(24)), Did: ferment.Bottle, Bottles: []ferment.Bottles{{Count: 3, Fizz: measure.Give(measure.Content(0), "none")}}})
	}
	return s
}

func TestTrialIsTastedBlind(t *testing.T) {
	s := bottledPair()
	d := drive(t, s, 100, 30).keys("2", "home")
	d.keys("t").shows("blind: names are shown", "somebody else pours", "LIME-A: 2 of 3 left, LIME-B: 2 of 3 left").lacks("LIME-A,")
	d.keys("enter", "tab", "text:gold q", "esc").shows("the shelf")
	assert.False(t, d.quit, "q is a letter there")
	d.keys("t").shows("gold q")
	d.keys("right", "text:straw", "enter").shows("has no word yet; Enter again keeps the tasting").keys("enter")
	d.shows("kept: LIME-A and LIME-B", "gold q", "straw")
	for _, id := range []string{"lime-a", "lime-b"} {
		log := s.log(id).Log
		assert.Equal(t, ferment.Taste, log[len(log)-1].Did)
		assert.True(t, log[len(log)-1].Taste.Blind)
	}
	d.keys("q").shows("the shelf: 4 bottles")
	d.keys("t").lacks("gold q").keys("esc").shows("the shelf: 4 bottles").keys("esc", "u").shows("taken back")
	assert.NotEqual(t, ferment.Taste, s.log("lime-a").Log[len(s.log("lime-a").Log)-1].Did)
}

func TestOneFermentIsTastedFromItsPage(t *testing.T) {
	s := newShelf()
	d := on(drive(t, s, 80, 24), "heath")
	d.keys("t").shows("not blind: HEATH", "from the vessel").keys("tab", "text:cloudy", "enter", "enter").shows("kept: HEATH", "cloudy")
	d.keys("esc").shows("vessel   stage")
}

// Space on a due tasting opens it, from the board too.
func TestDueTastingOpensItsScreen(t *testing.T) {
	s := bottledPair()
	plan := s.cellar.Protocols["short"]()
	plan.Steps = append(plan.Steps, ferment.Step{Name: "taste", Do: "taste", Missed: ferment.Late,
		Due:    ferment.When{Point: ferment.Point{Anchor: "bottle"}, Offset: ferment.Offset{Number: 1, Unit: ferment.Day}},
		Window: ferment.Window{Opens: ferment.Offset{Number: -12, Unit: ferment.Hour}, Closes: ferment.Offset{Number: 14, Unit: ferment.Day}}})
	s.cellar.Protocols = plansOf(plan)
	d := on(drive(t, s, 100, 30), "lime-a")
	d.keys("space").shows("blind: names are shown")
	d.keys("esc", "2").shows("taste, blind: glasses").keys("space").shows("blind: names are shown")
	d.keys("enter", "tab", "text:gold", "right", "text:straw", "enter", "enter").shows("kept: LIME-A and LIME-B")
	log := s.log("lime-b").Log
	assert.Equal(t, "taste", log[len(log)-1].Step, "it settles the task of both")
}
