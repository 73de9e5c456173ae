package journal

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

var lotTable = tableOf("a lot",
	text("id", "bell-heather-26", func(l *ferment.Lot) *string { return &l.ID }),
	text("name", "bell heather, east hive", func(l *ferment.Lot) *string { return &l.Name }),
	moment("taken", "2026-08-20", func(l *ferment.Lot) *ferment.Moment { return &l.Taken }),
	given("mass", "8.2 kg", measure.ParseMass, func(l *ferment.Lot) *measure.Given[measure.Mass] { return &l.Mass }),
	given("water", "18.1 %", measure.ParseShare, func(l *ferment.Lot) *measure.Given[measure.Share] { return &l.Water }),
	given("refractive-index", "1.4912", scale("refractive index", 1.3, 1.6, "1.4912"), func(l *ferment.Lot) *measure.Given[float64] { return &l.RefractiveIndex }),
	given("read-at", "20 °C", measure.ParseTemperature, func(l *ferment.Lot) *measure.Given[measure.Temperature] { return &l.ReadAt }),
	word("state", ferment.LotStates, func(l *ferment.Lot) *string { return &l.State }),
	text("treated", "none", func(l *ferment.Lot) *string { return &l.Treated }),
	list("used", "[{at: 2026-10-02, mass: 500 g, for: table}]", useTable, func(l *ferment.Lot) *[]ferment.Use { return &l.Used }),
	lines("note", "dark, resinous", func(l *ferment.Lot) *string { return &l.Note }),
)

var useTable = tableOf("a use of honey",
	moment("at", "2026-10-02", func(u *ferment.Use) *ferment.Moment { return &u.At }),
	given("mass", "500 g", measure.ParseMass, func(u *ferment.Use) *measure.Given[measure.Mass] { return &u.Mass }),
	text("for", "table", func(u *ferment.Use) *string { return &u.For }),
)

var honeyFileTable = tableOf("honey.yaml",
	format[[]ferment.Lot](),
	field[[]ferment.Lot]{key: "lots", example: "[{id: bell-heather-26, mass: 8.2 kg, water: 18.1 %}]", read: readLots},
)

func readLots(v value, lots *[]ferment.Lot) {
	ids := idList{noun: "a lot", example: "bell-heather-26", lines: map[string]int{}}
	for _, item := range v.items() {
		l := ferment.Lot{Line: item.node.Line}
		lotTable.read(item, &l)
		ids.take(item, l.ID)
		*lots = append(*lots, l)
	}
}

// An idList holds the ids of one file, each a legal name that stands once. An
// id is typed in commands and completed by a shell, so it is as strict as the
// name of a ferment's file.
type idList struct {
	noun, example string
	lines         map[string]int
}

func (ids idList) take(v value, id string) {
	switch at := child(v.node, "id"); {
	case id == "" && at == nil:
		v.missing(ids.noun, "id", ids.example)
	case id == "":
	case !ferment.LegalName(id):
		v.fail(at, "id %s is no name: at most %d letters, digits, - and _, without spaces (e.g. id: %s)", quote(id), ferment.LongestName, ids.example)
	case ids.lines[id] > 0:
		v.fail(at, "id %s is the id of line %d too (e.g. id: %s-2)", quote(id), ids.lines[id], short(id, 40))
	default:
		ids.lines[id] = at.Line
	}
}

// ReadLots reads honey.yaml.
func ReadLots(file string, data []byte, zone *time.Location) Reading[[]ferment.Lot] {
	r := newReader(file, data, zone)
	var lots []ferment.Lot
	readable := r.file("", func(root value) { honeyFileTable.read(root, &lots) })
	if !readable {
		lots = nil
	}
	return Reading[[]ferment.Lot]{lots, readable, r.problems, r.remarks}
}
