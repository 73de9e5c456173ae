package ferment

import "slices"

// Parted gives the ferments as they are after one was racked into two: a part
// that goes its own way has the must, the yeast and the log of its parent up
// to then, and the parent has that much less. Parents that are closed are given
// beside.
func Parted(fs []Ferment, closed ...Ferment) []Ferment {
	byID := map[string]Ferment{}
	for _, f := range append(slices.Clone(closed), fs...) {
		byID[f.ID] = f
	}
	out := make([]Ferment, len(fs))
	for i, f := range fs {
		out[i] = inherit(f, byID)
		for _, part := range fs {
			if part.From.Ferment == f.ID && part.From.Volume.Known() {
				lost := Entry{At: part.From.At, Lost: part.From.Volume, Note: "parted into " + part.ID}
				out[i].Log = append(out[i].Log[:len(out[i].Log):len(out[i].Log)], lost)
				out[i].Stamp = out[i].Stamp*31 + part.Stamp
			}
		}
	}
	return out
}

// inherit takes over from the parent what the part does not say itself. A
// parent that is not there, or that was itself parted from the part, gives
// nothing.
func inherit(f Ferment, byID map[string]Ferment) Ferment {
	origin := f.From
	for seen := map[string]bool{f.ID: true}; f.From.Ferment != "" && !seen[f.From.Ferment]; {
		parent, known := byID[f.From.Ferment]
		if !known {
			break
		}
		seen[parent.ID] = true
		f = partOf(parent, f)
		f.From = parent.From
	}
	f.From = origin
	return f
}

func partOf(parent, f Ferment) Ferment {
	if !f.Must.Given() {
		f.Must = parent.Must
	}
	if f.Yeast == (Yeast{}) {
		f.Yeast = parent.Yeast
	}
	var log []Entry
	for _, e := range parent.Log {
		if !e.At.Earliest().After(f.From.At.Latest()) {
			e.Line = 0 // it stands in another file
			log = append(log, e)
		}
	}
	if f.From.Volume.Known() {
		log = append(log, Entry{At: f.From.At, Volume: f.From.Volume, Note: "parted from " + parent.ID})
	}
	f.Log = append(log, f.Log...)
	f.Stamp = f.Stamp*31 + parent.Stamp
	return f
}

// Given tells whether anything is said of the must.
func (m Must) Given() bool {
	return m.Volume.Known() || len(m.Honey) > 0 || m.Water.Known() || m.Gravity.Known() || len(m.Fruit) > 0
}
