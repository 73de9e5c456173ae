package journal_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment/journal"
)

// longLog returns a ferment's file of so many entries, as the program writes them.
func longLog(entries int) []byte {
	var b strings.Builder
	b.WriteString("format: 1\nname: Heath, sheltered hives\ntag: HEATH\nmust: {volume: 3.6 L, gravity: 1.084}\nlog:\n")
	at := time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)
	for i := range entries {
		fmt.Fprintf(&b, "  - at: %s\n    gravity: 1.%03d\n    sample: 22 °C\n    note: lively, two fingers of foam\n", at.Add(time.Duration(i)*time.Hour).Format(time.RFC3339), 84-i%80)
	}
	return []byte(b.String())
}

func BenchmarkParse(b *testing.B) {
	for _, n := range []int{60, 600, 6000} {
		text := longLog(n)
		b.Run(fmt.Sprintf("yaml/%d", n), func(b *testing.B) {
			for b.Loop() {
				var doc yaml.Node
				require.NoError(b, yaml.Unmarshal(text, &doc))
			}
		})
		b.Run(fmt.Sprintf("read/%d", n), func(b *testing.B) {
			for b.Loop() {
				require.True(b, journal.ReadFerment("a", text, time.UTC).Readable)
			}
		})
		b.Run(fmt.Sprintf("insert/%d", n), func(b *testing.B) {
			for b.Loop() {
				_, err := journal.Insert(text, degassed())
				require.NoError(b, err)
			}
		})
	}
}
