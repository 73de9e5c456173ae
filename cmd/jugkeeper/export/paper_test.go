package export_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// paper checks a printed page: 80 columns, without control characters.
func paper(t *testing.T, text string) {
	t.Helper()
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\f' }) {
		assert.LessOrEqual(t, layout.Width(line), 80, line)
		assert.Equal(t, ferment.Harmless(line), line)
	}
}

func alone(s app.Snapshot, id string) app.Snapshot {
	v, _ := s.Find(id)
	s.Vessels = []app.Vessel{v}
	return s
}

func TestPrintedFormMatchesTheScreens(t *testing.T) {
	s := alone(opened(t, invented, now), "lime-a")
	text := export.Forms(s)
	paper(t, text)
	c := s.Vessels[0].Course
	for _, figure := range []string{
		words.Exact(c.Gravity.Value.Gravity, c.Settings) + " on Tue 6 Oct 20:00", c.Alcohol.Value.String(), c.Volume.Value.String(),
		"original  " + words.Exact(c.Original.Value, c.Settings), "½ " + words.Exact(c.Break(0.5).Value, c.Settings),
		"expected finish " + words.Exact(c.Finish.Value, c.Settings), "980 g honey lime-26 (18.1 % water)", "white-wine yeast, dry; up to 14.0 % vol",
	} {
		assert.Contains(t, text, figure)
	}
	whole := strings.Join(strings.Fields(text), " ")
	for _, l := range words.Ahead(s, 60).Lines("lime-a") {
		if l.Word == words.Late || l.Word == words.Due {
			assert.Contains(t, whole, strings.TrimSpace(l.Act+" "+l.Amount.String()), "with its amount")
		}
	}
	for _, care := range []string{"powder makes a gassy must", "never screw a lid", "under twelve months", "bottles made for pressure", "throw all of it away"} {
		assert.Contains(t, whole, care)
	}
}

// A line filled in by hand is a valid entry.
func TestFilledInLineCanBeTyped(t *testing.T) {
	for _, c := range []struct {
		cellar, blank, filled string
	}{
		{"format: 1\n", "____-__-__ __:__ _.____@___ ____C ___________ ________ ; ______________",
			"2026-10-07 07:15 1.0580@22  19.5C nutrient    1.5 g    ; bready"},
		{"format: 1\nunits: us\nscale: brix\n", "____-__-__ __:__ ____bx@___ ____F ___________ ________ ; ______________",
			"2026-10-07 07:15 14.3bx@72  67F   nutrient    1.5 g    ; bready"},
	} {
		s := opened(t, map[string]string{"cellar.yaml": c.cellar}, now)
		text := export.Forms(s)
		paper(t, text)
		assert.GreaterOrEqual(t, strings.Count(text, c.blank), 8, text)
		require.LessOrEqual(t, len(c.filled), len(c.blank))
		line, err := line.Parse(c.filled, line.Context{Now: now, Zone: time.UTC, Units: s.Cellar.Settings.Units})
		require.NoError(t, err)
		e := line.Entry
		assert.Equal(t, time.Date(2026, 10, 7, 7, 15, 0, 0, time.UTC), e.At.Time)
		assert.True(t, e.HasDensity())
		assert.InDelta(t, 22, float64(e.Sample.Value), 0.3)
		assert.InDelta(t, 19.5, float64(e.Temperature.Value.Middle()), 0.1)
		assert.Equal(t, ferment.Nutrient, e.Did)
		assert.Equal(t, "1.5 g", e.Amount.Text)
		assert.Equal(t, "bready", e.Note)
	}
}

func TestOneFormAPage(t *testing.T) {
	text := export.Forms(opened(t, invented, now))
	paper(t, text)
	pages := strings.Split(text, "\f")
	require.Len(t, pages, 3)
	for i, tag := range []string{"BRAM ", "LIME-A ", "LIME-B "} {
		assert.True(t, strings.HasPrefix(pages[i], tag), pages[i])
		assert.LessOrEqual(t, strings.Count(pages[i], "\n"), 66, "six lines an inch on a sheet of eleven inches")
	}
	assert.Contains(t, pages[2], "nutrient 3")
}

func TestUnitsOfTheCellarOnPaper(t *testing.T) {
	files := map[string]string{"cellar.yaml": "format: 1\nunits: us\nscale: brix\n", "ferments/lime-a.yaml": invented["ferments/lime-a.yaml"]}
	s := opened(t, files, now)
	text := export.Forms(s)
	assert.Contains(t, text, s.Vessels[0].Course.Volume.Value.In(measure.US))
	assert.Contains(t, text, "°Bx")
	assert.NotContains(t, text, "3.60 L")
	assert.Contains(t, export.Tags(s), " gal")
}

func TestTags(t *testing.T) {
	s := opened(t, invented, now)
	text := export.Tags(s)
	paper(t, text)
	for _, part := range []string{"#      ###  #   # #####        ###", "in commands: lime-a", "original  1.0840", "volume    3.60 L", "pitched   Sat 3 Oct 2026,", "nutrient 2, 1.3 g"} {
		assert.Contains(t, text, part)
	}
	assert.Empty(t, export.Tags(opened(t, nil, now)))
	odd := opened(t, map[string]string{"ferments/oak.yaml": "format: 1\ntag: ÉTÉ\nlog: []\n", "ferments/a-name-of-a-file-that-is-quite-long.yaml": "format: 1\nlog: []\n"}, now)
	text = export.Tags(odd)
	paper(t, text)
	assert.Contains(t, text, "ÉTÉ", "letters without a large form stand as they are")
	assert.NotContains(t, text, "###")
}

// Pages are not too full, every tag is on one of them, with cut marks.
func TestTagsContinueOnTheNextPage(t *testing.T) {
	files := map[string]string{}
	for _, letter := range "abcdefghijklm" {
		files["ferments/lime-"+string(letter)+".yaml"] = "format: 1\nlog: []\n"
	}
	pages := strings.Split(export.Tags(opened(t, files, now)), "\f")
	require.Greater(t, len(pages), 1)
	tags := 0
	for _, p := range pages {
		assert.LessOrEqual(t, strings.Count(p, "\n"), 60)
		assert.True(t, strings.HasPrefix(p, "+ - -") && strings.HasSuffix(p, "- +\n"), p)
		tags += strings.Count(p, "in commands: lime-")
	}
	assert.Equal(t, len(files), tags)
}

func TestLabels(t *testing.T) {
	s := alone(opened(t, invented, now), "bram")
	text, missing := export.Labels(s)
	paper(t, text)
	assert.Empty(t, missing)
	whole := strings.Join(strings.Fields(strings.ReplaceAll(text, ":", " ")), " ")
	assert.Contains(t, text, "mead, about "+s.Vessels[0].Course.Alcohol.Value.String())
	assert.Equal(t, 7, strings.Count(text, "bottled Sat 1 Aug 2026"), "one a bottle")
	for _, code := range []string{"batch BRAM 1 ", "batch BRAM 2 ", "batch BRAM 3 ", "batch BRAM S ", "batch BRAM 7 ", "batch BRAM 8 ", "batch BRAM 12 "} {
		assert.Equal(t, 1, strings.Count(text, code), code)
	}
	assert.Equal(t, 7, strings.Count(text, "contains sulphites, egg, fish, nuts"), "what went in, and nuts as they are recorded")
	assert.Equal(t, 3, strings.Count(text, "A BOTTLE UNDER PRESSURE"), "not on the still ones")
	assert.Contains(t, whole, "for adults;")
	assert.Contains(t, text, "not for sale")
}

func TestLabelsWithoutBottles(t *testing.T) {
	text, missing := export.Labels(alone(opened(t, invented, now), "lime-b"))
	assert.Empty(t, text)
	assert.Equal(t, []string{"LIME-B: nothing is bottled yet, or its entry names no bottles"}, missing)
}

// Only what the record names is declared, not what merely sounds similar.
func TestWhatALabelDeclares(t *testing.T) {
	for went, want := range map[string]string{
		"did: fine, of: bentonite": "", "did: fine, of: Casein": "contains milk", "did: fine, of: fish gelatine": "contains fish",
		"did: fine, of: lysozyme": "contains egg", "did: fine, of: chitosan": "contains crustaceans", "did: aerate, of: potassium metabisulphite": "contains sulphites",
		"did: fruit-in, of: roast hazelnuts": "contains nuts", "did: fruit-in, of: nutmeg": "", "did: honey, of: chestnut": "", "did: nutrient, of: eggplant": "",
		"did: look, note: a walnut shell": "",
	} {
		text, _ := export.Labels(opened(t, map[string]string{"ferments/oak.yaml": "format: 1\nlog:\n  - {at: 2026-09-01, " + went +
			"}\n  - {at: 2026-10-01, did: bottle, bottles: [{kind: jar, size: 330 mL, count: 1}]}\n"}, now))
		require.NotEmpty(t, text)
		if want == "" {
			assert.NotContains(t, text, "contains", went)
			continue
		}
		assert.Contains(t, text, want+" ", went)
	}
}

// Without a target of CO₂, priming or the plan warn of pressure.
func TestLabelsWarnOfPressure(t *testing.T) {
	for head, want := range map[string]bool{
		"ending: bottle-conditioned\nlog:\n": true,
		"log:\n":                             false,
		"log:\n  - {at: 2026-09-30, did: prime, amount: 30 g}\n": true,
	} {
		text, _ := export.Labels(opened(t, map[string]string{"ferments/oak.yaml": "format: 1\n" + head +
			"  - {at: 2026-10-01, did: bottle, bottles: [{kind: jar, size: 330 mL, count: 1}]}\n"}, now))
		assert.Equal(t, want, strings.Contains(text, "UNDER PRESSURE"), head)
	}
}
