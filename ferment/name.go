package ferment

import (
	"strings"
	"unicode"
)

// widestTag is how many columns of the screen a tag may take.
const widestTag = 6

// LongestName is how many letters the name of a file or an id may have.
const LongestName = 64

// LegalName tells whether the file of a ferment may be called so, without .yaml:
// at most 64 letters, digits, - and _.
func LegalName(name string) bool {
	return name != "" && len(name) <= LongestName && strings.IndexFunc(name, foreignToNames) < 0
}

func foreignToNames(r rune) bool {
	return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || isDigit(r) || r == '-' || r == '_')
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// FitsTag tells whether a tag takes no more than six columns of the screen.
func FitsTag(tag string) bool { return columns(tag) <= widestTag }

// columns is how wide a text is on a screen: letters of the scripts of East
// Asia take two columns, marks upon a letter none.
func columns(s string) int {
	n := 0
	for _, r := range s {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana):
			n += 2
		default:
			n++
		}
	}
	return n
}

// IsStepName tells whether a text can name a step: one word of letters and
// digits, perhaps with hyphens, each between two of them.
func IsStepName(text string) bool {
	last := '-'
	for i, r := range text {
		switch {
		case unicode.IsLetter(r), i > 0 && isDigit(r):
		case last != '-' && (r == '-' || r == '_'):
			r = '-'
		default:
			return false
		}
		last = r
	}
	return last != '-'
}
