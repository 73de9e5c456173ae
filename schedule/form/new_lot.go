package form

import (
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
)

// lotLabels name the lots of a must: there are at most so many.
var lotLabels = []string{"honey lot", "second lot", "third lot", "fourth lot"}

// numbered is the key of a field of one lot: "honey", "honey-2".
func numbered(key string, i int) string {
	if i == 0 {
		return key
	}
	return fmt.Sprintf("%s-%d", key, i+1)
}

// honey asks for the lots of a must, and for their masses; that of the first
// comes of the gravity where one is aimed at.
func (n newFerment) honey(p *page, b batch) []ferment.HoneyPart {
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
		mass := Field{Key: numbered("honey", i), Label: "honey", Value: n.scaled(had, b.volume).Text, From: "its mass, " + n.egMass(980)}
		switch {
		case i > 0 || b.way == fromWater:
			h.Mass = want(p, mass, readHoney, "give its mass, "+n.egMass(980))
		case b.way == fromMasses:
			h.Mass = may(p, mass, readHoney)
		}
		h.Water = n.askWater(p, i, had, h.Lot)
		if h != (ferment.HoneyPart{}) || b.way != fromMasses {
			parts = append(parts, h)
		}
		if h.Lot == "" {
			break
		}
	}
	return parts
}

// askLot asks for one lot that the must has none of yet, where there is any.
func (n newFerment) askLot(p *page, i int, had ferment.HoneyPart, taken []ferment.HoneyPart) string {
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
	chosen := p.choose(Field{Key: numbered("lot", i), Label: lotLabels[i], Value: likely, Words: append(ids, none)})
	if chosen == none {
		return ""
	}
	return chosen
}

// askWater asks for the water in one lot's honey, as it was or as it was
// measured.
func (n newFerment) askWater(p *page, i int, had ferment.HoneyPart, id string) measure.Given[measure.Share] {
	f := Field{Key: numbered("honey-water", i), Label: "water in it", Value: had.Water.Text, From: "as in " + n.model.ID}
	if l, is := n.lot(id); is && (f.Value == "" || id != had.Lot) {
		f.Value, f.From = waterIn(l), "measured of "+id
	}
	if f.Value == "" {
		f.From = honey.Typical.String() + " where nobody measured it"
	}
	return may(p, f, readHoneyWater)
}

func (n newFerment) lot(id string) (ferment.Lot, bool) {
	i := slices.IndexFunc(n.s.Cellar.Lots, func(l ferment.Lot) bool { return l.ID == id })
	if i < 0 {
		return ferment.Lot{}, false
	}
	return n.s.Cellar.Lots[i], true
}

// account is what was taken of a lot, by open and closed ferments.
func (n newFerment) account(l ferment.Lot) larder.Account { return larder.Of(l, n.all, n.s.At) }

// waterIn is the water in a lot as a text, "" where nobody measured it.
func waterIn(l ferment.Lot) string {
	w := larder.WaterOf(l)
	if l.Water.Known() || !w.Known() {
		return l.Water.Text
	}
	return w.Share.String()
}

// readHoney reads a mass of honey that there can be.
func readHoney(text string) (measure.Given[measure.Mass], error) {
	m, err := measure.ParseMass(text)
	if err == nil && m.Value < measure.Grams(1) {
		err = &measure.Error{Text: text, Problem: "is less than a gram of honey", Hint: "a number and g, kg, oz or lb, e.g. 980 g"}
	}
	return m, err
}

// readHoneyWater reads the water in honey, of which there is never less or more
// than the figures hold for.
func readHoneyWater(text string) (measure.Given[measure.Share], error) {
	w, err := measure.ParseShare(text)
	if err == nil {
		if _, out := honey.Index(w.Value); out != nil {
			err = &measure.Error{Text: text, Problem: "is not the water in a honey", Hint: "12 to 26 %, e.g. 17.2 %"}
		}
	}
	return w, err
}
