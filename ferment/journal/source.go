package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"sort"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// largest is the size in bytes above which a file is not read: some ten thousand entries.
const largest = 1 << 20

const tooLarge = "the file is larger than 1 MiB, some ten thousand entries (move old text elsewhere)"

const byteOrderMark = "\ufeff"

// source is a file's text without a byte-order mark, and the beginnings of its lines.
type source struct {
	file   string
	mark   string // the byte-order mark, or nothing
	text   []byte
	starts []int // offset of the first byte of each line
}

func newSource(file string, data []byte) source {
	s := source{file: file, text: data}
	if bytes.HasPrefix(data, []byte(byteOrderMark)) {
		s.mark, s.text = byteOrderMark, data[len(byteOrderMark):]
	}
	// Lines are counted as YAML counts them: a lone carriage return and Unicode's line separators end them too.
	s.starts = make([]int, 1, 2+bytes.Count(s.text, []byte{'\n'}))
	for i := 0; i < len(s.text); i++ {
		switch s.text[i] {
		case '\n':
			s.starts = append(s.starts, i+1)
		case '\r', 0xC2, 0xE2: // first bytes of the rare line ends
			for _, br := range []string{"\r\n", "\r", "\u0085", "\u2028", "\u2029"} {
				if bytes.HasPrefix(s.text[i:], []byte(br)) {
					i += len(br) - 1
					s.starts = append(s.starts, i+1)
					break
				}
			}
		}
	}
	return s
}

// line returns the text of a line, counted from 1, without its line end.
func (s source) line(n int) string {
	if n < 1 || n > len(s.starts) {
		return ""
	}
	return strings.TrimRight(string(s.text[s.starts[n-1]:s.end(n)]), "\r\n\u0085\u2028\u2029")
}

// end returns where a line ends, its line end included.
func (s source) end(n int) int {
	if n < len(s.starts) {
		return s.starts[n]
	}
	return len(s.text)
}

// offset returns the offset of a line and column, the column counted in characters from 1.
func (s source) offset(line, column int) int {
	at := s.starts[line-1]
	for range column - 1 {
		_, n := utf8.DecodeRune(s.text[at:])
		at += n
	}
	return at
}

func (s source) problem(line, column int, format string, args ...any) ferment.Problem {
	line = min(line, len(s.starts)) // a problem at the end may be on the line after the last
	return ferment.Problem{
		File: s.file, Line: line, Column: column,
		Message: fmt.Sprintf(format, args...),
		Text:    told(s.line(line)),
	}
}

// longestText is how many characters of a line are shown with a problem.
const longestText = 200

func short(s string, most int) string {
	for i := range s {
		if most == 0 {
			return s[:i] + "…"
		}
		most--
	}
	return s
}

// foreign returns the problem of a text that cannot be parsed: its size, or bytes that are not UTF-8.
func (s source) foreign() (ferment.Problem, bool) {
	if len(s.text) > largest {
		return s.problem(0, 0, tooLarge), true
	}
	if utf8.Valid(s.text) && bytes.IndexByte(s.text, 0) < 0 {
		return ferment.Problem{}, false
	}
	for at, r := range string(s.text) {
		if r == 0 || r == utf8.RuneError && !bytes.HasPrefix(s.text[at:], []byte("\ufffd")) {
			line, column := s.place(at)
			return s.problem(line, column, "the byte 0x%02X here is no UTF-8 text (save the file as UTF-8)", s.text[at]), true
		}
	}
	return ferment.Problem{}, false
}

func (s source) place(offset int) (line, column int) {
	line = sort.SearchInts(s.starts, offset+1)
	return line, utf8.RuneCount(s.text[s.starts[line-1]:offset]) + 1
}

// oddBreak finds a line break that editors and YAML count differently.
func (s source) oddBreak() (line int, found bool) {
	for n := 2; n <= len(s.starts); n++ {
		if s.text[s.starts[n-1]-1] != '\n' {
			return n - 1, true
		}
	}
	return 0, false
}

// parse returns the nodes of a text with original digits, quotes and places; none for an empty text. The second node is
// the beginning of another document.
func parse(text []byte) (root, second *yaml.Node, err error) {
	defer func() {
		if p := recover(); p != nil { // the parser panics on what it thinks impossible
			root, second, err = nil, nil, fmt.Errorf("%v", p)
		}
	}()
	if bytes.HasPrefix(text, []byte("%YAML 1.2")) { // these files use none of its differences from 1.1
		text = append([]byte("#"), text[1:]...)
	}
	d := yaml.NewDecoder(bytes.NewReader(text))
	var first, next yaml.Node
	if err := d.Decode(&first); errors.Is(err, io.EOF) {
		return nil, nil, nil
	} else if err != nil {
		return nil, nil, err
	}
	switch err := d.Decode(&next); {
	case errors.Is(err, io.EOF):
		return first.Content[0], nil, nil
	case err != nil:
		return nil, nil, err
	}
	return first.Content[0], &next, nil
}

// keyAt returns the index of a key in a mapping, -1 for none.
func keyAt(n *yaml.Node, key string) int {
	if n != nil && n.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == key {
				return i
			}
		}
	}
	return -1
}

func child(n *yaml.Node, key string) *yaml.Node {
	if i := keyAt(n, key); i >= 0 {
		return n.Content[i+1]
	}
	return nil
}

// isNothing reports whether a value is missing, null or ~.
func isNothing(n *yaml.Node) bool {
	return n == nil || n.Kind == yaml.ScalarNode && n.Tag == "!!null" && n.Style&yaml.TaggedStyle == 0 && n.Anchor == ""
}

// inBrackets inserts a text before the closing bracket of a list or mapping.
func (rec *record) inBrackets(n *yaml.Node, text string) []edit {
	open := rec.offset(n.Line, n.Column)
	last, closed := lastInBrackets(rec.text, open)
	if !closed {
		return nil
	}
	switch held := rec.text[last-1]; {
	case len(n.Content) == 0:
		return []edit{{at: last, text: text}}
	case held == ',':
		return []edit{{at: last, text: rec.nextItem(n) + text + ","}}
	}
	return []edit{{at: last, text: "," + rec.nextItem(n) + text}}
}

// nextItem returns the separator between items: a line end if the last item is on its own line, else a space.
func (rec *record) nextItem(n *yaml.Node) string {
	last := n.Content[len(n.Content)-1]
	if n.Kind == yaml.MappingNode {
		last = n.Content[len(n.Content)-2]
	}
	if last.Line == n.Line || !rec.alone(last.Line, last.Column) {
		return " "
	}
	return rec.newline() + strings.Repeat(" ", last.Column-1)
}

// lastInBrackets returns the offset after the last character in a list or mapping, ignoring comments; after its opening
// bracket if it is empty.
func lastInBrackets(text []byte, open int) (after int, closed bool) {
	depth, held := 0, open // held is after the last character that counts
	for i := open; i < len(text); i++ {
		switch c := text[i]; {
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			if depth--; depth == 0 {
				return held + 1, true
			}
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			continue
		case c == '#' && strings.IndexByte(" \t\r\n", text[i-1]) >= 0:
			if n := bytes.IndexByte(text[i:], '\n'); n >= 0 {
				i += n - 1
				continue
			}
			return 0, false // the comment is the last line
		case (c == '"' || c == '\'') && strings.IndexByte("[{,:?", text[held]) >= 0: // elsewhere a quote is part of a word
			i = endOfQuote(text, i, c) - 1
		}
		held = i
	}
	return 0, false
}

// endOfQuote returns the offset after the closing quote. Two single quotes are an escaped one, and a backslash escapes
// a double one.
func endOfQuote(text []byte, open int, sign byte) int {
	for i := open + 1; i < len(text); i++ {
		switch {
		case text[i] == '\\' && sign == '"':
			i++
		case text[i] == sign && sign == '\'' && i+1 < len(text) && text[i+1] == sign:
			i++
		case text[i] == sign:
			return i + 1
		}
	}
	return len(text)
}
