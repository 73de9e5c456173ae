package journal

import (
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/protocol"
)

// when is a point in time of a plan: a scalar, or the first or the last of
// several.
func (v value) when() (w ferment.When, ok bool) { return v.whenAt(0) }

// deepest is how deep first and last may stand in each other.
const deepest = 5

func (v value) whenAt(depth int) (w ferment.When, ok bool) {
	if v.node.Kind != yaml.MappingNode {
		s, ok := v.word()
		if !ok {
			return w, false
		}
		w, err := protocol.ParseWhen(s)
		if err != nil {
			v.refuse(err)
		}
		return w, err == nil
	}
	if !v.plain() {
		return w, false
	}
	if len(v.node.Content) != 2 || depth == deepest {
		v.wrong("takes one of first and last")
		return w, false
	}
	key, points := v.node.Content[0].Value, value{v.reader, v.node.Content[1], v.key, v.example}
	all, ok := points.points(depth + 1)
	switch key {
	case "first":
		w.First = all
	case "last":
		w.Last = all
	default:
		v.fail(v.node.Content[0], "%s is no choice of times (first or last, e.g. due: {first: [pitch + 2 d, break 1/3]})", quote(key))
		return w, false
	}
	w.Text = key + " of " + texted(all)
	return w, ok
}

func (v value) points(depth int) (all []ferment.When, ok bool) {
	items := v.items()
	if ok = len(items) > 0; !ok {
		v.wrong("has nothing to choose from")
	}
	for _, item := range items {
		w, good := item.whenAt(depth)
		all, ok = append(all, w), ok && good
	}
	return all, ok
}

func texted(all []ferment.When) string {
	texts := make([]string, len(all))
	for i, w := range all {
		texts[i] = w.Text
	}
	return strings.Join(texts, ", ")
}

// when as a field of a noun.
func when[T any](key, example string, set func(*T, ferment.When)) field[T] {
	return field[T]{key: key, example: example, read: func(v value, into *T) {
		if w, ok := v.when(); ok {
			set(into, w)
		}
	}}
}

// conditions are questions, one or a list.
func conditions[T any](key, example string, at func(*T) *[]ferment.Condition) field[T] {
	return field[T]{key: key, example: example, read: func(v value, into *T) {
		for _, item := range v.items() {
			s, ok := item.word()
			if !ok {
				continue
			}
			c, err := protocol.ParseCondition(s)
			if err != nil {
				item.refuse(err)
				continue
			}
			*at(into) = append(*at(into), c)
		}
	}}
}
