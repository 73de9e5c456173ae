package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// TestDrunkBottleIsNotAnOpening: a bottle to drink, opened without observations, settles no opening of the plan; any
// other does.
func TestDrunkBottleIsNotAnOpening(t *testing.T) {
	for entry, want := range map[string]string{
		"open":                          "done",
		"open hiss=2":                   "done",
		"open bottle=test":              "done",
		"open bottle=H9":                "done", // one of the tests
		"open bottle=drink":             "due",
		"open bottle=keep":              "due",
		"open bottle=H3":                "due",
		"open bottle=H3 hiss=2":         "done", // to drink, but with an observation
		"open bottle=drink foam=1cm":    "done",
		"open bottle=drink step=open-1": "done", // it names the step
		"open bottle=nobody-knows":      "done",
	} {
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: "0d 18:30 pitch|97d 12:00 " + entry}
		j.ferment = func(f *ferment.Ferment) {
			fizz := measure.Give(measure.Content(5), "5 g/L")
			f.Log = append(f.Log, ferment.Entry{At: ferment.At(at("90d 12:00")), Did: ferment.Bottle, Order: len(f.Log), Bottles: []ferment.Bottles{
				{Count: 8, Codes: "H1-8", Fizz: fizz}, {Count: 1, Codes: "H9", Fizz: fizz, For: "test"}, {Count: 1, Fizz: fizz, For: "keep"}}})
		}
		assert.Equal(t, want, states(j.day("97d 13:00"), "open-1"), entry)
	}
}
