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
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/theme"
)

var update = flag.Bool("update", false, "write the goldens anew")

// bram is a dry mead after racking, invented.
func bram() app.Vessel {
	settings := ferment.DefaultSettings(time.UTC)
	return app.Vessel{
		Ferment: ferment.Ferment{ID: "bram", Tag: "BRAM", Must: ferment.Must{Honey: []ferment.HoneyPart{{Water: measure.Give(measure.Share(18.1), "18.1 %")}}}},
		Course: course.Course{
			Settings: settings, Volume: course.Known(measure.Volume(3.05)), Alcohol: course.Known(measure.Strength(11.5)),
			Original:    course.Original{Figure: course.Known(measure.Gravity(1.084))},
			Gravity:     course.Known(course.Reading{Gravity: 0.9968}),
			Temperature: course.Known(measure.Span[measure.Temperature]{Low: 19, High: 19}),
			PH:          course.Unknown[measure.PH]("no pH recorded"),
		},
	}
}

// at is the bench at a figure, with the values of bram.
func at(name string, w, h int) Model {
	m := New(theme.Theme{}).SetSize(w, h).(Model).Open(bram(), true)
	for m.open().Name != name {
		m.figure++
	}
	return m
}

func strokes(m Model, typed string) Model {
	for _, r := range typed {
		m = press(m, intent.Stroke{Name: string(r), Text: string(r)})
	}
	return m
}

func press(m Model, s intent.Stroke) Model {
	next, _ := m.Press(s)
	return next.(Model)
}

func do(m Model, a intent.Action) Model {
	next, _ := m.Do(a)
	return next.(Model)
}

func TestScreens(t *testing.T) {
	for _, name := range []string{"prime", "alcohol", "must", "sulphite", "nutrient"} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("bench-%s-%dx%d.txt", name, size[0], size[1]))
			got := at(name, size[0], size[1]).View("") + "\n"
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, file)
		}
	}
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	for _, name := range []string{"prime", "must", "blend"} {
		for w := 1; w <= 130; w += 3 {
			for h := 1; h <= 50; h += 7 {
				for _, m := range []Model{at(name, w, h), do(at(name, w, h), intent.Side), do(at(name, w, h), intent.Open), at(name, w, h).Page(3)} {
					rows := strings.Split(m.View(""), "\n")
					assert.Len(t, rows, h)
					for _, r := range rows {
						assert.LessOrEqual(t, ansi.StringWidth(r), w, "%s %dx%d", name, w, h)
					}
				}
			}
		}
	}
}

func TestTheAnswerChangesWhileTyping(t *testing.T) {
	m := at("alcohol", 80, 24)
	before := m.View("")
	m = strokes(do(m, intent.Open), "1.120")
	require.True(t, m.Typing())
	assert.NotEqual(t, firstAnswer(before), firstAnswer(m.View("")))
	typed := firstAnswer(m.View(""))
	m = press(m, intent.Stroke{Name: "enter"})
	assert.False(t, m.Typing())
	assert.Equal(t, typed, firstAnswer(m.View("")), "Enter keeps it")
	m = strokes(do(m, intent.Open), "1.5")
	assert.Contains(t, m.View(""), "is not a density", "what cannot be is said where the answer stood")
	m = press(m, intent.Stroke{Name: "esc"})
	assert.Equal(t, typed, firstAnswer(m.View("")), "Esc leaves it as it was")
}

func firstAnswer(screen string) string { return strings.Split(screen, "\n")[2] }

func TestValuesAreTakenOver(t *testing.T) {
	screen := at("prime", 100, 30).View("")
	for _, want := range []string{"3.05 L", "11.5 %", "19 °C", "18.1 %", "BRAM"} {
		assert.Contains(t, screen, want)
	}
	without := New(theme.Theme{}).SetSize(100, 30)
	assert.Contains(t, without.View(""), "an example", "without a vessel examples stand there, and say so")
}

func TestAResultGoesIntoTheLog(t *testing.T) {
	_, want := at("nutrient", 80, 24).Do(intent.Reading)
	line, ok := want.(intent.Type)
	require.True(t, ok)
	assert.Equal(t, "bram", line.Subject)
	parsed, err := ferment.ParseLine(line.Text, ferment.LineContext{Now: time.Now(), Zone: time.UTC})
	require.NoError(t, err, line.Text)
	assert.Equal(t, ferment.Nutrient, parsed.Entry.Did)
	assert.True(t, parsed.Entry.Amount.Known())
	_, want = at("alcohol", 80, 24).Do(intent.Reading)
	assert.IsType(t, intent.Say{}, want, "a figure is no act")
}

func TestUSUnitsAreShown(t *testing.T) {
	v := bram()
	v.Course.Settings.Units = measure.US
	settings := v.Course.Settings
	us := app.Snapshot{Cellar: ferment.Cellar{Settings: settings}, Vessels: []app.Vessel{v}}
	screen := at("sweeten", 80, 24).Show(us, words.Sheet{}).View("")
	for _, want := range []string{"5.37 oz", "0.84 gal", "0.81 gal"} {
		assert.Contains(t, screen, want)
	}
	screen = at("prime", 100, 40).Show(us, words.Sheet{}).View("")
	for _, want := range []string{"gauge, psi", "68 °F", "84 psi at 86 °F", "beer bottle 11.2 fl oz"} {
		assert.Contains(t, screen, want)
	}
	m := at("gas", 80, 24)
	m.has = false
	assert.Contains(t, m.Show(us, words.Sheet{}).View(""), "gal", "an example too, and where no vessel is open")
}

func TestSeveralWaysToGiveTheValues(t *testing.T) {
	m := at("must", 80, 24)
	assert.Contains(t, m.View(""), "1 of 3")
	assert.Contains(t, do(m, intent.Next).View(""), "honey")
	assert.Contains(t, do(m, intent.Previous).View(""), "into")
}
