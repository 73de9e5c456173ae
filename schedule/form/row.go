package form

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

type row struct {
	bottle carbonation.Bottle
	size   measure.Given[measure.Volume]
	count  int
	fizz   measure.Given[measure.Content]
	keeps  []kept
	codes  string
}

type kept struct {
	n       int
	purpose string
}

func (r row) fizzes() bool { return r.fizz.Value > 0 }

func (r row) volume() measure.Volume { return r.size.Value * measure.Volume(r.count) }

func (r row) kept(purpose string) (n int) {
	for _, k := range r.keeps {
		if k.purpose == purpose {
			n += k.n
		}
	}
	return n
}

// filled returns the bottles as written, by purpose, with the codes in order.
func (r row) filled(honey measure.Given[measure.Mass]) []ferment.Bottles {
	codes := shelf.Codes(r.codes)
	shared := len(codes) == r.count
	var out []ferment.Bottles
	for _, k := range r.keeps {
		b := ferment.Bottles{Kind: r.bottle.Kind, Size: r.size, Count: k.n, Codes: r.codes, Fizz: r.fizz, Honey: honey, For: k.purpose}
		if shared {
			b.Codes, codes = strings.Join(shelf.Runs(codes[:k.n]), ", "), codes[k.n:]
		}
		out = append(out, b)
	}
	return out
}

// ask asks for rows of bottles, at most four, until one is left empty.
func (f filling) ask(p *asking) []row {
	proposed := f.proposals()
	budget := &budget{}
	for n := 1; n <= 4; n++ {
		var next *proposal
		if n <= len(proposed) {
			next = &proposed[n-1]
		}
		r, is := f.row(p, n, next, budget)
		if !is {
			break
		}
		f.rows = append(f.rows, r)
	}
	return f.rows
}

// ofRow returns a label with its row's number, from the second on.
func ofRow(label string, n int) string {
	if n == 1 {
		return label
	}
	return label + " " + strconv.Itoa(n)
}

// row asks for one kind of bottles, proposed by what is usual and by what is left; not ok for none.
func (f filling) row(p *asking, n int, next *proposal, b *budget) (r row, is bool) {
	key := func(name string) string { return fmt.Sprintf("%s-%d", name, n) }
	rest := f.holds - f.filled()
	soft, brief := next != nil && next.soft, next != nil && (next.soft || next.brief)
	kind := Field{Key: key("kind"), Label: ofRow("bottles", n), Value: none, More: soft || n > 1 && rest < f.rows[n-2].size.Value,
		Words: ferment.Map(shelf.AllKinds(f.s.Cellar.Settings), func(b carbonation.Bottle) string { return b.Kind })}
	if n > 1 {
		kind.Words = append(kind.Words, none)
	}
	if next != nil && (n == 1 || f.fits(next, rest) > 0) {
		kind.Value = next.kind
	}
	chosen := p.choose(kind)
	if chosen == none {
		return r, false
	}
	if next == nil || !strings.EqualFold(next.kind, chosen) {
		next = &proposal{kind: chosen, share: 1, fizz: next != nil && next.fizz, soft: next != nil && next.soft}
	}
	r.bottle, _ = shelf.KindOf(f.s.Cellar.Settings, chosen)
	r.size = want(p, Field{Key: key("size"), Label: ofRow("size", n), Value: f.sizeOf(chosen), From: p.fill("of one bottle, e.g. {330 mL}"), More: brief}, measure.ParseVolume, p.fill("give the volume of one, e.g. {330 mL}"))
	if r.size.Known() && (r.size.Value < 0.02 || r.size.Value > 30) {
		p.fail(key("size"), r.size.Text+p.fill(" is no bottle: {20 mL} to {30 L}, e.g. {330 mL}"))
		r.size = measure.Given[measure.Volume]{}
	}
	count := Field{Key: key("count"), Label: ofRow("how many", n), From: "a whole number, e.g. 9", More: soft}
	if m := f.countFor(next, rest, r.size.Value); m > 0 {
		count.Value = strconv.Itoa(m)
	}
	r.count = want(p, count, wholeNumber, "say how many, e.g. 9").Value
	fizz := Field{Key: key("fizz"), Label: ofRow("fizz", n), Value: ferment.NoFizz, From: "none, or CO₂ aimed at, e.g. 5 g/L", More: brief}
	if next.fizz {
		fizz.Value, fizz.From = f.s.Cellar.Settings.Fizz.String(), "as in cellar.yaml, or none"
	}
	r.fizz = want(p, fizz, ferment.ParseFizz, "say none, or what is aimed at, e.g. 5 g/L")
	if r.fizz.Known() && r.fizz.Text != ferment.NoFizz && r.fizz.Value <= 0 {
		p.fail(key("fizz"), r.fizz.Text+" is no fizz: write none, or e.g. 5 g/L")
	}
	r.keeps = f.keeps(p, key("for"), ofRow("kept for", n), r, b)
	r.codes = p.ask(Field{Key: key("codes"), Label: ofRow("codes", n), Value: f.codes(r.count), From: "on the bottles", More: true})
	return r, true
}

func wholeNumber(text string) (measure.Given[int], error) {
	n, err := strconv.Atoi(text)
	if err == nil && (n < 1 || n > 10000) || err != nil {
		return measure.Given[int]{}, &measure.Error{Text: text, Problem: "is not a number of bottles", Hint: "a whole one from 1 on, e.g. 9"}
	}
	return measure.Give(n, text), nil
}

// codes returns the next codes for so many bottles: the tag and a number.
func (f filling) codes(count int) string {
	first := 1
	for _, b := range shelf.Of(f.v.Course).Batches {
		first += b.Filled().N
	}
	for _, r := range f.rows {
		first += r.count
	}
	switch count {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("%s %d", f.v.Label(), first)
	}
	return fmt.Sprintf("%s %d-%d", f.v.Label(), first, first+count-1)
}

// proposal is a proposed row.
type proposal struct {
	kind  string
	fizz  bool
	soft  bool // one soft bottle, which shows how hard the others are
	share float64
	brief bool // its size and fizz are folded, because there are several
}

// proposals returns the kinds of bottles to propose, by the endings of the plan.
func (j jug) proposals() []proposal {
	f := j.v.Ferment
	soft, rest := proposal{kind: j.kindFor(true, true), fizz: true, soft: true}, proposal{kind: j.kindFor(true, false), fizz: true, share: 1}
	still := proposal{kind: j.kindFor(false, false), share: 1}
	switch {
	case f.EndsAs(ferment.BottleConditioned) && (f.EndsAs(ferment.Still) || f.EndsAs(ferment.Sweetened)):
		rest.share, rest.brief, still.brief = 0.5, true, true
		return []proposal{soft, rest, still}
	case f.EndsAs(ferment.BottleConditioned):
		return []proposal{soft, rest}
	}
	return []proposal{still}
}

// kindFor returns a kind of bottle of the cellar for its target of CO₂, soft or not; any kind if still.
func (j jug) kindFor(fizz, soft bool) string {
	usual := map[bool]string{true: "soft-drink bottle", false: "crown beer bottle"}[soft]
	if fizz {
		b, _ := shelf.KindForFizz(j.v.Course, soft)
		return cmp.Or(b.Kind, usual)
	}
	own, _ := ferment.FirstWhere(shelf.Kinds(j.s.Cellar.Settings), func(b carbonation.Bottle) bool {
		return shelf.IsSoft(b.Kind) == soft && len(j.s.Cellar.Settings.Bottles) > 0
	})
	return cmp.Or(own.Kind, usual)
}

func (j jug) sizeOf(kind string) string {
	own, _ := ferment.FirstWhere(j.s.Cellar.Settings.Bottles, func(b ferment.BottleKind) bool { return strings.EqualFold(b.Kind, kind) && b.Size.Known() })
	return cmp.Or(own.Size.Text, map[measure.System]string{measure.US: "12 fl oz"}[j.units()], "330 mL")
}

// fits returns how many bottles of a proposal the rest of the vessel fills.
func (f filling) fits(next *proposal, rest measure.Volume) int {
	size, err := measure.ParseVolume(f.sizeOf(next.kind))
	if err != nil {
		return 0
	}
	return f.countFor(next, rest, size.Value)
}

// countFor returns how many bottles of a size a proposal takes of the rest.
func (f filling) countFor(next *proposal, rest, size measure.Volume) int {
	n, err := finishing.Fill(rest, size)
	switch {
	case err != nil || next == nil:
		return 0
	case next.soft:
		return min(n.Count, 1)
	}
	return int(float64(n.Count)*next.share + 0.5)
}

type budget struct{ tests, tastings, keeps int }

// reserve distributes n bottles: with fizz two or three are test bottles, four to six for tasting over two years, one
// or two to keep, the rest to drink. A small batch reserves fewer: at most a quarter for tests and two fifths for
// tasting, and with fewer than eight none to keep. Bottles reserved before count. (Common practice, no source.)
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
		months := ferment.Map(shelf.Ages[:min(tastings, len(shelf.Ages))], strconv.Itoa)
		why = append(why, "tastings are due "+strings.Join(months, ", ")+" months after bottling")
	}
	if n < 10 {
		why = append(why, "a small batch keeps few for tests and tastings")
	}
	return cmp.Or(strings.Join(why, "; "), "nothing is reserved")
}

// keeps asks what a row is reserved for, "2 test, 4 tasting, 3 drink"; the rest is to drink.
func (f filling) keeps(p *asking, key, label string, r row, b *budget) []kept {
	reserved := b.reserve(r.count, r.fizzes(), shelf.IsSoft(r.bottle.Kind) && r.fizzes())
	words := ferment.Map(reserved, func(k kept) string { return fmt.Sprintf("%d %s", k.n, k.purpose) })
	field := Field{Key: key, Label: label, Value: strings.Join(words, ", "), From: "e.g. 2 test, 4 tasting, 3 drink; or one word", More: true}
	given := may(p, field, func(text string) (measure.Given[[]kept], error) { return readKept(text, r.count) })
	if !given.Known() {
		return []kept{{r.count, shelf.Drink}}
	}
	return given.Value
}

// readKept reads what a row of bottles is for: "2 test, 4 tasting".
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
