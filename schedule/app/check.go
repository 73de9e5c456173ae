package app

import (
	"fmt"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/remark"
)

// Checker is a store that can read every file, also those that nothing of the
// day is in.
type Checker interface {
	// Check is Load with the closed ferments and every protocol, and with what
	// only the cellar as a whole can show.
	Check(now time.Time) (ferment.Cellar, error)
	// Quote gives problems the text of their lines.
	Quote([]ferment.Problem) []ferment.Problem
}

// Check reads every file and gives what is wrong in them, and what is allowed
// and looks unlikely, entries that are in no file any more among it. Both are
// in the order of their places, with the text of a line where there is one.
func (d *App) Check(now time.Time) (problems, remarks []ferment.Problem, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	store, is := d.store.(Checker)
	if !is {
		c, err := d.store.Load(now)
		return c.Problems, c.Remarks, err
	}
	c, err := store.Check(now)
	if err != nil {
		return nil, nil, err
	}
	remarks = append(append(c.Remarks, remark.Of(c, now)...), d.lostRemarks(c)...)
	ferment.SortProblems(remarks)
	return store.Quote(c.Problems), store.Quote(remarks), nil
}

// lostRemarks are the entries that were given to the program and stand in no
// file any more.
func (d *App) lostRemarks(c ferment.Cellar) []ferment.Problem {
	r, is := d.store.(Recorder)
	if !is {
		return nil
	}
	lost, err := r.Lost(c)
	if err != nil {
		return []ferment.Problem{{File: "entries.jsonl", Message: fmt.Sprintf(
			"the record of entries cannot be read, so none is offered back: %s", err)}}
	}
	var remarks []ferment.Problem
	for _, l := range lost {
		remarks = append(remarks, ferment.Problem{File: l.File, Text: l.Text, Message: fmt.Sprintf(
			"an entry of %s that was given is not in the file (the board offers it back)", l.Entry.At.Time.Format("2006-01-02 15:04"))})
	}
	return remarks
}
