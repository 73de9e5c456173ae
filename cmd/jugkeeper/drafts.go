package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/tui/intent"
)

func (w world) draftsFile() string { return filepath.Join(w.stateDir(), "drafts.json") }

// stored is a draft in the file, with the board that it is from.
type stored struct {
	intent.Draft
	Board int // its process
}

// boardFile is locked for as long as a board runs.
func (w world) boardFile(board int) string {
	return filepath.Join(w.stateDir(), fmt.Sprintf("board-%d", board))
}

func (w world) stored() (all []stored) {
	if data, err := journal.ReadSmall(w.draftsFile()); w.stateDir() == "" || err != nil || json.Unmarshal(data, &all) != nil {
		return nil
	}
	return all
}

// drafts returns the drafts for a board. What is being typed in another one that is running is not among them.
func (w world) drafts(board int) (ds []intent.Draft) {
	for _, d := range w.stored() {
		if release, ended := journal.Hold(w.boardFile(d.Board)); ended || d.Board == board || d.Kind == intent.Postponed {
			release()
			ds = append(ds, d.Draft)
		}
	}
	return ds
}

// keepDrafts stores drafts of a board for the next run. Only its own changes are merged into the file, because another
// board may be open, or have ended since.
func (w world) keepDrafts(board int, before, after []intent.Draft) error {
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
		added := ferment.Where(after, func(d intent.Draft) bool { return !in(before, d) })
		kept := slices.DeleteFunc(w.stored(), func(d stored) bool {
			return in(before, d.Draft) && !in(after, d.Draft) || d.Board == board && slices.ContainsFunc(added, d.Same)
		})
		for _, d := range added {
			kept = append(kept, stored{d, board})
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
