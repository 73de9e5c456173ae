package app

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// Recorder is a store that keeps a record of entries outside the cellar, and so
// knows of those that an edit from outside has lost.
type Recorder interface {
	Lost(ferment.Cellar) ([]ferment.Lost, error)
	Restore(ferment.Lost) (ferment.Receipt, error)
	Dismiss(ferment.Lost) error
}

// Lost lists the entries that stand in no file any more. They are offered; none
// is ever put back unasked.
func (d *App) Lost(now time.Time) ([]ferment.Lost, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	r, is := d.store.(Recorder)
	if !is {
		return nil, nil
	}
	c, err := d.store.Load(now)
	if err != nil {
		return nil, err
	}
	return r.Lost(c)
}

// PutBack writes a lost entry into its file again.
func (d *App) PutBack(l ferment.Lost) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	r, is := d.store.(Recorder)
	if !is {
		return Kept{}, nil
	}
	receipt, err := r.Restore(l)
	if receipt.Text == "" {
		return Kept{}, err
	}
	kept := Kept{Receipts: []ferment.Receipt{receipt}}
	d.wrote = append(d.wrote, kept.Receipts)
	return kept, err
}

// LeaveOut does not offer a lost entry again.
func (d *App) LeaveOut(l ferment.Lost) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if r, is := d.store.(Recorder); is {
		return r.Dismiss(l)
	}
	return nil
}
