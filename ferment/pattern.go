package ferment

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression that is compiled when it is first asked for:
// most commands never ask for any.
func Pattern(expr string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}
