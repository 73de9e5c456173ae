package tui

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Back and leave go one screen back, to where the bench was opened.
func TestTheBenchGoesBackToWhereItWasOpened(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	for _, away := range []string{"esc", "q"} {
		d.keys("enter", "4").shows("bench")
		if away == "q" {
			d.keys("tab") // out of the field: in it q is a letter
		}
		d.keys(away).shows("HEATH    heath honey")
		d.keys("esc").shows("vessel   stage")
	}
	d.keys("4", "tab", "q").shows("vessel   stage")
	assert.False(t, d.quit)
}

func TestSideBySideIsMovedAlongAndLeft(t *testing.T) {
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

// The help lies over the screen that it was asked on.
func TestHelpIsOfTheScreenInSight(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "lime-a")
	d.keys("m", "?").shows("board ").keys("esc")
	d.keys("4", "tab", "?").shows("bench ").keys("esc", "esc")
	on(d, "heath").keys("m", "v", "?").shows("side by side ").lacks("vessel   stage")
}
