package journal

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// Each case is wrong in one way; a proof that accepted it would let a write change the record.
func TestProofRefuses(t *testing.T) {
	const before = "name: heather\nlog:\n  - at: 2026-09-12\n    did: pitch\n"
	degas := ferment.Entry{At: ferment.Moment{Time: time.Date(2026, 9, 13, 0, 0, 0, 0, time.UTC), DayOnly: true}, Did: ferment.Degas}
	for _, c := range []struct{ what, after, message string }{
		{"nothing is wrong", "name: heather\nlog:\n  - at: 2026-09-12\n    did: pitch\n  - at: 2026-09-13\n    did: degas\n", ""},
		{"nothing is wrong, before the others", "name: heather\nlog:\n  - at: 2026-09-13\n    did: degas\n  - at: 2026-09-12\n    did: pitch\n", ""},
		{"no entry more", before, "the log would not keep its entries"},
		{"an entry too many", before + "  - at: 2026-09-13\n    did: degas\n  - at: 2026-09-14\n", "the log would not keep its entries"},
		{"another entry", before + "  - at: 2026-09-13\n    did: aerate\n", "the entry would be read as {at: 2026-09-13, did: aerate} instead of {at: 2026-09-13, did: degas}"},
		{"an entry that cannot be read", before + "  - at: soon\n", `the entry could not be read again: at "soon" `},
		{"an old entry changed", "name: heather\nlog:\n  - at: 2026-09-12\n    did: mix\n  - at: 2026-09-13\n    did: degas\n", "the log would not keep its entries as they are"},
		{"another key changed", "name: lime\nlog:\n  - at: 2026-09-12\n    did: pitch\n  - at: 2026-09-13\n    did: degas\n", "the rest of the file would not stay as it is"},
		{"a key more", "name: heather\ntag: H\nlog:\n  - at: 2026-09-12\n    did: pitch\n  - at: 2026-09-13\n    did: degas\n", "the rest of the file would not stay as it is"},
		{"no YAML", before + "name", "with the entry in it the file cannot be read: "},
	} {
		old, err := recordOf([]byte(before), fermentLog)
		require.NoError(t, err)
		_, err = prove(old, []byte(c.after), []item{entryItem(degas)})
		if c.message == "" {
			assert.NoError(t, err, c.what)
		} else {
			assert.ErrorContains(t, err, c.message, c.what)
		}
	}
}

// An empty file becomes a record with its format and the list, and nothing else.
func TestProofOfABeginning(t *testing.T) {
	lot := []item{lotItem(ferment.Lot{ID: "lime-26"})}
	for _, c := range []struct{ what, after, message string }{
		{"nothing is wrong", "# lots\nformat: 1\nlots:\n  - id: lime-26\n", ""},
		{"no format", "lots:\n  - id: lime-26\n", "the rest of the file would not stay as it is"},
		{"a key more", "format: 1\nnote: x\nlots:\n  - id: lime-26\n", "the rest of the file would not stay as it is"},
		{"a lot too many", "format: 1\nlots:\n  - id: lime-26\n  - id: ivy-26\n", "the list of lots would not keep its lots"},
		{"nothing", "# lots\n", "the rest of the file would not stay as it is"},
	} {
		old, err := recordOf([]byte("# lots\n"), honeyLots)
		require.NoError(t, err)
		_, err = prove(old, []byte(c.after), lot)
		if c.message == "" {
			assert.NoError(t, err, c.what)
		} else {
			assert.EqualError(t, err, c.message, c.what)
		}
	}
}

func TestSingleItemErrorSuggestsADash(t *testing.T) {
	_, err := InsertLots([]byte("format: 1\nlots:\n  id: ivy-26\n"), ferment.Lot{ID: "lime-26"})
	assert.EqualError(t, err, "lots has a lot without a dash, where a list is needed (put - before its first key)")
	_, err = InsertUses([]byte("lots: [{id: ivy-26, used: {mass: 500 g}}]\n"), "ivy-26", ferment.Use{For: "table"})
	assert.EqualError(t, err, "used has a use without a dash, where a list is needed (put - before its first key)")
}
