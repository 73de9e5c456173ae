package journal

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// Insertion is a text with items put into a list of it.
type Insertion struct {
	Text    []byte // the whole new text
	Line    int    // of the first item
	Offset  int    // where Added begins
	Added   string // the bytes put in
	Removed string // the bytes they took the place of
}

// Insert puts entries into the log of a ferment's file. The result is proved:
// read again, it is the old record and exactly these entries.
func Insert(text []byte, entries ...ferment.Entry) (Insertion, error) {
	return insert(text, fermentLog, itemsFrom(entries, entryItem))
}

func insert(text []byte, at spot, items []item) (Insertion, error) {
	old, err := recordOf(text, at)
	if err != nil {
		return Insertion{}, err
	}
	return old.put(items)
}

// put puts items into the list where the result can be proved.
func (old *record) put(items []item) (Insertion, error) {
	if len(items) == 0 {
		return Insertion{}, fmt.Errorf("there is no %s to write", old.at.words().one)
	}
	if line, odd := old.oddBreak(); odd {
		return Insertion{}, fmt.Errorf("line %d ends in a sign that editors and YAML count differently, so no place is certain (save the file with plain line ends)", line)
	}
	err := old.unclear()
	for _, e := range old.edits(items) {
		made := e.apply(old.source)
		line, wrong := prove(old, made.Text, items)
		if wrong == nil {
			made.Line = line
			return made, nil
		}
		err = wrong
	}
	return Insertion{}, err
}

// unclear says why a list has no place for an item.
func (rec *record) unclear() error {
	w := rec.at.words()
	if list := rec.list(); list != nil && list.Kind == yaml.MappingNode {
		return fmt.Errorf("%s holds %s without a dash, where a list is wanted (put - before its first key)", rec.at.key, w.an)
	}
	return fmt.Errorf("the place for %s in the %s is not clear", w.an, w.list)
}

// A record is a file as a tree, with the way to one list in it.
type record struct {
	*reader
	at     spot
	root   *yaml.Node // nil for an empty file
	holder *yaml.Node // the mapping that has the list, or could have it
	limit  int        // the last line that can belong to the holder
}

// recordOf reads a text for writing. Syntax errors inside a log are left out
// of the tree; any other makes every place uncertain.
func recordOf(text []byte, at spot) (*record, error) {
	r := newReader("", text, nil)
	root, ok := r.root()
	switch {
	case !ok || r.broken:
		return nil, fmt.Errorf("the file cannot be read: %s", strings.TrimLeft(r.problems[0].String(), ": "))
	case at.begins() && isNothing(root):
		return &record{reader: r, at: at}, nil
	case root == nil || root.Kind != yaml.MappingNode:
		return nil, errors.New("the file holds no record (it begins with format: 1)")
	}
	rec := &record{reader: r, at: at, root: root, holder: root, limit: r.lastOfDocument(root)}
	if at.list != "" && !rec.findHolder() {
		return nil, fmt.Errorf("there is no %s %s in the file", at.owner(), quote(at.id))
	}
	return rec, nil
}

// lastOfDocument is the last line before the sign that ends a document.
func (r *reader) lastOfDocument(root *yaml.Node) int {
	for n := root.Line + 1; n <= len(r.starts); n++ {
		if line := r.line(n); line == "..." || strings.HasPrefix(line, "... ") {
			return n - 1
		}
	}
	return len(r.starts)
}

// findHolder goes down to the item of a list that has the spot's id.
func (rec *record) findHolder() bool {
	list := child(rec.root, rec.at.list)
	if list == nil || list.Kind != yaml.SequenceNode {
		return false
	}
	rec.limit = rec.limitOf(rec.root, rec.at.list, rec.limit)
	for i, item := range list.Content {
		if id := child(item, "id"); id == nil || strings.TrimSpace(ferment.Harmless(id.Value)) != rec.at.id {
			continue
		}
		if i+1 < len(list.Content) {
			rec.limit = list.Content[i+1].Line - 1
		}
		rec.holder = item
		return true
	}
	return false
}

// limitOf is the last line that can belong to a key's value: the one before
// the next key.
func (r *reader) limitOf(mapping *yaml.Node, key string, limit int) int {
	for i := 0; i+2 < len(mapping.Content); i += 2 {
		if mapping.Content[i].Value == key {
			return mapping.Content[i+2].Line - 1
		}
	}
	return limit
}

// lacking are the entries that do not stand in the list as they are, to the
// second and the letter.
func (rec *record) lacking(entries []ferment.Entry) []ferment.Entry {
	return slices.DeleteFunc(slices.Clone(entries), func(e ferment.Entry) bool {
		return slices.ContainsFunc(nodesOf(rec.list()), func(n *yaml.Node) bool {
			at := child(n, "at")
			return at != nil && at.Value == momentText(e.At, block) && rec.readBack([]*yaml.Node{n}, []item{entryItem(e)}) == nil
		})
	})
}

// list is the value of the list, nil where there is none.
func (rec *record) list() *yaml.Node { return child(rec.holder, rec.at.key) }

// An edit puts a text in at an offset, in the place of so many bytes.
type edit struct {
	at, instead int
	text        string
}

func (e edit) apply(s source) Insertion {
	at := len(s.mark) + e.at
	whole := s.mark + string(s.text[:e.at]) + e.text + string(s.text[e.at+e.instead:])
	return Insertion{Text: []byte(whole), Offset: at, Added: e.text, Removed: string(s.text[e.at : e.at+e.instead])}
}

// edits are the ways to put items into a list, the most natural first. Which
// of them leaves the record as it was is for the proof to say.
func (rec *record) edits(items []item) []edit {
	if rec.root == nil {
		return rec.beginning(items)
	}
	list, flowing := rec.list(), rec.holder.Style&yaml.FlowStyle != 0
	switch {
	case list == nil && flowing:
		return rec.inBrackets(rec.holder, rec.at.key+": "+flowOf(items))
	case list == nil:
		return rec.newKey(items)
	case isNothing(list) && flowing:
		return []edit{{rec.offset(list.Line, list.Column), len(list.Value), " " + flowOf(items)}}
	case isNothing(list) && list.Value == "":
		return []edit{rec.below(rec.keyLine(rec.at.key), rec.blockOf(items))}
	case isNothing(list):
		return []edit{{rec.offset(list.Line, list.Column), len(list.Value), rec.newline() + rec.blockOf(items)}}
	case list.Kind != yaml.SequenceNode:
		return nil
	case list.Style&yaml.FlowStyle != 0:
		return rec.inBrackets(list, flowItemsOf(items))
	case len(list.Content) == 0:
		return nil
	}
	return rec.inBlock(list, items)
}

// beginning makes the record of an empty file, below its comments.
func (rec *record) beginning(items []item) []edit {
	text := fmt.Sprintf("format: %d", Newest) + rec.newline() + rec.at.key + ":" + rec.newline() + rec.itemLines(items, "  ", " ") + rec.newline()
	if n := len(rec.text); n > 0 && rec.text[n-1] != '\n' {
		text = rec.newline() + text
	}
	return []edit{{at: len(rec.text), text: text}}
}

// newKey puts a list at the end of a mapping without it, else before its first
// key, else after the first.
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
	limit := rec.limitOf(rec.holder, rec.at.key, rec.limit)
	margin, gap := strings.Repeat(" ", list.Column-1), rec.gap(list)
	text := rec.itemLines(items, margin, gap)
	edits := []edit{rec.below(rec.lastLine(list, limit), text)}
	if rec.alone(list.Line, list.Column) {
		edits = append(edits, edit{at: rec.starts[list.Line-1], text: text + rec.newline()})
	}
	return edits
}

// gap is what stands between the dash and the first key of the last item that
// begins on its dash's line.
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

// alone tells whether only spaces stand before a column.
func (rec *record) alone(line, column int) bool {
	text := rec.line(line)
	return len(text) >= column && strings.Trim(text[:column-1], " ") == ""
}

// below puts lines in under a line, which may lack its break.
func (rec *record) below(line int, text string) edit {
	at := rec.end(line)
	if at > 0 && rec.text[at-1] == '\n' {
		return edit{at: at, text: text + rec.newline()}
	}
	return edit{at: at, text: rec.newline() + text}
}

// lastLine is the last line of a value, above the blank lines and comments
// that follow it. What looks like a comment inside a text in quotes or in a
// block of text belongs to the value.
func (rec *record) lastLine(n *yaml.Node, limit int) int {
	last := limit
	for last > n.Line && (isIdle(rec.line(last)) || isLoneDash(rec.line(last))) {
		last--
	}
	return max(last, rec.lastOfScalar(deepestLast(n), limit))
}

func isLoneDash(line string) bool {
	rest, dash := strings.CutPrefix(strings.TrimLeft(line, " "), "-")
	return dash && isIdle(rest)
}

// deepestLast is the scalar that a value ends with.
func deepestLast(n *yaml.Node) *yaml.Node {
	for len(n.Content) > 0 {
		n = n.Content[len(n.Content)-1]
	}
	return n
}

// lastOfScalar is the last line of a scalar that may run over several.
func (rec *record) lastOfScalar(n *yaml.Node, limit int) int {
	switch {
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return rec.lastOfBlock(n, limit)
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return rec.lastOfQuote(n, '"')
	case n.Style&yaml.SingleQuotedStyle != 0:
		return rec.lastOfQuote(n, '\'')
	}
	return n.Line
}

// lastOfBlock goes down the lines of a block of text: those as deep as its
// first one that is not blank.
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

// lastOfQuote finds the line of the sign that closes a quote.
func (rec *record) lastOfQuote(n *yaml.Node, sign byte) int {
	at := rec.offset(n.Line, n.Column)
	line, _ := rec.place(endOfQuote(rec.text, at, sign) - 1)
	return line
}

// keyLine is the line of a key of the holder.
func (rec *record) keyLine(key string) int {
	for i := 0; i+1 < len(rec.holder.Content); i += 2 {
		if rec.holder.Content[i].Value == key {
			return rec.holder.Content[i].Line
		}
	}
	return rec.holder.Line
}

// newline is the line end that the file uses.
func (rec *record) newline() string {
	if len(rec.starts) > 1 && rec.starts[1] > 1 && rec.text[rec.starts[1]-2] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// blockOf are items as the value of a list that had none.
func (rec *record) blockOf(items []item) string {
	return rec.itemLines(items, strings.Repeat(" ", rec.holder.Column+1), " ")
}

// itemLines are items of a block: a dash, then their lines below one another.
func (rec *record) itemLines(items []item, margin, gap string) string {
	var lines []string
	for _, it := range items {
		before := margin + "-" + gap
		for _, line := range it.lines {
			lines = append(lines, before+line)
			before = margin + " " + strings.Repeat(" ", len(gap))
		}
	}
	return strings.Join(lines, rec.newline())
}

func flowItemsOf(items []item) string {
	texts := make([]string, len(items))
	for i, it := range items {
		texts[i] = it.flow
	}
	return strings.Join(texts, ", ")
}

func flowOf(items []item) string { return "[" + flowItemsOf(items) + "]" }
