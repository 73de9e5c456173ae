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

type draft struct {
	ferment.Ferment
	places map[string]ferment.Problem // places of values that are checked against the whole cellar
}

var fermentTable = tableOf("a ferment",
	format[draft](),
	text("name", "Bell heather, east hive", func(d *draft) *string { return &d.Name }).is("what the ferment is called"),
	placed(text("tag", "BH-A", func(d *draft) *string { return &d.Tag })).is("the short code on the vessel, at most six characters"),
	placed(group("vessel", "{kind: glass jug, brimful: 4.1 L}", vesselTable, func(d *draft) *ferment.Vessel { return &d.Vessel })).is("the jug or other vessel, and its volume to the brim"),
	group("trial", "{name: bell-heather, differs: yeast}", trialTable, func(d *draft) *ferment.Trial { return &d.Trial }).is("the trial it is part of: ferments of one must that differ in one thing"),
	placed(group("from", "{ferment: bh-a, at: 2026-11-26, volume: 1.0 L}", originTable, func(d *draft) *ferment.Origin { return &d.From })).is("the ferment that this one was racked off"),
	placed(text("protocol", "small-jug", func(d *draft) *string { return &d.Protocol })).is("the plan of the ferment; jugkeeper protocol lists all plans"),
	placed(field[draft]{key: "ending", example: undecided, read: readEnding, write: func(d *draft, s style) string {
		if len(d.Endings) == 1 {
			return s.scalar(string(d.Endings[0]))
		}
		return flowList(ferment.Texts(d.Endings), s)
	}}).as(shape{form: Word, words: append(ferment.Texts(ferment.Endings()), undecided), several: true}).is("how to finish it; several while you have not decided"),
	placed(group("must", "{volume: 3.6 L, gravity: 1.084}", mustTable, func(d *draft) *ferment.Must { return &d.Must })).is("what it was made of"),
	group("yeast", "{name: white-wine yeast, kind: bought}", yeastTable, func(d *draft) *ferment.Yeast { return &d.Yeast }).is("the yeast in it"),
	group("nutrient", "{target: 200 mg/L, own: 20 mg/L, kind: ammonium phosphate}", nutrientTable, func(d *draft) *ferment.NutrientPlan { return &d.Nutrient }).is("how much nitrogen the nutrient doses should bring"),
	lines("note", "from the lower boxes", func(d *draft) *string { return &d.Note }).is("anything else about the whole ferment"),
	logField("2026-09-12T18:30:00+01:00, did: pitch", func(d *draft) (*[]ferment.Entry, *bool) { return &d.Log, &d.Incomplete }),
)

// placed records the place of a value.
func placed(f field[draft]) field[draft] {
	read := f.read
	f.read = func(v value, d *draft) {
		d.places[f.key] = v.problem(v.node.Line, v.node.Column, "")
		read(v, d)
	}
	return f
}

// ReadFerment reads a file of ferments/. A problem in the log leaves out that entry, any other the file.
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

// readOver reads a file of one noun, starting from default values. Any problem leaves out the file.
func readOver[T any](r *reader, t *table[T], without T) Reading[T] {
	is := without
	if !r.file("", func(root value) { t.read(root, &is) }) {
		return Reading[T]{Value: without, Problems: r.problems, Remarks: r.remarks}
	}
	return Reading[T]{Value: is, Readable: true, Problems: r.problems, Remarks: r.remarks}
}

func stampOf(text []byte) uint64 {
	h := fnv.New64a()
	h.Write(text)
	return h.Sum64()
}

var trialTable = tableOf("a trial",
	text("name", "bell-heather", func(t *ferment.Trial) *string { return &t.Name }).is("the name of the trial, the same in each of its ferments"),
	text("differs", "yeast", func(t *ferment.Trial) *string { return &t.Differs }).is("the one thing that is different"),
)

var originTable = tableOf("an origin",
	text("ferment", "bh-a", func(o *ferment.Origin) *string { return &o.Ferment }).is("the name of the other ferment's file, without .yaml"),
	moment("at", "2026-11-26", func(o *ferment.Origin) *ferment.Moment { return &o.At }).is("when it was racked off"),
	given("volume", "1.0 L", measure.ParseVolume, func(o *ferment.Origin) *measure.Given[measure.Volume] { return &o.Volume }).is("how much was racked off"),
)

const undecided = "undecided"

func readEnding(v value, d *draft) {
	items := v.items()
	for _, item := range items {
		s, ok := item.oneOf(append([]string{undecided}, ferment.Texts(ferment.Endings())...))
		switch {
		case !ok:
		case s == undecided && len(items) > 1:
			item.fail(item.node, "ending undecided cannot be combined (e.g. ending: [still, bottle-conditioned])")
		case s != undecided:
			d.Endings = append(d.Endings, ferment.Ending(s))
		}
	}
}

var mustTable = tableOf("a must",
	given("volume", "3.6 L", measure.ParseVolume, func(m *ferment.Must) *measure.Given[measure.Volume] { return &m.Volume }).is("the volume of the whole must"),
	list("honey", "[{lot: bell-heather-26, mass: 980 g, water: 18.1 %}]", honeyTable, func(m *ferment.Must) *[]ferment.HoneyPart { return &m.Honey }).is("the honey in it, each lot on its own"),
	given("water", "2.9 L", measure.ParseVolume, func(m *ferment.Must) *measure.Given[measure.Volume] { return &m.Water }).is("how much water the honey was mixed with, if you measured it"),
	list("fruit", "[{name: bramble, mass: 400 g, sugar: 8 %, water: 85 %}]", fruitTable, func(m *ferment.Must) *[]ferment.FruitPart { return &m.Fruit }).is("the fruit in it, each kind on its own"),
	given("gravity", "1.084", measure.ParseGravity, func(m *ferment.Must) *measure.Given[measure.Gravity] { return &m.Gravity }).is("as measured; if left out, worked out from honey and water"),
	given("fermentable", "80 %", parseFermentable, func(m *ferment.Must) *measure.Given[measure.Share] { return &m.Fermentable }).is("how much of the dissolved solids yeast can ferment; 86 % if not given"),
	given("ph", "3.9", measure.ParsePH, func(m *ferment.Must) *measure.Given[measure.PH] { return &m.PH }).is("as measured"),
)

var honeyTable = tableOf("a part of honey",
	text("lot", "bell-heather-26", func(h *ferment.HoneyPart) *string { return &h.Lot }).is("the id of the lot in honey.yaml"),
	given("mass", "980 g", measure.ParseMass, func(h *ferment.HoneyPart) *measure.Given[measure.Mass] { return &h.Mass }).is("how much honey"),
	given("water", "18.1 %", measure.ParseShare, func(h *ferment.HoneyPart) *measure.Given[measure.Share] { return &h.Water }).is("the water content of the honey"),
)

var fruitTable = tableOf("a part of fruit",
	text("name", "bramble", func(f *ferment.FruitPart) *string { return &f.Name }).is("which fruit"),
	given("mass", "400 g", measure.ParseMass, func(f *ferment.FruitPart) *measure.Given[measure.Mass] { return &f.Mass }).is("how much fruit"),
	given("sugar", "8 %", measure.ParseShare, func(f *ferment.FruitPart) *measure.Given[measure.Share] { return &f.Sugar }).is("how much of its mass is sugar"),
	given("water", "85 %", measure.ParseShare, func(f *ferment.FruitPart) *measure.Given[measure.Share] { return &f.Water }).is("how much of its mass is water"),
)

var yeastTable = tableOf("a yeast",
	text("name", "white-wine yeast, dry", func(y *ferment.Yeast) *string { return &y.Name }).is("the name of the yeast"),
	word("kind", []string{"bought", "wild", "slurry"}, func(y *ferment.Yeast) *ferment.YeastKind { return &y.Kind }).is("where the yeast is from; slurry is the sediment of another ferment"),
	text("culture", "hawthorn-3", func(y *ferment.Yeast) *string { return &y.Culture }).is("the id of the culture in cultures.yaml, for wild and slurry"),
	word("demand", []string{"low", "medium", "high"}, func(y *ferment.Yeast) *ferment.Demand { return &y.Demand }).is("how much nitrogen the yeast needs; medium if not given"),
	given("tolerance", "14 %", measure.ParseStrength, func(y *ferment.Yeast) *measure.Given[measure.Strength] { return &y.Tolerance }).is("the alcohol that the yeast can reach, as its maker says"),
	given("temperature", "15 °C to 22 °C", measure.ParseTemperatures, func(y *ferment.Yeast) *measure.Given[measure.Span[measure.Temperature]] { return &y.Temperature }).is("the lowest and highest temperature that suit the yeast"),
)

var nutrientTable = tableOf("a nutrient plan",
	given("target", "200 mg/L", measure.ParseContent, func(n *ferment.NutrientPlan) *measure.Given[measure.Content] { return &n.Target }).is("how much yeast-available nitrogen the must should have in all"),
	given("own", "20 mg/L", measure.ParseContent, func(n *ferment.NutrientPlan) *measure.Given[measure.Content] { return &n.Own }).is("how much of it the must has already, without nutrient"),
	text("kind", "ammonium phosphate", func(n *ferment.NutrientPlan) *string { return &n.Kind }).is("the nutrient, by its name under nutrients in cellar.yaml"),
)

var lotTable = tableOf("a lot",
	text("id", "bell-heather-26", func(l *ferment.Lot) *string { return &l.ID }).like(legal).is("the short name that ferments use for the lot; letters, digits, _ and -, but no - at the start"),
	text("name", "bell heather, east hive", func(l *ferment.Lot) *string { return &l.Name }).is("which honey it is"),
	moment("taken", "2026-08-20", func(l *ferment.Lot) *ferment.Moment { return &l.Taken }).is("when it was harvested"),
	given("mass", "8.2 kg", measure.ParseMass, func(l *ferment.Lot) *measure.Given[measure.Mass] { return &l.Mass }).is("the mass at harvest; how much is left is worked out"),
	given("water", "18.1 %", measure.ParseShare, func(l *ferment.Lot) *measure.Given[measure.Share] { return &l.Water }).is("the water content of the honey"),
	given("refractive-index", "1.4912", scale("refractive index", 1.3, 1.6, "1.4912"), func(l *ferment.Lot) *measure.Given[float64] { return &l.RefractiveIndex }).is("in place of water: the refractive index, read on a honey refractometer"),
	given("read-at", "20 °C", measure.ParseTemperature, func(l *ferment.Lot) *measure.Given[measure.Temperature] { return &l.ReadAt }).is("the temperature at that reading; 20 °C if not given"),
	word("state", ferment.LotStates, func(l *ferment.Lot) *string { return &l.State }).is("what form the honey is in"),
	given("fermentable", "80 %", parseFermentable, func(l *ferment.Lot) *measure.Given[measure.Share] { return &l.Fermentable }).is("how much of the solids yeast can ferment; honeydew honey has less than 86 %"),
	text("treated", "none", func(l *ferment.Lot) *string { return &l.Treated }).is("what the hive was treated with, and when"),
	list("used", "[{at: 2026-10-02, mass: 500 g, for: table}]", useTable, func(l *ferment.Lot) *[]ferment.Use { return &l.Used }).is("honey that was used for something other than mead"),
	lines("note", "dark, resinous", func(l *ferment.Lot) *string { return &l.Note }).is("anything else"),
)

var useTable = tableOf("a use of honey",
	moment("at", "2026-10-02", func(u *ferment.Use) *ferment.Moment { return &u.At }).is("when it was used"),
	given("mass", "500 g", measure.ParseMass, func(u *ferment.Use) *measure.Given[measure.Mass] { return &u.Mass }).is("how much was used"),
	text("for", "table", func(u *ferment.Use) *string { return &u.For }).is("what it was used for"),
)

var honeyFileTable = tableOf("honey.yaml",
	format[[]ferment.Lot](),
	identified("lots", "bell-heather-26", "mass: 8.2 kg, water: 18.1 %", lotTable, func(l *ferment.Lot) (string, *int) { return l.ID, &l.Line }).is("the lots of honey"),
)

// identified is the field of a list whose items have unique ids and know their line. An id is as strict as a file name,
// because it is typed in commands and completed by shells.
func identified[T any](key, example, other string, t *table[T], of func(*T) (id string, line *int)) field[[]T] {
	return field[[]T]{key: key, example: "[{id: " + example + ", " + other + "}]", read: func(v value, nouns *[]T) {
		lines := map[string]int{}
		for _, item := range v.items() {
			var noun T
			t.read(item, &noun)
			id, line := of(&noun)
			*line = item.node.Line
			*nouns = append(*nouns, noun)
			switch at := child(item.node, "id"); {
			case id == "" && at == nil:
				item.missing(t.noun, "id", example)
			case id == "":
			case !ferment.LegalName(id):
				v.fail(at, "id %s is no name: at most %d letters, digits, _ and, not first, -, without spaces (e.g. id: %s)", quote(id), ferment.LongestName, example)
			case lines[id] > 0:
				v.fail(at, "id %s is the id of line %d too (e.g. id: %s-2)", quote(id), lines[id], short(id, 40))
			default:
				lines[id] = at.Line
			}
		}
	}}.as(shape{form: Group, of: t.describe, needs: "id", several: true})
}

// ReadLots reads honey.yaml.
func ReadLots(file string, data []byte, zone *time.Location) Reading[[]ferment.Lot] {
	return readOver(newReader(file, data, zone), honeyFileTable, nil)
}

var cultureTable = tableOf("a culture",
	text("id", "hawthorn-3", func(c *ferment.Culture) *string { return &c.ID }).like(legal).is("the short name that ferments use for the culture; letters, digits, _ and -, but no - at the start"),
	text("name", "hawthorn blossom", func(c *ferment.Culture) *string { return &c.Name }).is("what the culture is called"),
	text("from", "hawthorn-2", func(c *ferment.Culture) *string { return &c.From }).is("the id of the culture that this one was grown from"),
	text("source", "blossom, lane hedge", func(c *ferment.Culture) *string { return &c.Source }).is("where the first yeast was found"),
	text("protocol", "wild-culture", func(c *ferment.Culture) *string { return &c.Protocol }).is("the plan of the culture; jugkeeper protocol lists all plans"),
	logField("2026-05-18T12:00:00+01:00, did: collect", func(c *ferment.Culture) (*[]ferment.Entry, *bool) { return &c.Log, &c.Incomplete }),
	word("verdict", ferment.VerdictWords, func(c *ferment.Culture) *string { return &c.Verdict }).is("whether it is still being tried, usable or discarded"),
	lines("note", "smells of apple", func(c *ferment.Culture) *string { return &c.Note }).is("anything else"),
)

var culturesFileTable = tableOf("cultures.yaml",
	format[[]ferment.Culture](),
	identified("cultures", "hawthorn-3", "source: blossom", cultureTable, func(c *ferment.Culture) (string, *int) { return c.ID, &c.Line }).is("the cultures of yeast"),
)

// ReadCultures reads cultures.yaml. A problem in a log leaves out that entry, any other the file.
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
	word("units", []string{"metric", "us"}, func(s *settings) *measure.System { return &s.Units }).is("the units on the screens; files keep what was typed"),
	word("scale", []string{"sg", "brix"}, func(s *settings) *string { return &s.Scale }).is("how gravity is shown"),
	parsed("morning", `"07:00"`, parseClock, func(s *settings, d time.Duration) { s.Morning = d }).like(`^\d\d:\d\d$`).is("the hour at which a new day begins; the day's list runs until then"),
	word("hot-from", ferment.MonthWords, func(s *settings) *string { return &s.HotFrom }).is("the month in which hot weather usually begins; june if not given"),
	word("round", []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}, func(s *settings) *string { return &s.Round }).is("the day of the week on which all quiet vessels are looked at; saturday if not given"),
	parsed("timezone", "Europe/Dublin", parseZone, func(s *settings, z *time.Location) { s.Zone = z }).is("the time zone of the cellar; the computer's if not given"),
	amount("hottest", "30 °C", measure.ParseTemperature, func(s *settings) *measure.Temperature { return &s.Hottest }).is("the highest temperature that your bottles will reach"),
	amount("weighs", "1 g", measure.ParseMass, func(s *settings) *measure.Mass { return &s.Weighs }).is("the smallest step that your scale can show"),
	word("theme", []string{"auto", "dark", "light", "mono"}, func(s *settings) *string { return &s.Theme }).is("the colours"),
	word("chart", []string{"braille", "blocks"}, func(s *settings) *string { return &s.Chart }).is("how curves are drawn; blocks for a font without braille"),
	flag("mouse", func(s *settings) *bool { return &s.Mouse }).is("whether the board reacts to the mouse"),
	amount("fizz", "5 g/L", measure.ParseCarbonation, func(s *settings) *measure.Content { return &s.Fizz }).is("how much carbon dioxide bottle-conditioned mead should have"),
	list("instruments", "[{name: hydrometer, kind: hydrometer, calibrated: 20 °C}]", instrumentTable, func(s *settings) *[]ferment.Instrument { return &s.Instruments }).is("hydrometers and refractometers"),
	list("nutrients", "[{name: ammonium phosphate, kind: ammonium, nitrogen: 212 mg/g}]", nutrientKindTable, func(s *settings) *[]ferment.NutrientKind { return &s.Nutrients }).is("nutrients at hand"),
	list("bottles", "[{kind: crown beer bottle, size: 330 mL, holds: 5.5 g/L}]", bottleKindTable, func(s *settings) *[]ferment.BottleKind { return &s.Bottles }).is("kinds of bottles, and how much carbon dioxide each can take"),
	group("limits", "{grace: 0.005, spacing: 12 h}", limitsTable, func(s *settings) *ferment.Limits { return &s.Limits }).is("figures of the program's rules that you may change"),
	field[settings]{key: "keys", example: "{degas: d}", read: readKeys, shape: shape{form: Map}}.is("your own keys for the acts of the board, each by the name of its act"),
)

// looksTable has the settings that a terminal may have of its own.
var looksTable = tableOf("the looks of a terminal", ferment.Where(settingsTable.fields, func(f field[settings]) bool {
	return slices.Contains([]string{"format", "theme", "chart", "mouse"}, f.key)
})...)

// ReadSettings reads cellar.yaml over the defaults, which are used if it has a problem.
func ReadSettings(file string, data []byte, zone *time.Location) Reading[ferment.Settings] {
	return readOver(newReader(file, data, zone), settingsTable, ferment.DefaultSettings(zone))
}

var instrumentTable = tableOf("an instrument",
	text("name", "hydrometer", func(i *ferment.Instrument) *string { return &i.Name }).is("the name that entries use"),
	word("kind", []string{"hydrometer", "refractometer"}, func(i *ferment.Instrument) *string { return &i.Kind }).is("which instrument"),
	given("calibrated", "20 °C", measure.ParseTemperature, func(i *ferment.Instrument) *measure.Given[measure.Temperature] { return &i.Calibrated }).is("the temperature at which it reads correctly"),
	given("water", "1.001", measure.ParseGravity, func(i *ferment.Instrument) *measure.Given[measure.Gravity] { return &i.Water }).is("what it shows in water of that temperature, if not 1.000"),
	flag("compensated", func(i *ferment.Instrument) *bool { return &i.Compensated }).is("whether the instrument corrects for temperature itself"),
)

var nutrientKindTable = tableOf("a nutrient",
	text("name", "ammonium phosphate", func(n *ferment.NutrientKind) *string { return &n.Name }).is("the name that entries use"),
	word("kind", []string{"ammonium", "organic"}, func(n *ferment.NutrientKind) *string { return &n.Kind }).is("ammonium for a salt, organic for one made of yeast"),
	given("nitrogen", "212 mg/g", measure.ParseYield, func(n *ferment.NutrientKind) *measure.Given[measure.Yield] { return &n.Nitrogen }).is("how much yeast-available nitrogen it has"),
)

var bottleKindTable = tableOf("a kind of bottle",
	text("kind", "crown beer bottle", func(b *ferment.BottleKind) *string { return &b.Kind }).is("the name that entries use"),
	given("size", "330 mL", measure.ParseVolume, func(b *ferment.BottleKind) *measure.Given[measure.Volume] { return &b.Size }).is("the volume of one bottle"),
	given("holds", "5.5 g/L", measure.ParseCarbonation, func(b *ferment.BottleKind) *measure.Given[measure.Content] { return &b.Holds }).is("the most carbon dioxide that the mead in it may have"),
	given("stands", "6 bar", measure.ParsePressure, func(b *ferment.BottleKind) *measure.Given[measure.Pressure] { return &b.Stands }).is("the highest pressure that its maker allows, above that of the air"),
)

// limitsTable is for the settings, and for a protocol, which may change some limits.
var limitsTable = noting(tableOf("the limits",
	parsed("grace", "0.005", parseGrace, func(l *ferment.Limits, g float64) { l.Grace = g }).is("how far gravity may be below the break in ammonium-until for a dose that is due to be given all the same"),
	parsed("ammonium-until", "break 1/3", ferment.ParseBreak, func(l *ferment.Limits, b ferment.BreakLimit) { l.AmmoniumUntil = b }).like(aBreak).is("no ammonium salt is given after this break"),
	parsed("organic-until", "break 1/2", ferment.ParseBreak, func(l *ferment.Limits, b ferment.BreakLimit) { l.OrganicUntil = b }).like(aBreak).is("no nutrient at all is given after this break"),
	amount("nutrient-alcohol", "9 %", measure.ParseStrength, func(l *ferment.Limits) *measure.Strength { return &l.NutrientAlcohol }).is("no ammonium salt is given from this alcohol on"),
	parsed("spacing", "12 h", parseSpell, func(l *ferment.Limits, d time.Duration) { l.Spacing = d }).is("the shortest time between two doses of nutrient"),
	parsed("fresh", "36 h", parseSpell, func(l *ferment.Limits, d time.Duration) { l.Fresh = d }).is("how old a reading may be for a dose to rely on it"),
	whole("steady-days", "14", 1, 365, func(l *ferment.Limits) *int { return &l.SteadyDays }).is("for how many days gravity must be steady before bottling"),
	whole("steady-days-wild", "28", 1, 365, func(l *ferment.Limits) *int { return &l.SteadyDaysWild }).is("the same for a mead on wild yeast"),
	parsed("steady-fall", "0.0013", parseGrace, func(l *ferment.Limits, g float64) { l.SteadyFall = g }).is("the readings must show that gravity fell less than this in those days"),
	parsed("steady-spread", "0.002", parseGrace, func(l *ferment.Limits, g float64) { l.SteadySpread = measure.Gravity(g) }).is("how far a steady reading may differ from the others"),
	parsed("dry-within", "0.002", parseGrace, func(l *ferment.Limits, g float64) { l.DryWithin = measure.Gravity(g) }).is("how far above the dry finish a mead still counts as dry"),
	parsed("stuck-above", "0.007", parseGrace, func(l *ferment.Limits, g float64) { l.StuckAbove = measure.Gravity(g) }).is("how far above the expected finish a mead that stopped is called stuck"),
	amount("fermentable", "86 %", parseFermentable, func(l *ferment.Limits) *measure.Share { return &l.Fermentable }).is("how much of a must's solids yeast can ferment, if the must does not say"),
	given("molecular", "0.8 mg/L", measure.ParseContent, func(l *ferment.Limits) *measure.Given[measure.Content] { return &l.Molecular }).is("how much molecular sulphur dioxide protects the mead"),
	given("bound", "30 %", measure.ParseShare, func(l *ferment.Limits) *measure.Given[measure.Share] { return &l.Bound }).is("how much of the added sulphur dioxide gets bound, and no longer protects"),
	given("pk", "1.95", scale("pK", 1.5, 3, "1.95"), func(l *ferment.Limits) *measure.Given[float64] { return &l.PK }).is("the pK of sulphurous acid"),
	given("stored-at", "20 °C", parseStored, func(l *ferment.Limits) *measure.Given[measure.Temperature] { return &l.StoredAt }).like(aStored).is("how warm sulphited mead is kept; 20 °C for a colder place too"),
	given("gas-left", "1.2 g/L", measure.ParseCarbonation, func(l *ferment.Limits) *measure.Given[measure.Content] { return &l.GasLeft }).is("how much carbon dioxide is left in the mead before priming, if you know it"),
	parsed("forecast-above", "0.010", parseGrace, func(l *ferment.Limits, g float64) { l.ForecastAbove = measure.Gravity(g) }).is("how far above the expected finish a forecast says that it stopped early"),
	amount("steady-temperature", "15 °C", measure.ParseTemperature, func(l *ferment.Limits) *measure.Temperature { return &l.SteadyTemperature }).is("a reading counts as steady only if the vessel was at least this warm"),
))

// noting has each limit that is read kept in Set, the last of each name.
func noting(t *table[ferment.Limits]) *table[ferment.Limits] {
	for i, f := range t.fields {
		t.fields[i].read = func(v value, l *ferment.Limits) {
			f.read(v, l)
			others := slices.DeleteFunc(strings.Split(l.Set, ", "), func(s string) bool { return s == "" || strings.HasPrefix(s, f.key+" ") })
			l.Set = strings.Join(append(others, f.key+" "+v.node.Value), ", ")
		}
	}
	return t
}

const aBreak = `^\s*(break )?\s*\d+/\d+\s*$`

// parseFermentable reads the fermentable share of solids, in the range of the dry finish.
func parseFermentable(s string) (measure.Given[measure.Share], error) {
	share, err := measure.ParseShare(s)
	if err == nil && (share.Value < 50 || share.Value > 100) {
		return share, &measure.Error{Text: s, Problem: "is no fermentable share", Hint: "50 to 100 %, e.g. 80 %"}
	}
	return share, err
}

const aStored = `^\s*(((2\d|3\d)([.,]\d+)?|40)\s*°?\s*[Cc]|((6[89]|[789]\d|10[0-3])([.,]\d+)?|104)\s*°?\s*[Ff])\s*$`

// parseStored reads the storage temperature of a mead, in the range of the sulphite dose.
func parseStored(s string) (measure.Given[measure.Temperature], error) {
	t, err := measure.ParseTemperature(s)
	if err == nil && (t.Value < 20 || t.Value > 40) {
		return t, &measure.Error{Text: s, Problem: "is outside what the dose of sulphite is worked out for", Hint: "20 to 40 °C, and 20 °C for anything colder, e.g. 20 °C"}
	}
	return t, err
}

func parseGrace(s string) (float64, error) {
	g, err := measure.ParseScale(s, "fall of gravity", 0, 0.05, "0.005")
	return g.Value, err
}

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

// readKeys accepts any action; the board checks which there are.
func readKeys(v value, s *settings) {
	if !v.plain() {
		return
	}
	if v.node.Kind != yaml.MappingNode {
		v.wrong("is written as actions with their keys")
		return
	}
	s.Keys = map[string]string{}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		action := v.node.Content[i].Value
		if _, twice := s.Keys[action]; twice {
			v.fail(v.node.Content[i], "%s is twice in keys (leave one, e.g. keys: {degas: d})", quote(action))
			continue
		}
		pressed := value{v.reader, v.node.Content[i+1], action, "d"}
		if key, ok := pressed.word(); ok {
			s.Keys[action] = key
		}
	}
}
