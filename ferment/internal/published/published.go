// Package published reads the published tables that tests check against.
package published

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Row is one line of a table, its cells by the names of the columns.
type Row map[string]string

// Number returns the number in a column; the test fails if there is none.
func (r Row) Number(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(r[column]), 64)
	require.NoError(t, err, "column %s of %v", column, r)
	return v
}

// Table reads a table by its file name. Header lines begin with # and cite the source. The test fails if the table is
// missing or empty.
func Table(t testing.TB, name string) []Row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(lines), 2, name)
	var rows []Row
	for _, line := range lines[1:] {
		row := Row{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}
