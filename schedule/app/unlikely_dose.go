package app

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
	"cellar/jugkeeper/schedule"
)

// When a dose is unlikely (common practice, no source): more than 1.5 times the plan, or less than a third of it; the
// same again within six hours.
const (
	overPlan  = 1.5
	underPlan = 1.0 / 3
	doseAgain = 6 * time.Hour
	backdated = 12 * time.Hour // how old a dose may be if later entries exist
)

// mostOf is the most of an act for a litre; in all includes earlier ones.
var mostOf = map[ferment.Act]struct {
	most  measure.Content
	inAll bool
	why   string
}{
	// 27 CFR 24.246 for ammonium phosphate, as nutrient.MostAmmonium; nitrogen has its own limit.
	ferment.Buffer:   {nutrient.MostBuffer, true, "it would taste of salt"},
	ferment.Acid:     {4, false, "it would taste sour"},                                         // common practice, no source
	ferment.Sulphite: {0.35, true, "that is 200 mg/L of sulphur dioxide, the limit for a wine"}, // OIV, from memory
	ferment.Sorbate:  {0.27, true, "that is 200 mg/L of sorbic acid, the limit for a wine"},     // OIV, from memory
	ferment.Prime:    {12, false, "bottles burst from so much"},                                 // 6 g/L of gas, more than a crown bottle is made for
	ferment.Honey:    {250, false, "it would stop the yeast"},                                   // common practice, no source
	ferment.FruitIn:  {900, false, "it leaves no room for the must"},                            // common practice, no source
}

// Dose compares a typed amount with what is planned and wanted.
type Dose struct {
	Planned *schedule.Amount // nil if none is planned
	Factor  float64          // typed over planned amount; 0 if one is unknown
	Reached measure.Content  // nitrogen in a litre with it; 0 for other acts
	Wanted  measure.Content
}

// doseOf returns what a typed amount means; not ok for an entry without one.
func doseOf(v, after Vessel, e ferment.Entry) (Dose, bool) {
	if e.Did == "" || !e.Amount.Given() || e.Amount.Unknown {
		return Dose{}, false
	}
	d := Dose{Planned: plannedFor(v, e)}
	if d.Planned != nil && d.Planned.Number > 0 {
		if typed, ok := inUnit(e, d.Planned.Unit); ok {
			d.Factor = typed / d.Planned.Number
		}
	}
	if e.Did == ferment.Nutrient {
		d.Reached, d.Wanted = reached(v.Course, after.Course, d)
	}
	return d, true
}

// plannedFor returns the plan's amount for an entry of the same thing, else the calculated one.
func plannedFor(v Vessel, e ferment.Entry) *schedule.Amount {
	t, ok := TaskMeant(v, cmp.Or(e.Step, string(e.Did)))
	a := t.Amount
	if !ok || t.Do != string(e.Did) || a == nil || !a.Known || a.Number <= 0 || over(t.State) && t.State != schedule.Lapsed {
		if e.Did == ferment.Nutrient || e.Did == ferment.Honey {
			return nil // these depend on the step
		}
		if a = schedule.AmountBy(v.Course, e.Did); !a.Known || a.Number <= 0 {
			return nil
		}
	}
	if e.Of != "" && a.Of != "" && !strings.EqualFold(e.Of, a.Of) {
		return nil
	}
	return a
}

// inUnit converts an entry's amount to a unit; a solution counts by its contents.
func inUnit(e ferment.Entry, unit string) (float64, bool) {
	if unit == "g" {
		m, ok := e.Mass()
		return m.Grams(), ok
	}
	if v, ok := e.Amount.Volume(); ok && unit == "mL" {
		return v.Millilitres(), true
	}
	return e.Amount.Number, e.Amount.Unit == unit && unit != ""
}

// reached returns the nitrogen with a dose, counted like the plan does.
func reached(before, after *course.Course, d Dose) (is, wanted measure.Content) {
	if p := d.Planned; p != nil && d.Factor > 0 && p.Wanted > 0 {
		return p.Before + (p.Reached-p.Before)*measure.Content(d.Factor), p.Wanted
	}
	if !after.Nitrogen.Wanted.IsKnown() || after.Nitrogen.Guessed > before.Nitrogen.Guessed {
		return 0, 0
	}
	return after.Nitrogen.Given, after.Nitrogen.Wanted.Value
}

// unlikelyDose asks about an amount far from the plan, over a limit, or given just before.
func unlikelyDose(s Snapshot, v, after Vessel, e ferment.Entry) []Ask {
	d, ok := doseOf(v, after, e)
	if !ok {
		return nil
	}
	asks := farFromPlan(e, d)
	if len(asks) == 0 {
		asks = overLimit(v, after, e, d)
	}
	if len(asks) == 0 {
		asks = unweighed(e, d)
	}
	return slices.Concat(asks, overLot(s, e), OverCulture([]Vessel{v}, func(Vessel) []ferment.Entry { return []ferment.Entry{e} }))
}

// farFromPlan asks about a dose that is far from the planned one.
func farFromPlan(e ferment.Entry, d Dose) []Ask {
	if d.Factor == 0 || !isFar(e.Did, d) {
		return nil
	}
	return []Ask{{Part: e.Amount.Text, Meant: likelyAmounts(e, d),
		Says: fmt.Sprintf("%s is %s the plan, %s", e.Amount.Text, times(d.Factor), AsShown(d.Planned).Text)}}
}

// packets are the grams of dry yeast sold in one or two packets (common practice, no source).
var packets = []float64{5, 7, 10, 11, 11.5, 14}

// isFar reports whether an amount is far from the plan, or lacks one of the planned digits.
func isFar(act ferment.Act, d Dose) bool {
	typed := d.Factor * d.Planned.Number
	if d.Factor > overPlan && act == ferment.Pitch && slices.ContainsFunc(packets, func(g float64) bool { return math.Abs(typed-g) < 0.01 }) {
		return near(d.Factor, 10)
	}
	least := underPlan
	if whole, part := math.Modf(AsShown(d.Planned).Number); whole > 0 && (math.Abs(typed-part) < 1e-6 || math.Abs(typed-whole) < 1e-6) {
		least = 0.7 // .6 or 1 instead of 1.6
	}
	return d.Factor > overPlan+1e-9 || d.Factor < least-1e-9
}

// times writes a factor: "ten times", "a tenth of".
func times(f float64) string {
	switch {
	case near(f, 100):
		return "a hundred times"
	case near(f, 10):
		return "ten times"
	case near(f, 0.1):
		return "a tenth of"
	case near(f, 0.01):
		return "a hundredth of"
	case f < underPlan:
		return "less than a third of"
	case f < 1:
		return measure.Decimal(100*f, 0) + " % of"
	case f < 10:
		return measure.Decimal(f, 1) + " times"
	}
	return measure.Decimal(f, 0) + " times"
}

// near reports whether a factor is within 8 % of another.
func near(f, whole float64) bool { return math.Abs(f/whole-1) < 0.08 }

// likelyAmounts returns amounts near the plan that a slip could have turned into the typed one: a decimal point, a
// doubled digit, two digits swapped, grams for millilitres of the solution.
func likelyAmounts(e ferment.Entry, d Dose) []Meant {
	var meant []Meant
	for _, n := range slips(e.Amount.Number) {
		if fits := d.Factor * n / e.Amount.Number; fits >= 0.67 && fits <= overPlan {
			meant = append(meant, guess(measure.Of(n, e.Amount.Unit).Text))
			break
		}
	}
	// A dose of 14 where 1.4 g are planned is 14 mL of a solution of 10 g in 100 mL.
	if _, isMass := e.Amount.Mass(); isMass && e.Amount.Unit == "g" && e.Did == ferment.Nutrient && near(d.Factor, 10) {
		ml := measure.Of(e.Amount.Number, "mL").Text
		meant = append(meant, Meant{Type: ml + " stock=10%", Says: ml + " of the 10 % solution"})
	}
	if len(meant) == 0 {
		meant = append(meant, guess(AsShown(d.Planned).Text))
	}
	return meant
}

// slips returns the numbers that one slip could have turned into n, the most common first.
func slips(n float64) []float64 {
	out := []float64{n / 10, n * 10, n / 100, n * 100}
	text := measure.Of(n, "").Text // two digits swapped, one doubled
	add := func(text string) {
		if v, err := measure.ParseNumber(text); err == nil && v != n && v > 0 {
			out = append(out, v)
		}
	}
	for i := 0; i+1 < len(text); i++ {
		if !isDigit(text[i]) || !isDigit(text[i+1]) {
			continue
		}
		if text[i] == text[i+1] {
			add(text[:i] + text[i+1:])
		} else {
			add(text[:i] + string(text[i+1]) + string(text[i]) + text[i+2:])
		}
	}
	return out
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// overLimit asks about more nitrogen than is wanted, and more of anything than a litre may have.
func overLimit(v, after Vessel, e ferment.Entry, d Dose) []Ask {
	if e.Did == ferment.Nutrient {
		more := measure.Content(1.1)
		if e.Overrode != "" { // a reason was given for more
			more = 2
		}
		switch {
		case d.Wanted > 0 && d.Reached > d.Wanted*more:
			return []Ask{{Part: e.Amount.Text, Says: fmt.Sprintf("%s brings nitrogen to %.0f of %.0f mg/L", e.Amount.Text, d.Reached.MilligramsPerLitre(), d.Wanted.MilligramsPerLitre())}}
		case after.Course.Nitrogen.Salt > nutrient.MostAmmonium*more && after.Course.Nitrogen.Salt > v.Course.Nitrogen.Salt:
			return []Ask{{Part: e.Amount.Text, Says: fmt.Sprintf("%s makes %s of ammonium salt in each litre: %s is the limit", e.Amount.Text,
				measure.Decimal(float64(after.Course.Nitrogen.Salt), 2)+" g", measure.Decimal(float64(nutrient.MostAmmonium), 2)+" g")}}
		}
		return nil
	}
	limit, has := mostOf[e.Did]
	mass, weighed := e.Mass()
	if !has || !weighed || !v.Course.Volume.IsKnown() || v.Course.Volume.Value <= 0 {
		return nil
	}
	if limit.inAll {
		mass += v.Course.Given(e.Did)
	}
	each := measure.Content(mass.Grams() / float64(v.Course.Volume.Value))
	if each <= limit.most*1.02 {
		return nil
	}
	return []Ask{{Part: e.Amount.Text, Says: fmt.Sprintf("%s comes to %s g in each litre of %s, at most %s: %s", e.Amount.Text,
		measure.Decimal(float64(each), 1), v.Course.Volume.Value, measure.Decimal(float64(limit.most), 2)+" g", limit.why)}}
}

// powders are acts with powders, whose volume says little about their mass.
var powders = []ferment.Act{ferment.Nutrient, ferment.Buffer, ferment.Acid, ferment.Sulphite, ferment.Sorbate, ferment.Prime}

// unweighed asks about a volume of a powder, unless the strength of a solution is given.
func unweighed(e ferment.Entry, d Dose) []Ask {
	if _, is := e.Amount.Volume(); !is || e.Stock.Known() || !slices.Contains(powders, e.Did) {
		return nil
	}
	if e.Amount.Spoon() {
		ask := Ask{Part: e.Amount.Text, Says: e.Amount.Text + " is a volume: a teaspoon of powder weighs anything from 3 to 6 g, so weigh it"}
		if d.Planned != nil {
			ask.Meant = []Meant{guess(AsShown(d.Planned).Text)}
		}
		return []Ask{ask}
	}
	return []Ask{{Part: e.Amount.Text, Says: e.Amount.Text + " of a solution counts only with its strength",
		Meant: []Meant{{Type: e.Amount.Text + " stock=10%", Says: e.Amount.Text + " of the 10 % solution"}}}}
}

// overLot asks about more honey than is left of its lot.
func overLot(s Snapshot, e ferment.Entry) []Ask {
	mass, ok := e.Mass()
	if !ok || e.Lot == "" {
		return nil
	}
	l, has := ferment.FirstWhere(s.Cellar.Lots, func(l ferment.Lot) bool { return l.ID == e.Lot })
	left := larder.Of(l, s.Cellar.OpenAndPast(), s.At).Left
	if !has || !left.Weighed || mass <= left.Mass+left.Within+measure.Grams(0.5) {
		return nil
	}
	return []Ask{{Part: e.Amount.Text, Says: fmt.Sprintf("%s is more than is left of lot %s, %s", e.Amount.Text, l.ID, max(left.Mass, 0).In(s.Cellar.Settings.Units))}}
}

// OverCulture asks about a pitch of more than is left of a culture, by one vessel or by several together.
func OverCulture(vs []Vessel, entries func(Vessel) []ferment.Entry) []Ask {
	sums := map[string]measure.Volume{}
	for _, v := range vs {
		left, id, u := v.Ferment.Yeast.Stock, v.Ferment.Yeast.Culture, v.Course.Settings.Units
		for _, e := range entries(v) {
			volume, is := e.Amount.Volume()
			if !is || e.Did != ferment.Pitch || e.Line > 0 || left == nil || !left.Known { // what is in a file is counted already
				continue
			}
			if sums[id] += volume; sums[id] > left.Left+0.0005 {
				there := max(left.Left, 0).Small(u)
				return []Ask{{Part: e.Amount.Text, Says: fmt.Sprintf("%s is more than is left of culture %s, %s", sums[id].Small(u), id, there),
					Meant: ferment.Where([]Meant{guess(there)}, func(Meant) bool { return sums[id] == volume && left.Left > 0 })}}
			}
		}
	}
	return nil
}

// doses are the acts of which a second one on the same day is a slip.
var doses = []ferment.Act{ferment.Pitch, ferment.Nutrient, ferment.Buffer, ferment.Acid, ferment.Sulphite, ferment.Sorbate, ferment.Prime,
	ferment.Honey, ferment.FruitIn, ferment.Fine, ferment.ForcedTest, ferment.Rack}

// unlikelyAgain asks about the same act within an hour, a dose within six hours, a second start, a dose dated before
// later entries, and a step of the plan that is done already.
func unlikelyAgain(v Vessel, e ferment.Entry, now time.Time) []Ask {
	within, once := time.Hour, e.Did == ferment.Started
	if slices.Contains(doses, e.Did) {
		within = doseAgain
	}
	if e.Did != "" && !e.Did.ApartFromCourse() {
		for _, had := range slices.Backward(v.Course.Entries) {
			if had.At.Time.Equal(e.At.Time) && had.Amount.Text == e.Amount.Text {
				continue // the same entry, which is not written twice
			}
			same := had.Did == e.Did && (had.Of == "" || e.Of == "" || strings.EqualFold(had.Of, e.Of))
			if same && (once || had.At.Time.Sub(e.At.Time).Abs() <= within && !had.At.DayOnly) {
				return []Ask{{Part: e.Amount.Text, Says: strings.Join(strings.Fields(fmt.Sprintf("%s %s is written down already, %s: a second time? the other vessel?",
					e.Did, had.Amount.Text, had.At.Time.Format("2 Jan 15:04"))), " ")}}
			}
		}
	}
	if n := len(v.Course.Entries); n > 0 && within > time.Hour && now.Sub(e.At.Latest()) > backdated && v.Course.Entries[n-1].At.Time.After(e.At.Latest()) {
		return asked(fmt.Sprintf("%s of %s, and what came after it is written down already: another day?", e.Did, e.At.Time.Format("2 Jan 15:04")))
	}
	t, _ := TaskMeant(v, e.Step)
	if e.Step == "" || e.Did == "" || e.Overrode != "" || t.State != schedule.Done || t.Step != e.Step {
		return nil
	}
	return asked(fmt.Sprintf("%s is done already, %s: a second time?", t.Step, t.Settled.Format("2 Jan 15:04")))
}
