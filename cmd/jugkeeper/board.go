package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"time"

	"github.com/muesli/termenv"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui"
	"cellar/jugkeeper/tui/guard"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/vessel"
)

// showBoard shows the board where there is a terminal to show it on, else the
// day's list in plain lines.
func showBoard(w world, f flags) error {
	s, err := w.openToShow(f)
	if err != nil {
		return err
	}
	_, in := terminal(w.stdin)
	_, out := terminal(w.stdout)
	switch {
	case f.json:
		return writeJSON(w.stdout, todayOf(s.first, append(s.first.Vessels, s.first.Cultures...), 0))
	case !in || !out || w.dumb() || f.plain:
		return w.paper(f, s.first, 0, 0)
	}
	return w.run(s)
}

// run draws the board until it is left.
func (w world) run(s session) error {
	debug.SetGCPercent(usualGC)
	background, profile := w.look(s.first.Cellar.Settings, true)
	cellar, err := filepath.Abs(s.first.Cellar.Dir)
	if err != nil {
		return err
	}
	leave, stop := untilToldToStop()
	defer stop()
	return tui.Run(tui.Options{
		App:        s.app,
		Cellar:     cellar,
		Clock:      w.clockFrom(s.now),
		Background: background,
		Profile:    profile,
		Editor:     w.editor(s.first.Cellar.Dir),
		Drafts:     w.drafts(),
		Keep:       w.keepDrafts,
		Trouble:    w.trouble,
		Leave:      leave,
	}, w.calm(), w.stdout)
}

// calm is the terminal that keys come from, guarded against floods.
func (w world) calm() io.Reader {
	if tty, is := w.stdin.(*os.File); is {
		return guard.Calm(tty)
	}
	return w.stdin
}

// clockFrom is a clock that stands at the moment --at asked for, and goes on
// from there.
func (w world) clockFrom(now time.Time) func() time.Time {
	ahead := now.Sub(w.clock())
	return func() time.Time { return w.clock().Add(ahead) }
}

// look is what the terminal writes on, and which colours it can show.
func (w world) look(s ferment.Settings, isTerminal bool) (theme.Background, termenv.Profile) {
	profile := termenv.Ascii
	if isTerminal && w.env("NO_COLOR") == "" && s.Theme != "mono" {
		profile = termenv.EnvColorProfile()
	}
	if s.Theme != "auto" || profile == termenv.Ascii {
		return theme.Dark, profile
	}
	if tty, err := os.OpenFile("/dev/tty", os.O_RDWR, 0); err == nil {
		defer tty.Close()
		if dark, known := guard.Background(tty, 100*time.Millisecond); known && !dark {
			return theme.Light, profile
		}
	}
	return theme.Dark, profile
}

// theme is how a plain command is written on a terminal. It does not ask the
// terminal anything.
func (w world) theme(s ferment.Settings, isTerminal bool) theme.Theme {
	if !isTerminal || w.env("NO_COLOR") != "" || s.Theme == "mono" {
		return theme.Theme{}
	}
	return theme.New(s.Theme, theme.Dark, termenv.EnvColorProfile())
}

// page writes one ferment in text.
func (w world) page(f flags, v app.Vessel, s app.Snapshot) error {
	columns, isTerminal := terminal(w.stdout)
	if !isTerminal {
		columns = 80
	}
	if f.plain {
		_, err := fmt.Fprint(w.stdout, vessel.Plain(columns, v, words.Of(s).Lines(v.ID()), s.At))
		return err
	}
	_, err := fmt.Fprint(w.stdout, vessel.Page(w.theme(s.Cellar.Settings, isTerminal && !f.plain), columns, v, words.Of(s).Lines(v.ID()), s.At))
	return err
}
