package bench

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

var update = flag.Bool("update", false, "write the goldens anew")

// bram returns an invented dry mead after racking.
func bram() app.Vessel {
	settings := ferment.DefaultSettings(time.UTC)
	return app.Vessel{
		Ferment: ferment.Ferment{ID: "bram", Tag: "BRAM", Must: ferment.Must{HoneyWater: measure.Give(measure.Share(18.1), "18.1 %")}},
		Course: &course.Course{
			Settings: settings, Limits: settings.Limits, Volume: course.Known(measure.Volume(3.05)), Alcohol: course.Known(measure.Strength(11.5)),
			Original:    course.Original{Figure: course.Known(measure.Gravity(1.084))},
			Gravity:     course.Known(course.Reading{Gravity: 0.9968}),
			Temperature: course.Known(measure.Span[measure.Temperature]{Low: 19, High: 19}),
			PH:          course.Unknown[measure.PH]("no pH recorded"),
		},
	}
}

// of returns the bench at a figure, with the values of bram.
func of(m Model, w, h int, vs ...app.Vessel) view {
	return m.in(screen.Frame{Width: w, Height: h, Snapshot: app.Snapshot{Vessels: vs, Cellar: ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC)}}})
}

func at(name string, w, h int) view {
	m := of(Model{}.Of("bram").(Model), w, h, bram())
	for m.open().Name != name {
		m.figure++
	}
	return m
}

func (m view) screen() string { return m.Model.View(m.Frame) }

func (m view) inUS() view {
	m.Snapshot.Cellar.Settings.Units = measure.US
	return m.Model.in(m.Frame)
}

func strokes(m view, typed string) view {
	for _, r := range typed {
		m = press(m, intent.Stroke{Name: string(r), Text: string(r)})
	}
	return m
}

func press(m view, s intent.Stroke) view {
	next, _ := m.Model.Press(m.Frame, s)
	return next.(Model).in(m.Frame)
}

func do(m view, a intent.Action) view {
	next, _ := m.Do(m.Frame, a)
	return next.(Model).in(m.Frame)
}

func TestScreens(t *testing.T) {
	for _, name := range []string{"prime", "alcohol", "must", "sulphite", "nutrient"} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("bench-%s-%dx%d.txt", name, size[0], size[1]))
			got := at(name, size[0], size[1]).screen() + "\n"
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, file)
		}
	}
}

// Every figure with an axis is drawn where there is room, with its input's range under it; without room nothing is cut.
func TestCurves(t *testing.T) {
	for _, f := range all {
		wide, narrow := at(f.Name, 140, 45), at(f.Name, 60, 15)
		wide, narrow = wide.Model.in(wide.Frame), narrow.Model.in(narrow.Frame)
		for _, row := range narrow.rows(narrow.grid()) {
			assert.NotContains(t, row, "…", f.Name)
		}
		if f.Axis.Key != "" && len(wide.outcome.Wrong) == 0 {
			assert.Contains(t, wide.screen(), " by "+f.Axis.Name, f.Name)
			assert.Contains(t, wide.screen(), f.Axis.At(1), f.Name)
		}
	}
	assert.Contains(t, at("alcohol", 80, 24).screen(), "└──")
	assert.NotContains(t, at("alcohol", 60, 15).screen(), "└──")
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	for _, name := range []string{"prime", "must", "blend"} {
		for w := 1; w <= 130; w += 3 {
			for h := 1; h <= 50; h += 7 {
				for _, m := range []view{at(name, w, h), do(at(name, w, h), intent.Side), do(at(name, w, h), intent.Open), do(at(name, w, h), intent.PageDown)} {
					rows := strings.Split(m.screen(), "\n")
					assert.Len(t, rows, h)
					for _, r := range rows {
						assert.LessOrEqual(t, ansi.StringWidth(r), w, "%s %dx%d", name, w, h)
					}
				}
			}
		}
	}
}

func TestAnswerChangesWhileTyping(t *testing.T) {
	m := at("alcohol", 80, 24)
	before := m.screen()
	m = strokes(do(m, intent.Open), "1.120")
	require.True(t, m.Typing())
	assert.NotEqual(t, firstAnswer(before), firstAnswer(m.screen()))
	typed := firstAnswer(m.screen())
	m = press(m, intent.Stroke{Name: "enter"})
	assert.False(t, m.Typing())
	assert.Equal(t, typed, firstAnswer(m.screen()), "Enter keeps it")
	m = strokes(do(m, intent.Open), "1.5")
	assert.Contains(t, m.screen(), "is not a density", "what cannot be is said where the answer stood")
	m = press(m, intent.Stroke{Name: "esc"})
	assert.Equal(t, typed, firstAnswer(m.screen()), "Esc leaves it as it was")
}

func firstAnswer(screen string) string { return strings.Split(screen, "\n")[2] }

func TestValuesAreTakenOver(t *testing.T) {
	screen := at("prime", 100, 30).screen()
	for _, want := range []string{"3.05 L", "11.5 %", "20 °C", "18.1 %", "BRAM"} {
		assert.Contains(t, screen, want)
	}
	without := of(Model{}, 100, 30)
	assert.Contains(t, without.screen(), "an example", "without a vessel examples stand there, and say so")
}

func TestResultGoesIntoTheLog(t *testing.T) {
	nutrient, alcohol := at("nutrient", 80, 24), at("alcohol", 80, 24)
	_, want := nutrient.Do(nutrient.Frame, intent.Reading)
	typed, ok := want.(intent.Type)
	require.True(t, ok)
	assert.Equal(t, "bram", typed.Subject)
	parsed, err := line.Parse(typed.Text, line.Context{Now: time.Now(), Zone: time.UTC})
	require.NoError(t, err, typed.Text)
	assert.Equal(t, ferment.Nutrient, parsed.Entry.Did)
	assert.True(t, parsed.Entry.Amount.Known())
	_, want = alcohol.Do(alcohol.Frame, intent.Reading)
	assert.IsType(t, intent.Say{}, want, "a figure is no act")
}

func TestUSUnitsAreShown(t *testing.T) {
	screen := at("sweeten", 80, 24).inUS().screen()
	for _, want := range []string{"5.37 oz", "0.84 gal", "0.81 gal"} {
		assert.Contains(t, screen, want)
	}
	screen = at("prime", 100, 40).inUS().screen()
	for _, want := range []string{"pressure, psi", "68 °F", "93 psi at 86 °F", "beer bottle 11.2 fl oz"} {
		assert.Contains(t, screen, want)
	}
	m := at("gas", 80, 24)
	m.subject = ""
	assert.Contains(t, m.inUS().screen(), "gal", "an example too, and where no vessel is open")
}

func TestSeveralWaysToGiveTheValues(t *testing.T) {
	m := at("must", 80, 24)
	assert.Contains(t, m.screen(), "1 of 3")
	assert.Contains(t, do(m, intent.Next).screen(), "honey")
	assert.Contains(t, do(m, intent.Previous).screen(), "into")
}
