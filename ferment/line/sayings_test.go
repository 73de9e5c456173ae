package line_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/line"
)

// A saying gives the same entry as the words of a line.
func TestSayings(t *testing.T) {
	ctx := line.Context{Now: time.Date(2026, 10, 7, 7, 0, 0, 0, time.UTC), Zone: time.UTC}
	for said, same := range map[string]string{
		"rotten egg":                        `smell="rotten eggs"`,
		"Smells of rotten eggs 1.046":       `smell="rotten eggs" 1.046`,
		"foamed over; mopped":               "foam-over; mopped",
		"airlock dry 19C":                   "airlock=dry 19C",
		"dry airlock":                       "airlock=dry",
		"no bubbles":                        "airlock=still",
		"bubbling":                          "airlock=working",
		"19.9 refractometer":                "19.9r",
		"refractometer 19.9 19C":            "19.9r 19C",
		`look; foam over, said "no bubbles`: `look; foam over, said "no bubbles`,
	} {
		want, wantErr := line.Parse(same, ctx)
		got, err := line.Parse(said, ctx)
		require.NoError(t, wantErr, same)
		require.NoError(t, err, said)
		assert.Equal(t, want, got, said)
	}
}
