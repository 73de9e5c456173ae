package journal

import (
	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

type anEntry = ferment.Entry

// entryTable is the one description of an entry: its order is the order in
// which an entry is written.
var entryTable = tableOf("an entry",
	moment("at", "2026-09-12T18:30:00+01:00", func(e *anEntry) *ferment.Moment { return &e.At }),
	given("gravity", "1.066", measure.ParseGravity, func(e *anEntry) *measure.Given[measure.Gravity] { return &e.Gravity }),
	given("brix", "20.2", scale[measure.Brix]("Brix reading", -5, 60, "20.2"), func(e *anEntry) *measure.Given[measure.Brix] { return &e.Brix }),
	given("plato", "20.2", scale[measure.Brix]("Plato reading", -5, 60, "20.2"), func(e *anEntry) *measure.Given[measure.Brix] { return &e.Plato }),
	given("oechsle", "84", scale[float64]("reading in degrees Oechsle", -30, 250, "84"), func(e *anEntry) *measure.Given[float64] { return &e.Oechsle }),
	given("refractometer", "11.4", scale[measure.Brix]("refractometer reading", 0, 90, "11.4"), func(e *anEntry) *measure.Given[measure.Brix] { return &e.Refractometer }),
	given("sample", "22 °C", measure.ParseTemperature, func(e *anEntry) *measure.Given[measure.Temperature] { return &e.Sample }),
	text("with", "hydrometer", func(e *anEntry) *string { return &e.With }),
	flag("degassed", "false",
		func(e *anEntry, is bool) { e.Undegassed = !is },
		func(e *anEntry) string { return map[bool]string{true: "false"}[e.Undegassed] }),
	given("temperature", "19.5 °C", measure.ParseTemperatures, func(e *anEntry) *measure.Given[measure.Span[measure.Temperature]] { return &e.Temperature }),
	given("ph", "3.4", measure.ParsePH, func(e *anEntry) *measure.Given[measure.PH] { return &e.PH }),
	given("acidity", "5.5 g/L", measure.ParseContent, func(e *anEntry) *measure.Given[measure.Content] { return &e.Acidity }),
	given("volume", "3.4 L", measure.ParseVolume, func(e *anEntry) *measure.Given[measure.Volume] { return &e.Volume }),
	given("lees", "1.5 cm", measure.ParseDepth, func(e *anEntry) *measure.Given[measure.Depth] { return &e.Lees }),
	word("clarity", ferment.ClarityWords, func(e *anEntry) *ferment.Clarity { return &e.Clarity }),
	words("seen", "[gas, sediment]", ferment.SeenWords, func(e *anEntry) *[]string { return &e.Seen }),
	word("airlock", ferment.AirlockWords, func(e *anEntry) *string { return &e.Airlock }),
	text("smell", "clean", func(e *anEntry) *string { return &e.Smell }),
	word("feel", ferment.FeelWords, func(e *anEntry) *string { return &e.Feel }),
	word("label", []string{"doubtful"}, func(e *anEntry) *string { return &e.Label }),
	text("place", "cellar", func(e *anEntry) *string { return &e.Place }),
	given("lost", "0.2 L", measure.ParseVolume, func(e *anEntry) *measure.Given[measure.Volume] { return &e.Lost }),
	flag("doubt", "true", setDoubt, doubtText),
	word("did", actWords(), func(e *anEntry) *ferment.Act { return &e.Did }),
	text("step", "nutrient-2", func(e *anEntry) *string { return &e.Step }),
	field[anEntry]{"amount", "1.5 g", readAmount, amountText},
	text("of", "ammonium phosphate", func(e *anEntry) *string { return &e.Of }),
	given("stock", "10 %", measure.ParseShare, func(e *anEntry) *measure.Given[measure.Share] { return &e.Stock }),
	text("lot", "bell-heather-26", func(e *anEntry) *string { return &e.Lot }),
	given("water", "18.1 %", measure.ParseShare, func(e *anEntry) *measure.Given[measure.Share] { return &e.Water }),
	text("skipped", "degas", func(e *anEntry) *string { return &e.Skipped }),
	text("overrode", "nutrient", func(e *anEntry) *string { return &e.Overrode }),
	text("because", "away", func(e *anEntry) *string { return &e.Because }),
	moment("remind", "2027-02-10", func(e *anEntry) *ferment.Moment { return &e.Remind }),
	lines("note", "lively, two fingers of foam", func(e *anEntry) *string { return &e.Note }),
	group("to", "{kind: glass jug, brimful: 4.1 L}", vesselTable, func(e *anEntry) *ferment.Vessel { return &e.To }),
	list("bottles", "[{kind: crown beer bottle, size: 330 mL, count: 8}]", bottlesTable, func(e *anEntry) *[]ferment.Bottles { return &e.Bottles }),
	given("left", "0.6 L", measure.ParseVolume, func(e *anEntry) *measure.Given[measure.Volume] { return &e.Left }),
	text("bottle", "BH-A 3", func(e *anEntry) *string { return &e.Bottle }),
	given("hiss", "3", scale[float64]("hiss", 0, 5, "3"), func(e *anEntry) *measure.Given[float64] { return &e.Hiss }),
	given("foam", "2 cm", measure.ParseDepth, func(e *anEntry) *measure.Given[measure.Depth] { return &e.Foam }),
	group("taste", "{nose: heather, score: 70}", tastingTable, func(e *anEntry) *ferment.Tasting { return &e.Taste }),
	group("triangle", "{with: bh-b, codes: [417, 902, 655], odd: 902, said: 902}", triangleTable, func(e *anEntry) *ferment.Triangle { return &e.Triangle }),
	given("medium", "100 mL", measure.ParseVolume, func(e *anEntry) *measure.Given[measure.Volume] { return &e.Medium }),
	given("alcohol", "5 %", measure.ParseStrength, func(e *anEntry) *measure.Given[measure.Strength] { return &e.Alcohol }),
	word("verdict", ferment.VerdictWords, func(e *anEntry) *string { return &e.Verdict }),
)

func actWords() []string {
	var words []string
	for _, a := range ferment.Acts() {
		words = append(words, string(a))
	}
	return words
}

func setDoubt(e *anEntry, is bool) {
	e.Doubt = ferment.Confirmed
	if is {
		e.Doubt = ferment.Doubtful
	}
}

func doubtText(e *anEntry) string {
	return map[ferment.Doubt]string{ferment.Doubtful: "true", ferment.Confirmed: "false"}[e.Doubt]
}

const unknown = "unknown"

func readAmount(v value, e *anEntry) {
	s, ok := v.word()
	switch {
	case !ok:
		return
	case s == unknown:
		e.Amount.Unknown = true
		return
	}
	q, err := measure.ParseQuantity(s)
	switch {
	case err != nil:
		v.refuse(err)
	case q.Dimension() == measure.OfNothing:
		v.fail(v.node, "amount %s needs its unit (e.g. amount: 1.5 g, or amount: unknown)", quote(s))
	case q.Number < 0:
		v.wrong("%s is less than nothing", quote(s))
	default:
		e.Amount.Quantity = q
	}
}

func amountText(e *anEntry, s style) string {
	if e.Amount.Unknown {
		return unknown
	}
	return s.scalar(e.Amount.Text)
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

var tastingTable = tableOf("a tasting",
	text("look", "clear, pale gold", func(t *ferment.Tasting) *string { return &t.Look }),
	text("nose", "heather", func(t *ferment.Tasting) *string { return &t.Nose }),
	text("palate", "dry", func(t *ferment.Tasting) *string { return &t.Palate }),
	text("body", "light", func(t *ferment.Tasting) *string { return &t.Body }),
	text("finish", "short", func(t *ferment.Tasting) *string { return &t.Finish }),
	texts("faults", "[sulphur]", func(t *ferment.Tasting) *[]string { return &t.Faults }),
	given("score", "70", scale[float64]("score", 0, 100, "70"), func(t *ferment.Tasting) *measure.Given[float64] { return &t.Score }),
	flag("blind", "true",
		func(t *ferment.Tasting, is bool) { t.Blind = is },
		func(t *ferment.Tasting) string { return map[bool]string{true: "true"}[t.Blind] }),
)

var triangleTable = tableOf("a triangle",
	text("with", "bh-b", func(t *ferment.Triangle) *string { return &t.With }),
	wholes("codes", "[417, 902, 655]", 1, 9999, func(t *ferment.Triangle) *[]int { return &t.Codes }),
	whole("odd", "902", 1, 9999, func(t *ferment.Triangle) *int { return &t.Odd }),
	whole("said", "902", 1, 9999, func(t *ferment.Triangle) *int { return &t.Said }),
)
