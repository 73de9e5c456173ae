package ferment

import "hash/fnv"

// Culture is a yeast with a history.
type Culture struct {
	ID       string
	Name     string
	From     string // the parent culture
	Source   string
	Protocol string
	Log      []Entry
	Verdict  string // trying, usable, discarded
	Note     string
	Line     int

	Incomplete bool
}

// WithCultures gives the ferments with the cultures that were pitched into
// them.
func WithCultures(fs []Ferment, cultures []Culture) []Ferment {
	out := make([]Ferment, len(fs))
	for i, f := range fs {
		for c := range cultures {
			if f.Yeast.Culture != "" && cultures[c].ID == f.Yeast.Culture {
				f.Yeast.From = &cultures[c]
				f.Stamp = f.Stamp*31 + cultures[c].stamp()
			}
		}
		out[i] = f
	}
	return out
}

// stamp differs where the verdicts on the culture do: nothing else of it bears
// on a ferment.
func (c Culture) stamp() uint64 {
	h := fnv.New64a()
	for _, e := range c.Log {
		h.Write([]byte(e.Verdict + "\n" + e.At.Time.String()))
	}
	h.Write([]byte(c.Verdict))
	return h.Sum64()
}
