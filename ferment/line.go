package ferment

import (
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// LineContext is what an entry line means something by.
type LineContext struct {
	Now   time.Time
	Zone  *time.Location
	Units measure.System // of a sample's temperature without a unit
}

// Line is an entry as it was typed on one line.
type Line struct {
	Entry   Entry
	Timed   bool     // a time was typed; without one the entry is made now
	Notices []string // how a part was understood: "18:30 is later than now: yesterday"
}

// LineError says what part of a line cannot be read.
type LineError struct {
	Part    string
	Column  int    // of the part's first character, from 1
	Message string // what the part could be, and a right example
}

func (e *LineError) Error() string { return e.Message }

// ParseLine reads an entry typed on one line: "1.046@23 ph3.4 ; bready". Its
// parts stand in any order, the first semicolon begins the note.
func ParseLine(text string, ctx LineContext) (Line, error) { return Line{}, nil }

// JoinParts makes one line of the arguments of a command. The shell has taken
// the quotes away from a value with spaces; they are put back.
func JoinParts(args []string) string { return "" }
