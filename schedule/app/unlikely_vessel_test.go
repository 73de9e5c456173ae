package app_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

// restful is a mead that is steady, dry and not stabilised.
const restful = "1 11:00 pitch|2 07:00 started|5 07:00 1.030|9 07:00 1.000|12 07:00 0.996 18C|17 07:00 0.996 18C|22 07:00 0.996 18C|27 07:00 0.996 18C"

// TestWrongJug: an act that makes no sense on that ferment is asked about.
func TestWrongJug(t *testing.T) {
	for _, c := range []struct{ id, log, entry, asks string }{
		{"heath", "3 11:00 pitch|5 07:00 1.040|14 07:00 0.997", "14 09:00 nutrient unknown", "nutrient at 0.997, where no sugar is left"},
		{"heath", "3 11:00 pitch|5 07:00 1.072", "5 09:00 nutrient unknown", ""},
		{"hawthorn-3", "3 11:00 pitch", "5 09:00 nutrient unknown", "nutrient for a culture"},
		{"heath", restful, "28 11:00 fruit-in 300g of=bramble", "fruit in: this mead is steady and not stabilised"},
		{"heath", restful, "28 11:00 honey 100g", "honey: this mead is steady and not stabilised"},
		{"heath", restful, "28 11:00 top-up 0.2L of=juice", "top up: this mead is steady and not stabilised"},
		{"heath", restful, "28 11:00 top-up 0.2L", ""},
		{"heath", restful, "28 11:00 prime 30g", ""},
		{"heath", restful + "|27 10:00 sulphite 0.2g|27 10:01 sorbate 0.6g", "28 11:00 honey 100g", ""},
		{"heath", restful + "|27 10:00 close", "28 11:00 0.996", "it is closed: the other vessel?"},
		{"heath", restful + "|27 10:00 close", "28 11:00 degas", "it is closed: the other vessel?"},
		{"heath", restful + "|27 10:00 close", "28 11:00 taste nose=heather", ""},
		{"heath", restful + "|27 10:00 close", "28 11:00 ; the last bottle is given away", ""},
		{"heath", "3 11:00 pitch|5 07:00 1.072", "5 09:00 fruit-in 300g of=bramble", ""},
		{"heath", "3 11:00 pitch|5 07:00 1.072", "5 09:00 fruit-out", "no fruit is in it by its record: the other vessel?"},
		{"heath", "3 11:00 pitch|5 07:00 fruit-in 300g of=bramble", "14 09:00 fruit-out", ""},
		{"heath", "3 11:00 pitch|5 07:00 fruit-in 300g of=bramble|12 09:00 fruit-out", "14 09:00 fruit-out", "no fruit is in it by its record"},
		{"heath", restful, "28 11:00 rack", "how much came over? Write it behind, e.g. rack 3.1 L; without it the record keeps all 3.60 L, lees too"},
		{"heath", restful, "28 11:00 rack clear", ""},
		{"heath", restful, "28 11:00 rack lost=0.2L", ""},
		{"heath", restful, "28 11:00 rack 3.1L", ""},
		{"heath", restful, "28 11:00 rack 18C ; into the small jug", "how much came over?"},
	} {
		snapshot, v := vessel(holding(jug("heath", 3.6, c.log)), "heath", line(c.entry).At.Time)
		for _, k := range snapshot.Cultures {
			if k.ID() == c.id {
				v = k
			}
		}
		assert.Equal(t, c.id, v.ID())
		assertAsks(t, c.asks, app.Says(app.Unlikely(snapshot, v, line(c.entry))), c.entry)
	}
}

// Once a ferment is closed nobody reminds of its bottles for tests: closing asks about them.
func TestClosingAsksAboutTestBottles(t *testing.T) {
	for purpose, asks := range map[string]string{"test": "for tests or tastings are left", "tasting": "for tests or tastings are left", "drink": ""} {
		f := jug("heath", 3.6, restful+"|27 10:00 bottle left=0L")
		f.Log[len(f.Log)-1].Bottles = []ferment.Bottles{{Count: 2, For: purpose}}
		snapshot, v := vessel(holding(f), "heath", line("28 11:00 close").At.Time)
		assertAsks(t, asks, app.Says(app.Unlikely(snapshot, v, line("28 11:00 close"))), purpose)
	}
}
