package ferment

// ParseWhen reads one point in time of a plan, with its offset: "pitch + 2 d",
// "last rack", "end of quiet", "break 1/3 + 1 d". A word that is no condition
// is taken for an act or a step; whether there is such a step is for
// Protocol.Check to say.
func ParseWhen(text string) (When, error) { return When{Text: text}, nil }
