package carbonation_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// table reads a published table, without its heading.
func table(t *testing.T, name string) [][]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(lines), 1)
	var rows [][]float64
	for _, line := range lines[1:] {
		row := make([]float64, len(line))
		for i, cell := range line {
			row[i], err = strconv.ParseFloat(cell, 64)
			require.NoError(t, err)
		}
		rows = append(rows, row)
	}
	return rows
}
