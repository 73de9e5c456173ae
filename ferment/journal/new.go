package journal

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// asides are what a person is told beside a key of a new file.
var asides = map[string]string{
	"name": "free text", "tag": "on the glass; at most six columns",
	"vessel": "the glass, and what it holds to the brim", "trial": "two vessels of one must, one thing different",
	"from": "where it was racked off another", "protocol": "jugkeeper protocol lists them",
	"ending":           "still, bottle-conditioned, sweetened or undecided",
	"must/water":       "where honey went into so much water",
	"must/honey":       "lot is an id of honey.yaml",
	"must/gravity":     "measured; left out, it is worked out from the masses",
	"must/fermentable": "of its solids, that yeast can take; 86 % where none is given",
	"yeast/kind":       "bought, wild or slurry", "yeast/culture": "an id of cultures.yaml, for wild and slurry",
	"yeast/demand": "of nitrogen: low, medium or high; medium where none is given", "yeast/tolerance": "the alcohol it is said to reach",
	"nutrient": "own: 20 mg/L goes beside it, what the must has already",
}

// NewFerment is the file of a new ferment, which reads back as it is: what is
// known stands there, the rest as a comment to fill in.
func NewFerment(f ferment.Ferment) ([]byte, error) {
	d := draft{aFerment: f}
	var p page
	p.line("format: "+fmt.Sprint(Newest), "")
	for _, key := range fermentTable.fields[1:] {
		switch key.key {
		case "must":
			writeGroup(&p, "must", mustTable, &d.Must, map[string][]item{
				"honey": itemsFrom(d.Must.Honey, lineItem(honeyTable)),
				"fruit": itemsFrom(d.Must.Fruit, lineItem(fruitTable)),
			})
		case "yeast":
			writeGroup(&p, "yeast", yeastTable, &d.Yeast, nil)
		case "log":
			p.line("log:", "")
			p.block(itemsFrom(d.Log, entryItem), "  ")
		default:
			writeField(&p, "", key, &d)
		}
	}
	text := []byte(p.text.String())
	return text, provesNew(d, text)
}

// provesNew reads a new file again: it must be what was to be written.
func provesNew(d draft, text []byte) error {
	again, _ := readFerment(openFile(d.ID), text, time.UTC)
	if len(again.Problems) > 0 {
		return &ProblemError{again.Problems}
	}
	got := draft{aFerment: again.Value}
	if got, want := fermentTable.braces(&got, compared), fermentTable.braces(&d, compared); got != want {
		return fmt.Errorf("%s would be read as %s instead of %s", openFile(d.ID), short(got, 400), short(want, 400))
	}
	return nil
}

// A page is a new file, a line after another.
type page struct{ text strings.Builder }

// line adds a line, with what a person is told beside it.
func (p *page) line(text, aside string) {
	if aside != "" {
		text = fmt.Sprintf("%-39s # %s", text, aside)
	}
	p.text.WriteString(text + "\n")
}

func (p *page) block(items []item, margin string) {
	for _, it := range items {
		for i, line := range it.lines {
			before := margin + "  "
			if i == 0 {
				before = margin + "- "
			}
			p.line(before+line, "")
		}
	}
}

// writeField writes one key, as a comment where it has no value.
func writeField[T any](p *page, margin string, f field[T], from *T) {
	writeKey(p, margin, f.key, f.example, f.write(from, block), asides[f.key])
}

func writeKey(p *page, margin, key, example, value, aside string) {
	if value == "" {
		p.line(margin+"# "+key+": "+example, aside)
		return
	}
	p.line(margin+key+": "+value, aside)
}

// writeGroup writes a noun with a key a line, and its lists an item a line. One
// of which nothing is known is a comment as a whole.
func writeGroup[T any](p *page, key string, t *table[T], from *T, lists map[string][]item) {
	opens := key + ":"
	if t.braces(from, flow) == "" {
		opens = "# " + opens
	}
	p.line(opens, "")
	for _, f := range t.fields {
		if items := lists[f.key]; len(items) > 0 {
			p.line("  "+f.key+":", "")
			p.block(items, "    ")
			continue
		}
		writeKey(p, "  ", f.key, f.example, f.write(from, block), asides[key+"/"+f.key])
	}
}
