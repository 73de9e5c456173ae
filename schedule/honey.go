package schedule

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
)

// LotNotice is what to know of a honey lot before it is used, or left to stand.
type LotNotice struct {
	Lot     string // the id
	Reason  string
	Caution Caution
}

// LotNotices are the lots that will not keep and those of treated hives, in
// their order. One that is used up is left out; closed ferments count where the
// cellar holds them.
func LotNotices(c ferment.Cellar, now time.Time) []LotNotice {
	var out []LotNotice
	for _, a := range larder.All(c.Lots, c.OpenAndPast(), now) {
		out = append(out, noticesOf(a)...)
	}
	return out
}

func noticesOf(a larder.Account) []LotNotice {
	var out []LotNotice
	if a.Left.Gone() {
		return nil
	}
	if says, keepsNot := KeepsNot(a); keepsNot {
		name := "wet-honey"
		if a.IsWash() {
			name = "cappings-wash"
		}
		out = append(out, LotNotice{a.Lot.ID, says, Warning(name)})
	}
	if a.Treated() {
		out = append(out, LotNotice{a.Lot.ID, "its hive was treated: " + a.Lot.Treated, Warning("hive-treatment")})
	}
	return out
}

// KeepsNot is why a lot will not keep: what it is, and what that asks for.
func KeepsNot(a larder.Account) (says string, keepsNot bool) {
	switch {
	case a.WashOver():
		return fmt.Sprintf("cappings wash, %d days old: it ferments by itself; use it now", int(a.Age.Hours()/24)), true
	case a.IsWash():
		return "cappings wash: use it within a day or two", true
	case !a.Water.Known():
		return "", false
	}
	water := measure.Decimal(float64(a.Water.Share), 1) + " % water"
	switch honey.KeepingOf(a.Water.Share) {
	case honey.First:
		return water + ": use it first", true
	case honey.AtOnce:
		return water + ": use it now", true
	}
	return "", false
}

// LotCautions are what to know of a lot, the loudest first: what its record
// says, and what holds of any honey.
func LotCautions(a larder.Account) []Caution {
	var out []Caution
	for _, n := range noticesOf(a) {
		out = append(out, n.Caution)
	}
	toxic := Caution{Name: "toxic-nectar", Loud: Note, Text: cautions["toxic-nectar"]}
	if fromToxicBloom(a.Lot) {
		toxic.Loud = Warn
		out = append(out, toxic)
		return append(out, Caution{Name: "infants", Loud: Note, Text: cautions["infants"]})
	}
	return append(out, Caution{Name: "infants", Loud: Note, Text: cautions["infants"]}, toxic)
}

// toxicBlooms are the plants whose nectar makes honey that poisons: those that a
// bee culture's guide and a review of grayanotoxin honey name.
var toxicBlooms = []string{"rhododendron", "azalea", "laurel", "kalmia", "pieris"}

func fromToxicBloom(l ferment.Lot) bool {
	text := strings.ToLower(l.ID + " " + l.Name + " " + l.Note)
	for _, plant := range toxicBlooms {
		if strings.Contains(text, plant) {
			return true
		}
	}
	return false
}

// Warning is the caution of a name, as a warning.
func Warning(name string) Caution { return Caution{Name: name, Loud: Warn, Text: cautions[name]} }
