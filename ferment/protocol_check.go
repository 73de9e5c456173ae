package ferment

// StepError is something in a step that cannot be planned.
type StepError struct {
	Index   int    // of the step in its protocol, from 0
	Step    string // its name
	Key     string // "due", "window"; "step" for the name itself
	Message string // what is wrong, and a right example
}

func (e *StepError) Error() string { return e.Message }

// Check finds what in a protocol cannot be planned: names that occur twice or
// nowhere, windows that close before they open, repeats without a start.
// Known tells whether a step stands in another protocol, for fragments that
// build on it; it may be nil.
func (p Protocol) Check(known func(step string) bool) []*StepError { return nil }
