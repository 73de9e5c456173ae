package faults

import (
	"fmt"
	"os"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Checking two hundred hostile files of 16 KiB takes less than two seconds of a processor and 100 MiB. Here twice the
// time is allowed, for a busy machine.
func TestCheckOfHostileFiles(t *testing.T) {
	full := func(s string) string { return strings.Repeat(s, (1<<14)/len(s)) }
	hostile := []string{
		full("["), full("- "), full("? "), full("a: b\n"), full("- #\n"), full("- &a b\n"), "[" + full("a,"), full("\n#"),
		"log:\n" + full("- a\n"), "log:\n" + full("- a: b: c\n"), "log:\n" + full("- \"\n"), full("log:\n-\n") + "\t",
		full("a: b: c\n"), full("\t\n") + "x: y: z", "must: {" + full("volume: x, ") + "}", "name: \"" + full("x\n"), full("\u2028"),
		"a: &a [x]\n" + full("b: [*a, *a, *a]\n"), full("\x00"), full("<<<<<<< a\n"),
	}
	files := map[string]string{"ferments/heath.yaml": heath}
	for i := range 200 {
		files[fmt.Sprintf("ferments/h%d.yaml", i)] = hostile[i%len(hostile)]
	}
	p := newPlace(t, files)
	cmd := p.command("check")
	out := &strings.Builder{}
	cmd.Stdout = out
	debug.FreeOSMemory() // the system counts a parent's peak for its child
	require.NoError(t, os.WriteFile("/proc/self/clear_refs", []byte("5"), 0), "forget the peak")
	started := time.Now()
	_ = cmd.Run()
	took := time.Since(started)
	used := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	worked := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	t.Logf("check of 200 hostile files: %v, %v of work on all cores, %d MiB", took.Round(time.Millisecond), worked.Round(time.Millisecond), used.Maxrss>>10)
	require.Equal(t, 1, cmd.ProcessState.ExitCode(), "problems are told")
	assert.Contains(t, out.String(), "ferments/h199.yaml")
	assert.Less(t, worked, 2*2*time.Second)
	assert.Less(t, used.Maxrss>>10, int64(100), "MiB")
}
