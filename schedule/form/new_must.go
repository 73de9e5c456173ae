package form

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
)

// batch is a must before it is divided into vessels, as far as it is known.
type batch struct {
	way      string
	volume   measure.Given[measure.Volume]
	honey    []ferment.HoneyPart
	fruit    ferment.FruitPart // none without a name
	water    measure.Given[measure.Volume]
	gravity  measure.Gravity // by honey and water
	asModel  bool            // the model's honey by the litre
	measured measure.Given[measure.Gravity]
	ph       measure.Given[measure.PH]
}

// planned reports whether the must is worked out, not yet mixed.
func (b batch) planned() bool { return b.way == fromTarget || b.way == fromLike }

// must asks for gravity, volume, honey and water as the way needs them, and calculates the rest.
func (n newFerment) must(p *asking, way string, into ferment.Vessel) batch {
	b := batch{way: way}
	volume := Field{Key: "volume", Label: "must", Value: n.model.volume.Text, From: p.fill("all that goes in, e.g. {3.6 L}")}
	had := n.model.Vessel.Brimful.Value
	if other := way == fromLike && into.Brimful.Value != had; into.Brimful.Value > 0 && (volume.Value == "" || other) && way != fromMasses {
		share := measure.Volume(0.88)
		if had > 0 && n.model.volume.Known() {
			share = n.model.volume.Value / had // the same share of the vessel
		}
		volume.Value, volume.From = n.shown(into.Brimful.Value*share).Text, "all that goes in; it leaves room for foam"
	}
	switch way {
	case fromTarget, fromLike:
		from := "wanted, e.g. 1.084 or 20.2bx"
		if way == fromLike {
			from = "the original of " + n.model.ID
		}
		b.volume = want(p, volume, measure.ParseVolume, p.fill("give the volume of the must, e.g. {3.6 L}"))
		aim := want(p, Field{Key: "gravity", Label: "gravity", Value: n.model.gravity, From: from}, readGravity, "give the gravity of the must, e.g. 1.084")
		b.honey, b.fruit = n.honey(p, b), askFruit(p, false)
		first, as := n.asModel(b, aim)
		switch all := b.portions(); {
		case len(p.wrong) > 0:
		case as:
			b.honey[0].Mass, b.asModel = first, true
		default:
			rest, err := honey.MoreHoneyFor(aim.Value, b.volume.Value, all[0].Water, all[1:]...)
			if err != nil {
				n.refuse(p, b, err)
			}
			b.honey[0].Mass = n.weighed(rest)
		}
	case fromMasses:
		b.volume = may(p, volume, measure.ParseVolume)
		b.honey, b.fruit = n.honey(p, b), askFruit(p, false)
		b.water = may(p, Field{Key: "water", Label: "water", From: p.fill("worked out where left out, e.g. {2.9 L}")}, measure.ParseVolume)
	case fromWater:
		b.honey, b.fruit = n.honey(p, b), askFruit(p, false)
		b.water = want(p, Field{Key: "water", Label: "water", From: p.fill("that the honey goes into, e.g. {2.9 L}")}, measure.ParseVolume, p.fill("give the water, e.g. {2.9 L}"))
	}
	n.mix(p, &b)
	return b
}

// readGravity reads the gravity of a must on any scale.
func readGravity(text string) (measure.Given[measure.Gravity], error) {
	g, err := gravity.Parse(text)
	if err == nil {
		err = measure.InRange("gravity", g.Value, measure.LowestGravity, measure.HighestGravity, "")
	}
	if err != nil {
		return g, &measure.Error{Text: text, Problem: "is not the gravity of a must", Hint: "three or four decimals or another scale, e.g. 1.084 or 20.2bx"}
	}
	return g, nil
}

// mix calculates the must of honey and water, by the volume, else by the water.
func (n newFerment) mix(p *asking, b *batch) {
	if len(p.wrong) > 0 || !allWeighed(b.honey) || !b.volume.Known() && !b.water.Known() {
		return
	}
	whole, err := honey.Made(b.volume.Value, b.water.Value, b.portions()...)
	if err != nil {
		n.refuse(p, *b, err)
		return
	}
	b.gravity = whole.Gravity
	if !b.volume.Known() {
		b.volume = n.shown(whole.Volume)
	}
	if !b.water.Known() {
		b.water = n.shown(whole.Water)
	}
}

// refuse reports an impossible must at the field that causes it.
func (n newFerment) refuse(p *asking, b batch, err error) {
	key, eg := "honey", p.fill("e.g. {980 g}")
	if b.planned() {
		key, eg = "gravity", "e.g. 1.084"
	}
	var out *measure.OutOfRange
	if errors.As(err, &out) && out.Name == "volume" {
		key, eg = "volume", p.fill("e.g. {3.6 L}")
		if b.way == fromWater {
			key = "water"
		}
	}
	p.fail(key, measure.ErrorIn(err, p.units)+", "+eg)
}

// allWeighed reports whether there is honey, and all masses are known.
func allWeighed(parts []ferment.HoneyPart) bool {
	return len(parts) > 0 && !slices.ContainsFunc(parts, func(h ferment.HoneyPart) bool { return !h.Mass.Known() })
}

// portions returns honey for the figures, with the mean water of all honeys if unmeasured.
func portions(parts []ferment.HoneyPart) []honey.Portion {
	out := ferment.Map(parts, func(h ferment.HoneyPart) honey.Portion {
		return honey.Portion{Mass: h.Mass.Value, Water: h.Water.Or(honey.Typical)}
	})
	return out
}

// portions returns everything with sugar: the honey, then the juice of the fruit.
func (b batch) portions() []honey.Portion {
	out := portions(b.honey)
	kind, _ := ferment.FruitOf(b.fruit.Name)
	kind = kind.With(b.fruit.Sugar, b.fruit.Water)
	if juice := kind.Sugar + kind.Water; b.fruit.Mass.Known() && juice > 0 {
		out = append(out, honey.Portion{Mass: b.fruit.Mass.Value * measure.Mass(juice) / 100, Water: 100 * kind.Water / juice})
	}
	return out
}

// share returns the part of the must for one vessel.
func (n newFerment) share(b batch, volume measure.Given[measure.Volume]) ferment.Must {
	m := ferment.Must{Volume: volume, Honey: slices.Clone(b.honey), Water: b.water, Gravity: b.measured, PH: b.ph}
	if b.fruit.Name != "" {
		m.Fruit = []ferment.FruitPart{b.fruit}
	}
	if !b.volume.Known() || volume.Value == b.volume.Value {
		return m
	}
	part := float64(volume.Value / b.volume.Value)
	for i, h := range m.Honey {
		if h.Mass.Known() {
			m.Honey[i].Mass = n.weighed(h.Mass.Value * measure.Mass(part))
		}
	}
	for i, f := range m.Fruit {
		m.Fruit[i].Mass = n.weighed(f.Mass.Value * measure.Mass(part))
	}
	if m.Water.Known() {
		m.Water = n.shown(m.Water.Value * measure.Volume(part))
	}
	return m
}

var lotLabels = []string{"honey lot", "second lot", "third lot", "fourth lot"}

// numbered returns the key of a field for the nth of several; the first has no number.
func numbered(key string, i int) string {
	if i == 0 {
		return key
	}
	return fmt.Sprintf("%s-%d", key, i+1)
}

// honey asks for lots and masses; the first mass is calculated from a target gravity.
func (n newFerment) honey(p *asking, b batch) []ferment.HoneyPart {
	var parts []ferment.HoneyPart
	for i := range lotLabels {
		had := ferment.HoneyPart{}
		if i < len(n.model.honey) {
			had = n.model.honey[i]
		}
		h := ferment.HoneyPart{Lot: n.askLot(p, i, had, parts)}
		if i > 0 && h.Lot == "" {
			break
		}
		mass := Field{Key: numbered("honey", i), Label: "honey", Value: n.scaled(had, b.volume).Text, From: p.fill("its mass, e.g. {980 g}")}
		switch {
		case i > 0 || b.way == fromWater:
			h.Mass = want(p, mass, readHoney, p.fill("give its mass, e.g. {980 g}"))
		case b.way == fromMasses:
			h.Mass = may(p, mass, readHoney)
		}
		water := n.lotWater(numbered("honey-water", i), "honey water", h.Lot)
		if had.Water.Known() && (h.Lot == had.Lot || water.Value == "") {
			water.Value, water.From = had.Water.Text, "as in "+n.model.ID
		}
		h.Water = may(p, water, readHoneyWater)
		if h != (ferment.HoneyPart{}) || b.way != fromMasses {
			parts = append(parts, h)
		}
		if h.Lot == "" {
			break
		}
	}
	return parts
}

// askLot asks for one more lot, if there is any.
func (n newFerment) askLot(p *asking, i int, had ferment.HoneyPart, taken []ferment.HoneyPart) string {
	var ids []string
	for _, l := range n.s.Cellar.Lots {
		if !n.account(l).Left.Gone() && !slices.ContainsFunc(taken, func(h ferment.HoneyPart) bool { return h.Lot == l.ID }) {
			ids = append(ids, l.ID)
		}
	}
	if len(ids) == 0 {
		return ""
	}
	likely := none
	switch {
	case slices.Contains(ids, had.Lot):
		likely = had.Lot
	case i == 0 && n.model.ID == "":
		likely = ids[0]
	}
	return p.chooseAny(Field{Key: numbered("lot", i), Label: lotLabels[i], Value: likely, Words: append(ids, none), More: i > 0})
}

// lotWater returns the field for the water in a lot's honey, by its measurement.
func (r record) lotWater(key, label, id string) Field {
	f := Field{Key: key, Label: label, From: honey.Typical.String() + " where nobody measured it", More: true}
	l, _ := r.lot(id)
	if w := larder.WaterOf(l); w.Known() {
		f.Value, f.From = cmp.Or(l.Water.Text, w.Share.String()), "measured in "+id
	}
	return f
}

var readHoney = within(measure.ParseMass, func(m measure.Mass) bool { return m >= measure.Grams(1) },
	"is less than a gram of honey", "a number and g, kg, oz or lb, e.g. {980 g}")

var readHoneyWater = within(measure.ParseShare, func(w measure.Share) bool { _, err := honey.Index(w); return err == nil },
	"is not the water in a honey", "12 to 26 %, e.g. 17.2 %")
