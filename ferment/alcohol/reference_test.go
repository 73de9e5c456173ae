package alcohol_test

import (
	"bufio"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// row is one line of a published table, by column name.
type row map[string]string

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	require.NoError(t, err, "column %s of %v", column, r)
	return v
}

// table reads a published table; its head says where it comes from.
func table(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	require.NoError(t, err)
	defer f.Close()
	var text strings.Builder
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if !strings.HasPrefix(lines.Text(), "#") {
			text.WriteString(lines.Text() + "\n")
		}
	}
	records, err := csv.NewReader(strings.NewReader(text.String())).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(records), 2, name)
	var rows []row
	for _, record := range records[1:] {
		r := row{}
		for i, column := range records[0] {
			r[column] = record[i]
		}
		rows = append(rows, r)
	}
	return rows
}
