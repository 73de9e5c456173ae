package ferment

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"cellar/jugkeeper/ferment/measure"
)

const widestTag = 6

// LongestName is how many letters the name of a file or an id may have.
const LongestName = 64

// LegalName reports whether a file may have the name: at most 64 letters, digits, _ and -, not beginning with -.
func LegalName(name string) bool { return len(name) <= LongestName && legalName().MatchString(name) }

var legalName = Pattern(`^[A-Za-z0-9_][A-Za-z0-9_-]*$`)

// FitsTag reports whether a tag fits into six columns of the screen.
func FitsTag(tag string) bool { return columns(tag) <= widestTag }

// columns returns the width of a text: two for East Asian letters, none for combining marks.
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

// IsStepName reports whether a text can be the name of a step: letters and digits, separated by hyphens, a letter first.
func IsStepName(text string) bool {
	first, _ := utf8.DecodeRuneInString(text)
	other := func(r rune) bool { return !unicode.IsLetter(r) && (r < '0' || r > '9') }
	wrong := func(part string) bool { return part == "" || strings.ContainsFunc(part, other) }
	return unicode.IsLetter(first) && !slices.ContainsFunc(strings.Split(strings.ReplaceAll(text, "_", "-"), "-"), wrong)
}

// Nearest returns the known word that was probably meant: one that begins with the word, or that differs in at most a
// third of its letters; "" for none.
func Nearest(word string, known []string) string {
	word = strings.ToLower(word)
	best, least, fewest := "", len(word)/3+1, 0
	for _, k := range known {
		lower := strings.ToLower(k)
		letters := distance(word, lower)
		d := letters
		if len(word) >= 3 && strings.HasPrefix(lower, word) {
			d = min(d, 1)
		}
		if d < least || d == least && best != "" && letters < fewest {
			best, least, fewest = k, d, letters
		}
	}
	return best
}

// DidYouMean returns " (did you mean degas?)" for a mistyped word, "" if no word is near.
func DidYouMean(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return " (did you mean " + near + "?)"
	}
	return ""
}

// Meant is like DidYouMean; if no word is near it lists the known ones, or the first of many.
func Meant(word string, known []string) string {
	if near := DidYouMean(word, known); near != "" {
		return near
	}
	if len(known) > mostNamed {
		return fmt.Sprintf(": there is %s and %d more", strings.Join(known[:mostNamed], ", "), len(known)-mostNamed)
	}
	return ": there is " + strings.Join(known, ", ")
}

const mostNamed = 12

// distance counts the letters to change, insert, delete or swap between two words.
func distance(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before, last, row = last, row, before
		row[0] = i + 1
		for j := range len(b) {
			cost := last[j]
			if a[i] != b[j] {
				cost = 1 + min(last[j], last[j+1], row[j])
			}
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				cost = min(cost, before[j-1]+1)
			}
			row[j+1] = cost
		}
	}
	return row[len(b)]
}

// OneOf returns an error with the list, unless word is in it.
func OneOf(word string, known []string) error {
	if slices.Contains(known, word) {
		return nil
	}
	return &measure.Error{Text: word, Problem: "is not one of its words", Hint: fmt.Sprintf("one of %s", strings.Join(known, ", "))}
}

// Harmless makes a text safe for a terminal, on one line: control characters and invalid bytes become �, line ends and
// tabs a space, and direction marks are removed. Letters of any script stay.
func Harmless(s string) string {
	if strings.IndexFunc(s, func(r rune) bool { return r < ' ' || r > '~' }) < 0 {
		return s
	}
	return strings.Map(harmless, s)
}

// HarmlessLines makes a text of several lines safe for a terminal, line by line.
func HarmlessLines(s string) string {
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
	case r == '\u061c', r == '\u200e', r == '\u200f', r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069', r == '\ufeff':
		return -1 // changes the direction of writing, or has no width
	case unicode.IsControl(r):
		return utf8.RuneError
	}
	return r
}

// allergen is something to declare, and the words in a record that mean it.
type allergen struct {
	name  string
	words []string
}

// Allergens that mead making may add, of those to be declared by Regulation (EU) No 1169/2011, annex II: finings of
// egg, milk and fish, even where trade need not declare them, and nuts. Sulphites are to be declared from 10 mg/L (the
// same regulation; United States: 27 CFR 4.32(e)).
var allergens = []allergen{
	{"egg", []string{"egg", "eggs", "albumen", "albumin", "lysozyme"}},
	{"milk", []string{"milk", "casein", "caseinate", "whey", "lactose", "cream"}},
	{"fish", []string{"fish", "isinglass"}},
	{"crustaceans", []string{"crab", "shrimp", "shellfish", "chitosan", "chitin"}},
	{"nuts", []string{"nut", "nuts", "almond", "almonds", "hazelnut", "hazelnuts", "walnut", "walnuts", "cashew", "cashews", "pecan",
		"pecans", "pistachio", "pistachios", "macadamia"}},
	{"peanuts", []string{"peanut", "peanuts"}},
}

// Allergens returns what a label must declare, by everything that the record says went in.
func Allergens(f Ferment, entries []*Entry) []string {
	var out []string
	words := map[string]bool{}
	note := func(text string) {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
			words[w] = true
		}
	}
	for _, p := range f.Must.Fruit {
		note(p.Name)
	}
	hasSulphite := func(e *Entry) bool { return e.Did == Sulphite || sulphite().MatchString(e.Of) }
	if slices.ContainsFunc(entries, hasSulphite) {
		out = append(out, "sulphites")
	}
	for _, e := range entries {
		note(e.Of)
	}
	for _, a := range allergens {
		if slices.ContainsFunc(a.words, func(w string) bool { return words[w] }) {
			out = append(out, a.name)
		}
	}
	return out
}

var sulphite = Pattern(`(?i)sul(ph|f)ite`)

// Pattern returns a regular expression that is compiled at its first use.
func Pattern(expr string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}
