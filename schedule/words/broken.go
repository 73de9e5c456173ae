package words

import (
	"fmt"
	"path"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

// brokenOf are the files that could not be read, wholly or in part, and the
// vessels without a plan.
func brokenOf(s app.Snapshot) []Broken {
	var bs []Broken
	for _, p := range s.Cellar.Problems {
		bs = append(bs, Broken{Where: place(p), What: p.Message, LeftOut: leftOut(p.File, s.Cellar)})
	}
	for _, v := range s.Vessels {
		if v.Trouble != "" {
			bs = append(bs, Broken{Where: v.Label(), What: v.Trouble})
		}
	}
	return bs
}

func place(p ferment.Problem) string {
	name := path.Base(p.File)
	switch {
	case p.Line == 0:
		return name
	case p.Near:
		return fmt.Sprintf("%s, near line %d", name, p.Line)
	}
	return fmt.Sprintf("%s, line %d", name, p.Line)
}

// leftOut names the ferment that is not there because of its file.
func leftOut(file string, c ferment.Cellar) string {
	dir, name := path.Split(file)
	if path.Base(dir) != "ferments" {
		return ""
	}
	for _, f := range c.Ferments {
		if path.Base(f.File) == name {
			return ""
		}
	}
	return strings.TrimSuffix(name, ".yaml") + " is left out"
}
