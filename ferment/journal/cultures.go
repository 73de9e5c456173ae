package journal

import (
	"time"

	"cellar/jugkeeper/ferment"
)

var cultureTable = tableOf("a culture",
	text("id", "hawthorn-3", func(c *ferment.Culture) *string { return &c.ID }),
	text("name", "hawthorn blossom", func(c *ferment.Culture) *string { return &c.Name }),
	text("from", "hawthorn-2", func(c *ferment.Culture) *string { return &c.From }),
	text("source", "blossom, lane hedge", func(c *ferment.Culture) *string { return &c.Source }),
	text("protocol", "wild-culture", func(c *ferment.Culture) *string { return &c.Protocol }),
	field[ferment.Culture]{"log", "[{at: 2026-05-18T12:00:00+01:00, did: collect}]", readCultureLog,
		func(c *ferment.Culture, s style) string { return entryTable.listed(c.Log, s) }},
	word("verdict", ferment.VerdictWords, func(c *ferment.Culture) *string { return &c.Verdict }),
	lines("note", "smells of apple", func(c *ferment.Culture) *string { return &c.Note }),
)

func readCultureLog(v value, c *ferment.Culture) {
	log, whole := readLog(v)
	c.Log, c.Incomplete = log, !whole
}

var culturesFileTable = tableOf("cultures.yaml",
	format[[]ferment.Culture](),
	field[[]ferment.Culture]{key: "cultures", example: "[{id: hawthorn-3, source: blossom}]", read: readCultures},
)

func readCultures(v value, cultures *[]ferment.Culture) {
	ids := idList{noun: "a culture", example: "hawthorn-3", lines: map[string]int{}}
	for _, item := range v.items() {
		c := ferment.Culture{Line: item.node.Line}
		cultureTable.read(item, &c)
		ids.take(item, c.ID)
		*cultures = append(*cultures, c)
	}
}

// ReadCultures reads cultures.yaml. A problem in a log costs an entry, any
// other the file.
func ReadCultures(file string, data []byte, zone *time.Location) Reading[[]ferment.Culture] {
	r := newReader(file, data, zone)
	var cultures []ferment.Culture
	readable := r.file("", func(root value) { culturesFileTable.read(root, &cultures) })
	if !readable {
		cultures = nil
	}
	for _, cut := range r.cuts {
		for i := len(cultures) - 1; i >= 0; i-- {
			if cultures[i].Line <= cut.from {
				cultures[i].Incomplete = true
				break
			}
		}
	}
	return Reading[[]ferment.Culture]{cultures, readable, r.problems, r.remarks}
}
