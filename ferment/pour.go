package ferment

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Poured is a mead that another vessel took in, as its own record had it then. No file says it.
type Poured struct {
	Volume            measure.Volume   // all that there was; 0 where nobody knows
	Gravity, Original measure.Gravity  // Original has what it was fed since
	Alcohol, Brought  measure.Strength // Brought is what of it the mead had taken in itself
	Stabilised        bool
}

// Alike reports whether a top-up is of water or of the mead itself, which disturbs nothing.
func (f Ferment) Alike(e *Entry) bool {
	return e.Did == TopUp && (strings.EqualFold(e.Of, "water") || e.Of == "" && !e.Alcohol.Known() || f.IsOwnMead(e))
}

// IsOwnMead reports whether a ferment is topped up with its own mead, kept in a smaller vessel.
func (f Ferment) IsOwnMead(e *Entry) bool {
	own := []string{"same", "same mead", "the same mead"}
	return e.Did == TopUp && (slices.Contains(own, strings.ToLower(e.Of)) || e.Of != "" && f.Called(e.Of))
}

// Pours reports whether an entry may pour another ferment in, the one that its of names.
func (f Ferment) Pours(e *Entry) bool {
	return (e.Did == Blend || e.Did == TopUp) && e.Of != "" && !f.Called(e.Of) && !f.Alike(e)
}

// PouredFrom returns the one of fs that an entry of a ferment pours into it.
func (f Ferment) PouredFrom(e *Entry, fs []Ferment) (from Ferment, ok bool) {
	return FirstWhere(fs, func(o Ferment) bool { return f.Pours(e) && o.Called(e.Of) })
}

// Losses are what entries of a ferment take out of others of fs, for their logs: all, where no amount is written.
func (f Ferment) Losses(entries []Entry, fs []Ferment) (losses []Logged) {
	for i := range entries {
		e := &entries[i]
		if from, pours := f.PouredFrom(e, fs); pours && !e.Amount.Unknown {
			loss := Entry{At: e.At, Note: "into " + f.Label()}
			if v, is := e.Amount.Volume(); is {
				loss.Lost = measure.Give(v, e.Amount.Text)
			} else {
				loss.Left = measure.Give(measure.Volume(0), "0 L")
			}
			losses = append(losses, Logged{from.ID, []Entry{loss}})
		}
	}
	return losses
}
