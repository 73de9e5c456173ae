//go:build unix

package guard

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"github.com/charmbracelet/x/term"
	"golang.org/x/sys/unix"
)

// Terminal is a terminal as a file.
type Terminal interface {
	io.ReadWriter
	Fd() uintptr
}

// question asks for the colour of the background, then for the kind of terminal, which every terminal answers, so that
// one that ignores the first question is not waited for (ECMA-48 DA; the colour as xterm's control sequences define
// it).
const question = "\x1b]11;?\x1b\\" + "\x1b[c"

// Background asks a terminal whether its background is dark; not ok without an answer in time.
func Background(tty Terminal, wait time.Duration) (dark, ok bool) {
	raw, err := term.MakeRaw(tty.Fd())
	if err != nil {
		return true, false
	}
	defer func() { _ = term.Restore(tty.Fd(), raw) }()
	if _, err := io.WriteString(tty, question); err != nil {
		return true, false
	}
	return isDark(answer(tty, wait))
}

// answer reads until the second question is answered or the time is over.
func answer(tty Terminal, wait time.Duration) string {
	var got []byte
	part := make([]byte, 64)
	for left := wait; left > 0 && len(got) < 1024; {
		took, ready := readable(tty.Fd(), left)
		if !ready {
			break
		}
		left -= took
		n, err := tty.Read(part)
		if got = append(got, part[:n]...); err != nil || bytes.HasSuffix(got, []byte("c")) && bytes.Contains(got, []byte("\x1b[?")) {
			break
		}
	}
	return string(got)
}

// readable waits for input, in steps that add up the time, because the package has no clock.
func readable(fd uintptr, wait time.Duration) (took time.Duration, ready bool) {
	const step = 5 * time.Millisecond
	for ; took < wait; took += step {
		var set unix.FdSet
		set.Zero()
		set.Set(int(fd))
		tv := unix.NsecToTimeval(int64(step))
		if n, err := unix.Select(int(fd)+1, &set, nil, nil, &tv); n > 0 && err == nil {
			return took + time.Millisecond, true
		}
	}
	return took, false
}

// isDark reads "\x1b]11;rgb:RRRR/GGGG/BBBB". Dark is under half the brightness
// of white, by the weights of ITU-R BT.709.
func isDark(reply string) (dark, ok bool) {
	_, colour, found := strings.Cut(reply, "\x1b]11;rgb:")
	if !found {
		return true, false
	}
	if end := strings.IndexAny(colour, "\x1b\a"); end >= 0 {
		colour = colour[:end]
	}
	parts := strings.Split(colour, "/")
	if len(parts) != 3 {
		return true, false
	}
	var sum float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v, err := share(parts[i])
		if err != nil {
			return true, false
		}
		sum += weight * v
	}
	return sum < 0.5, true
}

// share returns a hexadecimal number of one to four digits as a share of its largest.
func share(hex string) (float64, error) {
	v, err := strconv.ParseUint(hex, 16, 16)
	if err != nil || len(hex) == 0 || len(hex) > 4 {
		return 0, fmt.Errorf("%q is no part of a colour: one to four hexadecimal digits, e.g. 1616", hex)
	}
	return float64(v) / float64(uint64(1)<<(4*len(hex))-1), nil
}
