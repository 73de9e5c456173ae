package theme_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/tui/theme"
)

// Codes of ECMA-48 (SGR): 1 bold, 2 faint, 4 underlined, 7 reversed, 30 to 37
// and 90 to 97 the sixteen colours.
func TestCodes(t *testing.T) {
	dark16 := theme.New("dark", theme.Dark, termenv.ANSI)
	light16 := theme.New("light", theme.Dark, termenv.ANSI)
	mono := theme.New("mono", theme.Dark, termenv.TrueColor)
	full := theme.New("dark", theme.Dark, termenv.TrueColor)
	for _, c := range []struct{ name, got, want string }{
		{"bold", dark16.Bold("x"), "\x1b[1mx\x1b[0m"},
		{"faint", dark16.Faint("x"), "\x1b[2mx\x1b[0m"},
		{"typed", dark16.Typed("x"), "\x1b[4mx\x1b[0m"},
		{"cursor", dark16.Cursor("x"), "\x1b[7mx\x1b[0m"},
		{"hung out", dark16.Tag("x"), "\x1b[1;7m x \x1b[0m"},
		{"accent on dark", dark16.In(theme.Accent, "x"), "\x1b[96mx\x1b[0m"},
		{"accent on light", light16.In(theme.Accent, "x"), "\x1b[34mx\x1b[0m"},
		{"warn on dark", dark16.In(theme.Warn, "x"), "\x1b[33mx\x1b[0m"},
		{"warn on light", light16.In(theme.Warn, "x"), "\x1b[31mx\x1b[0m"},
		{"late on dark", dark16.In(theme.Late, "x"), "\x1b[91mx\x1b[0m"},
		{"late on light", light16.In(theme.Late, "x"), "\x1b[31mx\x1b[0m"},
		{"good", dark16.In(theme.Good, "x"), "\x1b[32mx\x1b[0m"},
		{"true colour", full.In(theme.Accent, "x"), "\x1b[38;2;86;180;233mx\x1b[0m"},
		{"a block", dark16.Block(theme.Late, "x"), "\x1b[1;7;91m x \x1b[0m"},
		{"mono", mono.BoldIn(theme.Late, "x"), "\x1b[1mx\x1b[0m"},
		{"mono has no colour", mono.In(theme.Late, "x"), "x"},
		{"plain", dark16.In(theme.Plain, "x"), "x"},
		{"bare", theme.Theme{}.BoldIn(theme.Late, "x"), "x"},
		{"nothing", dark16.Bold(""), ""},
	} {
		assert.Equal(t, c.want, c.got, c.name)
	}
}

func TestAutoFollowsTheBackground(t *testing.T) {
	for _, p := range []termenv.Profile{termenv.TrueColor, termenv.ANSI} {
		assert.Equal(t, theme.New("dark", theme.Light, p).In(theme.Accent, "x"), theme.New("auto", theme.Dark, p).In(theme.Accent, "x"))
		assert.Equal(t, theme.New("light", theme.Dark, p).In(theme.Accent, "x"), theme.New("auto", theme.Light, p).In(theme.Accent, "x"))
	}
}

// Text needs a contrast of 4.5 to 1 (WCAG 2.2, success criterion 1.4.3, with
// its definition of relative luminance).
func TestContrast(t *testing.T) {
	for ground, name := range map[[3]float64]string{
		{}: "dark", {0x16, 0x18, 0x1d}: "dark", {0x1e, 0x1e, 0x1e}: "dark", {0x28, 0x28, 0x28}: "dark",
		{0xff, 0xff, 0xff}: "light", {0xf5, 0xf5, 0xf5}: "light", {0xee, 0xee, 0xee}: "light",
	} {
		shades := theme.New(name, theme.Dark, termenv.TrueColor)
		for _, role := range []theme.Role{theme.Accent, theme.Warn, theme.Late, theme.Good} {
			var r, g, b float64
			_, err := fmt.Sscanf(shades.In(role, "x"), "\x1b[38;2;%f;%f;%fm", &r, &g, &b)
			assert.NoError(t, err)
			a, c := luminance(r, g, b), luminance(ground[0], ground[1], ground[2])
			assert.GreaterOrEqual(t, (math.Max(a, c)+0.05)/(math.Min(a, c)+0.05), 4.5, name+" "+strconv.Itoa(int(role)))
		}
	}
}

func luminance(r, g, b float64) float64 {
	linear := func(v float64) float64 {
		if v /= 255; v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v/255*255+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}
