package journal

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"cellar/jugkeeper/ferment"
)

// A style is where a value is written: on a line of its own, or among others
// between brackets, where fewer characters can stand bare. To be compared, a
// value is written between brackets with its times in one zone.
type style int

const (
	block style = iota
	flow
	compared
)

// inside is the style of what stands inside a value.
func (s style) inside() style { return max(s, flow) }

// scalar is a text as YAML, bare where that is safe.
func (s style) scalar(text string) string {
	text = strings.TrimSpace(ferment.HarmlessLines(text))
	if text == "" || s.bare(text) {
		return text
	}
	return strconv.Quote(text) // its escapes are YAML's too
}

// words that a reader of YAML 1.1 or 1.2 takes for something else than text.
var taken = []string{"~", "null", "true", "false", "yes", "no", "on", "off", "y", "n", "<<", "=", "---", "..."}

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

// flowList is a list of texts between brackets.
func flowList(texts []string) string {
	items := make([]string, 0, len(texts))
	for _, t := range texts {
		items = append(items, flow.scalar(t))
	}
	return flowItems(items)
}

func flowItems(items []string) string {
	if len(items) == 0 {
		return ""
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// pairs are the keys of a noun that have a value, "key: value" each.
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

// braces is a noun between braces, nothing for one without a value.
func (t *table[T]) braces(from *T, s style) string {
	pairs := t.pairs(from, s.inside())
	if len(pairs) == 0 {
		return ""
	}
	return "{" + strings.Join(pairs, ", ") + "}"
}

// flowEntry is an entry between braces.
func flowEntry(e ferment.Entry) string { return entryTable.braces(&e, flow) }

// listed are nouns in a list between brackets, without those that say nothing.
func (t *table[T]) listed(nouns []T, s style) string {
	var items []string
	for i := range nouns {
		if text := t.braces(&nouns[i], s); text != "" {
			items = append(items, text)
		}
	}
	return flowItems(items)
}
