package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// usCellar is the invented cellar, typed in metric units, of a person who wants
// to be shown US ones.
func usCellar(t *testing.T) string {
	t.Helper()
	dir := demoCellar(t)
	settings := filepath.Join(dir, "cellar.yaml")
	data, err := os.ReadFile(settings)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(settings, append(data, "units: us\n"...), 0o666))
	return dir
}

func told(t *testing.T, dir, line string) string {
	t.Helper()
	var out, errs bytes.Buffer
	run(strings.Fields(line), around(dir, &out, &errs))
	require.NotEmpty(t, out.String()+errs.String(), line)
	return strings.ReplaceAll(out.String()+errs.String(), dir, "CELLAR")
}

// JSON is metric, its sentences too, whatever a person is shown.
func TestJSONIsMetric(t *testing.T) {
	metric, us := demoCellar(t), usCellar(t)
	for _, line := range []string{
		"today", "", "today --days 60", "show clover", "show chestnut-b", "show gorse", "show thyme-a", "compare chestnut-a chestnut-b", "check",
	} {
		line += " --json"
		assert.Equal(t, told(t, metric, line), told(t, us, line), line)
	}
}

// What is typed without a unit is read in the person's units, with --json too.
func TestTypedUnitsStay(t *testing.T) {
	dir := usCellar(t)
	require.Contains(t, told(t, dir, "log chestnut-b 1.061@68 --json"), "kept")
	data, err := os.ReadFile(filepath.Join(dir, "ferments/chestnut-b.yaml"))
	require.NoError(t, err)
	assert.Contains(t, string(data), "sample: 68 °F")
}
