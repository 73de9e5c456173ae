package faults

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// If the output cannot be written completely, the command fails.
func TestFullOutput(t *testing.T) {
	p := newPlace(t, jugs)
	for _, args := range [][]string{{"check"}, {"today"}, {"today", "--plain"}, {"log", "heath", "degas"}, {"show", "heath"}, {"protocol"}, {"help"}} {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		require.NoError(t, err)
		cmd, errs := p.command(args...), &strings.Builder{}
		cmd.Stdout, cmd.Stderr = full, errs
		_ = cmd.Run()
		full.Close()
		assert.Equal(t, 3, cmd.ProcessState.ExitCode(), "%v", args)
		assert.Contains(t, errs.String(), "no space left on device", "%v", args)
	}
	assert.Len(t, p.log("heath"), 3, "the entry is kept all the same")
}

// An unknown time zone is reported; the runtime would use UTC.
func TestUnknownTimeZone(t *testing.T) {
	p := newPlace(t, jugs)
	for zone, told := range map[string]bool{"EST5EDT,M3.2.0,M11.1.0": true, "Nowhere/Else": true, "Europe/Dublin": false, "": false, ":UTC": false} {
		cmd, errs := p.command("check"), &strings.Builder{}
		cmd.Env = append(cmd.Env, "TZ="+zone)
		cmd.Stderr = errs
		require.NoError(t, cmd.Run(), zone)
		assert.Equal(t, told, strings.Contains(errs.String(), "is not a time zone known here: UTC is used"), "%q: %s", zone, errs)
	}
}
