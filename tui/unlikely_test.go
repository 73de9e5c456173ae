package tui

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A dose ten times the plan is asked about before it is written, with guesses; each Tab takes the next guess, the last
// one restores the line.
func TestDoseTenTimesThePlanIsAsked(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	d.keys("/", "text:nutrient", "enter", "space").shows("nutrient 2, given:", "2.9 g")
	d.keys("text:29g").shows("typed", "of 18").lacks("△ ask")
	d.keys("enter").shows("△ ask", "29 g is ten times the plan, 2.9 g: did you mean 2.9 g", "29 mL of the 10 % solution?",
		"Enter again keeps 29g", "Tab takes 2.9 g   Tab Tab takes 29 mL of the 10 % solution")
	assert.Empty(t, d.log("heath"))
	d.keys("tab").shows("given: 2.9 g", "29 mL of the 10 % solution").lacks("△ ask")
	d.keys("tab").shows("29 mL stock=10%")
	d.keys("tab").shows("given: 29g")
	d.keys("tab", "enter")
	if log := d.log("heath"); assert.Len(t, log, 2) {
		assert.Equal(t, "2.9 g", log[1].Amount.Text)
	}
}
