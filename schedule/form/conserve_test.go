package form

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
)

// amounts are what a cellar has, in all: litres, litres of alcohol, kilograms of liquid by
// its gravity, and kilograms of honey in store.
type amounts struct{ volume, alcohol, mass, honey float64 }

func (a *amounts) pour(volume, alcohol, gravity float64) {
	a.volume, a.alcohol, a.mass = a.volume+volume, a.alcohol+volume*alcohol/100, a.mass+volume*gravity
}

// counted adds up what the record says is in vessels, bottles and the store.
func counted(t require.TestingT, s app.Snapshot) amounts {
	var all amounts
	for _, v := range s.Vessels {
		c := v.Course
		require.True(t, c.Volume.IsKnown() && c.Alcohol.IsKnown() && c.Present.IsKnown(), v.ID())
		all.pour(float64(c.Volume.Value), float64(c.Alcohol.Value), float64(c.Present.Value))
		for _, b := range shelf.Of(c).Batches {
			litres, known := b.Volume()
			require.True(t, known)
			all.pour(float64(litres), float64(c.Alcohol.Value), float64(c.Present.Value))
		}
	}
	all.honey = float64(larder.Of(s.Cellar.Lots[0], s.Cellar.Ferments, s.At).Left.Mass)
	return all
}

// goesOn is the cellar some days after a change was written.
func goesOn(s app.Snapshot, ch ferment.Change, days int) app.Snapshot {
	s.At, s.Cellar = s.At.Add(time.Duration(days)*24*time.Hour), s.Cellar.With(ch)
	s.Vessels = nil
	for _, f := range ferment.Parted(s.Cellar.Ferments) {
		s.Vessels = append(s.Vessels, app.Plan(f, s.Cellar, s.At))
	}
	return s
}

// TestNothingIsLostOrMade: over years of racking, topping up, sweetening, blending, parting,
// bottling and drinking, what is in vessels, bottles and store is what was there, and what
// came and went by a balance of its own. Each act adds its doubt: 10 mL of what is measured,
// 0.05 % vol of a strength that is written, and for a mead poured in the gravity of a dry one.
func TestNothingIsLostOrMade(t *testing.T) {
	roomy := func(f *ferment.Ferment) { f.Vessel.Brimful = measure.Give[measure.Volume](20, "20 L") }
	sweet := lime("lime-b", "0 pitch | 1 started | 5 1.045 | 20 1.014 | 60 1.010 17C | 62 rack clear vol3.1L | 76 1.010 17C", roomy)
	rapid.Check(t, func(t *rapid.T) {
		s := cellar(80, nil, lime("lime-a", atRest, roomy), sweet, lime("lime-c", atRest, roomy))
		want := counted(t, s)
		var doubt amounts
		var told []string
		for n := range rapid.IntRange(1, 14).Draw(t, "acts") {
			i := rapid.IntRange(0, len(s.Vessels)-1).Draw(t, "vessel")
			v := s.Vessels[i]
			has, strong, g := float64(v.Course.Volume.Value), float64(v.Course.Alcohol.Value), float64(v.Course.Present.Value)
			some := math.Round(has*rapid.Float64Range(0.1, 0.4).Draw(t, "share")*100) / 100
			if has < 0.6 {
				continue
			}
			litres := func(x float64) string { return fmt.Sprintf("%.2f L", x) }
			typed := Values{Because: "a property"}
			form := "rack"
			lost := 0.0
			switch act := rapid.SampledFrom([]string{"rack", "water", "honey", "blend", "part", "bottle", "drink"}).Draw(t, "act"); act {
			case "rack":
				lost = math.Round(has*3) / 100
				typed["what"], typed["lost"], typed["brimful"] = "rack", litres(lost), "20 L"
			case "water":
				typed["what"], typed["with"], typed["amount"] = "top up", "water", litres(some)
				want.pour(some, 0, 1)
			case "honey":
				grams := math.Round(some * 60)
				typed["what"], typed["amount"], typed["lot"] = "sweeten", fmt.Sprintf("%.0f g", grams), "lime-26"
				want.volume += float64(honey.VolumeIn(measure.Grams(grams), 18.1))
				want.mass += grams / 1000 / 0.998203
				want.honey -= grams / 1000
			case "blend":
				from := s.Vessels[(i+1)%len(s.Vessels)]
				some = math.Min(some, math.Round(float64(from.Course.Volume.Value)*30)/100)
				if from.ID() == v.ID() || some <= 0 {
					continue
				}
				typed["what"], typed["other"], typed["amount"] = "blend", from.Label(), litres(some)
				doubt.mass += some * math.Abs(float64(from.Course.Present.Value)-0.997)
				doubt.alcohol += some * 0.0005
			case "part":
				lost = 0.05
				typed["what"], typed["part"], typed["after"] = "into two", litres(some), litres(math.Round((has-some-lost)*100)/100)
				typed["brimful"], typed["brimful-part"] = "20 L", "20 L"
			case "bottle":
				count := max(int(has/0.33)-1, 1)
				typed["what"], typed["kind-1"], typed["size-1"], typed["count-1"], typed["fizz-1"] = "bottle", "still-wine bottle", "330 mL", fmt.Sprint(count), "none"
				typed["kind-2"], typed["left"], form = "none", "nothing", "bottle"
				lost = has - 0.33*float64(count)
			case "drink":
				stock := shelf.Of(v.Course)
				if !stock.Left().Some() {
					continue
				}
				form, lost = "drink", 0.33
			}
			f, ok := Open(form, s, v.ID(), nil)
			if !ok {
				continue
			}
			_, o := f.Outcome(typed)
			require.Empty(t, wrong(o), "%s %v", v.ID(), typed)
			told = append(told, fmt.Sprint(v.ID(), " ", form, " ", typed))
			want.pour(-lost, strong, g)
			doubt.volume, doubt.alcohol, doubt.mass, doubt.honey = doubt.volume+0.01, doubt.alcohol+0.01*strong/100+0.0005*0.1, doubt.mass+0.012, doubt.honey+0.0005
			s = goesOn(s, o.Change, 7+n)
			is := counted(t, s)
			require.InDelta(t, want.volume, is.volume, doubt.volume+0.002, "volume after %v", told)
			require.InDelta(t, want.alcohol, is.alcohol, doubt.alcohol+0.0005, "alcohol after %v", told)
			require.InDelta(t, want.mass, is.mass, doubt.mass+0.002, "sugar, by the mass of the liquid, after %v", told)
			require.InDelta(t, want.honey, is.honey, doubt.honey+0.0005, "honey after %v", told)
		}
	})
}
