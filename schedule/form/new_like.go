package form

import (
	"math"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// model is a ferment that a new one is like, by its real numbers.
type model struct {
	ferment.Ferment
	gravity string                        // the original, as far as anybody knows it
	volume  measure.Given[measure.Volume] // of its must
	honey   []ferment.HoneyPart           // as the store can give it again
}

// chosenModel asks which ferment the new one is like.
func (n newFerment) chosenModel(p *page) model {
	var names []string
	for _, f := range n.all {
		names = append(names, f.ID)
	}
	id := p.choose(Field{Key: "like", Label: "like", Value: names[0], Words: names})
	all := ferment.Parted(n.all) // a part has the must of what it was parted from
	f := all[slices.IndexFunc(all, func(f ferment.Ferment) bool { return f.ID == id })]
	return model{f, n.originalOf(f), n.volumeOf(f.Must), n.honeyOf(f.Must)}
}

func (n newFerment) originalOf(f ferment.Ferment) string {
	original := app.Plan(f, n.s.Cellar, n.s.At).Course.Original
	switch {
	case f.Must.Gravity.Known():
		return f.Must.Gravity.Text
	case original.IsKnown():
		return original.Value.String()
	}
	return ""
}

// volumeOf is the volume of a must: as given, else what honey and water come to.
func (n newFerment) volumeOf(m ferment.Must) measure.Given[measure.Volume] {
	if m.Volume.Known() || !m.Water.Known() || !allWeighed(m.Honey) {
		return m.Volume
	}
	all := honey.Together(portions(m.Honey)...)
	whole, err := honey.IntoWater(all.Mass, m.Water.Value, all.Water)
	if err != nil {
		return measure.Given[measure.Volume]{}
	}
	return n.shown(whole.Volume)
}

// honeyOf is the honey of a must, lot by lot; as one honey where a lot of it is
// not in the store.
func (n newFerment) honeyOf(m ferment.Must) []ferment.HoneyPart {
	gone := func(h ferment.HoneyPart) bool { _, is := n.lot(h.Lot); return !is }
	if len(m.Honey) == 0 || len(m.Honey) <= len(lotLabels) && !slices.ContainsFunc(m.Honey, gone) {
		return m.Honey
	}
	if len(m.Honey) == 1 {
		return []ferment.HoneyPart{{Mass: m.Honey[0].Mass, Water: m.Honey[0].Water}}
	}
	var one ferment.HoneyPart
	all := honey.Together(portions(m.Honey)...)
	if allWeighed(m.Honey) {
		one.Mass, one.Water = n.weighed(all.Mass), made(measure.ParseShare, all.Water.String())
	}
	return []ferment.HoneyPart{one}
}

// scaled is a mass of the model's honey for another volume; none where nobody
// can say.
func (n newFerment) scaled(h ferment.HoneyPart, to measure.Given[measure.Volume]) measure.Given[measure.Mass] {
	had := n.model.volume.Value
	switch {
	case had <= 0 || !to.Known() || !h.Mass.Known():
		return measure.Given[measure.Mass]{}
	case to.Value == had:
		return h.Mass
	}
	return n.weighed(h.Mass.Value * measure.Mass(to.Value/had))
}

// asModel gives the first lot's honey by the litre as in the model, where
// nothing was changed against it.
func (n newFerment) asModel(b batch, aim measure.Given[measure.Gravity]) (first measure.Given[measure.Mass], as bool) {
	if aim.Text != n.model.gravity || len(b.honey) != len(n.model.honey) {
		return first, false
	}
	for i, had := range n.model.honey {
		mass := n.scaled(had, b.volume)
		if !mass.Known() || had.Water.Or(honey.Typical) != b.honey[i].Water.Or(honey.Typical) || i > 0 && mass != b.honey[i].Mass {
			return first, false
		}
	}
	return n.scaled(n.model.honey[0], b.volume), true
}

// asItWas tells that a must is made as the model was, where the model measured
// another gravity than its honey says.
func (n newFerment) asItWas(say sayer, b batch) {
	had := n.model.Must.Gravity
	if !b.asModel {
		return
	}
	text := "as much honey by the litre as in " + n.model.ID
	if off := had.Value - b.gravity; had.Known() && math.Abs(float64(off)) >= 0.002 {
		text += ", which measured " + had.Text + ": read this one once it is mixed"
	}
	say("", "%s", text)
}
