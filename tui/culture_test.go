package tui

import (
	"testing"

	"cellar/jugkeeper/ferment"
)

// A culture that needs something has a line on the board and a page of its own.
func TestCultureOnTheBoard(t *testing.T) {
	s := newShelf()
	after := ferment.When{Point: ferment.Point{Anchor: "collect"}}
	s.cellar.Protocols = plansOf(ferment.Protocol{Name: "wild", Steps: []ferment.Step{
		{Name: "w1", Do: "passage", Culture: true, Due: after, Missed: ferment.Late,
			Window: ferment.Window{Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}}},
	}})
	s.cellar.Cultures = []ferment.Culture{{ID: "hawthorn-3", Name: "hawthorn blossom", Protocol: "wild",
		Log: []ferment.Entry{{At: ago(hours(2)), Did: ferment.Collect}}}}
	d := drive(t, s, 80, 24)
	d.shows("hawthorn-3", "● today", "w1")
	d.model = d.is().selecting("hawthorn-3", "w1")
	d.keys("enter").shows("hawthorn-3", "hawthorn blossom", "w1")
	d.keys("esc", "g", "text:look seen=gas").shows("hawthorn-3")
}
