package entry

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// doubts are the unlikely values in a line, and whether they were asked about.
type doubts struct {
	unlikely []app.Ask
	asked    string   // the text that was asked about
	guess    *guesses // proposed values, once one was taken
}

// guesses are taken in turn, then the line as it was typed.
type guesses struct {
	typed string // the text before the first was taken
	ask   app.Ask
	next  int
}

// unasked reports whether the line has something unlikely that was not asked about.
func (d doubts) unasked(t widget.Text) bool { return len(d.unlikely) > 0 && d.asked != t.String() }

// isAsked reports whether the question is shown.
func (d doubts) isAsked(t widget.Text) bool { return len(d.unlikely) > 0 && d.asked == t.String() }

// take puts the next guess into the line; without one the line stays.
func (d doubts) take(t widget.Text) (widget.Text, doubts) {
	if d.guess == nil {
		for _, a := range d.unlikely {
			if len(a.Meant) > 0 && d.isAsked(t) {
				d.guess = &guesses{typed: t.String(), ask: a}
				break
			}
		}
	}
	if d.guess == nil {
		return t, d
	}
	g := *d.guess
	text := g.typed
	if g.next < len(g.ask.Meant) {
		text = g.ask.Take(g.typed, g.ask.Meant[g.next])
	}
	g.next = (g.next + 1) % (len(g.ask.Meant) + 1)
	d.guess = &g
	return widget.NewText(text), d
}

// keepBack returns the keys at the right: the same key again keeps what is asked about.
func (d doubts) keepBack(l Look, t widget.Text) []widget.Key {
	if !d.isAsked(t) {
		return l.keepBack()
	}
	keeps := strings.TrimSpace(t.String())
	if len(keeps) > 10 {
		keeps = "it"
	}
	return []widget.Key{{Key: l.Keep, Does: "again keeps " + keeps}, {Key: l.Back, Does: "back"}}
}

// guessFooter says what the key for guesses does next.
func (d doubts) guessFooter(l Look) string {
	var meant []app.Meant
	if d.guess != nil {
		meant = d.guess.ask.Meant[min(d.guess.next, len(d.guess.ask.Meant)):]
	} else {
		for _, a := range d.unlikely {
			if meant = a.Meant; len(meant) > 0 {
				break
			}
		}
	}
	var keys []widget.Key
	name := l.Guess
	for _, m := range meant {
		keys = append(keys, widget.Key{Key: name, Does: "takes " + m.Says})
		name += " " + l.Guess
	}
	if len(keys) == 0 {
		keys = []widget.Key{{Key: "type on", Does: "to change it"}}
	}
	return l.footer(keys...)
}

// asks returns the questions about unlikely values.
func (l Look) asks(unlikely []app.Ask) []string {
	var rows []string
	for _, a := range unlikely {
		rows = append(rows, l.wordedAs(words.Ask, a.String(), l.Theme.Bold)...)
	}
	return rows
}

// typed says what a typed amount means, if it is not the planned one.
func (l Look) typed(d *app.Dose) []string {
	if d == nil || d.Reached == 0 || d.Wanted == 0 || d.Factor > 0.995 && d.Factor < 1.005 {
		return nil
	}
	says := nitrogen(d.Reached, d.Wanted)
	if over := float64(d.Reached / d.Wanted); over >= 2 {
		says += ", " + measure.Decimal(over, 0) + " times what is wanted"
	}
	return l.named("typed", says)
}

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
