package schedule

import (
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/shelf"
)

// BottledCaution returns what a batch of bottles wants watched, as loud as what
// stands in the record: too much pressure seen or heard, more than the weakest of the
// bottles stands, a place over the warmest that they are reckoned for. Nil where
// nothing is to be watched.
func BottledCaution(c course.Course, s shelf.Shelf, batch int) *Caution {
	b, u := s.Batches[batch], c.Settings.Units
	if sign, has := s.SignOf(c, batch); has {
		said := CautionOf("overpressure-drill", u)
		said.Loud = Stop
		if !sign.Chill.IsZero() {
			said = CautionOf("in-the-cold", u)
			said.Loud = Warn
		}
		said.Text = sign.Says + " on " + dated(sign.At.In(c.Settings.Zone)) + "; " + said.Text
		return &said
	}
	if b.Still() {
		return nil
	}
	if p := shelf.PressureOf(c, b); p.IsKnown() && p.Value.Strain.IsKnown() && p.Value.Strain.Value.Load() == carbonation.Over {
		return &Caution{Name: "bottle-pressure", Loud: Stop, Text: p.Value.Strain.Value.In(u) + "; " + CautionOf("overpressure-drill", u).Text}
	}
	if why, hot := (filling{record: newRecord(c)}).heat(); hot {
		return &Caution{Name: "bottle-heat", Loud: Stop, Text: why + "; " + coolPlace}
	}
	crate := CautionOf("crate", u)
	crate.Loud = Warn
	return &crate
}
