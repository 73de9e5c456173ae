package main

import (
	"encoding/json"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/tui/intent"
)

// drafts are the half-typed lines that an earlier run had to leave.
func (w world) drafts() []intent.Draft {
	if w.stateDir() == "" {
		return nil
	}
	data, err := os.ReadFile(filepath.Join(w.stateDir(), "drafts.json"))
	if err != nil {
		return nil
	}
	var ds []intent.Draft
	if json.Unmarshal(data, &ds) != nil {
		return nil
	}
	return ds
}

// keepDrafts keeps half-typed lines for the next run.
func (w world) keepDrafts(ds []intent.Draft) error {
	path := filepath.Join(w.stateDir(), "drafts.json")
	switch {
	case len(ds) == 0 && w.stateDir() == "":
		return nil
	case len(ds) == 0:
		if err := os.Remove(path); err != nil && !os.IsNotExist(err) {
			return err
		}
		return nil
	}
	if err := w.makeStateDir(); err != nil {
		return err
	}
	data, err := json.Marshal(ds)
	if err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o600)
}

// makeStateDir makes the folder of what is kept outside the cellar.
func (w world) makeStateDir() error {
	if w.stateDir() == "" {
		return journal.ErrNowhere
	}
	return os.MkdirAll(w.stateDir(), 0o777)
}

// trouble keeps the stack of something that went wrong inside.
func (w world) trouble(stack string) (file string, err error) {
	if err := w.makeStateDir(); err != nil {
		return "", err
	}
	file = filepath.Join(w.stateDir(), "trouble.txt")
	return file, os.WriteFile(file, []byte(stack), 0o600)
}

// untilToldToStop is closed when the program is told to stop or its terminal
// is gone.
func untilToldToStop() (leave <-chan struct{}, stop func()) {
	told, done := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(told, syscall.SIGHUP, syscall.SIGTERM)
	go func() {
		if _, open := <-told; open {
			close(done)
		}
	}()
	return done, func() { signal.Stop(told); close(told) }
}
