package app

import (
	"errors"

	"cellar/jugkeeper/ferment"
)

// ErrNothingToUndo says that this run has written nothing that is left.
var ErrNothingToUndo = errors.New("nothing was written since the program was started")

// Undo takes back what this run wrote last, in all the files that it went to.
// An entry that does not stand as written any more is left alone, with an
// error that says so; the one before it is next. What a disk did not let be
// taken back may be tried again.
func (d *App) Undo() ([]ferment.Receipt, error) {
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
		err := d.store.Undo(last[i])
		switch {
		case err == nil:
			undone = append(undone, last[i])
			continue
		case again(err):
			d.wrote = append(d.wrote, last[:i+1])
			return undone, errors.Join(failed, err)
		}
		failed = errors.Join(failed, err)
	}
	return undone, failed
}

// again tells whether what failed may be tried again as it is.
func again(err error) bool {
	var e interface{ Again() bool }
	return errors.As(err, &e) && e.Again()
}

// CanUndo tells how many writes of this run can still be taken back.
func (d *App) CanUndo() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.wrote)
}
