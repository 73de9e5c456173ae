package journal

import (
	"maps"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
)

// checkWhole finds problems between files: ambiguous names and tags, and protocols that do not exist.
func (s *Store) checkWhole(c *ferment.Cellar) {
	called := map[string][]ferment.Ferment{} // by name and by tag, in lower case
	for _, f := range c.Ferments {
		for _, word := range slices.Compact([]string{strings.ToLower(f.ID), strings.ToLower(f.Tag)}) {
			called[word] = append(called[word], f)
		}
	}
	delete(called, "")
	for _, f := range c.Ferments {
		tell := func(key, message string) {
			if message != "" {
				c.Problems = append(c.Problems, s.problemAt(f, key, message))
			}
		}
		tell("tag", wideTag(f))
		broken := func(p ferment.Problem) bool { return p.File == "protocols/"+f.Protocol+".yaml" } // which is reported for that file
		if !slices.ContainsFunc(c.Problems, broken) {
			tell("protocol", unknownPlan(f, c.Protocols))
		}
		if message := s.unknownParent(f, *c); message != "" {
			c.Remarks = append(c.Remarks, s.problemAt(f, "from", message))
		}
		for _, other := range called[strings.ToLower(f.Tag)] {
			if other.ID != f.ID {
				tell("tag", sharedTag(f, other))
			}
		}
		for _, other := range called[strings.ToLower(f.ID)] {
			if other.ID != f.ID && strings.EqualFold(f.ID, other.ID) {
				tell("", "its name is that of "+other.ID+" in other letters (rename one, e.g. bh-b.yaml)")
			}
		}
	}
}

func (s *Store) problemAt(f ferment.Ferment, key, message string) ferment.Problem {
	r, _ := s.memory[f.File].reading.(Reading[ferment.Ferment])
	p := r.places[key]
	p.File, p.Message = f.File, message
	return p
}

func wideTag(f ferment.Ferment) string {
	if ferment.FitsTag(f.Tag) {
		return ""
	}
	return "tag " + quote(f.Tag) + " is wider than six columns (e.g. tag: BH-A)"
}

func sharedTag(f, other ferment.Ferment) string {
	switch {
	case f.Tag == "":
		return ""
	case strings.EqualFold(f.Tag, other.Tag):
		return "tag " + quote(f.Tag) + " is on " + other.ID + " too (give each its own, e.g. tag: BH-A and tag: BH-B)"
	case strings.EqualFold(f.Tag, other.ID):
		return "tag " + quote(f.Tag) + " is the name of another ferment (give it one of its own, e.g. tag: BH-A)"
	}
	return ""
}

func unknownPlan(f ferment.Ferment, known ferment.Plans) string {
	if _, is := known[f.Protocol]; is || f.Protocol == "" {
		return ""
	}
	names := slices.Sorted(maps.Keys(known))
	message := "protocol " + quote(f.Protocol) + " is not known"
	if near := ferment.Nearest(f.Protocol, names); near != "" {
		return message + " (did you mean protocol: " + near + ")"
	}
	return message + " (there is " + some(names, 12) + ")"
}

// unknownParent reports a parent ferment that is in no file.
func (s *Store) unknownParent(f ferment.Ferment, c ferment.Cellar) string {
	name := f.From.Ferment
	if name == "" || slices.ContainsFunc(c.Ferments, func(other ferment.Ferment) bool { return other.ID == name }) {
		return ""
	}
	switch have := nameOf(s.fileNamed(name)); {
	case have == name:
		return ""
	case strings.EqualFold(have, name):
		return "from: ferment " + quote(name) + " is written otherwise (ferment: " + have + ")"
	}
	return "from: ferment " + quote(name) + " is neither open nor closed (e.g. from: {ferment: bh-a, at: 2026-11-26, volume: 1.0 L})"
}
