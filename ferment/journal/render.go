package journal

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"cellar/jugkeeper/ferment"
)

// style is where a value is written: on a line of its own, or between brackets, where fewer characters can be bare. For
// comparison a value is written between brackets with its times in one zone.
type style int

const (
	block style = iota
	flow
	compared
)

// scalar returns a text as YAML, bare if that is safe.
func (s style) scalar(text string) string {
	text = strings.TrimSpace(ferment.HarmlessLines(text))
	if text == "" || s.bare(text) {
		return text
	}
	return strconv.Quote(text) // its escapes are valid in YAML
}

// taken are words that YAML 1.1 or 1.2 reads as something other than text.
var taken = []string{"~", "null", "true", "false", "yes", "no", "on", "off", "y", "n", "<<", "=", "---", "..."}

// bare reports whether a text needs no quotes.
func (s style) bare(text string) bool {
	switch {
	case slices.Contains(taken, strings.ToLower(text)),
		strings.Contains(text, ": "), strings.Contains(text, " #"), strings.HasSuffix(text, ":"),
		s != block && strings.ContainsAny(text, ",[]{}?"),
		strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }):
		return false
	}
	first := text[0]
	if first == '-' {
		return len(text) > 1 && text[1] >= '0' && text[1] <= '9'
	}
	return !strings.ContainsRune("?:,[]{}#&*!|>'\"%@`", rune(first))
}

// flowList writes a list of texts between brackets, nothing for an empty one.
func flowList(texts []string, _ style) string {
	return brackets(ferment.Map(texts, flow.scalar))
}

func brackets(items []string) string {
	if len(items) == 0 {
		return ""
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// pairs returns the keys of a noun that have a value, "key: value" each.
func (t *table[T]) pairs(from *T, s style) []string {
	var pairs []string
	for _, f := range t.fields {
		if f.write == nil {
			continue
		}
		if text := f.write(from, s); text != "" {
			pairs = append(pairs, f.key+": "+text)
		}
	}
	return pairs
}

// braces writes a noun between braces, nothing for one without values.
func (t *table[T]) braces(from *T, s style) string {
	pairs := t.pairs(from, max(s, flow))
	if len(pairs) == 0 {
		return ""
	}
	return "{" + strings.Join(pairs, ", ") + "}"
}

func flowEntry(e ferment.Entry) string { return entryTable.braces(&e, flow) }

// listed writes nouns in a list between brackets, without empty ones.
func (t *table[T]) listed(nouns []T, s style) string {
	var items []string
	for i := range nouns {
		if text := t.braces(&nouns[i], s); text != "" {
			items = append(items, text)
		}
	}
	return brackets(items)
}

// Quote adds to problems the text of their lines.
func (s *Store) Quote(ps []ferment.Problem) []ferment.Problem {
	s.mu.Lock()
	defer s.mu.Unlock()
	texts := map[string]source{}
	for i, p := range ps {
		if p.Line == 0 || p.Text != "" {
			continue
		}
		text, read := texts[p.File]
		if !read {
			data, _ := ReadSmall(s.path(p.File)) // an unreadable file has no text to show
			text = newSource(p.File, data)
			texts[p.File] = text
		}
		ps[i].Text = told(text.line(p.Line))
	}
	return ps
}

// item is one thing to insert into a list: how it is written, and how it reads.
type item struct {
	lines []string // in a block, a key a line, without dash and margin
	flow  string   // between braces
	says  string   // how it must read back
	read  func(value) (says string, whole bool)
}

// itemOf makes an item with its keys on a line each.
func itemOf[T any](t *table[T], one T) item {
	return item{
		lines: t.pairs(&one, block),
		flow:  t.braces(&one, flow),
		says:  t.braces(&one, compared),
		read: func(v value) (string, bool) {
			var again T
			mark := v.count
			t.read(v, &again)
			return t.braces(&again, compared), v.count == mark
		},
	}
}

func entryItem(e ferment.Entry) item {
	it := itemOf(entryTable, e)
	it.read = func(v value) (string, bool) {
		var again ferment.Entry
		whole := readEntry(v, &again)
		return entryTable.braces(&again, compared), whole
	}
	return it
}

// lineItem makes an item on a single line, for long lists.
func lineItem[T any](t *table[T]) func(T) item {
	return func(one T) item {
		it := itemOf(t, one)
		if it.flow != "" {
			it.lines = []string{it.flow}
		}
		return it
	}
}

var useItem = lineItem(useTable)

func lotItem(l ferment.Lot) item { return itemOf(lotTable, l) }

// cultureItem makes an item with each entry of the culture's log on its own line.
func cultureItem(c ferment.Culture) item {
	it := itemOf(cultureTable, c)
	bare := c
	bare.Log = nil
	it.lines = cultureTable.pairs(&bare, block)
	if len(c.Log) > 0 {
		it.lines = append(it.lines, "log:")
	}
	it.lines = append(it.lines, ferment.Map(c.Log, func(e ferment.Entry) string { return "  - " + flowEntry(e) })...)
	return it
}

// itemsOf returns what a receipt wrote, to find it again.
func itemsOf(r ferment.Receipt) []item {
	switch {
	case len(r.Lots) > 0:
		return ferment.Map(r.Lots, lotItem)
	case len(r.Uses) > 0:
		return ferment.Map(r.Uses, useItem)
	case len(r.Cultures) > 0:
		return ferment.Map(r.Cultures, cultureItem)
	}
	return ferment.Map(r.Entries, entryItem)
}

// NewFerment returns the file of a new ferment; keys without a value are comments to fill in.
func NewFerment(f ferment.Ferment) ([]byte, error) {
	d := draft{Ferment: f}
	lines := []string{"# yaml-language-server: $schema=../" + schemaFile("ferment"), fmt.Sprintf("format: %d", Newest)}
	for _, key := range fermentTable.fields[1:] {
		switch key.key {
		case "must":
			lines = append(lines, groupLines("must", mustTable, &d.Must, map[string][]item{
				"honey": ferment.Map(d.Must.Honey, lineItem(honeyTable)),
				"fruit": ferment.Map(d.Must.Fruit, lineItem(fruitTable)),
			})...)
		case "yeast":
			lines = append(lines, groupLines("yeast", yeastTable, &d.Yeast, nil)...)
		case "log":
			lines = append(append(lines, "log:"), itemLines(ferment.Map(d.Log, entryItem), "  ", " ")...)
		default:
			lines = append(lines, keyLine(key, &d, ""))
		}
	}
	text := []byte(strings.Join(lines, "\n") + "\n")
	again := ReadFerment(openFile(d.ID), text, time.UTC)
	if len(again.Problems) > 0 {
		return text, &ProblemError{again.Problems}
	}
	got := draft{Ferment: again.Value}
	if got, want := fermentTable.braces(&got, compared), fermentTable.braces(&d, compared); got != want {
		return text, fmt.Errorf("%s would be read as %s instead of %s", openFile(d.ID), short(got, 400), short(want, 400))
	}
	return text, nil
}

// keyLine writes a key of a new file with its explanation, as a comment if it has no value.
func keyLine[T any](f field[T], from *T, margin string) string {
	line, value := margin+f.key+": ", f.write(from, block)
	if value == "" {
		line, value = margin+"# "+f.key+": ", f.example
	}
	about := f.does
	if f.shape.form == Word {
		about += " (" + ferment.Either(f.shape.words) + ")"
	}
	if about == "" {
		return line + value
	}
	return fmt.Sprintf("%-39s # %s", line+value, about)
}

// groupLines writes a noun with a key a line and its lists an item a line; without values as a comment.
func groupLines[T any](key string, t *table[T], from *T, lists map[string][]item) []string {
	lines := []string{key + ":"}
	if t.braces(from, flow) == "" {
		lines[0] = "# " + lines[0]
	}
	for _, f := range t.fields {
		if items := lists[f.key]; len(items) > 0 {
			lines = append(append(lines, "  "+f.key+":"), itemLines(items, "    ", " ")...)
		} else {
			lines = append(lines, keyLine(f, from, "  "))
		}
	}
	return lines
}
