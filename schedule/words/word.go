package words

// Word is what stands before a line: a state of a task, of a gate, or the kind
// of a message. Word and mark are one unit.
type Word string

// The words. Later and coming are for people only: both are due later.
const (
	Stop    Word = "stop"
	Late    Word = "late"
	Held    Word = "held"
	Due     Word = "due"
	Lapsed  Word = "lapsed"
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
	Option: '○', Later: '○', Coming: '○',
	Stop: '◆', Held: '◆', Shut: '◆', No: '◆',
	Done: '✓', Open: '✓', Saved: '✓',
	Warn: '△', Ask: '△', Note: '·', Passed: '·',
	Course: '→', Do: '→',
}

// Mark is the sign of a word, a different shape for each meaning.
func (w Word) Mark() rune { return marks[w] }

// String is mark and word: "◆ held". No word is nothing.
func (w Word) String() string {
	if w == "" {
		return ""
	}
	return string(marks[w]) + " " + string(w)
}
