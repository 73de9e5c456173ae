package keeping_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// table reads a published table, without its heading; a cell that is no number
// is left out of it.
func table(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(lines), 1)
	var rows []map[string]float64
	for _, line := range lines[1:] {
		row := map[string]float64{}
		for i, cell := range line {
			if v, err := strconv.ParseFloat(cell, 64); err == nil {
				row[lines[0][i]] = v
			}
		}
		rows = append(rows, row)
	}
	return rows
}
