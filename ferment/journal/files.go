package journal

import (
	"hash/fnv"
	"path"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// A draft is a ferment while it is read.
type draft struct {
	ferment.Ferment
	places map[string]ferment.Problem // of the values that are checked against the whole cellar
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
	logField("2026-09-12T18:30:00+01:00, did: pitch", func(d *draft) (*[]ferment.Entry, *bool) { return &d.Log, &d.Incomplete }),
)

// placed remembers where a value stands.
func placed(f field[draft]) field[draft] {
	read := f.read
	f.read = func(v value, d *draft) {
		d.places[f.key] = v.problem(v.node.Line, v.node.Column, "")
		read(v, d)
	}
	return f
}

// ReadFerment reads a file of ferments/, named by its path in the cellar. A
// problem in the log costs an entry, any other the file.
func ReadFerment(file string, data []byte, zone *time.Location) Reading[ferment.Ferment] {
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
	return Reading[ferment.Ferment]{d.Ferment, readable, r.problems, r.remarks, d.places}
}

// readOver reads a file of one noun over what holds without it. A problem
// costs the file.
func readOver[T any](r *reader, t *table[T], without T) Reading[T] {
	is := without
	if !r.file("", func(root value) { t.read(root, &is) }) {
		return Reading[T]{Value: without, Problems: r.problems, Remarks: r.remarks}
	}
	return Reading[T]{Value: is, Readable: true, Problems: r.problems, Remarks: r.remarks}
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

// readEnding reads one ending, several, or that none is chosen.
func readEnding(v value, d *draft) {
	items := v.items()
	for _, item := range items {
		s, ok := item.oneOf(append([]string{undecided}, stringsOf(ferment.Endings())...))
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
	return flowList(stringsOf(d.Endings), s)
}

var mustTable = tableOf("a must",
	given("volume", "3.6 L", measure.ParseVolume, func(m *ferment.Must) *measure.Given[measure.Volume] { return &m.Volume }),
	list("honey", "[{lot: bell-heather-26, mass: 980 g, water: 18.1 %}]", honeyTable, func(m *ferment.Must) *[]ferment.HoneyPart { return &m.Honey }),
	given("water", "2.9 L", measure.ParseVolume, func(m *ferment.Must) *measure.Given[measure.Volume] { return &m.Water }),
	list("fruit", "[{name: bramble, mass: 400 g, sugar: 8 %, water: 85 %}]", fruitTable, func(m *ferment.Must) *[]ferment.FruitPart { return &m.Fruit }),
	given("gravity", "1.084", measure.ParseGravity, func(m *ferment.Must) *measure.Given[measure.Gravity] { return &m.Gravity }),
	given("fermentable", "80 %", parseFermentable, func(m *ferment.Must) *measure.Given[measure.Share] { return &m.Fermentable }),
	given("ph", "3.9", measure.ParsePH, func(m *ferment.Must) *measure.Given[measure.PH] { return &m.PH }),
)

var honeyTable = tableOf("a part of honey",
	text("lot", "bell-heather-26", func(h *ferment.HoneyPart) *string { return &h.Lot }),
	given("mass", "980 g", measure.ParseMass, func(h *ferment.HoneyPart) *measure.Given[measure.Mass] { return &h.Mass }),
	given("water", "18.1 %", measure.ParseShare, func(h *ferment.HoneyPart) *measure.Given[measure.Share] { return &h.Water }),
)

var fruitTable = tableOf("a part of fruit",
	text("name", "bramble", func(f *ferment.FruitPart) *string { return &f.Name }),
	given("mass", "400 g", measure.ParseMass, func(f *ferment.FruitPart) *measure.Given[measure.Mass] { return &f.Mass }),
	given("sugar", "8 %", measure.ParseShare, func(f *ferment.FruitPart) *measure.Given[measure.Share] { return &f.Sugar }),
	given("water", "85 %", measure.ParseShare, func(f *ferment.FruitPart) *measure.Given[measure.Share] { return &f.Water }),
)

var yeastTable = tableOf("a yeast",
	text("name", "white-wine yeast, dry", func(y *ferment.Yeast) *string { return &y.Name }),
	word("kind", []string{"bought", "wild", "slurry"}, func(y *ferment.Yeast) *ferment.YeastKind { return &y.Kind }),
	text("culture", "hawthorn-3", func(y *ferment.Yeast) *string { return &y.Culture }),
	word("demand", []string{"low", "medium", "high"}, func(y *ferment.Yeast) *ferment.Demand { return &y.Demand }),
	given("tolerance", "14 %", measure.ParseStrength, func(y *ferment.Yeast) *measure.Given[measure.Strength] { return &y.Tolerance }),
	given("temperature", "15 °C to 22 °C", measure.ParseTemperatures, func(y *ferment.Yeast) *measure.Given[measure.Span[measure.Temperature]] { return &y.Temperature }),
)

var nutrientTable = tableOf("a nutrient plan",
	given("target", "200 mg/L", measure.ParseContent, func(n *ferment.NutrientPlan) *measure.Given[measure.Content] { return &n.Target }),
	given("own", "20 mg/L", measure.ParseContent, func(n *ferment.NutrientPlan) *measure.Given[measure.Content] { return &n.Own }),
	text("kind", "ammonium phosphate", func(n *ferment.NutrientPlan) *string { return &n.Kind }),
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
	identified("lots", "bell-heather-26", "mass: 8.2 kg, water: 18.1 %", lotTable, func(l *ferment.Lot) (string, *int) { return l.ID, &l.Line }),
)

// identified is a list of nouns that each have an id and know their line.
func identified[T any](key, id, other string, t *table[T], of func(*T) (id string, line *int)) field[[]T] {
	return field[[]T]{key: key, example: "[{id: " + id + ", " + other + "}]", read: func(v value, nouns *[]T) {
		ids := idList{noun: t.noun, example: id, lines: map[string]int{}}
		for _, item := range v.items() {
			var noun T
			t.read(item, &noun)
			is, line := of(&noun)
			*line = item.node.Line
			ids.take(item, is)
			*nouns = append(*nouns, noun)
		}
	}}
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
	return readOver(newReader(file, data, zone), honeyFileTable, nil)
}

var cultureTable = tableOf("a culture",
	text("id", "hawthorn-3", func(c *ferment.Culture) *string { return &c.ID }),
	text("name", "hawthorn blossom", func(c *ferment.Culture) *string { return &c.Name }),
	text("from", "hawthorn-2", func(c *ferment.Culture) *string { return &c.From }),
	text("source", "blossom, lane hedge", func(c *ferment.Culture) *string { return &c.Source }),
	text("protocol", "wild-culture", func(c *ferment.Culture) *string { return &c.Protocol }),
	logField("2026-05-18T12:00:00+01:00, did: collect", func(c *ferment.Culture) (*[]ferment.Entry, *bool) { return &c.Log, &c.Incomplete }),
	word("verdict", ferment.VerdictWords, func(c *ferment.Culture) *string { return &c.Verdict }),
	lines("note", "smells of apple", func(c *ferment.Culture) *string { return &c.Note }),
)

var culturesFileTable = tableOf("cultures.yaml",
	format[[]ferment.Culture](),
	identified("cultures", "hawthorn-3", "source: blossom", cultureTable, func(c *ferment.Culture) (string, *int) { return c.ID, &c.Line }),
)

// ReadCultures reads cultures.yaml. A problem in a log costs an entry, any
// other the file.
func ReadCultures(file string, data []byte, zone *time.Location) Reading[[]ferment.Culture] {
	r := newReader(file, data, zone)
	reading := readOver(r, culturesFileTable, nil)
	for _, cut := range r.cuts {
		for i, c := range slices.Backward(reading.Value) {
			if c.Line <= cut.from {
				reading.Value[i].Incomplete = true
				break
			}
		}
	}
	return reading
}

type settings = ferment.Settings

var settingsTable = tableOf("the settings",
	format[settings](),
	word("units", []string{"metric", "us"}, func(s *settings) *measure.System { return &s.Units }),
	word("scale", []string{"sg", "brix"}, func(s *settings) *string { return &s.Scale }),
	parsed("morning", `"07:00"`, parseClock, func(s *settings, d time.Duration) { s.Morning = d }),
	parsed("timezone", "Europe/Dublin", parseZone, func(s *settings, z *time.Location) { s.Zone = z }),
	amount("hottest", "30 °C", measure.ParseTemperature, func(s *settings) *measure.Temperature { return &s.Hottest }),
	amount("weighs", "1 g", measure.ParseMass, func(s *settings) *measure.Mass { return &s.Weighs }),
	word("theme", []string{"auto", "dark", "light", "mono"}, func(s *settings) *string { return &s.Theme }),
	word("chart", []string{"braille", "blocks"}, func(s *settings) *string { return &s.Chart }),
	flag("mouse", func(s *settings) *bool { return &s.Mouse }),
	amount("fizz", "5 g/L", measure.ParseCarbonation, func(s *settings) *measure.Content { return &s.Fizz }),
	list("instruments", "[{name: hydrometer, kind: hydrometer, calibrated: 20 °C}]", instrumentTable, func(s *settings) *[]ferment.Instrument { return &s.Instruments }),
	list("nutrients", "[{name: ammonium phosphate, kind: ammonium, nitrogen: 212 mg/g}]", nutrientKindTable, func(s *settings) *[]ferment.NutrientKind { return &s.Nutrients }),
	list("bottles", "[{kind: crown beer bottle, size: 330 mL, holds: 5.5 g/L}]", bottleKindTable, func(s *settings) *[]ferment.BottleKind { return &s.Bottles }),
	group("limits", "{grace: 0.005, spacing: 12 h}", limitsTable, func(s *settings) *ferment.Limits { return &s.Limits }),
	field[settings]{key: "keys", example: "{degas: d}", read: readKeys},
)

// ReadSettings reads cellar.yaml over the defaults. A problem costs the file:
// the defaults apply then.
func ReadSettings(file string, data []byte, zone *time.Location) Reading[ferment.Settings] {
	return readOver(newReader(file, data, zone), settingsTable, ferment.DefaultSettings(zone))
}

var instrumentTable = tableOf("an instrument",
	text("name", "hydrometer", func(i *ferment.Instrument) *string { return &i.Name }),
	word("kind", []string{"hydrometer", "refractometer"}, func(i *ferment.Instrument) *string { return &i.Kind }),
	given("calibrated", "20 °C", measure.ParseTemperature, func(i *ferment.Instrument) *measure.Given[measure.Temperature] { return &i.Calibrated }),
	given("water", "1.001", measure.ParseGravity, func(i *ferment.Instrument) *measure.Given[measure.Gravity] { return &i.Water }),
	flag("compensated", func(i *ferment.Instrument) *bool { return &i.Compensated }),
)

var nutrientKindTable = tableOf("a nutrient",
	text("name", "ammonium phosphate", func(n *ferment.NutrientKind) *string { return &n.Name }),
	word("kind", []string{"ammonium", "organic"}, func(n *ferment.NutrientKind) *string { return &n.Kind }),
	given("nitrogen", "212 mg/g", measure.ParseYield, func(n *ferment.NutrientKind) *measure.Given[measure.Yield] { return &n.Nitrogen }),
)

var bottleKindTable = tableOf("a kind of bottle",
	text("kind", "crown beer bottle", func(b *ferment.BottleKind) *string { return &b.Kind }),
	given("size", "330 mL", measure.ParseVolume, func(b *ferment.BottleKind) *measure.Given[measure.Volume] { return &b.Size }),
	given("holds", "5.5 g/L", measure.ParseCarbonation, func(b *ferment.BottleKind) *measure.Given[measure.Content] { return &b.Holds }),
	given("stands", "6 bar", measure.ParsePressure, func(b *ferment.BottleKind) *measure.Given[measure.Pressure] { return &b.Stands }),
)

// limitsTable serves the settings and a protocol, which may change some.
var limitsTable = tableOf("the limits",
	parsed("grace", "0.005", parseGrace, func(l *ferment.Limits, g float64) { l.Grace = g }),
	parsed("ammonium-until", "break 1/3", ferment.ParseBreak, func(l *ferment.Limits, b ferment.BreakLimit) { l.AmmoniumUntil = b }),
	parsed("organic-until", "break 1/2", ferment.ParseBreak, func(l *ferment.Limits, b ferment.BreakLimit) { l.OrganicUntil = b }),
	amount("nutrient-alcohol", "9 %", measure.ParseStrength, func(l *ferment.Limits) *measure.Strength { return &l.NutrientAlcohol }),
	parsed("spacing", "12 h", parseSpell, func(l *ferment.Limits, d time.Duration) { l.Spacing = d }),
	parsed("fresh", "36 h", parseSpell, func(l *ferment.Limits, d time.Duration) { l.Fresh = d }),
	whole("steady-days", "14", 1, 365, func(l *ferment.Limits) *int { return &l.SteadyDays }),
	whole("steady-days-wild", "28", 1, 365, func(l *ferment.Limits) *int { return &l.SteadyDaysWild }),
	parsed("steady-fall", "0.0013", parseGrace, func(l *ferment.Limits, g float64) { l.SteadyFall = g }),
	parsed("steady-spread", "0.002", parseGrace, func(l *ferment.Limits, g float64) { l.SteadySpread = measure.Gravity(g) }),
	parsed("dry-within", "0.002", parseGrace, func(l *ferment.Limits, g float64) { l.DryWithin = measure.Gravity(g) }),
	parsed("stuck-above", "0.007", parseGrace, func(l *ferment.Limits, g float64) { l.StuckAbove = measure.Gravity(g) }),
	amount("fermentable", "86 %", parseFermentable, func(l *ferment.Limits) *measure.Share { return &l.Fermentable }),
	given("molecular", "0.8 mg/L", measure.ParseContent, func(l *ferment.Limits) *measure.Given[measure.Content] { return &l.Molecular }),
	given("bound", "30 %", measure.ParseShare, func(l *ferment.Limits) *measure.Given[measure.Share] { return &l.Bound }),
	given("pk", "1.95", scale("pK", 1.5, 3, "1.95"), func(l *ferment.Limits) *measure.Given[float64] { return &l.PK }),
	amount("steady-temperature", "15 °C", measure.ParseTemperature, func(l *ferment.Limits) *measure.Temperature { return &l.SteadyTemperature }),
)

// parseFermentable reads the share of a must's solids that yeast can take, within
// what the dry finish is worked out for.
func parseFermentable(s string) (measure.Given[measure.Share], error) {
	share, err := measure.ParseShare(s)
	if err == nil && (share.Value < 50 || share.Value > 100) {
		return share, &measure.Error{Text: s, Problem: "is no fermentable share", Hint: "50 to 100 %, e.g. 80 %"}
	}
	return share, err
}

func parseGrace(s string) (float64, error) {
	g, err := measure.ParseScale(s, "fall of gravity", 0, 0.05, "0.005")
	return g.Value, err
}

// parseSpell reads a length of time in hours or minutes; a day is 24 of them.
func parseSpell(s string) (time.Duration, error) {
	wrong := &measure.Error{Text: s, Problem: "is no length of time", Hint: "a number and min, h or d, e.g. 12 h"}
	o, err := ferment.ParseOffset(s)
	if err != nil || o.Number < 0 {
		return 0, wrong
	}
	if o.Unit == ferment.Day {
		o = ferment.Offset{Number: 24 * o.Number, Unit: ferment.Hour}
	}
	d, ok := o.Absolute()
	if !ok {
		return 0, wrong
	}
	return d, nil
}

// parseClock reads a time of day.
func parseClock(s string) (time.Duration, error) {
	t, err := time.Parse("15:04", s)
	if err != nil {
		return 0, &measure.Error{Text: s, Problem: "is no time of day", Hint: `e.g. morning: "07:00"`}
	}
	return time.Duration(t.Hour())*time.Hour + time.Duration(t.Minute())*time.Minute, nil
}

func parseZone(s string) (*time.Location, error) {
	zone, err := time.LoadLocation(s)
	if err == nil && s != "" && !strings.EqualFold(s, "local") {
		return zone, nil
	}
	return nil, &measure.Error{Text: s, Problem: "is no time zone known here", Hint: "e.g. timezone: Europe/Dublin"}
}

// readKeys takes any action: which there are is known where keys are pressed.
func readKeys(v value, s *settings) {
	if !v.plain() {
		return
	}
	if v.node.Kind != yaml.MappingNode {
		v.wrong("is no group of keys")
		return
	}
	s.Keys = map[string]string{}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		action := v.node.Content[i].Value
		if _, twice := s.Keys[action]; twice {
			v.fail(v.node.Content[i], "%s stands twice in keys (leave one, e.g. keys: {degas: d})", quote(action))
			continue
		}
		pressed := value{v.reader, v.node.Content[i+1], action, "d"}
		if key, ok := pressed.word(); ok {
			s.Keys[action] = key
		}
	}
}
