package journal

import (
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// edits are the ways to put entries into a log, the most natural first. Which
// of them leaves the record as it was is for the proof to say.
func (rec *record) edits(entries []ferment.Entry) []edit {
	log := rec.log()
	flowing := rec.holder.Style&yaml.FlowStyle != 0
	switch {
	case log == nil && flowing:
		return rec.inBrackets(rec.holder, "log: "+flowLog(entries))
	case log == nil:
		return rec.newKey(entries)
	case isNothing(log) && flowing:
		return []edit{{rec.offset(log.Line, log.Column), len(log.Value), " " + flowLog(entries)}}
	case isNothing(log) && log.Value == "":
		return []edit{rec.below(rec.keyLine("log"), rec.blockLog(entries))}
	case isNothing(log):
		return []edit{{rec.offset(log.Line, log.Column), len(log.Value), rec.newline() + rec.blockLog(entries)}}
	case log.Kind != yaml.SequenceNode:
		return nil
	case log.Style&yaml.FlowStyle != 0:
		return rec.inBrackets(log, flowEntries(entries))
	case len(log.Content) == 0:
		return nil
	}
	return rec.inBlock(log, entries)
}

// newKey puts a log at the end of a mapping without one, else before its first
// key.
func (rec *record) newKey(entries []ferment.Entry) []edit {
	margin := strings.Repeat(" ", rec.holder.Column-1)
	text := margin + "log:" + rec.newline() + rec.blockLog(entries)
	edits := []edit{rec.below(rec.lastLine(rec.holder, rec.limit), text)}
	if first := rec.holder.Line; rec.alone(first, rec.holder.Column) {
		edits = append(edits, edit{at: rec.starts[first-1], text: text + rec.newline()})
	}
	return edits
}

// inBlock puts entries after the last one, else before the first.
func (rec *record) inBlock(log *yaml.Node, entries []ferment.Entry) []edit {
	limit := rec.limitOf(rec.holder, "log", rec.limit)
	margin, gap := strings.Repeat(" ", log.Column-1), rec.gap(log)
	text := rec.items(entries, margin, gap)
	edits := []edit{rec.below(rec.lastLine(log, limit), text)}
	if rec.alone(log.Line, log.Column) {
		edits = append(edits, edit{at: rec.starts[log.Line-1], text: text + rec.newline()})
	}
	return edits
}

// gap is what stands between the dash and the first key of the last entry that
// begins on its dash's line.
func (rec *record) gap(log *yaml.Node) string {
	for i := len(log.Content) - 1; i >= 0; i-- {
		item := log.Content[i]
		line := rec.line(item.Line)
		if n := item.Column - log.Column - 1; n > 0 && rec.alone(item.Line, log.Column) &&
			strings.Trim(line[log.Column:item.Column-1], " ") == "" && line[log.Column-1] == '-' {
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

// blockLog are entries as the value of a log that had none.
func (rec *record) blockLog(entries []ferment.Entry) string {
	return rec.items(entries, strings.Repeat(" ", rec.holder.Column+1), " ")
}

func (rec *record) items(entries []ferment.Entry, margin, gap string) string {
	var lines []string
	for _, e := range entries {
		lines = append(lines, blockEntry(e, margin, gap)...)
	}
	return strings.Join(lines, rec.newline())
}

func flowEntries(entries []ferment.Entry) string {
	items := make([]string, len(entries))
	for i, e := range entries {
		items[i] = flowEntry(e)
	}
	return strings.Join(items, ", ")
}

func flowLog(entries []ferment.Entry) string { return "[" + flowEntries(entries) + "]" }
