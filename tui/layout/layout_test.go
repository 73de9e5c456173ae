package layout_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/tui/layout"
)

// East Asian Width (Unicode Standard Annex #11): 蜂 is wide, é, ≈ and ⅓ are
// narrow or ambiguous, a combining mark takes nothing.
func TestWidth(t *testing.T) {
	for text, want := range map[string]int{
		"": 0, "LIME-A": 6, "蜂蜜酒": 6, "≈ ⅓ ● ▲ ◆ ─": 11, "e\u0301": 1, "\x1b[1mbold\x1b[0m": 4, "⠉⠒⣀": 3,
	} {
		assert.Equal(t, want, layout.Width(text), "%q", text)
	}
}

func TestCut(t *testing.T) {
	for _, c := range []struct {
		text string
		w    int
		want string
	}{
		{"heather", 7, "heather"}, {"heather", 6, "heath…"}, {"heather", 1, "…"}, {"heather", 0, ""}, {"heather", -3, ""},
		{"蜂蜜酒", 5, "蜂蜜…"}, {"蜂蜜酒", 4, "蜂…"}, {"\x1b[1mheather\x1b[0m", 6, "\x1b[1mheath…\x1b[0m"},
	} {
		assert.Equal(t, c.want, layout.Cut(c.text, c.w), "%q in %d", c.text, c.w)
	}
}

func TestPadded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, w := rapid.StringOfN(rapid.RuneFrom([]rune("abc 蜂蜜é⅓●\u0301")), 0, 20, -1).Draw(t, "text"), rapid.IntRange(0, 30).Draw(t, "w")
		require.Equal(t, w, layout.Width(layout.Pad(text, w)))
		require.Equal(t, w, layout.Width(layout.Right(text, w)))
	})
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text string
		w    int
		want []string
	}{
		{"", 10, nil}, {"bung out", 0, nil}, {"bung out", 8, []string{"bung out"}}, {"bung out", 7, []string{"bung", "out"}},
		{"one to two minutes, bung out; daily until the ½ break", 30, []string{"one to two minutes, bung out;", "daily until the ½ break"}},
		{"in all there are 10 mL of it", 19, []string{"in all there are", "10 mL of it"}},
		{"unterhefenweiss", 6, []string{"unterh", "efenwe", "iss"}},
	} {
		assert.Equal(t, c.want, layout.Wrap(c.text, c.w), "%q in %d", c.text, c.w)
	}
}

func TestWrapLosesNothing(t *testing.T) {
	words := rapid.SampledFrom([]string{"the", "reading", "is", "41", "h", "old,", "limit", "36", "read", "gravity:", "1.0445", "g", "蜂蜜", "burst."})
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(words, 0, 30).Draw(t, "words"), " ")
		w := rapid.IntRange(12, 60).Draw(t, "w")
		lines := layout.Wrap(text, w)
		require.Equal(t, text, strings.Join(lines, " "))
		for i, line := range lines {
			require.LessOrEqual(t, layout.Width(line), w)
			require.False(t, i > 0 && strings.HasPrefix(line, "h ") && strings.HasSuffix(lines[i-1], "41"), "41 h was parted: %q", lines)
		}
	})
}

func TestClauses(t *testing.T) {
	text := "the reading is 41 h old, the limit is 36 h: read gravity"
	assert.Equal(t, []string{"the reading is 41 h old,", "the limit is 36 h:", "read gravity"}, layout.Clauses(text))
	for w, want := range map[int]string{56: text, 55: "the reading is 41 h old, the limit is 36 h", 30: "the reading is 41 h old", 20: "the reading is 41 h…", 17: "the reading is…"} {
		assert.Equal(t, want, layout.CutClauses(text, w), "in %d", w)
	}
}

func TestCutClausesFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, w := rapid.StringOfN(rapid.RuneFrom([]rune("ab ,:.蜂")), 0, 40, -1).Draw(t, "text"), rapid.IntRange(0, 40).Draw(t, "w")
		require.LessOrEqual(t, layout.Width(layout.CutClauses(text, w)), w)
	})
}

func TestRow(t *testing.T) {
	plain := func(s string) string { return s }
	row := layout.Row{}.At(3, "LIME-A").At(12, "late").AtPoint(21, "1.0", plain).At(24, "g")
	assert.Equal(t, "   LIME-A   late    1.0 g", row.In(80))
	assert.Equal(t, "   LIME-A   late    1.0 g  by 11:10", row.Until(35, "by 11:10").In(80))
	assert.Equal(t, "   LIME-A   late  …  by 11:10", row.Until(29, "by 11:10").In(80), "what stands in the way is cut")
	assert.Equal(t, "   LIME-A tag", layout.Row{}.At(3, "LIME-A").At(5, "tag").In(80), "a column that is taken is passed")
	assert.Equal(t, "   10", layout.Row{}.AtPoint(5, "10", plain).In(80), "a number without a point ends where it would be")
	assert.True(t, row.Fits(35, "by 11:10"))
	assert.False(t, row.Fits(34, "by 11:10"))
}

func TestOverlay(t *testing.T) {
	assert.Equal(t, "▌ tag  late", layout.Overlay("▌ tag", "       late"))
	assert.Equal(t, "▌ tag late", layout.Overlay("▌ tag", " late"))
}

func TestPage(t *testing.T) {
	assert.Equal(t, layout.Page{Margin: 3, Width: 75}, layout.PageOf(80))
	assert.Equal(t, layout.Page{Margin: 2, Width: 57}, layout.PageOf(60))
	for w := range 200 {
		assert.LessOrEqual(t, layout.PageOf(w).Width, w)
		assert.GreaterOrEqual(t, layout.PageOf(w).Width, 0)
	}
}

// An example is no clause of its own.
func TestAClauseDoesNotEndBehindEG(t *testing.T) {
	assert.Equal(t, "wanted", layout.CutClauses("wanted, e.g. 1.084 or 20.2bx", 12))
	assert.Equal(t, "wanted, e.g. 1.084 or 20.2bx", layout.CutClauses("wanted, e.g. 1.084 or 20.2bx", 40))
}
