package main

import (
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/charmbracelet/x/term"

	"cellar/jugkeeper/schedule/words"
)

// world is everything outside the program that a command may touch.
type world struct {
	env    func(string) string
	stdin  io.Reader
	stdout io.Writer
	stderr io.Writer
	clock  func() time.Time
	local  *time.Location

	unrecorded bool // entries are not kept outside the cellar: it is a demo
}

// terminal is whether a stream is a terminal, and how wide.
func terminal(stream any) (width int, ok bool) {
	f, is := stream.(*os.File)
	if !is || !term.IsTerminal(f.Fd()) {
		return 0, false
	}
	width, _, err := term.GetSize(f.Fd())
	return width, err == nil && width > 0
}

// out is where a command writes for a person: with --plain without signs.
func (w world) out(f flags) io.Writer {
	if f.plain {
		return aloud{w.stdout}
	}
	return w.stdout
}

// aloud writes what can be read aloud.
type aloud struct{ to io.Writer }

func (a aloud) Write(text []byte) (int, error) {
	_, err := io.WriteString(a.to, words.Aloud(string(text)))
	return len(text), err
}

// answers tells whether a person at a terminal types what is read from a stream.
func answers(stream any) bool {
	f, is := stream.(*os.File)
	return is && term.IsTerminal(f.Fd())
}

// dumb tells whether a person's terminal can only take plain lines.
func (w world) dumb() bool { return w.env("TERM") == "dumb" }

// cellarDir is the folder of the cellar, and whether somebody named it: a
// named one that is missing is an error, the default one is just empty.
func (w world) cellarDir(flag string) (dir string, named bool) {
	if flag != "" {
		return flag, true
	}
	if dir := w.env("JUGKEEPER_CELLAR"); dir != "" {
		return dir, true
	}
	data := w.xdg("XDG_DATA_HOME", ".local", "share")
	return data, data == "" // nowhere is no place for an empty cellar
}

// stateDir is the folder of the entries record and of what a crash leaves;
// empty where nothing says where that is.
func (w world) stateDir() string { return w.xdg("XDG_STATE_HOME", ".local", "state") }

// xdg is the program's folder under the one that a variable names, else under
// home. It is never one that hangs on where the program was started.
func (w world) xdg(name string, under ...string) string {
	if dir := w.env(name); filepath.IsAbs(dir) {
		return filepath.Join(dir, "jugkeeper")
	}
	home := w.env("HOME")
	if !filepath.IsAbs(home) {
		return ""
	}
	return filepath.Join(append(append([]string{home}, under...), "jugkeeper")...)
}

// withoutRecord is a world in which nothing is kept outside the cellar.
func (w world) withoutRecord() world {
	w.unrecorded = true
	return w
}
