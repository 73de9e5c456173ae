package shelf

import "strconv"

// Count is a number of bottles, or known to be unknown.
type Count struct {
	N       int
	Unknown bool // nobody wrote how many were filled
}

func (c Count) String() string {
	if c.Unknown {
		return "·"
	}
	return strconv.Itoa(c.N)
}

// Some tells whether there may be one.
func (c Count) Some() bool { return c.Unknown || c.N > 0 }

func (c Count) plus(d Count) Count { return Count{c.N + d.N, c.Unknown || d.Unknown} }
