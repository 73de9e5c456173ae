package ferment

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Key describes one key of an entry for everything that uses it: files, the entry line, the log, JSON, spreadsheets and
// the reference. A new key needs a row in keyRows and a field in Entry.
type Key struct {
	Name    string
	In      string // in a file, the key that contains it: taste
	Example string // a right value, as a file has it
	Typed   string // the example on an entry line: "ph3.4"
	Does    string // what it is, in a few words
	Kind    Kind
	Form    Form
	Words   []string // the allowed words; empty for free text
	Likely  Likely

	Before string   // sign before its number on an entry line: ph3.4
	After  []string // signs after its number: 11.4bx

	Column string // column name in a spreadsheet, with the metric unit
	Places int    // decimals in a table

	// Set reads a value as in a file, one item of a list at a time. The error says what is wrong and shows a right
	// example.
	Set func(e *Entry, text string, zone *time.Location) error
	// Text returns the value as in a file, empty if the entry has none; items of a list are separated by commas.
	Text func(e *Entry) string
	// Say returns the value in words for the log, in a system of units; empty if there is none, or if the words of the
	// act include it.
	Say func(e *Entry, units measure.System) string
	// Value returns the value for JSON, numbers metric; nil if there is none.
	Value func(e *Entry) any
	// Numbers returns the measured values, metric; two for a range. Likely is about them.
	Numbers func(e *Entry) []float64
	// List and Moment return where a list or a time is stored; nil for other forms.
	List   func(e *Entry) *[]string
	Moment func(e *Entry) *Moment
}

// Kind is what a key is about.
type Kind int

// The kinds. Measured and Seen keys distinguish two entries of the same time.
const (
	Measured Kind = iota // with an instrument
	Seen                 // by eye, nose, hand or tongue
	Done                 // what was done, with what
	Aside                // about the entry itself
)

// Form is the form of a key's value in a file.
type Form int

// The forms.
const (
	AQuantity Form = iota // a number, most with a unit; or unknown
	AText                 // one line of words
	Lines                 // words in several lines
	AWord                 // one of Words
	AList                 // texts, or some of Words
	AFlag                 // true or false
	AMoment               // several keys: to, bottles, taste, triangle
	AGroup                // keys of its own: to, bottles, taste, triangle
)

// Likely is the range of a measured value that is kept without a question, in the unit of Numbers. Equal ends mean that
// there is no range.
type Likely struct {
	Low, High float64
	Change    float64       // from the last value, at most; 0 for any
	Within    time.Duration // time within which that change counts; 0 for any
}

// Known reports whether there is a range.
func (l Likely) Known() bool { return l.Low != l.High }

// Keys returns the keys of an entry in file order. The caller must not change them.
func Keys() []Key { return keyRows }

// KeyNamed returns the key of a name, for files and entry lines.
func KeyNamed(name string) (*Key, bool) {
	for i := range keyRows {
		if keyRows[i].Name == name {
			return &keyRows[i], true
		}
	}
	return nil, false
}

// Has reports whether an entry has the key.
func (k *Key) Has(e *Entry) bool { return k.Value(e) != nil }

// OnLine reports whether the key can be typed on an entry line.
func (k *Key) OnLine() bool { return k.Set != nil }

// Reference says what the key is, how to type it, and which words it allows.
func (k *Key) Reference() string {
	text := k.Does
	if k.Form == AWord && k.Name != "did" || k.Form == AList && len(k.Words) > 0 {
		text += ": " + strings.Join(k.Words, ", ")
	}
	if k.Typed == "" {
		return text + "; in a file, or by its form"
	}
	return text + "; typed " + k.Typed
}

// The functions below make rows, one for each form of value; "%" in words stands for the value.

// measured makes a row for a value that keeps its digits as typed.
func (k Key) measured(set func(*Entry, string) error, text func(*Entry) string, number func(*Entry) float64) Key {
	k.Form, k.Text = AQuantity, text
	k.Set = func(e *Entry, s string, _ *time.Location) error { return set(e, s) }
	k.Numbers = func(e *Entry) []float64 {
		if text(e) == "" {
			return nil
		}
		return []float64{number(e)}
	}
	k.Value = func(e *Entry) any {
		if text(e) == "" {
			return nil
		}
		return number(e)
	}
	return k
}

// quantity makes a row for a measured number, with its words in the log: "lees %" is "lees " and the value.
func quantity[T ~float64](k Key, parse func(string) (measure.Given[T], error), at func(*Entry) *measure.Given[T],
	shown func(measure.Given[T], measure.System) string, words string) Key {
	k = k.measured(
		func(e *Entry, s string) error {
			g, err := parse(s)
			if err == nil {
				*at(e) = g
			}
			return err
		},
		func(e *Entry) string { return at(e).Text },
		func(e *Entry) float64 { return float64(at(e).Value) },
	)
	if shown == nil {
		return k.silent()
	}
	k.Say = func(e *Entry, units measure.System) string {
		if !at(e).Known() {
			return ""
		}
		return strings.Replace(words, "%", shown(*at(e), units), 1)
	}
	return k
}

func (k Key) text(at func(*Entry) *string, words string) Key {
	k.Form = AText
	k.Set = func(e *Entry, s string, _ *time.Location) error { *at(e) = s; return nil }
	return k.worded(func(e *Entry) string { return Harmless(*at(e)) }, words)
}

func (k Key) lines(at func(*Entry) *string) Key {
	k = k.text(at, "").worded(func(e *Entry) string { return *at(e) }, "")
	k.Form = Lines
	return k
}

func word[W ~string](k Key, of []string, at func(*Entry) *W, words string) Key {
	k.Form, k.Words = AWord, of
	k.Set = func(e *Entry, s string, _ *time.Location) error {
		if err := OneOf(s, of); err != nil {
			return err
		}
		*at(e) = W(s)
		return nil
	}
	return k.worded(func(e *Entry) string { return string(*at(e)) }, words)
}

// valued sets what JSON has: the text, or nothing.
func (k Key) valued(text func(*Entry) string) Key {
	k.Value = func(e *Entry) any {
		if s := text(e); s != "" {
			return s
		}
		return nil
	}
	return k
}

// worded sets the text for files and, around it, the words for the log; "%" is the text.
func (k Key) worded(text func(*Entry) string, words string) Key {
	k = k.valued(text)
	k.Text = text
	k.Say = func(e *Entry, _ measure.System) string {
		if s := text(e); s != "" && words != "" {
			return strings.Replace(words, "%", Harmless(s), 1)
		}
		return ""
	}
	return k
}

func (k Key) list(at func(*Entry) *[]string) Key {
	k.Form, k.List = AList, at
	k.Set = func(e *Entry, s string, _ *time.Location) error {
		if len(k.Words) > 0 {
			if err := OneOf(s, k.Words); err != nil {
				return err
			}
		}
		*at(e) = append(*at(e), s)
		return nil
	}
	k = k.worded(func(e *Entry) string { return strings.Join(*at(e), ", ") }, "%")
	k.Value = func(e *Entry) any {
		if len(*at(e)) == 0 {
			return nil
		}
		return *at(e)
	}
	return k
}

func (k Key) flag(set func(*Entry, bool), text func(*Entry) string, says map[string]string) Key {
	k.Form, k.Text = AFlag, text
	k.Value = func(e *Entry) any {
		if s := text(e); s != "" {
			return s == "true"
		}
		return nil
	}
	k.Set = func(e *Entry, s string, _ *time.Location) error {
		if s != "true" && s != "false" {
			return &measure.Error{Text: s, Problem: "is neither true nor false", Hint: "e.g. " + k.Name + ": " + k.Example}
		}
		set(e, s == "true")
		return nil
	}
	k.Say = func(e *Entry, _ measure.System) string { return says[text(e)] }
	return k
}

func (k Key) moment(at func(*Entry) *Moment, words string) Key {
	k.Form, k.Moment = AMoment, at
	k.Set = func(e *Entry, s string, zone *time.Location) (err error) {
		*at(e), err = ParseMoment(s, zone)
		return err
	}
	k = k.worded(func(e *Entry) string { return at(e).Written() }, words)
	k.Say = func(e *Entry, _ measure.System) string {
		if m := *at(e); !m.IsZero() && words != "" {
			return strings.Replace(words, "%", m.Time.Format("2 Jan 2006"), 1)
		}
		return ""
	}
	return k
}

// silent leaves a key out of the log: the words of another include it.
func (k Key) silent() Key {
	k.Say = func(*Entry, measure.System) string { return "" }
	return k
}
