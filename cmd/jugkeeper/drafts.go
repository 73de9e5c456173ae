package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"

	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/tui/intent"
)

func (w world) draftsFile() string { return filepath.Join(w.stateDir(), "drafts.json") }

func (w world) drafts() (ds []intent.Draft) {
	if w.stateDir() == "" {
		return nil
	}
	data, err := journal.ReadSmall(w.draftsFile())
	if err != nil || json.Unmarshal(data, &ds) != nil {
		return nil
	}
	return ds
}

// keepDrafts keeps half-typed lines for the next run: only what this board added or settled to those before,
// as another may have ended since.
func (w world) keepDrafts(before, after []intent.Draft) error {
	if slices.Equal(before, after) {
		return nil
	}
	if err := w.makeStateDir(); err != nil {
		return err
	}
	return journal.Open(w.stateDir(), w.local, nil).Locked("drafts.json", func() error {
		in := func(ds []intent.Draft, d intent.Draft) bool {
			return slices.ContainsFunc(ds, func(o intent.Draft) bool { return o.Same(d) && o.Text == d.Text })
		}
		kept := slices.DeleteFunc(w.drafts(), func(d intent.Draft) bool { return in(before, d) && !in(after, d) })
		for _, d := range after {
			if !in(before, d) {
				kept = append(slices.DeleteFunc(kept, d.Same), d)
			}
		}
		path := w.draftsFile()
		if len(kept) == 0 {
			return os.RemoveAll(path)
		}
		data, err := json.Marshal(kept)
		if err != nil {
			return err
		}
		if err := os.WriteFile(path+".new", data, 0o600); err != nil {
			return err
		}
		return os.Rename(path+".new", path)
	})
}
