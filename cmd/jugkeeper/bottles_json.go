package main

import (
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// bottlesJSON is what stands in bottles; a count that nobody wrote is null.
type bottlesJSON struct {
	Left    *int             `json:"left"`
	Drink   *int             `json:"drink"`
	Keep    *int             `json:"keep"`
	Tasting *int             `json:"tasting"`
	Test    *int             `json:"test"`
	Kinds   []bottleKindJSON `json:"kinds"`
}

type bottleKindJSON struct {
	Bottled string   `json:"bottled"`
	Kind    string   `json:"kind"`
	For     string   `json:"for"`
	Size    *float64 `json:"size"` // L
	Fizz    *float64 `json:"fizz"` // g/L, 0 for a still one
	Filled  *int     `json:"filled"`
	Left    *int     `json:"left"`
	Codes   []string `json:"codes"` // not known to have gone
}

// bottlesOf is nil while nothing is bottled.
func bottlesOf(s shelf.Shelf) *bottlesJSON {
	if len(s.Batches) == 0 {
		return nil
	}
	out := &bottlesJSON{
		Left: counted(s.Left()), Drink: counted(s.Left(shelf.Drink)), Keep: counted(s.Left(shelf.Keep)),
		Tasting: counted(s.Left(shelf.Tasting)), Test: counted(s.Left(shelf.Test)), Kinds: []bottleKindJSON{},
	}
	for _, b := range s.Batches {
		for _, l := range b.Lines {
			out.Kinds = append(out.Kinds, bottleKindJSON{
				Bottled: stamp(b.At), Kind: l.As.Kind, For: l.Purpose(), Size: given(l.As.Size, 4), Fizz: given(b.Fizz, 2),
				Filled: counted(l.Filled), Left: counted(l.Left), Codes: append([]string{}, l.Codes...),
			})
		}
	}
	return out
}

func counted(c shelf.Count) *int {
	if c.Unknown {
		return nil
	}
	return &c.N
}

func given[T ~float64](g measure.Given[T], places int) *float64 {
	if !g.Known() {
		return nil
	}
	v := round(float64(g.Value), places)
	return &v
}
