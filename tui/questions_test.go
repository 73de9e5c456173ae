package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
)

// aBoard returns a board on a cellar with one file, at 80×24.
func aBoard(t *testing.T, file, text, now string) life {
	t.Helper()
	l := newLife(t, "-- cellar.yaml --\nformat: 1\ntimezone: UTC\n-- "+file+" --\nformat: 1\n"+text)
	l.at(now)
	l.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return l
}

const wildSloe = `cultures:
  - id: sloe-1
    name: sloe
    protocol: wild-culture
    verdict: trying
    log:
      - {at: 2026-10-07T12:00:00Z, did: collect}
      - {at: 2026-10-07T14:00:00Z, did: passage, step: w1, medium: 100 mL}
`

// TestLookAtACulture: nothing is answered beforehand, a letter answers, and several letters read at once answer one
// question each.
func TestLookAtACulture(t *testing.T) {
	l := aBoard(t, "cultures.yaml", wildSloe, "2026-10-11 07:04")
	l.keys("/", "text:look", "enter", "space").shows("gas", "sediment", "growth", "smell", "bubbles on the glass")
	l.keys("enter").shows("gas is not answered")
	l.keys("text:yync").shows("step up the culture").keys("enter").shows("kept: sloe-1")
	assert.Contains(t, l.show("cat cultures.yaml"), "seen: [gas, sediment]")
	assert.Contains(t, l.show("cat cultures.yaml"), "smell: clean")
}

// TestAnAnswerWithAnotherKeySettlesTheLook: what is typed behind the questions counts as it does in the entry line; a
// note does not.
func TestAnAnswerWithAnotherKeySettlesTheLook(t *testing.T) {
	for typed, want := range map[string]string{"airlock=working": "kept: sloe-1", "clear": "kept: sloe-1", "19C ; cold": "gas is not answered"} {
		l := aBoard(t, "cultures.yaml", wildSloe, "2026-10-11 07:04")
		l.keys("/", "text:look", "enter", "space", "up", "text:"+typed, "enter").shows(want)
	}
}

// TestMouldAloneAnswersTheLook: nothing else is asked, and the culture is thrown away untasted.
func TestMouldAloneAnswersTheLook(t *testing.T) {
	l := aBoard(t, "cultures.yaml", wildSloe, "2026-10-11 07:04")
	l.keys("/", "text:look", "enter", "space", "down", "down", "s").shows("mould on the culture")
	l.keys("enter").shows("kept: sloe-1", "Throw all of it away.")
}

const pitchedSloe = `tag: SLOE
protocol: small-jug
must: {volume: 3.6 L, gravity: 1.084}
log:
  - {at: 2026-10-07T12:00:00Z, did: pitch}
`

// TestNoBubblesIsNotAStart: it is asked again later, and frees no dose; text typed after the answers is kept with them.
func TestNoBubblesIsNotAStart(t *testing.T) {
	l := aBoard(t, "ferments/sloe.yaml", pitchedSloe, "2026-10-08 12:04")
	l.keys("/", "text:started", "enter", "space", "text:nn", "down", "text:19C ; cold kitchen").shows("nothing yet: asked again in 12 h").keys("enter").shows("kept: SLOE")
	text := l.show("cat ferments/sloe.yaml")
	for _, part := range []string{"airlock: still", "temperature: 19 °C", "step: check", "note: cold kitchen"} {
		assert.Contains(t, text, part)
	}
	assert.NotContains(t, text, "started")
	l.at("2026-10-09 00:03")
	assert.NotContains(t, l.show("screen"), "● today   check again")
	l.at("2026-10-09 00:04")
	l.shows("check again for a start")
}

// TestEveryVesselOfASharedLineIsAsked: the key a does not settle a start that nobody saw.
func TestEveryVesselOfASharedLineIsAsked(t *testing.T) {
	plum := func(x string) string {
		return "-- ferments/plum-" + x + ".yaml --\nformat: 1\ntrial: {name: plum, differs: yeast}\n" + strings.Replace(pitchedSloe, "SLOE", "PLUM-"+strings.ToUpper(x), 1)
	}
	l := newLife(t, "-- cellar.yaml --\nformat: 1\ntimezone: UTC\n"+plum("a")+plum("b"))
	l.at("2026-10-08 12:04")
	l.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	l.keys("/", "text:check", "enter", "a").shows("PLUM-A   check that it has started, then PLUM-B").keys("text:yy", "enter")
	l.shows("PLUM-B   check that it has started").keys("text:nn", "enter").shows("kept: PLUM-B")
	assert.Contains(t, l.show("cat ferments/plum-a.yaml"), "did: started")
	assert.NotContains(t, l.show("cat ferments/plum-b.yaml"), "did: started")
	assert.Contains(t, l.show("cat ferments/plum-b.yaml"), "airlock: still")
}

// TestFindOpensAVesselOfASharedLine: what is typed then is for that vessel.
func TestFindOpensAVesselOfASharedLine(t *testing.T) {
	plum := func(x string) string {
		return "-- ferments/plum-" + x + ".yaml --\nformat: 1\ntrial: {name: plum, differs: yeast}\n" + strings.Replace(pitchedSloe, "SLOE", "PLUM-"+strings.ToUpper(x), 1)
	}
	l := newLife(t, "-- cellar.yaml --\nformat: 1\ntimezone: UTC\n"+plum("a")+plum("b"))
	l.at("2026-10-08 12:04")
	l.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	l.shows("PLUM-A,B ◆ held").keys("tab", "/", "text:plum-b", "enter", "down", "space").shows("PLUM-B   check that it has started, then PLUM-A").keys("esc")
	l.keys("/", "text:plum-b", "enter", "g", "text:1.080", "enter").shows("kept: PLUM-B 1.080")
	l.keys("/", "text:plum-a", "enter", "n", "text:floor", "enter").shows("kept: PLUM-A")
}

// TestActWithoutAnswersAsks: opening, tasting and adding ask their questions one by one; what was added is required.
func TestActWithoutAnswersAsks(t *testing.T) {
	l := aBoard(t, "ferments/sloe.yaml", pitchedSloe, "2026-10-08 12:04")
	l.keys("/", "text:SLOE", "enter", "g", "text:taste", "enter").shows("nose", "palate", "faults", "score")
	l.keys("down", "down", "text:dry, sharp", "down", "down", "text:70", "enter").shows("kept: SLOE")
	l.keys("g", "text:top-up", "enter").shows("amount", "water, or which mead").keys("enter").shows("amount is not answered")
	l.keys("text:0.2L", "down", "text:old lime", "down", "text:12 %", "enter").shows("kept: SLOE")
	text := l.show("cat ferments/sloe.yaml")
	for _, part := range []string{"palate: \"dry, sharp\"", "score: 70", "did: top-up", "amount: 0.2 L", "of: old lime", "alcohol: 12 %"} {
		assert.Contains(t, text, part)
	}
	l.keys("g", "text:open", "enter").shows("hiss", "0 none, 1 a sigh")
	l.keys("esc", "g", "text:blend", "enter").shows("with", "which mead")
}
