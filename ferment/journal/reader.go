package journal

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// mostProblems is how many problems of one file are told apart.
const mostProblems = 200

// A reader walks the tree of one file and gathers what it cannot read.
type reader struct {
	source
	zone     *time.Location
	problems []ferment.Problem
	remarks  []ferment.Problem
	count    int  // of problems, also of those not told apart
	broken   bool // a problem costs the file
	inLog    bool // what is wrong here costs an entry only
	cuts     []span
	gallon   bool // the remark on gallons is made
}

func newReader(file string, data []byte, zone *time.Location) *reader {
	return &reader{source: newSource(file, data), zone: zone}
}

func (r *reader) fail(n *yaml.Node, format string, args ...any) {
	var p ferment.Problem
	if len(r.problems) <= mostProblems { // the text of others is not needed
		p = r.problem(n.Line, n.Column, format, args...)
	}
	r.note(p)
}

func (r *reader) note(p ferment.Problem) {
	r.count++
	r.broken = r.broken || !r.inLog
	switch {
	case len(r.problems) < mostProblems:
		r.problems = append(r.problems, p)
	case len(r.problems) == mostProblems:
		r.problems = append(r.problems, r.problem(p.Line, p.Column, "more problems follow from here; fix those above first"))
	}
}

// wholeFile is what the tree of a file is called, where others have a key.
const wholeFile = "the file"

// file walks a file's tree and tells whether the file can be read. One that
// may not be empty says what it begins with.
func (r *reader) file(begins string, walk func(root value)) bool {
	n, ok := r.root()
	switch {
	case !ok:
	case !isNothing(n):
		walk(value{reader: r, node: n, key: wholeFile, example: "format: 1"})
	case begins != "" && !r.broken:
		r.note(r.problem(0, 0, "the file is empty (it begins with %s)", begins))
	}
	ferment.SortProblems(r.problems)
	return !r.broken
}

// root returns the tree of a file; not ok where it cannot be read, nil and ok where it is empty.
func (r *reader) root() (*yaml.Node, bool) {
	if p, bad := r.foreign(); bad {
		r.note(p)
		return nil, false
	}
	n, second, err := parse(r.text)
	if err != nil {
		if n, second, err = r.cut(err); err != nil {
			return nil, false
		}
	}
	if second != nil {
		r.fail(second, "a second document begins here: a file has only one (put it into a file of its own)")
		return nil, false
	}
	f := child(n, "format") // any other mistake in it is told by the table of fields
	if f != nil && f.Kind == yaml.ScalarNode {
		if format, err := strconv.Atoi(f.Value); err == nil && format > Newest {
			r.fail(f, "format %d is newer than this program, which reads format %d: the file is left as it is", format, Newest)
			return n, false
		}
	}
	return n, true
}

type value struct {
	*reader
	node    *yaml.Node
	key     string
	example string
}

// eg returns the right example that every message ends with.
func (v value) eg() string {
	if v.key == wholeFile {
		return "it begins with " + v.example
	}
	return fmt.Sprintf("e.g. %s: %s", v.key, v.example)
}

func (v value) wrong(format string, args ...any) {
	v.fail(v.node, "%s %s (%s)", v.key, fmt.Sprintf(format, args...), v.eg())
}

// refuse notes an error of a parser, which quotes the value and shows a right one.
func (v value) refuse(err error) { v.fail(v.node, "%s %s", v.key, err) }

// plain reports whether a node has none of aliases, anchors and tags.
func (v value) plain() bool {
	switch n := v.node; {
	case n.Kind == yaml.AliasNode:
		v.wrong("is an alias, which is not taken: text that begins with * goes in quotes")
	case n.Anchor != "":
		v.wrong("has an anchor, which is not taken: text that begins with & goes in quotes")
	case n.Style&yaml.TaggedStyle != 0:
		v.wrong("has the tag %s, which is not taken: text that begins with ! goes in quotes", quote(n.Tag))
	default:
		return true
	}
	return false
}

// scalar returns a value as it is written, on one line, without what a terminal would obey.
func (v value) scalar() (string, bool) {
	s, ok := v.lines()
	return ferment.Harmless(s), ok
}

func (v value) lines() (string, bool) {
	switch {
	case !v.plain():
		return "", false
	case v.node.Kind == yaml.SequenceNode:
		v.wrong("is a list here, and takes one value")
		return "", false
	case v.node.Kind == yaml.MappingNode:
		v.wrong("is a group of keys here, and takes one value")
		return "", false
	}
	return strings.TrimSpace(ferment.HarmlessLines(v.node.Value)), true
}

// word returns a scalar that cannot be empty or long: a quantity or a word.
func (v value) word() (string, bool) {
	s, ok := v.scalar()
	switch {
	case !ok:
		return "", false
	case s == "":
		v.wrong("has no value")
		return "", false
	case len(s) > 100:
		v.wrong("%s is too long", quote(s))
		return "", false
	}
	v.remarkGallon(s)
	return s, true
}

// remarkGallon says once a file which gallon is meant.
func (v value) remarkGallon(s string) {
	if v.gallon || !strings.ContainsAny(s, "gG") || !strings.Contains(strings.ToLower(s), "gal") {
		return
	}
	if q, err := measure.ParseQuantity(s); err == nil && q.Unit == "gal" {
		v.gallon = true
		v.remarks = append(v.remarks, v.problem(v.node.Line, v.node.Column,
			"%s %s is taken as US gallons of 3.785 L (write imp gal for those of 4.546 L)", v.key, quote(s)))
	}
}

// items returns the parts of a list; one value alone is a list of one.
func (v value) items() []value {
	if isNothing(v.node) || !v.plain() {
		return nil
	}
	if v.node.Kind != yaml.SequenceNode {
		return []value{v}
	}
	items := make([]value, len(v.node.Content))
	for i, n := range v.node.Content {
		items[i] = value{v.reader, n, v.key, v.example}
	}
	return items
}

func quote(s string) string { return strconv.Quote(short(s, 40)) }
