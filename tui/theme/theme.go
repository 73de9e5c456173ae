// Package theme has the colours by their meaning, and the ways of highlighting text. No other package names a colour.
package theme

import (
	"strconv"
	"strings"

	"github.com/muesli/termenv"
)

// Role is the meaning of a colour.
type Role int

// The roles. Plain is the default colour.
const (
	Plain Role = iota
	Accent
	Warn
	Late
	Good
)

// Background is the background of the terminal.
type Background int

// The backgrounds.
const (
	Dark Background = iota
	Light
)

// Theme highlights text. The zero Theme adds nothing.
type Theme struct {
	codes  bool
	colour [Good + 1]string // the code of each role, empty for none
}

// New returns a theme by its name ("auto", "dark", "light", "mono"), for a terminal with a background and the colours
// of a profile. Auto follows the background. Without colours, and in mono, text is still bold, faint, underlined and
// reversed.
func New(name string, background Background, profile termenv.Profile) Theme {
	t := Theme{codes: true}
	if name == "mono" {
		return t
	}
	dark := name == "dark" || name != "light" && background == Dark
	for role, h := range palette {
		t.colour[role] = h.code(dark, profile)
	}
	return t
}

// hue is a colour for a dark and for a light background, each as hex and as one of the sixteen basic colours.
type hue struct {
	dark, light     string
	dark16, light16 termenv.ANSIColor
}

var palette = map[Role]hue{
	Accent: {"#56B4E9", "#006AA6", termenv.ANSIBrightCyan, termenv.ANSIBlue},
	Warn:   {"#E69F00", "#A04600", termenv.ANSIYellow, termenv.ANSIRed},
	Late:   {"#E8702A", "#A04600", termenv.ANSIBrightRed, termenv.ANSIRed},
	Good:   {"#00AD7F", "#006B4F", termenv.ANSIGreen, termenv.ANSIGreen},
}

// OnWhite returns the colour of a role for white paper, as hex.
func (r Role) OnWhite() string { return palette[r].light }

// code returns the code of a colour for a terminal.
func (h hue) code(dark bool, profile termenv.Profile) string {
	hex, sixteen := h.light, h.light16
	if dark {
		hex, sixteen = h.dark, h.dark16
	}
	switch profile {
	case termenv.Ascii:
		return ""
	case termenv.ANSI:
		return sixteen.Sequence(false)
	case termenv.TrueColor:
		return "38;2;" + channel(hex[1:3]) + ";" + channel(hex[3:5]) + ";" + channel(hex[5:7])
	}
	return profile.Color(hex).Sequence(false)
}

// channel returns a hexadecimal part of a colour as a decimal number.
func channel(hex string) string {
	n, _ := strconv.ParseUint(hex, 16, 8)
	return strconv.FormatUint(n, 10)
}

// The highlights that need no colour (ECMA-48 SGR).
const (
	bold       = "1"
	faint      = "2"
	underlined = "4"
	reversed   = "7"
)

// set puts codes around a text.
func (t Theme) set(text string, codes ...string) string {
	if !t.codes || text == "" {
		return text
	}
	code := strings.TrimSuffix(strings.Join(codes, ";"), ";")
	if code == "" {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

// Bold is for tags, acts and amounts that can be done now, gravities, answers and key names.
func (t Theme) Bold(text string) string { return t.set(text, bold) }

// Faint is for what matters least: headings, the words of keys, footnotes.
func (t Theme) Faint(text string) string { return t.set(text, faint) }

// Typed highlights text being typed.
func (t Theme) Typed(text string) string { return t.set(text, underlined) }

// Chosen highlights the chosen one of several words; without codes in brackets.
func (t Theme) Chosen(text string) string {
	if !t.codes {
		return "[" + text + "]"
	}
	return " " + t.set(text, bold, underlined) + " "
}

// Cursor highlights the text under the cursor.
func (t Theme) Cursor(text string) string { return t.set(text, reversed) }

// Tag highlights the tag of the selected vessel, one column wider at each side.
func (t Theme) Tag(tag string) string { return t.set(" "+tag+" ", bold, reversed) }

// In sets text in the colour of a role.
func (t Theme) In(r Role, text string) string { return t.set(text, t.colour[r]) }

// BoldIn sets bold text in the colour of a role.
func (t Theme) BoldIn(r Role, text string) string { return t.set(text, bold, t.colour[r]) }

// Block sets bold text on a background in the colour of a role, one column wider at each side.
func (t Theme) Block(r Role, text string) string {
	return t.set(" "+text+" ", bold, reversed, t.colour[r])
}
