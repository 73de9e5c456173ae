package main

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDemoShowsOneTaskOfEachState: at every hour the invented cellar shows one late task, one held, one for today and
// one for any day, and no danger.
func TestDemoShowsOneTaskOfEachState(t *testing.T) {
	state := regexp.MustCompile(`(?m)^\S+ +(DANGER|STOP|LATE|HELD|TODAY|ANY DAY|MISSED|OPTION) `)
	for hour := range 24 {
		now := evening.Truncate(24 * time.Hour).Add(time.Duration(hour)*time.Hour + 10*time.Minute)
		dir := filepath.Join(t.TempDir(), "cellar")
		require.NoError(t, writeDemo(dir, now))
		text := said(t, dir, now, "today", "--plain")
		var states []string
		for _, m := range state.FindAllStringSubmatch(text, -1) {
			states = append(states, m[1])
		}
		assert.Equal(t, "LATE HELD TODAY ANY DAY", strings.Join(states, " "), text)
	}
}
