package app_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

// TestPouringWritesBothLogs: what is poured into one vessel is gone from the other, by its own log.
func TestPouringWritesBothLogs(t *testing.T) {
	store := holding(jug("heath", 3, "3 11:00 pitch|14 07:00 0.997"), jug("clover", 2, "3 11:00 pitch|14 07:00 1.004"))
	blend := func(amount string) ferment.Entry { return lines("20 09:00 blend " + amount + " of=clover")[0] }
	kept, err := app.New(store).Log(at(20, 9, 0), []string{"heath"}, blend("0.5L"))
	require.NoError(t, err)
	require.Len(t, kept.Receipts, 2)
	assert.Equal(t, "clover", kept.Receipts[1].Subject)
	assert.Equal(t, "0.5 L", kept.Receipts[1].Entries[0].Lost.Text)
	assert.Equal(t, "into HEATH", kept.Receipts[1].Entries[0].Note)
}
