package journal

import (
	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

type anEntry = ferment.Entry

// entryTable holds the keys of an entry, in the order in which an entry is
// written. Only what holds keys of its own has a reader of its own.
var entryTable = tableOf("an entry", fieldsOf("", groups)...)

// fieldsOf are the keys that stand in a group of an entry, or in none.
func fieldsOf(group string, groups map[string]func(name, example string) field[anEntry]) []field[anEntry] {
	var fields []field[anEntry]
	keys := ferment.Keys()
	for i := range keys {
		switch k := &keys[i]; {
		case k.In != group:
		case k.Form == ferment.AGroup:
			fields = append(fields, groups[k.Name](k.Name, k.Example))
		default:
			fields = append(fields, fieldOf(k))
		}
	}
	return fields
}

// fieldOf is how a key of an entry stands in a file.
func fieldOf(k *ferment.Key) field[anEntry] {
	name, example := k.Name, k.Example
	switch k.Form {
	case ferment.AMoment:
		return moment(name, example, k.Moment)
	case ferment.AList:
		if len(k.Words) > 0 {
			return words(name, example, k.Words, k.List)
		}
		return texts(name, example, k.List)
	case ferment.AText, ferment.Lines:
		return field[anEntry]{name, example, func(v value, e *anEntry) { v.several(k, e) }, func(e *anEntry, s style) string { return s.scalar(k.Text(e)) }}
	case ferment.AFlag:
		return field[anEntry]{name, example, func(v value, e *anEntry) { v.one(k, e) }, func(e *anEntry, _ style) string { return k.Text(e) }}
	}
	return field[anEntry]{name, example, func(v value, e *anEntry) { v.one(k, e) }, func(e *anEntry, s style) string { return s.scalar(k.Text(e)) }}
}

// several reads the value of a key that is free words.
func (v value) several(k *ferment.Key, e *anEntry) {
	read := v.scalar
	if k.Form == ferment.Lines {
		read = v.lines
	}
	if s, ok := read(); ok {
		_ = k.Set(e, s, v.zone) // takes any words
	}
}

// one reads the value of a key that is one word or quantity.
func (v value) one(k *ferment.Key, e *anEntry) {
	var s string
	var ok bool
	if k.Form == ferment.AWord {
		s, ok = v.oneOf(k.Words)
	} else {
		s, ok = v.word()
	}
	if !ok {
		return
	}
	if err := k.Set(e, s, v.zone); err != nil {
		v.refuse(err)
	}
}

// groups are the keys that hold keys of their own.
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

// readEntry reads one item of a log. It is not ok where any part of it is
// wrong: half an entry would say something else than the whole.
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

// readLog reads the entries that can be read, in the file's order.
func readLog(v value) (log []ferment.Entry, whole bool) {
	if isNothing(v.node) || !v.plain() {
		return nil, isNothing(v.node)
	}
	if v.node.Kind != yaml.SequenceNode {
		v.fail(v.node, "log is not a list of entries (e.g. - {at: 2026-09-12T18:30:00+01:00, did: pitch}, one a line)")
		return nil, false
	}
	log = make([]ferment.Entry, 0, min(len(v.node.Content), 10_000)) // a hostile file gets no more room than an honest one
	whole, v.inLog = true, true
	defer func() { v.inLog = false }()
	for i, n := range v.node.Content {
		log = append(log, ferment.Entry{Order: i})
		last := len(log) - 1
		if !readEntry(value{v.reader, n, "entry", "{did: pitch}"}, &log[last]) {
			log, whole = log[:last], false
		}
	}
	return log, whole
}

var vesselTable = tableOf("a vessel",
	text("kind", "glass jug", func(v *ferment.Vessel) *string { return &v.Kind }),
	given("brimful", "4.1 L", measure.ParseVolume, func(v *ferment.Vessel) *measure.Given[measure.Volume] { return &v.Brimful }),
)

var bottlesTable = tableOf("a kind of bottle",
	text("kind", "crown beer bottle", func(b *ferment.Bottles) *string { return &b.Kind }),
	given("size", "330 mL", measure.ParseVolume, func(b *ferment.Bottles) *measure.Given[measure.Volume] { return &b.Size }),
	whole("count", "8", 1, 10000, func(b *ferment.Bottles) *int { return &b.Count }),
	text("codes", "BH-A 1-8", func(b *ferment.Bottles) *string { return &b.Codes }),
	given("fizz", "5.0 g/L", ferment.ParseFizz, func(b *ferment.Bottles) *measure.Given[measure.Content] { return &b.Fizz }),
	given("honey", "3.0 g", measure.ParseMass, func(b *ferment.Bottles) *measure.Given[measure.Mass] { return &b.Honey }),
	word("for", ferment.ForWords, func(b *ferment.Bottles) *string { return &b.For }),
)

var tastingTable = tableOf("a tasting", fieldsOf("taste", nil)...)

var triangleTable = tableOf("a triangle",
	text("with", "bh-b", func(t *ferment.Triangle) *string { return &t.With }),
	wholes("codes", "[417, 902, 655]", 1, 9999, func(t *ferment.Triangle) *[]int { return &t.Codes }),
	whole("odd", "902", 1, 9999, func(t *ferment.Triangle) *int { return &t.Odd }),
	whole("said", "902", 1, 9999, func(t *ferment.Triangle) *int { return &t.Said }),
)
