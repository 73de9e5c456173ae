package ferment

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/measure"
)

func TestSplitInheritsMustYeastAndLog(t *testing.T) {
	day := func(n int) Moment { return At(time.Date(2026, 9, n, 12, 0, 0, 0, time.UTC)) }
	litre := measure.Give(measure.Volume(1), "1.0 L")
	parent := Ferment{ID: "heath", Must: Must{Volume: measure.Give(measure.Volume(3.6), "3.6 L")}, Yeast: Yeast{Name: "white-wine yeast"},
		Log: []Entry{{At: day(1), Did: Pitch}, {At: day(5), Did: Degas}, {At: day(20), Did: Look}}}
	part := Ferment{ID: "heath-b", From: Origin{Ferment: "heath", At: day(10), Volume: litre}, Log: []Entry{{At: day(11), Did: Look}}}

	got := Parted([]Ferment{parent, part})
	require.Len(t, got, 2)
	assert.Equal(t, parent.Must, got[1].Must)
	assert.Equal(t, "white-wine yeast", got[1].Yeast.Name)
	var acts []Act
	for _, e := range got[1].Log {
		acts = append(acts, e.Did)
	}
	assert.Equal(t, []Act{Pitch, Degas, "", Look}, acts, "up to the parting, then its own")
	assert.Equal(t, litre, got[1].Log[2].Volume, "it begins with what was racked off")
	assert.Len(t, parent.Log, 3, "the record itself is not touched")
	assert.Equal(t, litre, got[0].Log[3].Lost, "the parent has that much less")
}

func TestCircularSplitsEnd(t *testing.T) {
	a, b := Ferment{ID: "a", From: Origin{Ferment: "b"}}, Ferment{ID: "b", From: Origin{Ferment: "a"}}
	assert.Len(t, Parted([]Ferment{a, b}), 2)
}

// TestInheritedEntriesHaveNoLine: an entry from the parent's file has no line in the file of the new ferment.
func TestInheritedEntriesHaveNoLine(t *testing.T) {
	day := func(n int) Moment { return At(time.Date(2026, 9, n, 12, 0, 0, 0, time.UTC)) }
	parent := Ferment{ID: "heath", Log: []Entry{{At: day(1), Did: Pitch, Line: 7}, {At: day(5), Did: Degas, Line: 9}}}
	part := Ferment{ID: "heath-b", From: Origin{Ferment: "heath", At: day(10)}, Log: []Entry{{At: day(11), Did: Look, Line: 4}}}
	got := Parted([]Ferment{parent, part})
	var lines []int
	for _, e := range got[1].Log {
		lines = append(lines, e.Line)
	}
	assert.Equal(t, []int{0, 0, 4}, lines)
	assert.Equal(t, 9, got[0].Log[1].Line, "the parent keeps its own")
}
