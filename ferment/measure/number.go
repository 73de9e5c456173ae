package measure

import (
	"fmt"
	"strconv"
	"strings"
)

// Error says what could not be read as a quantity and what would have been
// right.
type Error struct {
	Text    string // as typed
	Problem string // "is not a mass", "needs its unit"
	Hint    string // "a number and g, kg, oz or lb, e.g. 1.5 g"
}

func (e *Error) Error() string {
	return fmt.Sprintf("%q %s (%s)", e.Text, e.Problem, e.Hint)
}

// cutNumber splits the number off the front of a text. The decimal sign is a
// point, or a comma where it is the only separator. Signs, digits and one
// decimal sign are all it takes: no exponent, no underscore, no NaN.
func cutNumber(s string) (value float64, rest string, ok bool) {
	s = strings.TrimSpace(s)
	sign := 1.0
	body := s
	switch {
	case strings.HasPrefix(body, "-"), strings.HasPrefix(body, "+"):
		if body[0] == '-' {
			sign = -1
		}
		body = body[1:]
	case strings.HasPrefix(body, "−"):
		sign, body = -1, strings.TrimPrefix(body, "−")
	}
	end, marks, digits := 0, 0, 0
	for end < len(body) {
		c := body[end]
		if c == '.' || c == ',' {
			marks++
		} else if c < '0' || c > '9' {
			break
		} else {
			digits++
		}
		end++
	}
	if digits == 0 || marks > 1 || digits > 15 {
		return 0, s, false
	}
	v, err := strconv.ParseFloat(strings.Replace(body[:end], ",", ".", 1), 64)
	if err != nil {
		return 0, s, false
	}
	return sign * v, strings.TrimSpace(body[end:]), true
}

// ParseNumber reads a bare number.
func ParseNumber(s string) (float64, error) {
	v, rest, ok := cutNumber(s)
	if !ok || rest != "" {
		return 0, &Error{s, "is not a number", "digits and one decimal point, e.g. 3.4"}
	}
	return v, nil
}
