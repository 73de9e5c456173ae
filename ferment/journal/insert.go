package journal

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// Insertion is a text with items inserted into one of its lists.
type Insertion struct {
	Text    []byte // the whole new text
	Line    int    // of the first item
	Offset  int    // where Added begins
	Added   string // the inserted bytes
	Removed string // the bytes that they replace
}

// Insert adds entries to the log of a ferment's file. The result is proved: when read again it is the old record with
// exactly these entries.
func Insert(text []byte, entries ...ferment.Entry) (Insertion, error) {
	old, err := recordOf(text, fermentLog)
	if err != nil {
		return Insertion{}, err
	}
	return old.put(ferment.Map(entries, entryItem))
}

// put inserts items into the list, at the first place for which the result can be proved.
func (old *record) put(items []item) (Insertion, error) {
	if len(items) == 0 {
		return Insertion{}, fmt.Errorf("there is no %s to write", old.at.words().one)
	}
	if line, odd := old.oddBreak(); odd {
		return Insertion{}, fmt.Errorf("line %d ends in a sign that editors and YAML count differently, so no place is certain (save the file with plain line ends)", line)
	}
	w := old.at.words()
	err := fmt.Errorf("the place for %s in the %s is not clear", w.an, w.list)
	if list := old.list(); list != nil && list.Kind == yaml.MappingNode {
		err = fmt.Errorf("%s has %s without a dash, where a list is needed (put - before its first key)", old.at.key, w.an)
	}
	for _, e := range old.edits(items) {
		before, rest := old.text[:e.at], old.text[e.at+e.instead:]
		text := slices.Concat([]byte(old.mark), before, []byte(e.text), rest)
		line, wrong := prove(old, text, items)
		if wrong == nil {
			return Insertion{text, line, len(old.mark) + e.at, e.text, string(old.text[e.at : e.at+e.instead])}, nil
		}
		err = wrong
	}
	return Insertion{}, err
}

type edit struct {
	at, instead int
	text        string
}

// edits returns the possible edits for items, the most natural first; the proof decides between them.
func (rec *record) edits(items []item) []edit {
	if rec.root == nil {
		return rec.beginning(items)
	}
	list, flowing := rec.list(), rec.holder.Style&yaml.FlowStyle != 0
	switch {
	case list == nil && flowing:
		return rec.inBrackets(rec.holder, rec.at.key+": "+brackets(flows(items)))
	case list == nil:
		return rec.newKey(items)
	case isNothing(list) && flowing:
		return []edit{{rec.offset(list.Line, list.Column), len(list.Value), " " + brackets(flows(items))}}
	case isNothing(list) && list.Value == "":
		return []edit{rec.below(rec.holder.Content[keyAt(rec.holder, rec.at.key)].Line, rec.blockOf(items))}
	case isNothing(list):
		return []edit{{rec.offset(list.Line, list.Column), len(list.Value), rec.newline() + rec.blockOf(items)}}
	case list.Kind != yaml.SequenceNode:
		return nil
	case list.Style&yaml.FlowStyle != 0:
		return rec.inBrackets(list, strings.Join(flows(items), ", "))
	case len(list.Content) == 0:
		return nil
	}
	return rec.inBlock(list, items)
}

// beginning starts the record in an empty file, below its comments.
func (rec *record) beginning(items []item) []edit {
	text := fmt.Sprintf("format: %d", Newest) + rec.newline() + rec.at.key + ":" + rec.newline() + strings.Join(itemLines(items, "  ", " "), rec.newline()) + rec.newline()
	if n := len(rec.text); n > 0 && rec.text[n-1] != '\n' {
		text = rec.newline() + text
	}
	return []edit{{at: len(rec.text), text: text}}
}

// newKey returns the ways to add the list to a mapping that has none, the best first: at its end, before its first key,
// after that.
func (rec *record) newKey(items []item) []edit {
	margin := strings.Repeat(" ", rec.holder.Column-1)
	text := margin + rec.at.key + ":" + rec.newline() + rec.blockOf(items)
	edits := []edit{rec.below(rec.lastLine(rec.holder, rec.limit), text)}
	if first := rec.holder.Line; rec.alone(first, rec.holder.Column) {
		edits = append(edits, edit{at: rec.starts[first-1], text: text + rec.newline()})
	}
	if keys := rec.holder.Content; len(keys) > 2 {
		edits = append(edits, rec.below(rec.lastLine(keys[1], keys[2].Line-1), text))
	}
	return edits
}

// inBlock puts items after the last one, else before the first.
func (rec *record) inBlock(list *yaml.Node, items []item) []edit {
	limit := limitOf(rec.holder, rec.at.key, rec.limit)
	text := strings.Join(itemLines(items, strings.Repeat(" ", list.Column-1), rec.gap(list)), rec.newline())
	edits := []edit{rec.below(rec.lastLine(list, limit), text)}
	if rec.alone(list.Line, list.Column) {
		edits = append(edits, edit{at: rec.starts[list.Line-1], text: text + rec.newline()})
	}
	return edits
}

// gap returns the space after the dash of the last item whose first key is on the dash's line.
func (rec *record) gap(list *yaml.Node) string {
	for i := len(list.Content) - 1; i >= 0; i-- {
		item := list.Content[i]
		line := rec.line(item.Line)
		if n := item.Column - list.Column - 1; n > 0 && rec.alone(item.Line, list.Column) &&
			strings.Trim(line[list.Column:item.Column-1], " ") == "" && line[list.Column-1] == '-' {
			return strings.Repeat(" ", n)
		}
	}
	return " "
}

// alone reports whether only spaces are before a column.
func (rec *record) alone(line, column int) bool {
	text := rec.line(line)
	return len(text) >= column && strings.Trim(text[:column-1], " ") == ""
}

// below is text in a line of its own after a line.
func (rec *record) below(line int, text string) edit {
	at := rec.end(line)
	if at > 0 && rec.text[at-1] == '\n' {
		return edit{at: at, text: text + rec.newline()}
	}
	return edit{at: at, text: rec.newline() + text}
}

// lastLine returns the last line of a value, without blank lines and comments after it; inside a quote or block such
// lines belong to the value.
func (rec *record) lastLine(n *yaml.Node, limit int) int {
	last := limit
	for last > n.Line {
		rest, _ := strings.CutPrefix(strings.TrimLeft(rec.line(last), " "), "-")
		if !isIdle(rec.line(last)) && !isIdle(rest) {
			break
		}
		last--
	}
	for len(n.Content) > 0 { // the scalar that ends the value
		n = n.Content[len(n.Content)-1]
	}
	switch {
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return max(last, rec.lastOfBlock(n, limit))
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return max(last, rec.lastOfQuote(n, '"'))
	case n.Style&yaml.SingleQuotedStyle != 0:
		return max(last, rec.lastOfQuote(n, '\''))
	}
	return max(last, n.Line)
}

// lastOfBlock returns the last line of a block of text that is not blank and at least as deep as its first.
func (rec *record) lastOfBlock(n *yaml.Node, limit int) int {
	last, depth := n.Line, -1
	for i := n.Line + 1; i <= limit; i++ {
		if strings.Trim(rec.line(i), " ") == "" {
			continue
		}
		in := len(rec.line(i)) - len(strings.TrimLeft(rec.line(i), " "))
		if depth < 0 {
			depth = in
		}
		if in < depth || in == 0 {
			break
		}
		last = i
	}
	return last
}

// lastOfQuote returns the last line of a quoted text.
func (rec *record) lastOfQuote(n *yaml.Node, sign byte) int {
	at := rec.offset(n.Line, n.Column)
	line, _ := rec.place(endOfQuote(rec.text, at, sign) - 1)
	return line
}

// newline returns the line end that the file uses.
func (rec *record) newline() string {
	if len(rec.starts) > 1 && rec.starts[1] > 1 && rec.text[rec.starts[1]-2] == '\r' {
		return "\r\n"
	}
	return "\n"
}

func (rec *record) blockOf(items []item) string {
	return strings.Join(itemLines(items, strings.Repeat(" ", rec.holder.Column+1), " "), rec.newline())
}

// itemLines returns items of a block list: a dash, then the keys below each other.
func itemLines(items []item, margin, gap string) (lines []string) {
	for _, it := range items {
		before := margin + "-" + gap
		for _, line := range it.lines {
			lines = append(lines, before+line)
			before = margin + " " + strings.Repeat(" ", len(gap))
		}
	}
	return lines
}

func flows(items []item) []string {
	return ferment.Map(items, func(it item) string { return it.flow })
}
