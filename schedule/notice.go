package schedule

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/lineage"
	"cellar/jugkeeper/ferment/measure"
)

// LotNotice is what to know of a honey lot before it is used, or left to stand.
type LotNotice struct {
	Lot     string // the id
	Reason  string
	Caution Caution
}

// LotNotices returns the lots that will not keep and those of treated hives, in
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

// KeepsNot returns why a lot will not keep: what it is, and what that asks for.
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

// LotCautions returns what to know of a lot, the loudest first: what its record
// says, and what holds of any honey.
func LotCautions(a larder.Account) []Caution {
	out := ferment.Map(noticesOf(a), func(n LotNotice) Caution { return n.Caution })
	infants, toxic := CautionOf("infants", measure.Metric), CautionOf("toxic-nectar", measure.Metric)
	text := strings.ToLower(a.Lot.ID + " " + a.Lot.Name + " " + a.Lot.Note)
	if slices.ContainsFunc(toxicBlooms, func(plant string) bool { return strings.Contains(text, plant) }) {
		toxic.Loud = Warn
		return append(out, toxic, infants)
	}
	return append(out, infants, toxic)
}

// toxicBlooms are the plants whose nectar makes honey that poisons: those that a
// bee culture's guide and a review of grayanotoxin honey name.
var toxicBlooms = []string{"rhododendron", "azalea", "laurel", "kalmia", "pieris"}

// CultureCautions returns what to know of a culture as its record stands, the
// loudest first. Of one that was thrown away there is nothing to know.
func CultureCautions(c course.Course) []Caution {
	if c.Over() {
		return nil
	}
	seen := func(word string) bool {
		return slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return e.Saw(word) })
	}
	var out []Caution
	ps := lineage.Passages(c)
	if seen("mould") {
		out = append(out, Caution{"mould", Stop, "mould was seen in it: throw all of it away, untasted"})
	} else if seen("film") {
		out = append(out, Caution{"film", Warn, "a film was seen on it: it goes no further until it is known what grows"})
	}
	if len(ps) > 0 && ps[len(ps)-1].SmellsBad() {
		out = append(out, Caution{"discard", Stop, "it smells bad: throw it away, untasted"})
	}
	if caution := AcidCaution(c.PH.Value); c.PH.IsKnown() && caution != nil {
		out = append(out, *caution)
	}
	if len(ps) > 0 && ps[len(ps)-1].Outcome == lineage.Idle {
		out = append(out, Caution{"discard", Warn, "no gas and no sediment in 14 days: throw it away, untasted"})
	}
	if unmet := lineage.Unsipped(c); len(unmet) > 0 && len(ps) > 0 {
		first := Warning("do-not-taste")
		if unmet[0] == lineage.NotProved {
			first.Text += "; " + lineage.NotProved
		} else {
			first.Text += "; a sip wants " + strings.Join(unmet, ", ")
		}
		out = append(out, first)
	}
	if course.VerdictOf(*c.Culture, c.Now) == "usable" && lineage.Stale(c) {
		out = append(out, Caution{"refresh", Warn, "more than three months in one medium: refresh it before it is pitched, and smell it first"})
	}
	if _, stored := c.Last(ferment.Backup); stored {
		out = append(out, CautionOf("sealed-jar", c.Settings.Units))
	}
	loudness := []Loud{Stop, Warn, Note}
	slices.SortStableFunc(out, func(a, b Caution) int { return slices.Index(loudness, a.Loud) - slices.Index(loudness, b.Loud) })
	return out
}

// AcidCaution returns what too little acid in a medium for wild yeast means; nil where
// there is enough.
func AcidCaution(ph measure.PH) *Caution {
	switch {
	case ph > lowAcid:
		return &Caution{"low-acid", Stop, fmt.Sprintf("the medium is at pH %s, over %s: never keep it closed; throw it away, or bring it to %s or less", ph, lowAcid, selective)}
	case ph > selective:
		return &Caution{"low-acid", Warn, fmt.Sprintf("the medium is at pH %s: %s or less keeps other things from growing", ph, selective)}
	}
	return nil
}

// selective is the pH that a medium for wild yeast has at most (common practice,
// no source).
const selective measure.PH = 4.2

// lowAcid is the pH above which a wet medium may not stand closed: 21 CFR
// 114.3, the line for growth of botulinum in foods.
const lowAcid measure.PH = 4.6
