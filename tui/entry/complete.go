package entry

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// complete completes the last word as far as all candidates agree, and shows them in a message: acts, keys, words of a
// key, the cellar's places, bottles and fruit.
func (r Reading) complete() (Reading, intent.Intent) {
	typed := r.text.String()
	at := strings.LastIndexAny(typed, " ;") + 1
	word := strings.ToLower(typed[at:])
	could := slices.DeleteFunc(r.couldBe(word), func(c string) bool { return c == word || !strings.HasPrefix(strings.ToLower(c), word) })
	slices.Sort(could)
	if could = slices.Compact(could); word == "" || strings.Contains(typed[:at], ";") || len(could) == 0 {
		return r, nil
	}
	most := could[0]
	for !strings.HasPrefix(could[len(could)-1], most) { // sorted: the first and the last differ most
		most = most[:len(most)-1]
	}
	if len(could) == 1 && !strings.HasSuffix(most, "=") {
		most += " "
	}
	if r.text = widget.NewText(typed[:at] + most); len(could) == 1 {
		return r.understand(), nil
	}
	return r.understand(), intent.Say{Text: strings.Join(could[:min(len(could), 8)], "  ")}
}

// couldBe returns the candidates for the beginning of a word.
func (r Reading) couldBe(word string) (could []string) {
	name, _, value := strings.Cut(word, "=")
	if !value {
		could = ferment.ActNames()
		for _, k := range ferment.Keys() {
			if k.Typed != "" {
				could = append(could, k.Name+"=")
			}
		}
		return could
	}
	var values []string
	switch name {
	case "place":
		for _, v := range r.snapshot.Vessels {
			values = append(values, ferment.Map(v.Course.Entries, func(e *ferment.Entry) string { return e.Place })...)
		}
	case "bottle":
		for _, b := range shelf.Of(r.vessel.Course).Batches {
			for _, l := range b.Lines {
				values = append(values, l.Codes...)
			}
		}
	case "of":
		values = ferment.FruitNames()
	}
	for _, k := range ferment.Keys() {
		if k.Name == name {
			values = append(values, k.Words...)
		}
	}
	for _, v := range values {
		if strings.Contains(v, " ") {
			v = `"` + v + `"`
		}
		could = append(could, name+"="+v)
	}
	return could
}
