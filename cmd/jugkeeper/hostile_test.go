package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hostile returns a copy of the cellar with escape sequences, control characters and direction marks in every text.
func hostile(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "cellar")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../testdata/cellars/hostile")))
	return dir
}

// raw returns the characters of a text that a terminal would interpret.
func raw(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', !unicode.IsControl(r) && !unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp) && r != '\ufffd':
			return -1
		case r == '\ufffd':
			return -1 // the sign for escaped ones
		}
		return r
	}, text)
}

// No command sends control characters of files or arguments to a terminal; exports only have their own line ends and
// page breaks.
func TestHostileTextIsEscaped(t *testing.T) {
	const typed = "\x1b[31mred\x1b]0;taken\a\u009b1m\u202eback\u2066\u200f\u2028"
	ends := strings.NewReplacer("\r\n", "\n", "\f", "")
	for _, command := range []string{
		"today", "today --days 90", "today --plain", "today heath", "show heath", "show heath --plain", "show shelf", "show gone", "compare heath shelf",
		"compare heath shelf --plain", "check", "check --plain", "protocol", "work", "export calendar", "export table", "export sheet heath", "export tag", "export label shelf",
		"export curve heath", "today --json", "show heath --json", "show shelf --json", "check --json", "compare heath shelf --json",
		"log heath 1.050 ;TYPED", "log heath TYPED", "log TYPED 1.050", "done heath TYPED", "done heath nutrient --because TYPED", "skip heath look --because TYPED", "show TYPED",
		"work TYPED", "work alcohol og=TYPED", "work alcohol TYPED=1", "new TYPED", "new thyme name=TYPED", "protocol TYPED", "export TYPED", "TYPED", "today --TYPED", "today --days TYPED",
		"log heath close ;TYPED", "new thyme-2 --from gone volume=2L", "today --at TYPED", "today --cellar TYPED",
	} {
		dir := hostile(t)
		var out, errs bytes.Buffer
		w := around(dir, &out, &errs)
		w.clock = func() time.Time { return time.Date(2026, 9, 16, 9, 0, 0, 0, time.UTC) }
		var args []string
		for _, word := range strings.Fields(command) {
			args = append(args, strings.ReplaceAll(word, "TYPED", typed))
		}
		run(args, w)
		assert.Empty(t, raw(ends.Replace(out.String())), "%s: %q", command, out.String())
		assert.Empty(t, raw(errs.String()), "%s: %q", command, errs.String())
		assert.NotEmpty(t, out.String()+errs.String(), command)
	}
}

// A cellar's folder may have any name: it is shown escaped, and unchanged in JSON.
func TestHostileFolderNameIsEscaped(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "cel\x1b[31mlar\u202e\u009b1m")
	require.NoError(t, os.Mkdir(dir, 0o777))
	for _, command := range []string{"today", "check", "today --json", "new thyme", "show thyme", "log nobody degas", "export table", "demo " + dir + "-2", "demo " + dir, "today --cellar " + dir + "-3"} {
		var out, errs bytes.Buffer
		run(strings.Split(command, " "), around(dir, &out, &errs))
		assert.Empty(t, raw(strings.ReplaceAll(out.String(), "\r\n", "\n")), "%s: %q", command, out.String())
		assert.Empty(t, raw(errs.String()), "%s: %q", command, errs.String())
		if command == "today --json" {
			var told struct{ Cellar string }
			require.NoError(t, json.Unmarshal(out.Bytes(), &told))
			assert.Equal(t, dir, told.Cellar)
		}
	}
}
