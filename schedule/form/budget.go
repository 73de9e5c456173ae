package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// budget is what has been reserved so far of a bottling.
type budget struct{ tests, tastings, keeps int }

// reserve shares n bottles out: of those with fizz two or three are opened as a
// test, four to six are tasted through two years, one or two are kept long, the
// rest is to drink. A small batch reserves fewer: no more than a quarter for
// tests and two fifths for tasting, and none of fewer than eight to keep. What
// was reserved before counts. (Common practice, no source.)
func (b *budget) reserve(n int, fizz, soft bool) []kept {
	tests, tastings, keeps := 0, min(4, 2*n/5), n/8
	if fizz {
		tests = min(2, n/4)
	}
	if n >= 16 {
		tests, tastings = tests+tests/2, 6
	}
	if soft {
		tests, tastings, keeps = n, 0, 0
	} else {
		tests, tastings, keeps = max(tests-b.tests, 0), max(tastings-b.tastings, 0), max(min(keeps, 2)-b.keeps, 0)
		b.tests += tests
	}
	b.tastings, b.keeps = b.tastings+tastings, b.keeps+keeps
	out := []kept{{tests, shelf.Test}, {tastings, shelf.Tasting}, {keeps, shelf.Keep}, {n - tests - tastings - keeps, shelf.Drink}}
	return slices.DeleteFunc(out, func(k kept) bool { return k.n <= 0 })
}

// budgetWords is why so many bottles are reserved.
func budgetWords(rows []row) string {
	n, tests, tastings := 0, 0, 0
	for _, r := range rows {
		n, tests, tastings = n+r.count, tests+r.kept(shelf.Test), tastings+r.kept(shelf.Tasting)
	}
	var why []string
	if tests > 0 {
		why = append(why, "tests are squeezed and opened in the first weeks")
	}
	if tastings > 0 {
		var months []string
		for _, m := range shelf.Ages[:min(tastings, len(shelf.Ages))] {
			months = append(months, strconv.Itoa(m))
		}
		why = append(why, "tastings come "+strings.Join(months, ", ")+" mo after bottling")
	}
	if n < 10 {
		why = append(why, "so small a batch reserves few")
	}
	if len(why) == 0 {
		return "nothing is reserved"
	}
	return strings.Join(why, "; ")
}

// keeps asks what the bottles of a row are kept for: "drink", or "2 test, 4
// tasting, 3 drink". Those that are not named are to drink.
func (f filling) keeps(p *page, key, label string, r row, b *budget) []kept {
	var words []string
	for _, k := range b.reserve(r.count, r.fizzes(), isSoft(r.bottle.Kind) && r.fizzes()) {
		words = append(words, fmt.Sprintf("%d %s", k.n, k.purpose))
	}
	field := Field{Key: key, Label: label, Value: strings.Join(words, ", "), From: "e.g. 2 test, 4 tasting, 3 drink; or one word"}
	given := may(p, field, func(text string) (measure.Given[[]kept], error) { return readKept(text, r.count) })
	if !given.Known() {
		return []kept{{r.count, shelf.Drink}}
	}
	return given.Value
}

// readKept reads what so many bottles are kept for.
func readKept(text string, count int) (measure.Given[[]kept], error) {
	bad := func(problem string) (measure.Given[[]kept], error) {
		return measure.Given[[]kept]{}, &measure.Error{Text: text, Problem: problem, Hint: "numbers and drink, test, tasting or keep, e.g. 2 test, 4 tasting, 3 drink"}
	}
	fields := strings.Fields(strings.ReplaceAll(text, ",", " "))
	if len(fields) == 1 && slices.Contains(ferment.ForWords, strings.ToLower(fields[0])) {
		return measure.Give([]kept{{count, strings.ToLower(fields[0])}}, text), nil
	}
	var out []kept
	sum := 0
	for i := 0; i < len(fields); i += 2 {
		n, err := strconv.Atoi(fields[i])
		if err != nil || n < 0 || n > 10000 || i+1 >= len(fields) || !slices.Contains(ferment.ForWords, strings.ToLower(fields[i+1])) {
			return bad("is not what bottles are kept for")
		}
		if sum += n; n > 0 {
			out = append(out, kept{n, strings.ToLower(fields[i+1])})
		}
	}
	switch {
	case sum > count:
		return bad(fmt.Sprintf("are %d bottles of %d", sum, count))
	case sum < count:
		out = append(out, kept{count - sum, shelf.Drink})
	}
	return measure.Give(out, text), nil
}
