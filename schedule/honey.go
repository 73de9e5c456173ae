package schedule

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// LotNotice is what to know of a honey lot before it is used, or left to stand.
type LotNotice struct {
	Lot     string // the id
	Reason  string
	Caution Caution
}

// LotNotices are the lots that will not keep and those of treated hives, in
// their order. One that is used up is left out.
func LotNotices(lots []ferment.Lot, fs []ferment.Ferment) []LotNotice {
	var out []LotNotice
	for _, l := range lots {
		if left, weighed := l.Left(fs); weighed && left <= 0 {
			continue
		}
		if n, ok := wetLot(l); ok {
			out = append(out, n)
		}
		if l.Treated != "" && l.Treated != "none" {
			out = append(out, LotNotice{l.ID, "its hive was treated: " + l.Treated, Warning("hive-treatment")})
		}
	}
	return out
}

// wetLot is the notice of a lot whose water lets it ferment.
func wetLot(l ferment.Lot) (LotNotice, bool) {
	water, known := WaterOf(l)
	if !known {
		return LotNotice{}, false
	}
	says := map[honey.Keeping]string{honey.ThisYear: ": use it this year", honey.AtOnce: ": use it now"}[honey.KeepingOf(water)]
	return LotNotice{l.ID, measure.Decimal(float64(water), 1) + " % water" + says, Warning("wet-honey")}, says != ""
}

// WaterOf is the water in a lot: measured, else by its refractive index.
func WaterOf(l ferment.Lot) (measure.Share, bool) {
	if l.Water.Known() || !l.RefractiveIndex.Known() {
		return l.Water.Value, l.Water.Known()
	}
	water, err := honey.Water(gravity.Index(l.RefractiveIndex.Value), l.ReadAt.Or(readAt))
	return water, err == nil
}

// readAt is where a refractometer was read, if nobody said.
const readAt measure.Temperature = 20

// Warning is the caution of a name, as a warning.
func Warning(name string) Caution { return Caution{Name: name, Loud: Warn, Text: cautions[name]} }
