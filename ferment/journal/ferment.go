package journal

import (
	"hash/fnv"
	"path"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

type aFerment = ferment.Ferment

// A draft is a ferment as it is read, with what only the whole file tells.
type draft struct {
	aFerment
	places map[string]ferment.Problem
}

var fermentTable = tableOf("a ferment",
	format[draft](),
	text("name", "Bell heather, east hive", func(d *draft) *string { return &d.Name }),
	placed(text("tag", "BH-A", func(d *draft) *string { return &d.Tag })),
	placed(group("vessel", "{kind: glass jug, brimful: 4.1 L}", vesselTable, func(d *draft) *ferment.Vessel { return &d.Vessel })),
	group("trial", "{name: bell-heather, differs: yeast}", trialTable, func(d *draft) *ferment.Trial { return &d.Trial }),
	placed(group("from", "{ferment: bh-a, at: 2026-11-26, volume: 1.0 L}", originTable, func(d *draft) *ferment.Origin { return &d.From })),
	placed(text("protocol", "small-jug", func(d *draft) *string { return &d.Protocol })),
	placed(field[draft]{"ending", "undecided", readEnding, endingText}),
	placed(group("must", "{volume: 3.6 L, gravity: 1.084}", mustTable, func(d *draft) *ferment.Must { return &d.Must })),
	group("yeast", "{name: white-wine yeast, kind: bought}", yeastTable, func(d *draft) *ferment.Yeast { return &d.Yeast }),
	group("nutrient", "{target: 200 mg/L, kind: ammonium phosphate}", nutrientTable, func(d *draft) *ferment.NutrientPlan { return &d.Nutrient }),
	lines("note", "from the lower boxes", func(d *draft) *string { return &d.Note }),
	field[draft]{"log", "[{at: 2026-09-12T18:30:00+01:00, did: pitch}]", readFermentLog,
		func(d *draft, s style) string { return entryTable.listed(d.Log, s) }},
)

// placed remembers where a value stands, for what only the cellar can check.
func placed(f field[draft]) field[draft] {
	read := f.read
	f.read = func(v value, d *draft) {
		d.places[f.key] = v.problem(v.node.Line, v.node.Column, "")
		read(v, d)
	}
	return f
}

func readFermentLog(v value, d *draft) {
	log, whole := readLog(v)
	d.Log, d.Incomplete = log, d.Incomplete || !whole
}

// ReadFerment reads a file of ferments/, named by its path in the cellar. A
// problem in the log costs an entry, any other the file.
func ReadFerment(file string, data []byte, zone *time.Location) Reading[ferment.Ferment] {
	reading, _ := readFerment(file, data, zone)
	return reading
}

// readFerment also gives the places of values that only the cellar can check.
func readFerment(file string, data []byte, zone *time.Location) (Reading[ferment.Ferment], map[string]ferment.Problem) {
	r := newReader(file, data, zone)
	d := draft{places: map[string]ferment.Problem{}}
	d.ID = strings.TrimSuffix(path.Base(file), ".yaml")
	d.File, d.Past = file, path.Base(path.Dir(file)) == "past"
	readable := r.file("format: 1, name, must, yeast and log", func(root value) { fermentTable.read(root, &d) })
	d.Incomplete = d.Incomplete || len(r.cuts) > 0
	d.Stamp = stampOf(data)
	d.Vessel.Declared = d.Vessel != ferment.Vessel{}
	d.Lines = map[string]int{}
	for key, p := range d.places {
		d.Lines[key] = p.Line
	}
	return Reading[ferment.Ferment]{d.aFerment, readable, r.problems, r.remarks}, d.places
}

// stampOf is a number that differs whenever a text does.
func stampOf(text []byte) uint64 {
	h := fnv.New64a()
	h.Write(text)
	return h.Sum64()
}

var trialTable = tableOf("a trial",
	text("name", "bell-heather", func(t *ferment.Trial) *string { return &t.Name }),
	text("differs", "yeast", func(t *ferment.Trial) *string { return &t.Differs }),
)

var originTable = tableOf("an origin",
	text("ferment", "bh-a", func(o *ferment.Origin) *string { return &o.Ferment }),
	moment("at", "2026-11-26", func(o *ferment.Origin) *ferment.Moment { return &o.At }),
	given("volume", "1.0 L", measure.ParseVolume, func(o *ferment.Origin) *measure.Given[measure.Volume] { return &o.Volume }),
)

const undecided = "undecided"

func endingWords() []string {
	var words []string
	for _, e := range ferment.Endings() {
		words = append(words, string(e))
	}
	return words
}

// readEnding reads one ending, several, or that none is chosen.
func readEnding(v value, d *draft) {
	items := v.items()
	for _, item := range items {
		s, ok := item.oneOf(append([]string{undecided}, endingWords()...))
		switch {
		case !ok:
		case s == undecided && len(items) > 1:
			item.fail(item.node, "ending undecided stands alone (e.g. ending: [still, bottle-conditioned])")
		case s != undecided:
			d.Endings = append(d.Endings, ferment.Ending(s))
		}
	}
}

// endingText is one ending alone, several in a list.
func endingText(d *draft, s style) string {
	if len(d.Endings) == 1 {
		return s.scalar(string(d.Endings[0]))
	}
	var words []string
	for _, e := range d.Endings {
		words = append(words, string(e))
	}
	return flowList(words)
}
