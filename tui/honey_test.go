package tui

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// larder returns a shelf with a lot of honey and a culture whose first passage is due.
func larder() *shelf {
	s := newShelf()
	after := ferment.When{Point: ferment.Point{Anchor: "collect"}}
	s.cellar.Protocols = plansOf(ferment.Protocol{Name: "wild", Steps: []ferment.Step{
		{Name: "w1", Do: "passage", Culture: true, Due: after, Missed: ferment.Late, Amount: "100 mL", Medium: "gravity 1.035, alcohol 5 %",
			Window: ferment.Window{Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}}},
	}})
	s.cellar.Cultures = []ferment.Culture{{ID: "hawthorn-3", Name: "hawthorn blossom", Protocol: "wild", Line: 3,
		Log: []ferment.Entry{{At: ago(hours(2)), Did: ferment.Collect}}}}
	s.cellar.Lots = []ferment.Lot{{ID: "ivy-26", Name: "ivy", Mass: measure.Give(measure.Grams(2000), "2.00 kg"), Water: measure.Give(measure.Share(20.4), "20.4 %"), Line: 3}}
	return s
}

func TestHoneyRoom(t *testing.T) {
	d := drive(t, larder(), 80, 24)
	d.keys("3").shows("ivy-26 comes first: 20.4 % water, use it now", "2.00 kg")
	d.keys("space").shows("used elsewhere").keys("esc").shows("ivy-26 comes first")
	d.keys("+").shows("harvested").keys("esc")
	d.keys("g").shows("honey has no log")
	d.keys("enter", "tab").shows("hawthorn-3: w1 100 mL")
	d.keys("space").shows("transfer", "87.5 mL of medium and 12.5 mL of spirit").keys("esc")
	d.keys("+").shows("made from").keys("esc")
	d.keys("g", "text:look seen=gas").shows("hawthorn-3").keys("esc")
	d.keys("enter").shows("hawthorn blossom", "w1").keys("esc").shows("not tested")
	d.keys("?").shows("honey room ").keys("esc", "esc").shows("vessel     stage")
	assert.False(t, d.quit)
}

// A passage that the board asks for opens the form, as in the honey room.
func TestPassageFormOpensFromTheBoard(t *testing.T) {
	d := drive(t, larder(), 80, 24)
	d.model = d.is().selecting("hawthorn-3", "w1")
	d.keys("space").shows("transfer", "87.5 mL of medium")
}

// After the files are read again, cursor and list stay.
func TestHoneyRoomIsReadAgain(t *testing.T) {
	d := drive(t, larder(), 80, 24)
	d.keys("3", "tab", ".").shows("hawthorn-3: w1")
	d.keys("e").lacks("there is no file")
}
