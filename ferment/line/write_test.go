package line_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
)

// Every key that can be typed is written as it is typed, and read back to the same.
func TestEveryKeyIsWrittenAsItIsTyped(t *testing.T) {
	for _, units := range []measure.System{measure.Metric, measure.US} {
		ctx := line.Context{Now: time.Date(2026, 10, 7, 7, 0, 30, 0, time.UTC), Zone: time.FixedZone("", 7200), Units: units, Because: ""}
		for _, k := range ferment.Keys() {
			if k.Typed == "" || k.Name == "at" || k.Name == "skipped" {
				continue
			}
			typed := k.Typed
			switch k.Name {
			case "stock":
				typed = "nutrient 14mL " + typed
			case "amount":
				typed = "nutrient " + typed
			case "overrode":
				typed += ` because="spilled half"`
			}
			l, err := line.Parse("2026-10-06 19:30 "+typed, ctx)
			if err != nil {
				l, err = line.Parse("2026-10-06 19:30 look "+typed, ctx)
			}
			require.NoError(t, err, typed)
			text, ok := line.Write(l.Entry, ctx)
			require.True(t, ok, "%s became %s", typed, text)
		}
	}
}

func TestEntryIsWrittenAsALine(t *testing.T) {
	ctx := line.Context{Now: time.Date(2026, 10, 7, 7, 0, 0, 0, time.UTC), Zone: time.UTC}
	for _, text := range []string{
		"2026-10-07 07:04 1.057@21",
		"2026-10-07 07:04:09 1.057@21 19.5C ph3.4 hazy ? ; bready",
		"2026-10-07 nutrient 1.4 g of=\"ammonium phosphate\"",
		"2026-10-07 07:04 20.2bx 11.4r@22",
		"2026-10-07 07:04 skipped=degas because=\"away; late\"",
		"2026-10-07 07:04 seen=gas,sediment smell=\"rotten eggs\"",
	} {
		l, err := line.Parse(text, ctx)
		require.NoError(t, err, text)
		got, ok := line.Write(l.Entry, ctx)
		assert.True(t, ok, text)
		assert.Equal(t, text, got)
	}
	l, err := line.Parse("2026-10-07 07:04 degas", ctx)
	require.NoError(t, err)
	l.Entry.Note = "two\nlines"
	_, ok := line.Write(l.Entry, ctx)
	assert.False(t, ok, "a note of two lines")
}
