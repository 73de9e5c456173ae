package compare

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
)

// jug returns an invented ferment with a reading a day.
func jug(id, yeast string, gravities ...float64) app.Vessel {
	pitched := time.Date(2026, 10, 3, 11, 0, 0, 0, time.UTC)
	f := ferment.Ferment{ID: id, Tag: strings.ToUpper(id), Trial: ferment.Trial{Name: "lime", Differs: "yeast"}, Yeast: ferment.Yeast{Name: yeast}}
	c := &course.Course{Settings: ferment.DefaultSettings(time.UTC), Pitch: course.Event{At: pitched, Known: true}, Ferment: f}
	c.DryFinish.Unknown = "the original gravity is unknown"
	for i, g := range gravities {
		c.Readings = append(c.Readings, course.Reading{At: pitched.AddDate(0, 0, i), Gravity: measure.Gravity(g), From: course.Hydrometer})
	}
	return app.Vessel{Ferment: f, Course: c}
}

func beside(w, h int, vs ...app.Vessel) view {
	var ids []string
	for _, v := range vs {
		ids = append(ids, v.ID())
	}
	return shownIn(New(ids), app.Snapshot{Vessels: vs}, w, h)
}

func TestDeclaredDifferenceComesFirst(t *testing.T) {
	screen := beside(100, 45, jug("lime-a", "white-wine yeast", 1.080, 1.070, 1.055), jug("lime-b", "hawthorn 3", 1.080, 1.078, 1.070)).screen("")
	assert.Contains(t, screen, "lime, one must; the difference: yeast")
	assert.Contains(t, screen, "✓ declared")
	assert.Contains(t, screen, "white-wine yeast")
	for _, sign := range []string{"●", "○"} {
		assert.GreaterOrEqual(t, strings.Count(screen, sign), 3, "a sign a reading: %s", sign)
	}
}

// Without a declared difference, no difference is marked as undeclared.
func TestDifferenceOutsideATrialIsNotAFault(t *testing.T) {
	one, other := jug("a", "x", 1.08), jug("b", "y", 1.09)
	one.Ferment.Trial.Differs, other.Ferment.Trial.Differs = "honey", "honey"
	assert.Contains(t, beside(80, 45, one, other).screen(""), "△ not declared")
	other.Ferment.Trial = ferment.Trial{}
	screen := beside(80, 45, one, other).screen("")
	assert.Contains(t, screen, "what differs")
	assert.Regexp(t, `yeast +x +y`, screen)
	assert.NotContains(t, screen, "declared")
}

// Two open ferments have a band each, dotted differently, and what it says in numbers.
func TestBandsSideBySide(t *testing.T) {
	known := func(v app.Vessel) app.Vessel {
		f := v.Ferment
		f.Must.Gravity = measure.Give(measure.Gravity(1.080), "1.080")
		f.Log = []ferment.Entry{{At: ferment.At(v.Course.Pitch.At), Did: ferment.Pitch}}
		for i, r := range v.Course.Readings[1:] {
			f.Log = append(f.Log, ferment.Entry{At: ferment.At(r.At), Order: i + 1, Gravity: measure.Give(r.Gravity, "read")})
		}
		c := course.Of(f, v.Course.Settings, ferment.DefaultLimits(), v.Course.Readings[len(v.Course.Readings)-1].At)
		return app.Vessel{Ferment: f, Course: c}
	}
	a, b := known(jug("a", "x", 1.080, 1.070, 1.055, 1.040)), known(jug("b", "y", 1.080, 1.078, 1.070, 1.064))
	both := beside(80, 60, a, b).screen("")
	assert.Contains(t, both, "between the dots: expected, nine times in ten")
	assert.Regexp(t, `highest in a week +1\.0\d\d +1\.0\d\d`, both)
	assert.Regexp(t, `finish expected +0\.99\d +0\.99\d`, both)
	without := beside(80, 60, jug("a", "x", 1.080, 1.070), jug("b", "y", 1.080, 1.075)).screen("")
	assert.NotContains(t, without, "between the dots")
	assert.NotContains(t, without, "in a week")
}

func do(m view, a intent.Action) view {
	m, _ = m.does(a)
	return m
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	vs := []app.Vessel{jug("a", "x", 1.08, 1.07), jug("b", "y"), jug("c", "z", 1.08), jug("d", "w", 1.08, 1.01, 1.0)}
	for n := 0; n <= 4; n++ {
		for w := 1; w < 150; w += 7 {
			for h := 1; h < 50; h += 5 {
				for _, m := range []view{beside(w, h, vs[:n]...), do(beside(w, h, vs[:n]...), intent.PageDown), do(beside(w, h, vs[:n]...), intent.Bottom)} {
					rows := strings.Split(m.screen(""), "\n")
					assert.Len(t, rows, h)
					for _, r := range rows {
						assert.LessOrEqual(t, ansi.StringWidth(r), w)
					}
				}
			}
		}
	}
}

// What was done stands under the curve of its own ferment, at its day.
func TestActsUnderTheCurves(t *testing.T) {
	a, b := jug("a", "x", 1.080, 1.070, 1.050, 1.030), jug("b", "y", 1.080, 1.075)
	for day, did := range []ferment.Act{1: ferment.Nutrient, 3: ferment.Honey} {
		a.Course.Entries = append(a.Course.Entries, &ferment.Entry{At: ferment.At(a.Course.Pitch.At.AddDate(0, 0, day)), Did: did})
	}
	screen := beside(80, 45, a, b).screen("")
	assert.Regexp(t, `(?m)^ +● +n +h$`, screen)
	assert.Regexp(t, `(?m)^ +○$`, screen, "nothing was done to the other")
	assert.Contains(t, screen, "n nutrient")
	assert.NotContains(t, beside(80, 45, b, b).screen(""), "n nutrient")
}
