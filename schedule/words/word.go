package words

// Word is what stands before a line: a state of a task, of a gate, or the kind
// of a message. Word and mark are one unit.
type Word string

// The words. Today, any day, later and coming are for people only: a due task is
// of today or of any day, and one that comes is of later today or of another day.
const (
	Danger  Word = "danger"
	Stop    Word = "stop"
	Late    Word = "late"
	Held    Word = "held"
	Due     Word = "today"
	AnyDay  Word = "any day"
	Lapsed  Word = "missed"
	Option  Word = "option"
	Later   Word = "later"
	Coming  Word = "coming"
	Done    Word = "done"
	Skipped Word = "skipped"

	Open   Word = "open"
	Shut   Word = "shut"
	No     Word = "no"
	Saved  Word = "kept"
	Warn   Word = "warn"
	Ask    Word = "ask"
	Note   Word = "note"
	Passed Word = "passed"
	Course Word = "course"
	Do     Word = "do"
)

var marks = map[Word]rune{
	Due: '●', Late: '▲', Lapsed: '×', Skipped: '–',
	Option: '○', AnyDay: '○', Later: '○', Coming: '○',
	Danger: '◆', Stop: '◆', Held: '◆', Shut: '◆', No: '◆',
	Done: '✓', Open: '✓', Saved: '✓',
	Warn: '△', Ask: '△', Note: '·', Passed: '·',
	Course: '→', Do: '→',
}

// Now tells whether a task under the word may be done now.
func (w Word) Now() bool { return w == Late || w == Due || w == AnyDay }

// Wants tells whether a task under the word wants something of a person now: to be
// done, or to be freed.
func (w Word) Wants() bool { return w.Now() || w == Danger || w == Stop || w == Held }

// OnField tells whether a word is set on a field of colour, which nothing else is.
func (w Word) OnField() bool { return w == Danger || w == Stop }

// Mark is the sign of a word, a different shape for each meaning.
func (w Word) Mark() rune { return marks[w] }

// String is mark and word: "◆ held". No word is nothing.
func (w Word) String() string {
	if w == "" {
		return ""
	}
	return string(marks[w]) + " " + string(w)
}
