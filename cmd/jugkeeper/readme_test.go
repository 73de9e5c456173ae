package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/tui"
)

var update = flag.Bool("update", false, "write the parts of the README that come from the code")

const readme = "../../README.md"

// The parts of the README that the code knows: a screen, the keys, the figures.
func parts(t *testing.T) map[string]string {
	t.Helper()
	screen, err := os.ReadFile("../../testdata/screens/board-morning-80x24.txt")
	require.NoError(t, err)
	return map[string]string{
		"screen":  "```\n" + trimRight(string(screen)) + "\n```",
		"keys":    strings.TrimSpace(tui.DefaultKeys().Table()),
		"figures": figureTable(),
	}
}

func trimRight(screen string) string {
	lines := strings.Split(strings.TrimRight(screen, "\n"), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ")
	}
	return strings.Join(lines, "\n")
}

func figureTable() string {
	var b strings.Builder
	b.WriteString("| figure | equation | source | range | checked to within |\n|---|---|---|---|---|\n")
	for _, f := range bench.Figures() {
		cell := strings.NewReplacer("|", "\\|")
		fmt.Fprintf(&b, "| `%s`: %s | %s | %s | %s | %s |\n", f.Name, f.Use, cell.Replace(f.Equation), cell.Replace(f.Source), cell.Replace(f.Range), cell.Replace(f.Within))
	}
	return strings.TrimSpace(b.String())
}

func TestReadmeSaysWhatTheCodeSays(t *testing.T) {
	data, err := os.ReadFile(readme)
	require.NoError(t, err)
	want := string(data)
	for name, text := range parts(t) {
		open, shut := "<!-- "+name+" -->\n", "<!-- /"+name+" -->"
		from, to := strings.Index(want, open), strings.Index(want, shut)
		require.True(t, from >= 0 && to > from, "the README has a place for %s", name)
		want = want[:from+len(open)] + text + "\n" + want[to:]
	}
	if *update {
		require.NoError(t, os.WriteFile(readme, []byte(want), 0o666))
		return
	}
	assert.Equal(t, want, string(data), "go test ./cmd/jugkeeper -run Readme -update")
}

func TestTheReadmesTwoCommands(t *testing.T) {
	data, err := os.ReadFile(readme)
	require.NoError(t, err)
	assert.Contains(t, string(data), "go run ./cmd/jugkeeper demo\ngo test ./...\n")
}
