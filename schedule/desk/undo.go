package desk

import (
	"errors"

	"cellar/jugkeeper/ferment"
)

// ErrNothingToUndo says that this run has written nothing that is left.
var ErrNothingToUndo = errors.New("nothing was written since the program was started")

// Undo takes back what this run wrote last, in all the files that it went to.
// An entry that does not stand as written any more is left alone, with an
// error that says so; the one before it is next.
func (d *Desk) Undo() ([]ferment.Receipt, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if len(d.wrote) == 0 {
		return nil, ErrNothingToUndo
	}
	last := d.wrote[len(d.wrote)-1]
	d.wrote = d.wrote[:len(d.wrote)-1]
	var undone []ferment.Receipt
	var failed error
	for i := len(last) - 1; i >= 0; i-- {
		if err := d.store.Undo(last[i]); err != nil {
			failed = errors.Join(failed, err)
			continue
		}
		undone = append(undone, last[i])
	}
	return undone, failed
}

// CanUndo tells how many writes of this run can still be taken back.
func (d *Desk) CanUndo() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.wrote)
}
