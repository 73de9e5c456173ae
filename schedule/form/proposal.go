package form

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// a proposal is a row that nobody has typed yet.
type proposal struct {
	kind  string
	fizz  bool
	soft  bool // one soft bottle, which shows how hard the others are
	share float64
}

// proposals are the rows that the ending asks for.
func (j jug) proposals() []proposal {
	f := j.v.Ferment
	soft, rest := proposal{kind: j.kindFor(true, true), fizz: true, soft: true}, proposal{kind: j.kindFor(true, false), fizz: true, share: 1}
	still := proposal{kind: j.kindFor(false, false), share: 1}
	switch {
	case f.EndsAs(ferment.BottleConditioned) && (f.EndsAs(ferment.Still) || f.EndsAs(ferment.Sweetened)):
		rest.share = 0.5
		return []proposal{soft, rest, still}
	case f.EndsAs(ferment.BottleConditioned):
		return []proposal{soft, rest}
	}
	return []proposal{still}
}

// kindFor is the bottle at hand that takes the fizz of the cellar, soft or not,
// or any where nothing is to fizz.
func (j jug) kindFor(fizz, soft bool) string {
	for _, b := range shelf.Kinds(j.s.Cellar.Settings) {
		if isSoft(b.Kind) == soft && (!fizz || b.Takes(j.s.Cellar.Settings.Fizz) == nil) && (fizz || len(j.s.Cellar.Settings.Bottles) > 0) {
			return b.Kind
		}
	}
	if soft {
		return "soft-drink bottle"
	}
	return "crown beer bottle"
}

func isSoft(kind string) bool { return strings.Contains(strings.ToLower(kind), "soft") }

// kinds are the kinds of bottles that can be chosen: the person's own and the
// built-in ones.
func (j jug) kinds() []string {
	var out []string
	for _, b := range slices.Concat(shelf.Kinds(j.s.Cellar.Settings), carbonation.BuiltIn()) {
		if !slices.ContainsFunc(out, func(k string) bool { return strings.EqualFold(k, b.Kind) }) {
			out = append(out, b.Kind)
		}
	}
	return out
}

// usual is the size of a bottle where nobody says.
const usual measure.Volume = 0.33

func (j jug) sizeOf(kind string) string {
	for _, b := range j.s.Cellar.Settings.Bottles {
		if strings.EqualFold(b.Kind, kind) && b.Size.Known() {
			return b.Size.Text
		}
	}
	if j.units() == measure.US {
		return "12 fl oz"
	}
	return measure.Of(usual.Millilitres(), "mL").Text
}

// fits is how many bottles of a proposal the rest of the vessel fills.
func (f filling) fits(next *proposal, rest measure.Volume) int {
	size, err := measure.ParseVolume(f.sizeOf(next.kind))
	if err != nil {
		return 0
	}
	return f.countFor(next, rest, size.Value)
}

// countFor is how many bottles of a size a proposal takes of the rest.
func (f filling) countFor(next *proposal, rest, size measure.Volume) int {
	n, err := finishing.Fill(rest, size)
	switch {
	case err != nil || next == nil:
		return 0
	case next.soft:
		return min(n.Count, 1)
	}
	return int(float64(n.Count)*next.share + 0.5)
}
