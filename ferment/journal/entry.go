package journal

import (
	"gopkg.in/yaml.v3"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

type anEntry = ferment.Entry

// entryTable has the keys of an entry in the order of writing.
var entryTable = tableOf("an entry", fieldsOf("", groups)...)

// fieldsOf returns the fields of an entry inside a group, or outside any, from the table of keys.
func fieldsOf(in string, groups map[string]func(name, example string) field[anEntry]) []field[anEntry] {
	var fields []field[anEntry]
	keys := ferment.Keys()
	for i := range keys {
		switch k := &keys[i]; {
		case k.In != in:
		case k.Form == ferment.AGroup:
			fields = append(fields, groups[k.Name](k.Name, k.Example).is(k.Does))
		default:
			fields = append(fields, fieldOf(k).is(k.Does))
		}
	}
	return fields
}

func fieldOf(k *ferment.Key) field[anEntry] {
	read, write := value.word, func(e *anEntry, s style) string { return s.scalar(k.Text(e)) }
	switch k.Form {
	case ferment.AMoment:
		return moment(k.Name, k.Example, k.Moment)
	case ferment.AList:
		if len(k.Words) > 0 {
			return words(k.Name, k.Example, k.Words, k.List)
		}
		return texts(k.Name, k.Example, k.List)
	case ferment.AText:
		read = value.scalar
	case ferment.Lines:
		read = value.lines
	case ferment.AWord:
		read = func(v value) (string, bool) { return v.oneOf(k.Words) }
	case ferment.AFlag:
		write = func(e *anEntry, _ style) string { return k.Text(e) }
	}
	return field[anEntry]{key: k.Name, example: k.Example, read: func(v value, e *anEntry) {
		if s, ok := read(v); ok {
			if err := k.Set(e, s, v.zone); err != nil {
				v.refuse(err)
			}
		}
	}, write: write}.as(shape{form: forms[k.Form], words: k.Words})
}

var forms = map[ferment.Form]Form{ferment.AQuantity: Parsed, ferment.AWord: Word, ferment.AFlag: Flag}

var groups = map[string]func(name, example string) field[anEntry]{
	"to": func(name, example string) field[anEntry] {
		return group(name, example, vesselTable, func(e *anEntry) *ferment.Vessel { return &e.To })
	},
	"bottles": func(name, example string) field[anEntry] {
		return list(name, example, bottlesTable, func(e *anEntry) *[]ferment.Bottles { return &e.Bottles })
	},
	"taste": func(name, example string) field[anEntry] {
		return group(name, example, tastingTable, func(e *anEntry) *anEntry { return e })
	},
	"triangle": func(name, example string) field[anEntry] {
		return group(name, example, triangleTable, func(e *anEntry) *ferment.Triangle { return &e.Triangle })
	},
}

// readEntry reads one item of a log; not ok if any part is wrong, because half an entry would mislead.
func readEntry(v value, e *ferment.Entry) (ok bool) {
	mark := v.count
	e.Line = v.node.Line
	if isNothing(v.node) {
		v.fail(v.node, "this entry is empty (e.g. - {at: 2026-09-12T18:30:00+01:00, did: pitch})")
		return false
	}
	entryTable.read(v, e)
	if v.count == mark && !v.has("at") {
		v.missing("an entry", "at", "2026-09-12T18:30:00+01:00")
	}
	if v.count == mark && e.Did != "" && e.Skipped != "" {
		v.fail(v.node, "an entry has did or skipped, not both (make two entries of it)")
	}
	return v.count == mark
}

// logField is the field of a log; incomplete is set if an entry cannot be read.
func logField[T any](example string, at func(*T) (log *[]ferment.Entry, incomplete *bool)) field[T] {
	return field[T]{key: "log", example: "[{at: " + example + "}]",
		read: func(v value, into *T) {
			log, incomplete := at(into)
			var whole bool
			*log, whole = readLog(v)
			*incomplete = *incomplete || !whole
		},
		write: func(from *T, s style) string {
			log, _ := at(from)
			return entryTable.listed(*log, s)
		},
	}.as(shape{form: Group, of: func() []Key { return entryTable.describe() }, needs: "at", list: true}).is("what was measured and done, one item for each time")
}

// readLog reads the entries that can be read, in the file's order.
func readLog(v value) (log []ferment.Entry, whole bool) {
	if isNothing(v.node) || !v.plain() {
		return nil, isNothing(v.node)
	}
	if v.node.Kind != yaml.SequenceNode {
		v.fail(v.node, "log is not a list of entries (e.g. - {at: 2026-09-12T18:30:00+01:00, did: pitch}, one a line)")
		return nil, false
	}
	log = make([]ferment.Entry, 0, min(len(v.node.Content), 10_000)) // limited, so that a hostile file cannot reserve memory
	whole, v.inLog = true, true
	defer func() { v.inLog = false }()
	for i, n := range v.node.Content {
		log = append(log, ferment.Entry{Order: i})
		last := len(log) - 1
		if !readEntry(value{v.reader, n, "entry", "{did: pitch}"}, &log[last]) {
			log, whole = log[:last], false
		}
	}
	if !whole {
		log = slices.Clone(log) // free the room of refused entries
	}
	return log, whole
}

var vesselTable = tableOf("a vessel",
	text("kind", "glass jug", func(v *ferment.Vessel) *string { return &v.Kind }).is("what kind of vessel"),
	given("brimful", "4.1 L", measure.ParseVolume, func(v *ferment.Vessel) *measure.Given[measure.Volume] { return &v.Brimful }).is("its volume to the brim"),
)

var bottlesTable = tableOf("a kind of bottle",
	text("kind", "crown beer bottle", func(b *ferment.Bottles) *string { return &b.Kind }).is("a kind from cellar.yaml, or a usual one"),
	given("size", "330 mL", measure.ParseVolume, func(b *ferment.Bottles) *measure.Given[measure.Volume] { return &b.Size }).is("the volume of each"),
	whole("count", "8", 1, 10000, func(b *ferment.Bottles) *int { return &b.Count }).is("how many"),
	text("codes", "BH-A 1-8", func(b *ferment.Bottles) *string { return &b.Codes }).is("what is written on them"),
	given("fizz", "5.0 g/L", ferment.ParseFizz, func(b *ferment.Bottles) *measure.Given[measure.Content] { return &b.Fizz }).is("carbon dioxide aimed at, or none"),
	given("honey", "3.0 g", measure.ParseMass, func(b *ferment.Bottles) *measure.Given[measure.Mass] { return &b.Honey }).is("the honey in each bottle, if they were primed one by one"),
	word("for", ferment.ForWords, func(b *ferment.Bottles) *string { return &b.For }).is("what they are for"),
)

var tastingTable = tableOf("a tasting", fieldsOf("taste", nil)...)

var triangleTable = tableOf("a triangle",
	text("with", "bh-b", func(t *ferment.Triangle) *string { return &t.With }).is("the other ferment"),
	wholes("codes", "[417, 902, 655]", 1, 9999, func(t *ferment.Triangle) *[]int { return &t.Codes }).is("the codes of the three glasses"),
	whole("odd", "902", 1, 9999, func(t *ferment.Triangle) *int { return &t.Odd }).is("the code of the glass that was different"),
	whole("said", "902", 1, 9999, func(t *ferment.Triangle) *int { return &t.Said }).is("the code that the taster picked"),
)
