// Package line reads an entry that a person types on one line: "1.046@23 ph3.4 nutrient 1.5g ; bready".
package line

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Context is what the meaning of an entry line depends on.
type Context struct {
	Now     time.Time
	Zone    *time.Location
	Units   measure.System // of a sample's temperature without a unit
	Noted   bool           // a note is given outside of the line
	Because string         // a reason outside of the line, for what needs one
}

// Line is an entry as it was typed on one line.
type Line struct {
	Entry   ferment.Entry
	Timed   bool     // a time was typed; without one the entry is made now
	Notices []string // how a part was understood: "18:30 is later than now: yesterday"
}

// Error says what part of a line cannot be read.
type Error struct {
	Part    string
	Column  int    // of the part's first character, from 1
	Message string // what the part could be, and a right example
}

func (e *Error) Error() string { return e.Message }

// Parse reads an entry typed on one line, "1.046@23 ph3.4 ; bready", in any order up to the note. Every part is a short
// form of a key of the file with its value; no key may be given twice.
func Parse(text string, ctx Context) (Line, error) {
	r := lineReader{ctx: ctx, seen: map[string]part{}}
	r.line.Entry.At = ferment.At(ctx.Now.In(ctx.Zone).Truncate(time.Second))
	if !utf8.ValidString(text) {
		return Line{}, &Error{text, 1, "the line is no text in UTF-8: type it again"}
	}
	words, note, err := splitLine(text)
	if err != nil {
		return Line{}, err
	}
	for _, p := range joinParts(meant(words)) {
		if err := r.read(p); err != nil {
			return Line{}, err
		}
	}
	if note.text != "" {
		if err := r.set(note, "note", note.text); err != nil {
			return Line{}, err
		}
	}
	return r.line, r.finish()
}

// A lineReader gathers the parts of a line into an entry.
type lineReader struct {
	ctx  Context
	line Line
	seen map[string]part // the part that gave each key
}

func (r *lineReader) read(p part) error {
	key, value, err := r.meaning(p)
	if err != nil {
		return err
	}
	return r.set(p, key, value)
}

func (r *lineReader) set(p part, key, value string) error {
	k, known := keyFor(key)
	if !known {
		return p.fail("%s", unknownKey(key))
	}
	if first, twice := r.seen[key]; twice {
		return p.fail("%s is given twice, as %s and %s: make two entries", key, first.text, p.text)
	}
	r.seen[key] = p
	if strings.TrimSpace(value) == "" {
		return p.fail("%s needs its value (e.g. %s)", p.text, example(k))
	}
	if err := r.give(k, strings.TrimSpace(value)); err != nil {
		return p.fail("%s %s", key, strings.ReplaceAll(err.Error(), key+": ", key+"="))
	}
	return nil
}

// finish checks the whole entry: an amount needs an act, a reading needs more than a sample's temperature.
func (r *lineReader) finish() error {
	e := r.line.Entry
	if amount, given := r.seen["amount"]; given && e.Did == "" {
		return amount.fail("%s", amountOfWhat(amount.text, e.Amount))
	}
	rest := e // without what belongs to a missing reading
	rest.Sample, rest.With, rest.Undegassed, rest.Doubt = measure.Given[measure.Temperature]{}, "", false, ferment.NoWord
	if rest.Empty() && !r.ctx.Noted {
		return &Error{"", 1, "there is nothing to keep: type a reading or an act, e.g. 1.046@23 or degas"}
	}
	e.Because = cmp.Or(e.Because, r.ctx.Because)
	var wrong *ferment.EntryError
	if errors.As(e.Check(), &wrong) {
		return r.seen[wrong.Key].fail("%s", wrong.Message)
	}
	return nil
}

type part struct {
	text   string
	column int
}

func (p part) fail(format string, args ...any) error {
	return &Error{Part: p.text, Column: p.column, Message: fmt.Sprintf(format, args...)}
}

// splitLine splits a line at spaces, and before every @ that is not in a value. Double quotes keep words together; the
// first semicolon outside them starts the note.
func splitLine(text string) (words []part, note part, err error) {
	var word strings.Builder
	start, column, quoted := 1, 0, false
	end := func() {
		if word.Len() > 0 {
			words = append(words, part{word.String(), start})
		}
		word.Reset()
	}
	for i, c := range text {
		column++
		switch {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == ';':
			end()
			return words, part{strings.TrimSpace(text[i+1:]), column + 1}, nil
		case unicode.IsSpace(c):
			end()
			continue
		case c == '@' && !strings.Contains(word.String(), "="):
			end()
		}
		if word.Len() == 0 {
			start = column
		}
		word.WriteRune(c)
	}
	if quoted {
		return nil, note, part{word.String(), start}.fail(`the quotes are not closed (e.g. smell="wet wool")`)
	}
	end()
	return words, note, nil
}

// Join makes one line of arguments, and adds the quotes that the shell removed from values.
func Join(args []string) string {
	return strings.Join(ferment.Map(args, requote), " ")
}

// requote quotes the value of a key, up to the note, if what follows its first word is not a part of a line.
func requote(arg string) string {
	key, rest, pair := strings.Cut(arg, "=")
	_, known := keyFor(strings.ToLower(key))
	if !pair || !known || strings.Contains(rest, `"`) {
		return arg
	}
	value, note, noted := strings.Cut(rest, ";")
	words, _, err := splitLine(arg[:len(key)+1+len(value)])
	var r lineReader
	isNoPart := func(p part) bool { _, _, err := r.meaning(p); return err != nil }
	if err != nil || len(words) == 0 || !slices.ContainsFunc(joinParts(words)[1:], isNoPart) {
		return arg
	}
	arg = key + `="` + strings.TrimSpace(value) + `"`
	if noted {
		arg += " ;" + note
	}
	return arg
}
