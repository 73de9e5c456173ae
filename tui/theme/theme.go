// Package theme holds the colours by meaning and the few ways in which text is
// set off. No other package names a colour.
package theme

import (
	"io"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Role is what a colour means.
type Role int

// The roles. Plain is the text's own colour.
const (
	Plain Role = iota
	Accent
	Warn
	Late
	Good
)

// Theme sets text off. The zero Theme writes no codes at all.
type Theme struct {
	text   *lipgloss.Style
	colour [Good + 1]lipgloss.TerminalColor
}

// hues are a colour for a dark and for a light background, each as hex for
// terminals that can mix it and as one of the sixteen for those that cannot.
type hues struct{ dark, light, dark16, light16 string }

var palette = map[Role]hues{
	Accent: {"#56B4E9", "#0072B2", "14", "4"},
	Warn:   {"#E69F00", "#A84A00", "3", "1"},
	Late:   {"#D55E00", "#A84A00", "9", "1"},
	Good:   {"#009E73", "#006B4F", "2", "2"},
}

// New is the theme of a name ("auto", "dark", "light", "mono") on a terminal
// whose background is dark or light and which can show the colours of the
// profile. Auto goes by the background. A terminal without colours, and mono,
// keep bold, faint, underlined and reversed.
func New(name string, background Background, profile termenv.Profile) Theme {
	dark := name == "dark" || name != "light" && background == Dark
	r := lipgloss.NewRenderer(io.Discard)
	mono := name == "mono" || profile == termenv.Ascii
	if mono {
		profile = termenv.ANSI
	}
	r.SetColorProfile(profile)
	r.SetHasDarkBackground(dark)
	style := r.NewStyle()
	t := Theme{text: &style}
	for role := range t.colour {
		t.colour[role] = lipgloss.NoColor{}
		if h, ok := palette[Role(role)]; ok && !mono {
			t.colour[role] = h.on(dark, profile)
		}
	}
	return t
}

// Background is what the terminal writes on.
type Background int

// The backgrounds.
const (
	Dark Background = iota
	Light
)

func (h hues) on(dark bool, profile termenv.Profile) lipgloss.TerminalColor {
	switch sixteen := profile == termenv.ANSI; {
	case dark && sixteen:
		return lipgloss.Color(h.dark16)
	case dark:
		return lipgloss.Color(h.dark)
	case sixteen:
		return lipgloss.Color(h.light16)
	}
	return lipgloss.Color(h.light)
}

func (t Theme) render(set func(lipgloss.Style) lipgloss.Style, s string) string {
	if t.text == nil || s == "" {
		return s
	}
	return set(*t.text).Render(s)
}

// Bold is for tags, acts and amounts that may be done now, gravities, answers
// and key names.
func (t Theme) Bold(s string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style { return st.Bold(true) }, s)
}

// Faint is for what can be missed: headings, what keys do, footnotes.
func (t Theme) Faint(s string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style { return st.Faint(true) }, s)
}

// Typed is text being typed.
func (t Theme) Typed(s string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style { return st.Underline(true) }, s)
}

// Cursor is the standing cursor, over the text it stands on.
func (t Theme) Cursor(s string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style { return st.Reverse(true) }, s)
}

// HungOut is the tag of the selected vessel, an edge of one column around it.
func (t Theme) HungOut(tag string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style { return st.Bold(true).Reverse(true) }, " "+tag+" ")
}

// In sets text in the colour of a role.
func (t Theme) In(r Role, s string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style { return st.Foreground(t.colour[r]) }, s)
}

// BoldIn is bold text in the colour of a role.
func (t Theme) BoldIn(r Role, s string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style { return st.Bold(true).Foreground(t.colour[r]) }, s)
}

// Block is bold text on a field in the colour of a role, an edge of one column
// around it.
func (t Theme) Block(r Role, s string) string {
	return t.render(func(st lipgloss.Style) lipgloss.Style {
		return st.Bold(true).Reverse(true).Foreground(t.colour[r])
	}, " "+s+" ")
}
