package schedule

import (
	"strings"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/shelf"
)

// BottledCaution is what a batch of bottles wants watched, as loud as what
// stands in the record: too much pressure seen or heard, more than the bottles
// stand, a place that is too hot. Nil where nothing is to be watched.
func BottledCaution(c course.Course, s shelf.Shelf, batch int) *Caution {
	b := s.Batches[batch]
	if sign, has := s.SignOf(c, batch); has {
		said := sign.Says + " on " + dated(sign.At.In(c.Settings.Zone)) + "; "
		if !sign.Chill.IsZero() {
			return &Caution{Name: "in-the-cold", Loud: Warn, Text: said + cautionText("in-the-cold", c.Settings.Units)}
		}
		return &Caution{Name: "overpressure-drill", Loud: Stop, Text: said + cautionText("overpressure-drill", c.Settings.Units)}
	}
	if b.Still() {
		return nil
	}
	return loudest(overStands(c, b), tooHot(c), &Caution{Name: "crate", Loud: Warn, Text: cautionText("crate", c.Settings.Units)})
}

func loudest(cs ...*Caution) *Caution {
	for _, c := range cs {
		if c != nil {
			return c
		}
	}
	return nil
}

// overStands is a pressure over what the weakest of the bottles stands.
func overStands(c course.Course, b shelf.Batch) *Caution {
	p := shelf.PressureOf(c, b)
	if !p.IsKnown() || !p.Value.Stands.IsKnown() || carbonation.LoadOf(p.Value.Hottest, p.Value.Stands.Value) != carbonation.Over {
		return nil
	}
	u := c.Settings.Units
	said := []string{p.Value.Hottest.In(u) + " at " + c.Settings.Hottest.In(u), "the " + p.Value.Kind + " stands " + p.Value.Stands.Value.In(u)}
	return &Caution{Name: "bottle-pressure", Loud: Stop, Text: strings.Join(append(said, cautionText("overpressure-drill", u)), "; ")}
}

// tooHot is a place over the warmest that the bottles are reckoned for.
func tooHot(c course.Course) *Caution {
	why, hot := filling{record: newRecord(c)}.heat()
	if !hot {
		return nil
	}
	return &Caution{Name: "bottle-heat", Loud: Stop, Text: why + "; " + coolPlace}
}
