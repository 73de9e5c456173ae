package tui

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"text/template"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// demoInUSUnits returns the invented cellar, typed in metric units, shown in US units.
func demoInUSUnits(t *testing.T, now time.Time) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "cellar")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../cmd/jugkeeper/demo")))
	ago := func(span string) string {
		var back float64
		for _, part := range strings.Fields(span) {
			n, err := strconv.ParseFloat(part[:len(part)-1], 64)
			require.NoError(t, err)
			back += n * map[byte]float64{'d': 24, 'h': 1}[part[len(part)-1]]
		}
		return now.Add(-hours(back)).Format(time.RFC3339)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
	require.NoError(t, err)
	ferments, err := filepath.Glob(filepath.Join(dir, "ferments", "*.yaml"))
	require.NoError(t, err)
	for _, file := range append(files, ferments...) {
		page, err := template.New(filepath.Base(file)).Funcs(template.FuncMap{"ago": ago, "weekday": func(ahead int) string { return strings.ToLower(now.AddDate(0, 0, ahead).Weekday().String()) }}).ParseFiles(file)
		require.NoError(t, err)
		var text strings.Builder
		require.NoError(t, page.Execute(&text, nil))
		if filepath.Base(file) == "cellar.yaml" {
			text.WriteString("units: us\n")
		}
		require.NoError(t, os.WriteFile(file, []byte(text.String()), 0o666))
	}
	return dir
}

// slipped matches a metric unit on a screen, except units by the litre (g/L, mg/L), grams below 10 g, as scales show
// them, and a density in kg/m³.
var slipped = regexp.MustCompile(`\d ?°?C\b|°C|(^|[^\p{L}/])(mL|L|kg|bar|kPa|mm|cm)($|[^\p{L}/³])|(^|[^.\d])(1[1-9]|[2-9]\d|\d{3,})(\.\d+)? g($|[^\p{L}/])`)

// asPublished matches rows of the bench with a published equation or range.
var asPublished = regexp.MustCompile(`^   (equation|source|range|checked to) |^ {15}blended with`)

// bySyringe matches a dose of a stock solution or a syrup for a syringe.
var bySyringe = regexp.MustCompile(`^.  \w+ +\d+(\.\d)? mL  .*of (a 10 % (stock|solution)|the syrup)`)

// With US units no screen shows other units, whatever was typed.
func TestOnlyUSUnitsAreShown(t *testing.T) {
	d := &driver{t: t, now: time.Date(2026, time.September, 16, 9, 0, 0, 0, time.UTC)}
	dir := demoInUSUnits(t, d.now)
	store := journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(t.TempDir()))
	d.model = New(Options{App: app.New(store), Profile: termenv.Ascii, Clock: func() time.Time { return d.now },
		wait: func(time.Duration, func() tea.Msg) tea.Cmd { return nil }})
	d.run(d.model.Init())
	for _, size := range [][2]int{{80, 24}, {140, 60}} {
		d.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		for _, keys := range usWalks() {
			start := d.model
			for _, key := range keyWords(keys) {
				d.keys(key)
			}
			for _, row := range strings.Split(d.screen(), "\n") {
				if !asPublished.MatchString(row) && !bySyringe.MatchString(row) && !strings.Contains(row, "1.050@20C") {
					assert.NotRegexp(t, slipped, row, "%v %s", size, keys)
				}
			}
			d.model = start
		}
	}
}

// usWalks returns keys to every screen and form.
func usWalks() []string {
	walks := []string{"", "end", "pgdown", "n 'by the stair'", "g '1.050@68F 66F'", "g '1.050@20C 19C'", "s", "u", "?", "! end", "2", "2 j", "2 j j", "2 space", "2 t", "2 t enter", "3", "3 j", "3 j j", "3 tab", "3 tab j",
		"3 +", "3 space", "3 tab +", "3 tab space", "5", "+", "+ down '1.080' down '1 gal'", "tab j m j m v", "tab j m j m v end"}
	for n := range 9 { // each vessel and each task of the board
		down := strings.Repeat("j ", n)
		walks = append(walks, down+"space", "tab "+down+"enter", "tab "+down+"enter end", "tab "+down+"r", "tab "+down+"b", "tab "+down+"r right", "tab "+down+"r right right", "tab "+down+"r right right right",
			"tab "+down+"r right right right right", "tab "+down+"r right right right right right", "tab "+down+"r right right right right right right")
	}
	for n := range 30 { // each figure of the bench
		walks = append(walks, "4 tab "+strings.Repeat("j ", n)+"enter")
	}
	return walks
}

// The US units that screens show can be typed.
func TestTypedInUSUnits(t *testing.T) {
	ctx := line.Context{Now: morning, Zone: time.UTC, Units: measure.US}
	for _, c := range []struct {
		line string
		want string
		of   func(ferment.Entry) string
	}{
		{"1046@73", "73 °F", func(e ferment.Entry) string { return measure.Shown(e.Sample, measure.US) }},
		{"63..75F", "69 °F", func(e ferment.Entry) string { return e.Temperature.Value.Middle().In(measure.US) }},
		{"ph3.4 vol3.6qt clear", "0.90 gal", func(e ferment.Entry) string { return e.Volume.Value.In(measure.US) }},
		{"rack vol3.3qt lost=8 fl oz", "8.0 fl oz", func(e ferment.Entry) string { return e.Lost.Value.In(measure.US) }},
		{"nutrient 0.5 fl oz stock=10%", "0.5 fl oz", func(e ferment.Entry) string { return e.Amount.Quantity.In(measure.US) }},
	} {
		parsed, err := line.Parse(c.line, ctx)
		if assert.NoError(t, err, c.line) {
			assert.Equal(t, c.want, c.of(parsed.Entry), c.line)
		}
	}
	for _, line := range strings.Split(grammarIn(measure.US), "\n") {
		assert.NotRegexp(t, slipped, line)
	}
}
