package form

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// agreesWithin is by how much two calculations may differ: typed alcohol has one decimal, which is 0.5 % of the
// sorbate.
const agreesWithin = 0.006

// worked calculates a figure of the command line, with values as typed.
func worked(t *testing.T, s app.Snapshot, figure, result string, values map[string]string) float64 {
	t.Helper()
	f, err := bench.Find(figure)
	require.NoError(t, err)
	a, err := f.Work(values, s.Cellar.Settings)
	require.NoError(t, err)
	for _, r := range a.Results {
		if r.Name == result {
			return r.Value
		}
	}
	t.Fatalf("%s gives no %s", figure, result)
	return 0
}

// benched calculates the same figure on the bench, with the jug's values.
func benched(t *testing.T, s app.Snapshot, figure, label string) float64 {
	t.Helper()
	f, err := bench.Find(figure)
	require.NoError(t, err)
	typed := Values{}
	if figure == "prime" {
		typed["bottle"] = "crown beer bottle 330mL"
	}
	_, o := Figure(f, 0, s, "lime-a").Outcome(typed)
	require.Empty(t, wrong(o), figure)
	for _, n := range o.Numbers {
		if n.Label == label {
			var v float64
			_, err := fmt.Sscan(strings.ReplaceAll(n.Value, "−", "-"), &v)
			require.NoError(t, err, n.Value)
			return v
		}
	}
	t.Fatalf("%s shows no %s: %v", figure, label, o.Numbers)
	return 0
}

// TestOneJugOneFigure: the plan, the form, the bench, the command line and the shelf have the same figure for one jug,
// also with limits of the cellar.
func TestOneJugOneFigure(t *testing.T) {
	for name, change := range map[string]func(*ferment.Settings){
		"as it comes": func(*ferment.Settings) {},
		"own limits": func(s *ferment.Settings) {
			s.Limits.StoredAt = measure.Give[measure.Temperature](26, "26 °C")
			s.Limits.GasLeft = measure.Give[measure.Content](1.1, "1.1 g/L")
			s.Limits.Molecular = measure.Give(measure.MilligramsPerLitre(0.5), "0.5 mg/L")
			s.Limits.Fermentable = 84
			s.Hottest = 26
		},
	} {
		t.Run(name, func(t *testing.T) {
			dry := cellar(77, func(s *ferment.Settings) { strong(s); change(s) }, lime("lime-a", tested, ends(ferment.Still)))
			c := dry.Vessels[0].Course
			typed := map[string]string{"ph": "3.4", "volume": "3.2L", "alcohol": c.Alcohol.Value.String()}

			// sulphite and sorbate
			for act, label := range map[ferment.Act]string{ferment.Sulphite: "salt", ferment.Sorbate: "salt"} {
				plan := schedule.AmountBy(c, act)
				require.True(t, plan.Known, plan.Unknown)
				values := map[string]string{"volume": typed["volume"], "alcohol": typed["alcohol"]}
				if act == ferment.Sulphite {
					values["ph"] = typed["ph"]
				}
				assert.InEpsilon(t, plan.Number, worked(t, dry, string(act), "salt", values), agreesWithin, "work %s", act)
				assert.InEpsilon(t, plan.Number, benched(t, dry, string(act), label), agreesWithin, "bench %s", act)
				fields, _ := Rack(dry, dry.Vessels[0], Values{"what": "stabilise"}).Outcome(Values{"what": "stabilise"})
				for _, f := range fields {
					if f.Key == string(act) {
						q, err := measure.ParseQuantity(f.Value)
						require.NoError(t, err, f.Value)
						mass, is := q.Mass()
						if v, stock := q.Volume(); stock {
							mass, is = measure.Grams(v.Millilitres()/10), true // of the 10 % solution
						}
						require.True(t, is, f.Value)
						assert.InDelta(t, plan.Number, mass.Grams(), 0.006, "form %s, to the scale's 0.01 g", act)
					}
				}
			}

			// the sugar for the fizz, and the pressure that it makes
			fizzy := cellar(77, func(s *ferment.Settings) { strong(s); change(s) }, lime("lime-a", tested, ends(ferment.BottleConditioned)))
			c = fizzy.Vessels[0].Course
			plan := schedule.AmountBy(c, ferment.Prime)
			require.True(t, plan.Known, plan.Unknown)
			warmest := c.Warmest().Value.String()
			values := map[string]string{"volume": "3.2L", "alcohol": typed["alcohol"], "water": "18.1%", "warmest": warmest, "target": "5g/L", "bottle": "crown beer bottle 330mL", "filled": "18C"}
			assert.InEpsilon(t, plan.Number, worked(t, fizzy, "prime", "batch", values), agreesWithin)
			assert.InEpsilon(t, plan.Number, benched(t, fizzy, "prime", "sugar for all"), agreesWithin)
			_, o := Bottle(fizzy, fizzy.Vessels[0], nil).Outcome(nil)
			require.Empty(t, wrong(o), said(o))
			v, _ := jug{record{fizzy}, fizzy.Vessels[0]}.afterChange(o.Change, "lime-a")
			primed, _ := v.Course.Last(ferment.Prime)
			assert.Equal(t, app.AsShown(plan).Text, primed.Amount.Text, "form, and the water of the syrup: %s", said(o))
			assert.InDelta(t, 0.05*3.2, float64(primed.Medium.Value), 1e-6, "50 mL a litre, as the plan says")
			done, _, err := app.Settling(fizzy.Vessels[0], app.Wish{Step: "prime"}, fizzy.At)
			require.NoError(t, err)
			assert.Equal(t, primed.Amount.Text, done[len(done)-1].Amount.Text, "done")
			assert.Equal(t, primed.Medium.Text, done[len(done)-1].Medium.Text, "done")
			assert.Contains(t, said(o), "about "+v.Course.InBottles().Value.String()+";", "the label, thinned by that water")
			stock := shelf.Of(v.Course)
			require.NotEmpty(t, stock.Batches)
			p := shelf.PressureOf(v.Course, stock.Batches[0])
			require.True(t, p.IsKnown(), p.Unknown)
			at := fizzy.Cellar.Settings.Hottest.String()
			gauge := worked(t, fizzy, "pressure", "gauge", map[string]string{"co2": "5g/L", "alcohol": v.Course.Alcohol.Value.String(), "at": at, "filled": "18C"})
			assert.InDelta(t, gauge, float64(p.Value.Hottest), 0.03, "work and shelf")
			_, form, _ := strings.Cut(said(o), "at "+at+": ")
			var shown float64
			_, err = fmt.Sscan(form, &shown)
			require.NoError(t, err, said(o))
			assert.InDelta(t, gauge, shown, 0.06, "form, to 0.1 bar")

			// where it ends
			young := cellar(0.5, func(s *ferment.Settings) { strong(s); change(s) }, lime("lime-a", "0 pitch"))
			c = young.Vessels[0].Course
			finish := float64(c.Finish.Value)
			assert.InDelta(t, finish, worked(t, young, "finish", "gravity", map[string]string{"og": "1.084", "tolerance": "15%"}), 1e-4)
			assert.InDelta(t, finish, benched(t, young, "finish", "gravity"), 1e-4)
			assert.InDelta(t, float64(c.FinishAlcohol.Value), benched(t, young, "finish", "alcohol"), 0.06)
		})
	}
}

// TestScreensShowTheSameStrength: the label, the board and its card have the strength of the page after whatever went in.
func TestScreensShowTheSameStrength(t *testing.T) {
	for _, log := range []string{"", " | 70 top-up 0.2L of=water", " | 70 honey 60g", " | 70 blend 0.3L of=lime-b", ` | 70 top-up 0.3L of="the same mead"`, " | 70 top-up 0.2L of=other alcohol=9%"} {
		s := cellar(77, strong, lime("lime-a", tested+log, ends(ferment.Still)), lime("lime-b", "0 pitch | 20 1.010"))
		page := s.Vessels[0].Course.Alcohol
		require.True(t, page.IsKnown(), "%s: %s", log, page.Unknown)
		strength := measure.Decimal(float64(page.Value), 1)
		row := words.Of(s).Row("lime-a")
		assert.Equal(t, strength, row.Alcohol, "the board%s", log)
		card, _ := ferment.FirstWhere(row.Card.Figures, func(f words.Figure) bool { return f.Name == "alcohol" })
		assert.Equal(t, strength, card.Number, "its card%s", log)
		_, o := Bottle(s, s.Vessels[0], Values{Because: "tried"}).Outcome(Values{Because: "tried"})
		assert.Contains(t, said(o), "about "+strength+" % vol", "the label%s", log)
	}
}

// TestReadmeHasThePressure: what README and guide for owners say of pressures is what the figures say, to 0.1 bar.
func TestReadmeHasThePressure(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, rest, found := strings.Cut(string(text), "gravity left to ferment adds ")
	require.True(t, found)
	var bar float64
	_, err = fmt.Sscan(rest, &bar)
	require.NoError(t, err)
	s := cellar(77, nil)
	at := func(points string) float64 {
		return worked(t, s, "pressure", "gauge", map[string]string{"co2": "5g/L", "alcohol": "12%", "at": "20C", "points": points})
	}
	assert.InDelta(t, bar, at("1")-at("0"), 0.06)

	text, err = os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	alone := worked(t, s, "pressure", "gauge", map[string]string{"co2": "5.5g/L", "alcohol": "5%", "at": "40C", "headspace": "0%"})
	assert.Contains(t, string(text), fmt.Sprintf("(%.1f bar for 5.5 g/L)", alone))
	assert.Contains(t, string(text), fmt.Sprintf("An unknown tolerance is %.0f ± 2 %%", float64(alcohol.UsualTolerance)))
}
