package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// TestLotNotices: 18.6 and 20 % are the limits of the United States Standards
// for Grades of Extracted Honey (1985) and of Codex Stan 12-1981; the refractive
// indices are those of 18.6 and 20.0 % at 20 °C in AOAC 969.38.
func TestLotNotices(t *testing.T) {
	wet := func(w float64) ferment.Lot { return ferment.Lot{Water: measure.Give(measure.Share(w), "as measured")} }
	index := func(n float64) ferment.Lot { return ferment.Lot{RefractiveIndex: measure.Give(n, "as read")} }
	treated := func(with string) ferment.Lot { return ferment.Lot{Treated: with} }
	gone := wet(21)
	gone.Mass, gone.Used = measure.Give(measure.Grams(500), "500 g"), []ferment.Use{{Mass: measure.Give(measure.Grams(500), "500 g")}}
	some := gone
	some.Used = some.Used[:0]
	both := wet(21)
	both.Treated = "thymol, 2026-08-02"
	wash := ferment.Lot{State: "cappings-wash", Taken: ferment.At(at("0d 06:00")), Water: measure.Give(measure.Share(70), "70 %")}
	old := wash
	old.Taken = ferment.At(at("0d 06:00").AddDate(0, 0, -3))
	for _, c := range []struct {
		what string
		lot  ferment.Lot
		want []string
	}{
		{"nothing known", ferment.Lot{}, nil},
		{"dry", wet(17.2), nil},
		{"at the grade's limit", wet(18.6), nil},
		{"over it", wet(18.7), []string{"18.7 % water: use it first"}},
		{"at the table's limit", wet(20), []string{"20.0 % water: use it first"}},
		{"over it", wet(20.1), []string{"20.1 % water: use it now"}},
		{"18.6 % by the glass", index(1.4900), nil},
		{"wetter by the glass", index(1.4890), []string{"19.0 % water: use it first"}},
		{"no index of honey", index(1.33), nil},
		{"used up", gone, nil},
		{"not used up", some, []string{"21.0 % water: use it now"}},
		{"untreated", treated("none"), nil},
		{"treated", treated("thymol, 2026-08-02"), []string{"its hive was treated: thymol, 2026-08-02"}},
		{"cappings wash", wash, []string{"cappings wash: use it within a day or two"}},
		{"too old for one", old, []string{"cappings wash, 3 days old: it ferments by itself; use it now"}},
		{"both", both, []string{"21.0 % water: use it now", "its hive was treated: thymol, 2026-08-02"}},
	} {
		var got []string
		for _, n := range schedule.LotNotices(ferment.Cellar{Lots: []ferment.Lot{c.lot}}, at("0d 12:00")) {
			got = append(got, n.Reason)
			assert.Equal(t, schedule.Warn, n.Caution.Loud, c.what)
			assert.NotEmpty(t, n.Caution.Text, c.what)
		}
		assert.Equal(t, c.want, got, c.what)
	}
}

// Facts about any honey are notes; those in its record are warnings.
func TestLotCautions(t *testing.T) {
	for _, c := range []struct {
		lot  ferment.Lot
		want string
	}{
		{ferment.Lot{Name: "heather"}, "note infants, note toxic-nectar"},
		{ferment.Lot{Name: "Rhododendron by the house"}, "warn toxic-nectar, note infants"},
		{ferment.Lot{Note: "some azalea in it", Treated: "thymol"}, "warn hive-treatment, warn toxic-nectar, note infants"},
		{ferment.Lot{State: "cappings-wash"}, "warn cappings-wash, note infants, note toxic-nectar"},
		{ferment.Lot{Water: measure.Give(measure.Share(21), "21 %"), Treated: "NONE"}, "warn wet-honey, note infants, note toxic-nectar"},
	} {
		var got []string
		for _, w := range schedule.LotCautions(larder.Of(c.lot, nil, at("0d 12:00"))) {
			got = append(got, string(w.Loud)+" "+w.Name)
			assert.NotEmpty(t, w.Text)
		}
		assert.Equal(t, c.want, strings.Join(got, ", "), "%+v", c.lot)
	}
}
