package app

import (
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
)

// ValuesOf returns what a key of an entry of these vessels can be, to complete it: its words, and what the cellar has.
func (s Snapshot) ValuesOf(key string, vs []Vessel) []string {
	var values []string
	if k, is := ferment.KeyNamed(key); is {
		values = slices.Clone(k.Words)
	}
	switch key {
	case "lot":
		values = ferment.Map(s.Cellar.Lots, func(l ferment.Lot) string { return l.ID })
	case "step":
		steps := ferment.Flat(vs, func(v Vessel) []ferment.Step { return v.Plan.Steps })
		values = ferment.Map(steps, func(step ferment.Step) string { return step.Name })
	case "place":
		entries := ferment.Flat(s.Vessels, func(v Vessel) []*ferment.Entry { return v.Course.Entries })
		values = ferment.Map(entries, func(e *ferment.Entry) string { return e.Place })
	case "of":
		values = append(values, ferment.FruitNames()...)
	case "bottle":
		batches := ferment.Flat(vs, func(v Vessel) []shelf.Batch { return shelf.Of(v.Course).Batches })
		lines := ferment.Flat(batches, func(b shelf.Batch) []shelf.Line { return b.Lines })
		named := func(l shelf.Line) []string { return append(slices.Clone(l.Codes), l.As.Kind) }
		values = slices.Concat(values, ferment.ForWords, ferment.Flat(lines, named))
	}
	return ferment.Where(values, func(v string) bool { return v != "" })
}
