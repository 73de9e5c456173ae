package tui

import (
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// The size of a character cell in a picture, in pixels.
const (
	cellWidth  = 9
	cellHeight = 20
)

// draw compares a screen with a picture of the README.
func draw(t *testing.T, name, view string, columns int, on theme.Background) {
	t.Helper()
	kind, ground, ink := "dark", "#14171c", "#d8dce2"
	if on == theme.Light {
		kind, ground, ink = "light", "#fbfbf8", "#22262e"
	}
	got := picture(view, columns, ground, ink)
	path := filepath.Join("..", "testdata", "pictures", name+"-"+kind+".svg")
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o666))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got, "%s: go test ./tui -run Lives -update", path)
}

// pen is the style of a part of a row.
type pen struct {
	bold, faint, reversed bool
	colour                string
}

// picture returns a screen as SVG: each part with one colour and weight is a text stretched to its columns, so that any
// monospaced font fits.
func picture(view string, columns int, ground, ink string) string {
	rows := strings.Split(view, "\n")
	w, h := columns*cellWidth+2*cellHeight, len(rows)*cellHeight+2*cellHeight
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" font-family=\"DejaVu Sans Mono, Menlo, Consolas, monospace\" font-size=\"15\">\n", w, h)
	fmt.Fprintf(&b, "<rect width=\"%d\" height=\"%d\" rx=\"8\" fill=\"%s\"/>\n", w, h, ground)
	for y, row := range rows {
		p, x := pen{}, 0
		for _, piece := range strings.Split(row, "\x1b[") {
			if codes, text, styled := strings.Cut(piece, "m"); styled && strings.Trim(codes, "0123456789;") == "" {
				p, piece = p.with(codes), text
			}
			b.WriteString(p.drawn(piece, x, y, ground, ink))
			x += layout.Width(piece)
		}
	}
	return b.String() + "</svg>\n"
}

func (p pen) drawn(text string, x, y int, ground, ink string) string {
	lead := len(text) - len(strings.TrimLeft(text, " "))
	width := layout.Width(text)
	if p.colour != "" {
		ink = p.colour
	}
	var out string
	if p.reversed && width > 0 {
		out = fmt.Sprintf("<rect x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\" fill=\"%s\"/>\n", cellHeight+x*cellWidth, cellHeight+y*cellHeight, width*cellWidth, cellHeight, ink)
		ink = ground
	}
	trimmed := strings.TrimSpace(text)
	if trimmed == "" {
		return out
	}
	style := ""
	if p.bold {
		style += " font-weight=\"bold\""
	}
	if p.faint {
		style += " opacity=\"0.6\""
	}
	return out + fmt.Sprintf("<text x=\"%d\" y=\"%d\" textLength=\"%d\" lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\" fill=\"%s\"%s>%s</text>\n",
		cellHeight+(x+lead)*cellWidth, cellHeight+y*cellHeight+15, layout.Width(trimmed)*cellWidth, ink, style, html.EscapeString(trimmed))
}

// with returns the pen after an escape sequence.
func (p pen) with(codes string) pen {
	parts := strings.Split(codes, ";")
	for i := 0; i < len(parts); i++ {
		switch parts[i] {
		case "0", "":
			p = pen{}
		case "1":
			p.bold = true
		case "2":
			p.faint = true
		case "7":
			p.reversed = true
		case "38":
			if i+4 < len(parts) && parts[i+1] == "2" {
				var r, g, b int
				_, _ = fmt.Sscan(parts[i+2], &r)
				_, _ = fmt.Sscan(parts[i+3], &g)
				_, _ = fmt.Sscan(parts[i+4], &b)
				p.colour = fmt.Sprintf("#%02x%02x%02x", r, g, b)
				i += 4
			}
		}
	}
	return p
}
