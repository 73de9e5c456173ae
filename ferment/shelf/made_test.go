package shelf_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

func must(id string, litres float64, log ...ferment.Entry) ferment.Ferment {
	f := ferment.Ferment{ID: id, Log: log}
	if litres > 0 {
		f.Must.Volume = measure.Give(measure.Volume(litres), "given")
	}
	return f
}

func did(act ferment.Act, year int, month time.Month, day int) ferment.Entry {
	return ferment.Entry{Did: act, At: ferment.At(time.Date(year, month, day, 12, 0, 0, 0, time.UTC))}
}

func TestMadeIn(t *testing.T) {
	closed := must("old", 4, did(ferment.Pitch, 2025, 12, 31), did(ferment.Bottle, 2026, 6, 1), did(ferment.Close, 2026, 7, 1))
	closed.Past = true
	part := must("lime-part", 1, did(ferment.Pitch, 2026, 9, 1))
	part.From.Ferment = "lime"
	got := shelf.MadeIn([]ferment.Ferment{
		closed,
		must("lime", 3.6, did(ferment.Mix, 2025, 12, 31), did(ferment.Pitch, 2026, 1, 1)),
		must("sloe", 3.5, did(ferment.Pitch, 2026, 3, 1), did(ferment.Pitch, 2027, 1, 1)),
		must("dumped", 2, did(ferment.Pitch, 2026, 3, 1), did(ferment.Dump, 2026, 4, 1)),
		must("unwritten", 0, did(ferment.Pitch, 2026, 3, 1)),
		must("found working", 1, did(ferment.Look, 2026, 5, 1), did(ferment.Started, 2026, 5, 2)),
		must("only mixed", 9, did(ferment.Mix, 2026, 5, 1)),
		part,
	})
	assert.Len(t, got, 2)
	assert.Equal(t, 2026, got[0].Year)
	assert.InDelta(t, 3.6+3.5+2+1, float64(got[0].Volume), 1e-9)
	assert.Equal(t, 1, got[0].Unknown)
	assert.Equal(t, shelf.Made{Year: 2025, Volume: 4}, got[1])
}
