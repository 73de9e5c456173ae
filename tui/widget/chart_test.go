package widget

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cellar/jugkeeper/tui/theme"
)

func line(points ...XY) []Series { return []Series{{Points: points, Every: 1, Accent: true}} }

func TestChartDrawsWhereItsScaleSays(t *testing.T) {
	c := Chart{Width: 4, Height: 2, Left: 0, Right: 8, Top: 8, Bottom: 0, Now: math.NaN(), Series: line(XY{0, 8}, XY{8, 0})}
	assert.Equal(t, []string{"⠑⢄", "  ⠑⢄"}, c.Rows(theme.Theme{}), "a falling line, dot by dot")
	c.Marks = []Mark{{XY{0, 7.9}, '●'}, {XY{7.9, 0.1}, '○'}}
	assert.Equal(t, []string{"●⢄", "  ⠑○"}, c.Rows(theme.Theme{}), "marks stand over the curve")
}

func TestChartRanks(t *testing.T) {
	c := Chart{Width: 6, Height: 1, Left: 0, Right: 6, Top: 4, Bottom: 0, Now: 3,
		Levels: []float64{2}, Bands: [][]Range{{{0, 0, 4}, {6, 0, 4}}}, Series: line(XY{4, 2}, XY{6, 2})}
	row := []rune(c.Rows(theme.Theme{})[0])
	assert.Equal(t, '│', row[3], "the line of now stands over the band")
	assert.Equal(t, "⠤", string(row[5]), "a cell with the curve shows the curve alone")
}

func TestChartInBlocks(t *testing.T) {
	c := Chart{Width: 5, Height: 2, Left: 0, Right: 5, Top: 2, Bottom: 0, Now: math.NaN(), Levels: []float64{1.5}, Series: line(XY{0, 0.2}, XY{5, 0.2}), Marks: []Mark{{XY{1, 0.2}, '●'}}}
	c.Blocks = true
	assert.Equal(t, []string{"┈┈┈┈┈", "▄●▄▄▄"}, c.Rows(theme.Theme{}))
}

// Any range fits, its labels are round, in the middle of their rows, and at least half of the height is used.
func TestChartScales(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		low := rapid.Float64Range(-5, 1200).Draw(r, "low")
		high := low + rapid.Float64Range(0.004, 500).Draw(r, "span")
		c := Chart{Height: rapid.IntRange(6, 14).Draw(r, "height")}.Scaled(low, high)
		assert.GreaterOrEqual(r, c.Top, high)
		assert.LessOrEqual(r, c.Bottom, low+1e-9*(high-low))
		assert.GreaterOrEqual(r, high-low, (c.Top-c.Bottom)*0.5)
		assert.NotEmpty(r, c.labels)
		for y, value := range c.labels {
			assert.Equal(r, y, c.Row(value))
			assert.InDelta(r, c.Top-(float64(y)+0.5)*(c.Top-c.Bottom)/float64(c.Height), value, (c.Top-c.Bottom)/1000)
		}
	})
}

func TestChartNeverPanics(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for w := -1; w < 9; w++ {
		for h := -1; h < 5; h++ {
			for _, ends := range [][4]float64{{0, 1, 1, 0}, {0, 0, 0, 0}, {nan, 1, 1, 0}, {0, inf, 1, 0}, {1, 0, 0, 1}} {
				c := Chart{Width: w, Height: h, Left: ends[0], Right: ends[1], Top: ends[2], Bottom: ends[3], Now: 0.5,
					Levels: []float64{nan, 0.5, inf}, Bands: [][]Range{{{0, nan, 1}, {1, 0, 1}}}, Series: line(XY{0, 1}, XY{0.5, nan}, XY{1, inf}),
					Marks: []Mark{{XY{nan, nan}, '●'}, {XY{inf, 0}, '●'}, {XY{0.5, 0.5}, '●'}}}
				rows := c.Rows(theme.Theme{})
				assert.Len(t, rows, max(h, 0))
				for _, r := range rows {
					assert.LessOrEqual(t, ansi.StringWidth(r), max(w, 0))
				}
			}
		}
	}
	assert.Equal(t, "", strings.Join(Chart{}.Rows(theme.Theme{}), ""))
}
