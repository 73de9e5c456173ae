package form

import (
	"cmp"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// headroom is the share of a vessel that stays empty at its neck, where a bung
// and an airlock go (common practice, no source).
const headroom = 0.03

// neck is how much fills a vessel to its neck.
func neck(brimful measure.Volume) measure.Volume { return brimful * (1 - headroom) }

// into asks for the vessel that something goes into, proposed to fit what it will
// hold. A suffix tells its keys from those of a second one.
func (j jug) into(p *page, suffix, label string, holds measure.Volume) ferment.Vessel {
	proposed := j.stands()
	if fits, ok := j.smaller(holds, proposed.Brimful.Value); ok && holds > 0 {
		proposed = fits
	}
	kind := p.ask(Field{Key: "to" + suffix, Label: label, Value: cmp.Or(proposed.Kind, "glass jug"), From: "the vessel, e.g. glass jug"})
	brimful := may(p, Field{Key: "brimful" + suffix, Label: "brimful", Value: proposed.Brimful.Text, From: "filled to the brim, e.g. 3.6 L"}, measure.ParseVolume)
	if brimful.Known() && brimful.Value <= 0 {
		p.fail("brimful"+suffix, brimful.Text+" hold nothing: fill it to the brim and measure, e.g. 3.6 L")
	}
	if kind == "" && !brimful.Known() {
		return ferment.Vessel{}
	}
	return ferment.Vessel{Kind: kind, Brimful: brimful, Declared: true}
}

// stands is the vessel that the mead stands in now.
func (j jug) stands() ferment.Vessel {
	v := j.v.Ferment.Vessel
	for _, e := range j.v.Course.Entries {
		if e.To.Kind != "" || e.To.Brimful.Known() {
			v = e.To
		}
	}
	return v
}

// smaller is the smallest vessel of the cellar that holds so much to its neck
// and is smaller than another.
func (j jug) smaller(holds, than measure.Volume) (best ferment.Vessel, ok bool) {
	for _, other := range j.s.Vessels {
		v := jug{j.s, other}.stands()
		b := v.Brimful
		if !b.Known() || neck(b.Value) < holds || than > 0 && b.Value >= than {
			continue
		}
		if !ok || b.Value < best.Brimful.Value {
			best, ok = v, true
		}
	}
	return best, ok
}

func vesselWords(v ferment.Vessel) string {
	words := strings.TrimSpace(cmp.Or(v.Kind, "a vessel"))
	if v.Brimful.Known() {
		words += " of " + v.Brimful.Text
	}
	return words
}
