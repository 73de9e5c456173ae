package journal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Form is how the value of a key is written.
type Form int

// The forms.
const (
	Free    Form = iota // any words
	Word                // one of Words
	Flag                // true or false
	Whole               // a whole number
	Parsed              // a quantity, or what a parser of its own reads
	Time                // a time or a day
	Point               // a point of a plan: words, or the first or last of several
	Group               // Keys of its own
	Map                 // words by any key
	Figures             // words, or figures by their names
)

// shape is what a table knows of how a value is written.
type shape struct {
	form      Form
	words     []string
	low, high int
	of        func() []Key
	needs     string // a key that a group cannot do without
	several   bool   // a list, or one alone
	list      bool   // a list only
	pattern   string
}

func (f field[T]) like(pattern string) field[T] {
	f.shape.pattern = pattern
	return f
}

// legal is the pattern of an id: what ferment.LegalName takes.
var legal = fmt.Sprintf("^[A-Za-z0-9_-]{1,%d}$", ferment.LongestName)

// A Key is one key of a file, as the table that reads it describes it.
type Key struct {
	Name, Does, Example string
	Keys                []Key    // of a group
	Units               []string // one of which its number has
	Span                bool     // it takes "A to B" too
	Bare                bool     // its number goes without a unit, from Low to High
	Low, High           float64
	signed              bool // a number with a unit may be under 0
	shape
}

// A File is one kind of file of a cellar.
type File struct {
	Name, Place, Does string
	keys              func() []Key
}

// Keys returns the keys of the file.
func (f File) Keys() []Key { return f.keys() }

// Files returns the files of a cellar.
func Files() []File {
	return []File{
		{"ferment", "ferments/NAME.yaml", "one ferment: what it was made of, and its log; the name of the file is its name", fermentTable.describe},
		{"cellar", "cellar.yaml", "the settings; may be missing", settingsTable.describe},
		{"honey", honeyFile, "honey lots", honeyFileTable.describe},
		{"cultures", culturesFile, "yeast cultures", culturesFileTable.describe},
		{"protocol", "protocols/NAME.yaml", "a plan of your own; it goes before a built-in one of its name", protocolTable.describe},
	}
}

func (t *table[T]) describe() []Key {
	keys := make([]Key, len(t.fields))
	for i, f := range t.fields {
		keys[i] = f.describe()
	}
	return keys
}

var timeUnits = []string{string(ferment.Minute), string(ferment.Hour), string(ferment.Day), string(ferment.Week), string(ferment.Month)}

var aNumber = ferment.Pattern(measure.NumberPattern)

// describe finds out which units and numbers a parser takes by trying the number of
// the example with each.
func (f field[T]) describe() Key {
	k := Key{Name: f.key, Does: f.does, Example: f.example, shape: f.shape}
	if k.of != nil {
		k.Keys = k.of()
	}
	text := aNumber().FindString(f.example)
	number, err := measure.ParseNumber(text)
	switch {
	case k.form != Parsed:
		return k
	case err != nil: // a parser of words
		k.form = Free
		return k
	}
	for _, unit := range append(measure.Units(), timeUnits...) {
		if f.takes(text + " " + unit) {
			k.Units = append(k.Units, unit)
			k.signed = k.signed || f.takes("-"+text+" "+unit)
			k.Span = k.Span || f.takes(text+" to "+text+" "+unit)
		}
	}
	if f.takes(text) {
		k.Bare, k.Low, k.High = true, f.edge(number, -1e6), f.edge(number, 1e6)
	}
	k.words = append(k.words, ferment.Where([]string{"unknown", "none"}, f.takes)...)
	return k
}

func (f field[T]) takes(text string) bool {
	var into T
	r := newReader("", nil, time.UTC)
	f.read(value{r, &yaml.Node{Kind: yaml.ScalarNode, Value: text}, f.key, f.example}, &into)
	return r.count == 0
}

// edge returns the last bare number that a field takes, from one that it does toward
// another.
func (f field[T]) edge(from, toward float64) float64 {
	for range 60 {
		if middle := (from + toward) / 2; f.takes(measure.Decimal(middle, 9)) {
			from = middle
		} else {
			toward = middle
		}
	}
	return math.Round(from*1e6)/1e6 + 0 // no -0
}

// Takes says how a key is written: "a mass", "a number, 0.97 to 1.25".
func (k Key) Takes() string {
	says := map[Form]string{Free: "words", Word: or(k.words), Flag: "true or false", Whole: fmt.Sprintf("a whole number, %d to %d", k.low, k.high),
		Parsed: or(k.numbers()), Time: "a time or a day", Point: "a point in time", Group: "keys", Map: "words, each by its key", Figures: "words, or figures by their names"}[k.form]
	switch {
	case k.list:
		return "a list of " + says
	case k.several:
		return says + "; one, or a list"
	}
	return says
}

func (k Key) numbers() []string {
	var says, kinds []string
	if k.Bare {
		says = append(says, fmt.Sprintf("a number, %s to %s", measure.Of(k.Low, "").Text, measure.Of(k.High, "").Text))
	}
	for _, unit := range k.Units {
		kind := string(measure.Of(1, unit).Dimension())
		if slices.Contains(timeUnits, unit) {
			kind = "length of time (" + or(timeUnits) + ")"
		}
		if !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	if len(kinds) > 0 {
		says = append(says, "a "+or(kinds))
	}
	if k.Span {
		says = append(says, "a lowest and a highest")
	}
	if says = append(says, k.words...); len(says) == 0 {
		return []string{"as in the example"}
	}
	return says
}

func or(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
