package app

import (
	"regexp"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Ask is a question about an entry before it is kept: what is unlikely, what was perhaps meant.
type Ask struct {
	Says  string // "14 g is ten times the plan, 1.4 g"
	Part  string // the value that it is about, as it was typed: "14 g"
	Meant []Meant
	Named bool // Says names the guesses itself
}

// Meant is a value that was perhaps meant.
type Meant struct {
	Type string // as it is typed: "1.4 g", "14 mL stock=10%"
	Says string // in words: "14 mL of the 10 % solution"
}

// String returns the question with its guesses: "14 g is ten times the plan, 1.4 g:
// did you mean 1.4 g, or 14 mL of the 10 % solution?"
func (a Ask) String() string {
	if len(a.Meant) == 0 || a.Named {
		return a.Says
	}
	guesses := ferment.Map(a.Meant, func(m Meant) string { return m.Says })
	return a.Says + ": did you mean " + strings.Join(guesses, ", or ") + "?"
}

// Says returns several questions in words.
func Says(asks []Ask) []string { return ferment.Map(asks, Ask.String) }

// asked returns a question that has no guess.
func asked(says string) []Ask { return []Ask{{Says: says}} }

func guess(text string) Meant { return Meant{Type: text, Says: text} }

// numberWithUnit is a number with the unit that may follow it.
var numberWithUnit = regexp.MustCompile(`[-−+]?\d+(?:[.,]\d+)?\s*(?:imp\s+)?(?:fl oz|[A-Za-z°%/]+)?`)

// Take returns a typed line with the value that the question is about replaced by a
// guess. A line in which the value cannot be found has the guess at its end.
func (a Ask) Take(line string, m Meant) string {
	number := strings.TrimSpace(numberOf(a.Part))
	for _, at := range numberWithUnit.FindAllStringIndex(line, -1) {
		found := line[at[0]:at[1]]
		glued := at[0] > 0 && isWordByte(line[at[0]-1]) && !startsWithKey(line[:at[0]])
		if !glued && number != "" && sameNumber(numberOf(found), number) {
			tail := found[len(strings.TrimRight(found, " ")):]
			return line[:at[0]] + m.Type + tail + line[at[1]:]
		}
	}
	return strings.TrimSpace(line + " " + m.Type)
}

var leadingNumber = regexp.MustCompile(`^[-−+]?\d+(?:[.,]\d+)?`)

func numberOf(text string) string { return leadingNumber.FindString(text) }

func sameNumber(a, b string) bool {
	x, errX := measure.ParseNumber(a)
	y, errY := measure.ParseNumber(b)
	return errX == nil && errY == nil && x == y
}

func isWordByte(b byte) bool {
	return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= '0' && b <= '9' || b == '.' || b == '-'
}

// startsWithKey reports whether a text ends with a word before a number: "ph", "vol", "ta".
func startsWithKey(before string) bool {
	word := strings.ToLower(before[strings.LastIndexAny(before, " =")+1:])
	return word == "ph" || word == "vol" || word == "ta"
}
