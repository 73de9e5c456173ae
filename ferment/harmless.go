package ferment

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Harmless makes a text fit for a terminal, on one line: control characters
// and broken bytes show as �, line ends and tabs as a space, and marks that
// turn the direction of writing are left out. Letters of any script stay.
func Harmless(s string) string {
	if isPlain(s) {
		return s
	}
	return strings.Map(harmless, s)
}

// isPlain tells whether a text is nothing but signs of ASCII that can be seen.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// HarmlessLines makes a text of several lines fit for a terminal, line by line.
func HarmlessLines(s string) string {
	if isPlain(s) {
		return s
	}
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = Harmless(strings.TrimSuffix(l, "\r"))
	}
	return strings.Join(lines, "\n")
}

func harmless(r rune) rune {
	switch {
	case r == '\n', r == '\t', r == '\r', r == '\u0085', r == '\u2028', r == '\u2029':
		return ' '
	case turnsDirection(r), r == '\ufeff':
		return -1
	case unicode.IsControl(r):
		return utf8.RuneError
	}
	return r
}

func turnsDirection(r rune) bool {
	return r == '\u061c' || r == '\u200e' || r == '\u200f' ||
		r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}
