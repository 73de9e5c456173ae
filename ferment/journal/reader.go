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

// mostProblems is how many problems of one file are listed.
const mostProblems = 200

// reader walks the tree of one file and collects problems.
type reader struct {
	source
	zone     *time.Location
	problems []ferment.Problem
	remarks  []ferment.Problem
	count    int  // of problems, including those not listed
	broken   bool // a problem makes the file unreadable
	inLog    bool // a problem here only leaves out an entry
	cuts     []span
	gallon   bool // the remark on gallons was made
}

func newReader(file string, data []byte, zone *time.Location) *reader {
	return &reader{source: newSource(file, data), zone: zone}
}

func (r *reader) fail(n *yaml.Node, format string, args ...any) {
	var p ferment.Problem
	if len(r.problems) <= mostProblems { // the rest are only counted
		p = r.problem(n.Line, n.Column, format, args...)
	}
	r.note(p)
}

// note counts a problem and keeps it, up to a limit.
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

// wholeFile is the name of a file's tree, where other values have a key.
const wholeFile = "the file"

// file walks a file's tree and reports whether the file is readable. A file that may not be empty must start with
// begins.
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

// root returns the tree of a file; not ok if it is unreadable, nil and ok if it is empty.
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
	f := child(n, "format") // any other mistake in it is found by the table
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

// eg returns the right example at the end of a message.
func (v value) eg() string {
	if v.key == wholeFile {
		return "it begins with " + v.example
	}
	return fmt.Sprintf("e.g. %s: %s", v.key, v.example)
}

func (v value) wrong(format string, args ...any) {
	v.fail(v.node, "%s %s (%s)", v.key, fmt.Sprintf(format, args...), v.eg())
}

// refuse adds a parser's error, which quotes the value and gives a right example.
func (v value) refuse(err error) { v.fail(v.node, "%s %s", v.key, err) }

// plain reports whether a node has no alias, anchor or tag.
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

// scalar returns a value as written, on one line, without control characters.
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

// word returns a scalar that is not empty or too long: a quantity or a word.
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

// remarkGallon remarks, once for each file, which gallon is meant.
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

// items returns the items of a list; a single value is a list of one.
func (v value) items() []value {
	if isNothing(v.node) || !v.plain() {
		return nil
	}
	if v.node.Kind != yaml.SequenceNode {
		return []value{v}
	}
	return ferment.Map(v.node.Content, func(n *yaml.Node) value { return value{v.reader, n, v.key, v.example} })
}

func quote(s string) string { return strconv.Quote(short(s, 40)) }
