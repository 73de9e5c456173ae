package guard_test

import (
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"cellar/jugkeeper/tui/guard"
)

// reads returns what a program reads of a text, 256 bytes at a time as the terminal library does; the writer stays
// open. It reads until the pipe is empty.
func reads(t *testing.T, text string) string {
	t.Helper()
	r, w, err := os.Pipe()
	require.NoError(t, err)
	t.Cleanup(func() { r.Close(); w.Close() })
	written := make(chan bool)
	go func() { _, _ = io.WriteString(w, text); close(written) }()
	in := guard.Calm(r)
	var got strings.Builder
	for {
		if n, _ := unix.Poll([]unix.PollFd{{Fd: int32(r.Fd()), Events: unix.POLLIN}}, 100); n == 0 {
			select {
			case <-written:
				return got.String()
			default: // the writer has not had its turn
				continue
			}
		}
		p := make([]byte, 256)
		n, err := in.Read(p)
		require.NoError(t, err)
		got.Write(p[:n])
	}
}

const from, to = "\x1b[200~", "\x1b[201~"

func TestPasteAlwaysEnds(t *testing.T) {
	page := strings.Repeat("must ", 300)
	for name, c := range map[string]struct{ typed, read string }{
		"keys":                      {"g1.046\r", "g1.046\r"},
		"many keys with escapes":    {strings.Repeat("\x1b[A", 200), strings.Repeat("\x1b[A", 200)},
		"a paste":                   {from + page + to + "\r", from + page + to + "\r"},
		"a paste without its end":   {from + "1.046", from + "1.046" + to},
		"a long one without":        {from + page, from + page + to},
		"Ctrl+C in one without end": {from + "1.046\x03", from + "1.046" + to + "\x03"},
		"Ctrl+C in a long one":      {from + page + "\x03", from + page + to + "\x03"},
		"a flood without marks":     {strings.Repeat("must ", 5000), from + guard.TooMuch + to},
		"Ctrl+C after a flood":      {strings.Repeat("must ", 5000) + "\x03", from + guard.TooMuch + to + "\x03"},
		"keys that come quickly":    {strings.Repeat("j", 250), strings.Repeat("j", 250)},
	} {
		assert.Equal(t, c.read, reads(t, c.typed), name)
	}
}

// A paste of a megabyte takes less than a second of a processor, and what the program gets is longer than a line
// accepts, so that it is refused.
func TestMegabytePasteTakesASecond(t *testing.T) {
	worked := func() time.Duration {
		var used unix.Rusage
		require.NoError(t, unix.Getrusage(unix.RUSAGE_SELF, &used))
		return time.Duration(used.Utime.Nano() + used.Stime.Nano())
	}
	for name, text := range map[string]string{
		"with marks":         from + strings.Repeat("蜂蜜 ", 150_000) + to,
		"without marks":      strings.Repeat("must ", 200_000),
		"without an end":     from + strings.Repeat("must ", 200_000),
		"Ctrl+C at its end":  from + strings.Repeat("must ", 200_000) + "\x03",
		"a second paste too": from + strings.Repeat("must ", 200_000) + to + from + "1" + to,
	} {
		begun, read := worked(), make(chan string, 1)
		go func() { read <- reads(t, text) }()
		select {
		case got := <-read:
			assert.Less(t, worked()-begun, time.Second, name)
			assert.Less(t, len(got), 16<<10, name)
			assert.Equal(t, strings.Count(got, from), strings.Count(got, to), name)
			assert.Equal(t, strings.HasSuffix(text, "\x03"), strings.HasSuffix(got, "\x03"), name)
		case <-time.After(30 * time.Second):
			require.Fail(t, "it does not end", name)
		}
	}
}
