package journal

import (
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

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
	flag("mouse", "true", func(s *settings, is bool) { s.Mouse = is }, nil),
	amount("fizz", "5 g/L", measure.ParseCarbonation, func(s *settings) *measure.Content { return &s.Fizz }),
	list("instruments", "[{name: hydrometer, kind: hydrometer, calibrated: 20 °C}]", instrumentTable, func(s *settings) *[]ferment.Instrument { return &s.Instruments }),
	list("nutrients", "[{name: ammonium phosphate, kind: ammonium, nitrogen: 212 mg/g}]", nutrientKindTable, func(s *settings) *[]ferment.NutrientKind { return &s.Nutrients }),
	list("bottles", "[{kind: crown beer bottle, size: 330 mL, holds: 5.5 g/L}]", bottleKindTable, func(s *settings) *[]ferment.BottleKind { return &s.Bottles }),
	group("limits", "{grace: 0.005, spacing: 12 h}", limitsTable, func(s *settings) *ferment.Limits { return &s.Limits }),
	field[settings]{key: "keys", example: "{degas: d}", read: readKeys},
)

// ReadSettings reads cellar.yaml over the defaults. A problem costs the file:
// the defaults hold then.
func ReadSettings(file string, data []byte, zone *time.Location) Reading[ferment.Settings] {
	r := newReader(file, data, zone)
	s := ferment.DefaultSettings(zone)
	readable := r.file("", func(root value) { settingsTable.read(root, &s) })
	if !readable {
		s = ferment.DefaultSettings(zone)
	}
	return Reading[ferment.Settings]{s, readable, r.problems, r.remarks}
}

var instrumentTable = tableOf("an instrument",
	text("name", "hydrometer", func(i *ferment.Instrument) *string { return &i.Name }),
	word("kind", []string{"hydrometer", "refractometer"}, func(i *ferment.Instrument) *string { return &i.Kind }),
	given("calibrated", "20 °C", measure.ParseTemperature, func(i *ferment.Instrument) *measure.Given[measure.Temperature] { return &i.Calibrated }),
	given("water", "1.001", measure.ParseGravity, func(i *ferment.Instrument) *measure.Given[measure.Gravity] { return &i.Water }),
	flag("compensated", "true", func(i *ferment.Instrument, is bool) { i.Compensated = is }, nil),
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
	given("pk", "1.95", parsePK, func(l *ferment.Limits) *measure.Given[float64] { return &l.PK }),
	amount("steady-temperature", "15 °C", measure.ParseTemperature, func(l *ferment.Limits) *measure.Temperature { return &l.SteadyTemperature }),
)

func parsePK(s string) (measure.Given[float64], error) {
	return measure.ParseScale[float64](s, "pK", 1.5, 3, "1.95")
}

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
