package main

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

func TestBottlesJSON(t *testing.T) {
	at := ferment.At(time.Date(2026, 9, 20, 11, 0, 0, 0, time.UTC))
	log := []*ferment.Entry{{At: at, Did: ferment.Bottle, Bottles: []ferment.Bottles{
		{Kind: "crown beer bottle", Size: measure.Give(measure.Volume(0.33), "330 mL"), Count: 2, Codes: "G 1-2", Fizz: measure.Give(measure.Content(5), "5 g/L")},
		{Kind: "jar", For: "tasting"},
	}}, {At: at, Did: ferment.Open, Bottle: "G 1"}}
	got, err := json.Marshal(bottlesOf(shelf.Of(&course.Course{Entries: log})))
	require.NoError(t, err)
	assert.JSONEq(t, `{"left": null, "drink": 1, "keep": 0, "tasting": null, "test": 0, "kinds": [
		{"bottled": "2026-09-20T11:00:00Z", "kind": "crown beer bottle", "for": "drink", "size": 0.33, "fizz": 5, "filled": 2, "left": 1, "codes": ["G 2"]},
		{"bottled": "2026-09-20T11:00:00Z", "kind": "jar", "for": "tasting", "size": null, "fizz": null, "filled": null, "left": null, "codes": []}]}`, string(got))
	assert.Nil(t, bottlesOf(shelf.Of(&course.Course{})), "nothing bottled")
}
