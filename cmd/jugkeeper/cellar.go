package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/muesli/termenv"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui"
	"cellar/jugkeeper/tui/guard"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/vessel"
)

type session struct {
	app   *app.App
	store *journal.Store
	now   time.Time
	first app.Snapshot // as first opened
	flags flags

	notices *[]string // for --json, to be written with what was kept
}

// begin reads the cellar and plans nothing yet.
func (w world) begin(f flags) (s session, cellar ferment.Cellar, err error) {
	files, store := w.store(f)
	s = session{app: app.New(store), store: files, now: w.clock(), flags: f, notices: &[]string{}}
	if cellar, err = store.Load(s.now); err == nil {
		s.now, err = w.nowBy(f, cellar.Settings.Zone)
	}
	return s, cellar, err
}

// open opens the cellar for a command, and reads it.
func (w world) open(f flags) (session, error) {
	s, _, err := w.begin(f)
	if err != nil {
		return session{}, err
	}
	first, err := s.app.Open(s.now)
	if err != nil {
		return session{}, err
	}
	s.first, s.now = first, first.At
	return s, nil
}

// openToShow opens the cellar for a command that writes nothing. JSON is always metric.
func (w world) openToShow(f flags) (session, error) {
	f.metric = f.json
	return w.open(f)
}

// openFor opens the cellar for the subjects that a list of names means, with the closed ferments where one is not open.
func (w world) openFor(f flags, list string) (session, []string, error) {
	s, err := w.open(f)
	if err != nil {
		return s, nil, err
	}
	ids, err := s.named(list)
	if err == nil {
		return s, ids, nil
	}
	if s.first, err = s.app.OpenWhole(s.now); err == nil {
		ids, err = s.named(list)
	}
	return s, ids, err
}

// store returns the store of the cellar's folder. The default one may be missing: it is then empty, and created by the
// first write.
func (w world) store(f flags) (*journal.Store, app.Store) {
	dir, named := w.cellarDir(f.cellar)
	options := []journal.Option{journal.WithLooks(w.looksFile(), w.env("JUGKEEPER_THEME"), map[string]string{"linux": "blocks"}[w.env("TERM")])}
	if !w.unrecorded {
		options = append(options, journal.WithState(w.stateDir()))
	}
	if f.metric {
		options = append(options, journal.WithUnits(measure.Metric))
	}
	s := journal.Open(dir, w.local, protocols.Files(), options...)
	if named {
		return s, s
	}
	return s, mayBeMissing{s}
}

// mayBeMissing is a store whose folder may not exist yet.
type mayBeMissing struct{ *journal.Store }

// Load returns an empty cellar if the folder is missing.
func (s mayBeMissing) Load(now time.Time) (ferment.Cellar, error) {
	return unlessMissing(s.Store.Load(now))
}

// Check checks an empty cellar if the folder is missing.
func (s mayBeMissing) Check(now time.Time) (ferment.Cellar, error) {
	return unlessMissing(s.Store.Check(now))
}

// unlessMissing takes a missing cellar for an empty one.
func unlessMissing(c ferment.Cellar, err error) (ferment.Cellar, error) {
	var missing *journal.MissingError
	if errors.As(err, &missing) {
		return c, nil
	}
	return c, err
}

func (w world) nowBy(f flags, zone *time.Location) (time.Time, error) {
	if f.at == "" {
		return w.clock(), nil
	}
	m, _, err := ferment.ParseTime(f.at, w.clock().In(zone), zone)
	if err != nil {
		return time.Time{}, usage("--at: %w", err)
	}
	return m.Time, nil
}

// named returns the subjects in a list, "bh-a,bh-b". If a file of that name is unreadable, the error says so.
func (s session) named(list string) ([]string, error) {
	var ids []string
	for _, name := range strings.Split(list, ",") {
		name = strings.TrimSpace(name)
		_, unread := s.first.Cellar.Find(name)
		if ps := problemsOf(s.first.Cellar, name); len(ps) > 0 && unread != nil {
			return nil, &failure{status: saidNo, err: errors.New(ps[0].String())}
		}
		vs, err := s.first.FindAll([]string{name})
		if err != nil {
			return nil, err
		}
		if !slices.Contains(ids, vs[0].ID()) {
			ids = append(ids, vs[0].ID())
		}
	}
	return ids, nil
}

func problemsOf(c ferment.Cellar, id string) []ferment.Problem {
	return problemsIn(c, "ferments/"+id+".yaml")
}

func problemsIn(c ferment.Cellar, file string) []ferment.Problem {
	return ferment.Where(c.Problems, func(p ferment.Problem) bool { return strings.EqualFold(p.File, file) })
}

// empty reports whether an error only says that the default cellar does not exist yet.
func (w world) empty(f flags, err error) bool {
	_, named := w.cellarDir(f.cellar)
	var missing *journal.MissingError
	return !named && errors.As(err, &missing)
}

// showBoard shows the board if there is a terminal for it, else the day as text.
func showBoard(w world, f flags) error {
	_, in := terminal(w.stdin)
	_, out := terminal(w.stdout)
	said := time.AfterFunc(300*time.Millisecond, func() {
		if in && out && !f.json && !f.plain && !w.dumb() {
			fmt.Fprint(w.stdout, "Reading the cellar …\r")
		}
	})
	s, err := w.openToShow(f)
	said.Stop()
	if err != nil {
		return err
	}
	switch {
	case f.json:
		return writeJSON(w.stdout, todayOf(s.first, append(s.first.Vessels, s.first.Cultures...), 0))
	case !in || !out || w.dumb() || f.plain:
		return w.paper(f, s.first, 0, 0)
	}
	return w.run(s)
}

func (w world) run(s session) error {
	debug.SetGCPercent(usualGC)
	background, profile := w.look(s.first.Cellar.Settings, true)
	cellar, err := filepath.Abs(s.first.Cellar.Dir)
	if err != nil {
		return err
	}
	told, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGHUP, syscall.SIGTERM) // its terminal may be gone
	defer stop()
	board := os.Getpid()
	if w.makeStateDir() == nil {
		end, _ := journal.Hold(w.boardFile(board))
		defer end()
	}
	drafts, keeping := w.drafts(board), sync.Mutex{} // as this board has stored them
	ahead := s.now.Sub(w.clock())                    // set by --at
	keys := w.stdin
	if tty, is := keys.(*os.File); is {
		keys = guard.Calm(tty)
	}
	return tui.Run(tui.Options{
		App:        s.app,
		Cellar:     cellar,
		Clock:      func() time.Time { return w.clock().Add(ahead) },
		Background: background,
		Profile:    profile,
		Editor:     w.editor(s.first.Cellar.Dir),
		Drafts:     drafts,
		Keep: func(after []intent.Draft) error {
			keeping.Lock()
			defer keeping.Unlock()
			err := w.keepDrafts(board, drafts, after)
			if err == nil {
				drafts = after
			}
			return err
		},
		Trouble: w.trouble,
		Leave:   told.Done(),
	}, keys, w.stdout)
}

// look returns the background of the terminal, by its answer or COLORFGBG, and its colours.
func (w world) look(s ferment.Settings, isTerminal bool) (theme.Background, termenv.Profile) {
	profile, forced := termenv.Ascii, w.env("CLICOLOR_FORCE") != "" && w.env("CLICOLOR_FORCE") != "0"
	if (isTerminal || forced) && w.env("NO_COLOR") == "" && s.Theme != "mono" {
		if profile = termenv.EnvColorProfile(); forced && profile == termenv.Ascii {
			profile = termenv.ANSI
		}
	}
	if s.Theme != "auto" || profile == termenv.Ascii {
		return theme.Dark, profile
	}
	if tty, err := os.OpenFile("/dev/tty", os.O_RDWR, 0); err == nil && isTerminal {
		defer tty.Close()
		if dark, known := guard.Background(tty, 100*time.Millisecond); known {
			return map[bool]theme.Background{true: theme.Dark, false: theme.Light}[dark], profile
		}
	}
	if ground := w.env("COLORFGBG"); strings.HasSuffix(ground, ";7") || strings.HasSuffix(ground, ";15") {
		return theme.Light, profile
	}
	return theme.Dark, profile
}

func (w world) theme(s ferment.Settings, isTerminal bool) theme.Theme {
	background, profile := w.look(s, isTerminal)
	if profile == termenv.Ascii {
		return theme.Theme{}
	}
	return theme.New(s.Theme, background, profile)
}

// page prints the page of a vessel, as wide as the terminal.
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
