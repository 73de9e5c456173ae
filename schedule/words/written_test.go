package words_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

func TestWritten(t *testing.T) {
	now := time.Date(2026, 10, 5, 9, 0, 0, 0, time.UTC)
	v := app.Unplanned(ferment.Ferment{ID: "lime-a", Tag: "LIME-A"})
	mass := measure.Give(measure.Grams(500), "500 g")
	for _, c := range []struct {
		r    ferment.Receipt
		want string
	}{
		{ferment.Receipt{Entries: []ferment.Entry{{At: ferment.At(now), Did: ferment.Degas}}}, "LIME-A degas, 09:00"},
		{ferment.Receipt{Made: true}, "new LIME-A"},
		{ferment.Receipt{Made: true, Entries: []ferment.Entry{{At: ferment.At(now), Did: ferment.Pitch}}}, "new LIME-A pitch, 09:00"},
		{ferment.Receipt{Moved: "ferments/past/lime-a.yaml"}, "LIME-A closed"},
		{ferment.Receipt{Made: true, Lots: []ferment.Lot{{ID: "lime-26"}, {ID: "ivy-26"}}}, "lot lime-26 and ivy-26"},
		{ferment.Receipt{Subject: "lime-26", Uses: []ferment.Use{{Mass: mass, For: "table"}}}, "of lot lime-26 500 g, table"},
		{ferment.Receipt{Subject: "lime-26", Uses: []ferment.Use{{}}}, "of lot lime-26 some"},
		{ferment.Receipt{Cultures: []ferment.Culture{{ID: "hawthorn-4"}}}, "culture hawthorn-4"},
	} {
		assert.Equal(t, c.want, words.Written(v, c.r, now))
	}
}
