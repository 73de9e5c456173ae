package intent

// Stroke is one key as it was pressed, or one piece of text as it was pasted.
type Stroke struct {
	Name   string // "g", "enter", "ctrl+u", "space"; empty for a paste
	Text   string // what it puts into a line; empty for a key that types nothing
	Pasted bool
}
