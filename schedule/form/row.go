package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// mostRows is how many kinds of bottles a bottling takes.
const mostRows = 4

// row is one kind of bottle, all filled alike.
type row struct {
	bottle carbonation.Bottle
	size   measure.Given[measure.Volume]
	count  int
	fizz   measure.Given[measure.Content]
	keeps  []kept
	codes  string
}

// kept is how many bottles of a row are for a purpose.
type kept struct {
	n       int
	purpose string
}

func (r row) fizzes() bool { return r.fizz.Value > 0 }

func (r row) volume() measure.Volume { return r.size.Value * measure.Volume(r.count) }

// kept is how many bottles are for a purpose.
func (r row) kept(purpose string) (n int) {
	for _, k := range r.keeps {
		if k.purpose == purpose {
			n += k.n
		}
	}
	return n
}

// filled are the bottles as they are written, those for each purpose by
// themselves, the codes shared out in their order.
func (r row) filled(honey measure.Given[measure.Mass]) []ferment.Bottles {
	codes := shelf.Codes(r.codes)
	shared := len(codes) == r.count
	var out []ferment.Bottles
	for _, k := range r.keeps {
		b := ferment.Bottles{Kind: r.bottle.Kind, Size: r.size, Count: k.n, Codes: r.codes, Fizz: r.fizz, Honey: honey, For: k.purpose}
		if shared {
			b.Codes, codes = run(codes[:k.n]), codes[k.n:]
		}
		out = append(out, b)
	}
	return out
}

// ask asks for the rows, one after the other, until there is none.
func (f filling) ask(p *page) []row {
	proposed := f.proposals()
	var rows []row
	budget := &budget{}
	for n := 1; n <= mostRows; n++ {
		var next *proposal
		if n <= len(proposed) {
			next = &proposed[n-1]
		}
		f.rows = rows
		r, is := f.row(p, n, next, budget)
		if !is {
			break
		}
		rows = append(rows, r)
	}
	return rows
}

// ofRow is a label with the number of its row, from the second on.
func ofRow(label string, n int) string {
	if n == 1 {
		return label
	}
	return label + " " + strconv.Itoa(n)
}

// row asks for the nth kind of bottle.
func (f filling) row(p *page, n int, next *proposal, b *budget) (r row, is bool) {
	key := func(name string) string { return fmt.Sprintf("%s-%d", name, n) }
	rest := f.holds - f.filled()
	kind := Field{Key: key("kind"), Label: ofRow("bottles", n), Words: f.kinds(), Value: none}
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
	r.size = want(p, Field{Key: key("size"), Label: ofRow("size", n), Value: f.sizeOf(chosen), From: "of one, e.g. 330 mL"}, measure.ParseVolume, "say how much one holds, e.g. 330 mL")
	if r.size.Known() && (r.size.Value < 0.02 || r.size.Value > 30) {
		p.fail(key("size"), r.size.Text+" is no bottle: 20 mL to 30 L, e.g. 330 mL")
		r.size = measure.Given[measure.Volume]{}
	}
	count := Field{Key: key("count"), Label: ofRow("how many", n), From: "a whole number, e.g. 9"}
	if m := f.countFor(next, rest, r.size.Value); m > 0 {
		count.Value = strconv.Itoa(m)
	}
	r.count = want(p, count, wholeNumber, "say how many, e.g. 9").Value
	fizz := Field{Key: key("fizz"), Label: ofRow("fizz", n), Value: ferment.NoFizz, From: "none, or CO₂ aimed at, e.g. 5 g/L"}
	if next.fizz {
		fizz.Value, fizz.From = f.s.Cellar.Settings.Fizz.String(), "of the cellar; or none"
	}
	r.fizz = want(p, fizz, ferment.ParseFizz, "say none, or what is aimed at, e.g. 5 g/L")
	if r.fizz.Known() && r.fizz.Text != ferment.NoFizz && r.fizz.Value <= 0 {
		p.fail(key("fizz"), r.fizz.Text+" is no fizz: write none, or e.g. 5 g/L")
	}
	r.keeps = f.keeps(p, key("for"), ofRow("kept for", n), r, b)
	r.codes = p.ask(Field{Key: key("codes"), Label: ofRow("codes", n), Value: f.codes(r.count), From: "on the bottles"})
	return r, true
}

func wholeNumber(text string) (measure.Given[int], error) {
	n, err := strconv.Atoi(text)
	if err == nil && (n < 1 || n > 10000) || err != nil {
		return measure.Given[int]{}, &measure.Error{Text: text, Problem: "is not a number of bottles", Hint: "a whole one from 1 on, e.g. 9"}
	}
	return measure.Give(n, text), nil
}

// codes are the next codes for so many bottles: the tag and a number.
func (f filling) codes(count int) string {
	first := 1
	for _, b := range shelf.Of(f.v.Course).Batches {
		first += b.Filled().N
	}
	for _, r := range f.rows {
		first += r.count
	}
	switch {
	case count < 1:
		return ""
	case count == 1:
		return fmt.Sprintf("%s %d", f.v.Label(), first)
	}
	return fmt.Sprintf("%s %d-%d", f.v.Label(), first, first+count-1)
}

// run writes codes as shortly as they can be read again.
func run(codes []string) string {
	if len(codes) == 0 {
		return ""
	}
	last := codes[len(codes)-1]
	number := last[len(strings.TrimRight(last, "0123456789")):]
	if text := codes[0] + "-" + number; len(codes) > 1 && slices.Equal(shelf.Codes(text), codes) {
		return text
	}
	return strings.Join(codes, ", ")
}
