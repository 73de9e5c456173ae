package ferment

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

const aDay = 24 * time.Hour

// keyRows is the table of the keys of an entry, in the order in which they are written. The likely ranges are common
// practice, no source, for small jugs at room temperature and their instruments.
var keyRows = slices.Concat([]Key{
	Key{Name: "at", Example: "2026-09-12T18:30:00+01:00", Typed: "18:30", Does: "when it was; on an entry line a time of day, yesterday 20:00, -2h or a date", Kind: Aside}.
		moment(func(e *Entry) *Moment { return &e.At }, ""),
	density(quantity(Key{Name: "gravity", Example: "1.066", Typed: "1.066", Does: "gravity by the hydrometer; on an entry line also 1066", Kind: Measured, Likely: Likely{Low: 0.985, High: 1.160}, Places: 4},
		measure.ParseGravity, func(e *Entry) *measure.Given[measure.Gravity] { return &e.Gravity }, asRead, "%")),
	density(quantity(Key{Name: "brix", Example: "20.2", Typed: "20.2bx", After: []string{"bx", "°bx", "brix"}, Does: "density in °Bx", Kind: Measured, Likely: Likely{Low: -4, High: 36}},
		measure.ParseBrix, func(e *Entry) *measure.Given[measure.Brix] { return &e.Brix }, spelled, "%")),
	density(quantity(Key{Name: "plato", Example: "20.2", Typed: "20.2p", After: []string{"p", "°p", "plato"}, Does: "density in °P", Kind: Measured, Likely: Likely{Low: -4, High: 36}},
		measure.ParsePlato, func(e *Entry) *measure.Given[measure.Brix] { return &e.Plato }, decimal[measure.Brix](1), "% °P")),
	density(quantity(Key{Name: "oechsle", Example: "84", Typed: "84oe", After: []string{"oe", "°oe"}, Does: "density in °Oe", Kind: Measured, Likely: Likely{Low: -15, High: 160}},
		measure.ParseOechsle, func(e *Entry) *measure.Given[float64] { return &e.Oechsle }, decimal[float64](0), "% °Oe")),
	density(quantity(Key{Name: "refractometer", Example: "11.4", Typed: "11.4r", After: []string{"r"}, Does: "what a refractometer shows, in °Bx", Kind: Measured, Likely: Likely{High: 36}},
		measure.ParseRefractometer, func(e *Entry) *measure.Given[measure.Brix] { return &e.Refractometer }, spelled, "% by refractometer")),
	quantity(Key{Name: "sample", Example: "22 °C", Typed: "@22", Does: "temperature of the sample in the trial jar", Kind: Measured, Likely: Likely{High: 40, Change: 8, Within: 20 * aDay}, Column: "sample C", Places: 1},
		measure.ParseTemperature, func(e *Entry) *measure.Given[measure.Temperature] { return &e.Sample }, nil, "").sayWith(sampleAlone),
	Key{Name: "with", Example: "hydrometer", Typed: "with=hydrometer", Does: "the instrument that it was read with", Kind: Aside, Column: "with"}.
		text(func(e *Entry) *string { return &e.With }, "with %"),
	Key{Name: "degassed", Example: "false", Typed: "degassed=false", Does: "false if the sample still had its gas", Kind: Aside, Column: "degassed"}.
		flag(func(e *Entry, is bool) { e.Undegassed = !is }, func(e *Entry) string { return map[bool]string{true: "false"}[e.Undegassed] },
			map[string]string{"false": "not degassed"}),
	temperatures(Key{Name: "temperature", Example: "19.5 °C", Typed: "19.5C", Does: "temperature of the vessel; on an entry line 17..24C is the lowest and the highest", Kind: Measured,
		Likely: Likely{Low: -2, High: 45, Change: 8, Within: 20 * aDay}}),
	quantity(Key{Name: "ph", Example: "3.4", Typed: "ph3.4", Before: "ph", Does: "acidity on the pH scale", Kind: Measured, Likely: Likely{Low: 2.5, High: 5, Change: 0.5}, Column: "pH", Places: 2},
		measure.ParsePH, func(e *Entry) *measure.Given[measure.PH] { return &e.PH }, spelled, "pH %"),
	quantity(Key{Name: "acidity", Example: "5.5 g/L", Typed: "ta5.5", Before: "ta", Does: "titratable acidity", Kind: Measured, Likely: Likely{Low: 1, High: 15, Change: 4}, Column: "acidity g/L", Places: 2},
		measure.ParseContent, func(e *Entry) *measure.Given[measure.Content] { return &e.Acidity }, spelled, "acidity %"),
	quantity(Key{Name: "volume", Example: "3.4 L", Typed: "vol3.4L", Before: "vol", Does: "how much is in the vessel", Kind: Measured, Likely: Likely{Low: 0.02, High: 250}, Column: "volume L", Places: 3},
		measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Volume }, small, "%"),
	quantity(Key{Name: "lees", Example: "1.5 cm", Typed: "lees=1.5cm", Does: "height of the sediment", Kind: Measured, Likely: Likely{High: 8, Change: 5}, Column: "lees cm", Places: 1},
		measure.ParseDepth, func(e *Entry) *measure.Given[measure.Depth] { return &e.Lees }, measure.Shown, "lees %"),
	word(Key{Name: "clarity", Example: "hazy", Typed: "hazy", Does: "how clear the mead is", Kind: Seen, Column: "clarity"},
		ClarityWords, func(e *Entry) *Clarity { return &e.Clarity }, "%"),
	Key{Name: "seen", Example: "[gas, sediment]", Typed: "seen=gas,sediment", Words: SeenWords, Does: "what was seen", Kind: Seen, Column: "things seen"}.
		list(func(e *Entry) *[]string { return &e.Seen }),
	word(Key{Name: "airlock", Example: "working", Typed: "airlock=working", Does: "what the airlock does", Kind: Seen, Column: "airlock"},
		AirlockWords, func(e *Entry) *string { return &e.Airlock }, "airlock %"),
	Key{Name: "smell", Example: "clean", Typed: "smell=clean", Does: "how it smells", Kind: Seen, Column: "smell"}.
		text(func(e *Entry) *string { return &e.Smell }, "%"),
	word(Key{Name: "feel", Example: "soft", Typed: "feel=soft", Does: "how hard a soft-drink bottle feels", Kind: Seen, Column: "feel"},
		FeelWords, func(e *Entry) *string { return &e.Feel }, "bottle %"),
	word(Key{Name: "label", Example: "doubtful", Typed: "label=doubtful", Does: "that the label on the vessel may be wrong", Kind: Seen, Column: "label"},
		[]string{"doubtful"}, func(e *Entry) *string { return &e.Label }, "label %"),
	Key{Name: "place", Example: "cellar", Typed: "place=cellar", Does: "where the vessel is", Kind: Aside, Column: "place"}.
		text(func(e *Entry) *string { return &e.Place }, "place %"),
	quantity(Key{Name: "lost", Example: "0.2 L", Typed: "lost=0.2L", Does: "how much was lost", Kind: Measured, Likely: Likely{High: 100}, Column: "lost L", Places: 3},
		measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Lost }, measure.Shown, "% lost"),
	Key{Name: "doubt", Example: "true", Typed: "?", Does: "true if you doubt the reading, false to confirm it", Kind: Aside, Column: "doubt"}.
		flag(setDoubt, func(e *Entry) string { return map[Doubt]string{Doubtful: "true", Confirmed: "false"}[e.Doubt] },
			map[string]string{"true": "in doubt", "false": "confirmed"}).valued(func(e *Entry) string { return string(e.Doubt) }),
	word(Key{Name: "did", Example: "mix", Typed: "mix", Does: "what was done", Kind: Done, Column: "did"},
		ActNames(), func(e *Entry) *Act { return &e.Did }, ""),
	Key{Name: "step", Example: "nutrient-2", Typed: "step=nutrient-2", Does: "the step of the plan that was done", Kind: Done, Column: "step"}.
		text(func(e *Entry) *string { return &e.Step }, ""),
	amounts(Key{Name: "amount", Example: "1.5 g", Typed: "1.5g", Does: "how much was added, or unknown", Kind: Done}),
	Key{Name: "of", Example: "ammonium phosphate", Typed: `of="ammonium phosphate"`, Does: "what was added, or which ferment it came from", Kind: Done, Column: "of"}.
		text(func(e *Entry) *string { return &e.Of }, ""),
	quantity(Key{Name: "stock", Example: "10 %", Typed: "stock=10%", Does: "for a dose in solution: its strength, g in 100 mL", Kind: Done, Likely: Likely{Low: 0.1, High: 50}, Column: "stock %", Places: 1},
		measure.ParseShare, func(e *Entry) *measure.Given[measure.Share] { return &e.Stock }, nil, ""),
	Key{Name: "lot", Example: "bell-heather-26", Typed: "lot=bell-heather-26", Does: "the honey lot that it came from", Kind: Done, Column: "lot"}.
		text(func(e *Entry) *string { return &e.Lot }, "lot %"),
	quantity(Key{Name: "water", Example: "18.1 %", Typed: "water=18.1%", Does: "water in the honey, or in the fruit", Kind: Done, Likely: Likely{Low: 12, High: 96}, Column: "water %", Places: 1},
		measure.ParseShare, func(e *Entry) *measure.Given[measure.Share] { return &e.Water }, spelled, "% water in it"),
	quantity(Key{Name: "sugar", Example: "8 %", Typed: "sugar=8%", Does: "sugar in the fruit", Kind: Done, Likely: Likely{Low: 1, High: 30}, Column: "sugar %", Places: 1},
		measure.ParseShare, func(e *Entry) *measure.Given[measure.Share] { return &e.Sugar }, spelled, "% sugar in it"),
	Key{Name: "skipped", Example: "degas", Typed: "skipped=degas", Does: "the step that was skipped", Kind: Done, Column: "skipped"}.
		text(func(e *Entry) *string { return &e.Skipped }, ""),
	Key{Name: "overrode", Example: "nutrient", Typed: "overrode=nutrient", Does: "the stop that you went against; it needs because=", Kind: Done, Column: "overrode"}.
		text(func(e *Entry) *string { return &e.Overrode }, "overrode %"),
	Key{Name: "because", Example: "away", Typed: "because=away", Does: "the reason", Kind: Aside, Column: "because"}.
		text(func(e *Entry) *string { return &e.Because }, "because %"),
	Key{Name: "remind", Example: "2027-02-10", Typed: "remind=2027-02-10", Does: "when to remind you of it", Kind: Aside, Column: "remind"}.
		moment(func(e *Entry) *Moment { return &e.Remind }, "reminder on %"),
	Key{Name: "note", Example: "lively, two fingers of foam", Typed: "; lively, two fingers of foam", Does: "anything else; on an entry line everything after the first semicolon", Kind: Aside, Column: "note"}.
		lines(func(e *Entry) *string { return &e.Note }),
	group(Key{Name: "to", Example: "{kind: glass jug, brimful: 4.1 L}", Typed: `to="glass jug, 4.1 L"`, Does: "the vessel that it went into", Kind: Done, Column: "to"},
		func(e *Entry) bool { return e.To.Kind != "" || e.To.Brimful.Known() }, toValue, toWords),
	group(Key{Name: "bottles", Example: "[{kind: crown beer bottle, size: 330 mL, count: 8}]", Does: "the bottles that were filled", Kind: Done, Column: "bottles"},
		func(e *Entry) bool { return len(e.Bottles) > 0 }, bottlesValue, bottlesWords),
	quantity(Key{Name: "left", Example: "0.6 L", Typed: "left=0.6L", Does: "how much stayed in the old vessel", Kind: Done, Likely: Likely{High: 250}, Column: "left L", Places: 3},
		measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Left }, measure.Shown, "% left"),
	Key{Name: "bottle", Example: "BH-A 3", Typed: `bottle="BH-A 3"`, Does: "the bottle that was opened", Kind: Done, Column: "bottle"}.
		text(func(e *Entry) *string { return &e.Bottle }, "bottle %"),
	quantity(Key{Name: "hiss", Example: "3", Typed: "hiss=3", Does: "how loudly the bottle hissed when opened, 0 to 5", Kind: Seen, Likely: Likely{High: 5}, Column: "hiss", Places: 1},
		measure.ParseHiss, func(e *Entry) *measure.Given[float64] { return &e.Hiss }, func(g measure.Given[float64], _ measure.System) string { return g.Text }, "hiss %"),
	quantity(Key{Name: "foam", Example: "2 cm", Typed: "foam=2cm", Does: "height of the foam in the glass", Kind: Seen, Likely: Likely{High: 30}, Column: "foam cm", Places: 1},
		measure.ParseDepth, func(e *Entry) *measure.Given[measure.Depth] { return &e.Foam }, measure.Shown, "foam %"),
	group(Key{Name: "taste", Example: "{nose: heather, score: 70}", Does: "how it tasted", Kind: Seen},
		func(e *Entry) bool { return tasteValue(e) != nil }, tasteValue, tasteWords),
	group(Key{Name: "triangle", Example: "{with: bh-b, codes: [417, 902, 655], odd: 902, said: 902}", Does: "a blind test of three glasses", Kind: Seen, Column: "triangle"},
		func(e *Entry) bool { return e.Triangle.Odd > 0 }, triangleValue, triangleWords),
	quantity(Key{Name: "medium", Example: "100 mL", Typed: "medium=100mL", Does: "how much liquid the culture is grown in, or priming sugar is dissolved in", Kind: Measured, Likely: Likely{High: 20}, Column: "medium L", Places: 3},
		measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Medium }, small, "in %"),
	quantity(Key{Name: "alcohol", Example: "5 %", Typed: "alcohol=5%", Does: "alcohol of that liquid, by volume", Kind: Measured, Likely: Likely{High: 22}, Column: "alcohol %", Places: 1},
		measure.ParseStrength, func(e *Entry) *measure.Given[measure.Strength] { return &e.Alcohol }, spelled, "%"),
	word(Key{Name: "verdict", Example: "trying", Typed: "verdict=trying", Does: "how a culture is judged", Kind: Measured, Column: "verdict"},
		VerdictWords, func(e *Entry) *string { return &e.Verdict }, "%").sayWith(verdictWords),
}, tasteRows)

// tasteRows are the keys of a tasting: inside taste in a file, on their own on an entry line.
var tasteRows = []Key{
	tasted("look", "clear, pale gold", "how it looks", func(e *Entry) *string { return &e.Taste.Look }),
	tasted("nose", "heather", "how it smells in the glass", func(e *Entry) *string { return &e.Taste.Nose }),
	tasted("palate", "dry", "how it tastes", func(e *Entry) *string { return &e.Taste.Palate }),
	tasted("body", "light", "how full or thin it feels", func(e *Entry) *string { return &e.Taste.Body }),
	tasted("finish", "short", "what taste stays afterwards", func(e *Entry) *string { return &e.Taste.Finish }),
	Key{Name: "faults", In: "taste", Example: "[sulphur]", Typed: "faults=sulphur", Does: "what is wrong with it", Kind: Seen, Column: "faults"}.
		list(func(e *Entry) *[]string { return &e.Taste.Faults }),
	quantity(Key{Name: "score", In: "taste", Example: "70", Typed: "score=70", Does: "how good it is, from 0 to 100", Kind: Seen, Likely: Likely{High: 100}, Column: "score"},
		measure.ParseScore, func(e *Entry) *measure.Given[float64] { return &e.Taste.Score }, decimal[float64](0), "score %"),
	Key{Name: "blind", In: "taste", Example: "true", Typed: "blind=true", Does: "whether it was tasted blind", Kind: Seen, Column: "blind"}.
		flag(func(e *Entry, is bool) { e.Taste.Blind = is }, func(e *Entry) string { return map[bool]string{true: "true"}[e.Taste.Blind] },
			map[string]string{"true": "blind"}),
	word(Key{Name: "again", In: "taste", Example: "with changes", Typed: `again="with changes"`, Does: "whether you would make it again", Kind: Seen, Column: "again"},
		AgainWords, func(e *Entry) *string { return &e.Taste.Again }, "%"),
}

// asRead writes a gravity with the decimals typed, at least three.
func asRead(g measure.Given[measure.Gravity], _ measure.System) string {
	return g.Value.Places(max(decimals(g.Text), 3))
}

// decimals returns the number of decimals of a typed number. A gravity in thousandths, 1046.5, has three more.
func decimals(text string) int {
	n := 0
	i := strings.IndexAny(text, ".,")
	if i >= 0 {
		n = len(text) - i - 1
	}
	if i > 1 || i < 0 && len(text) > 1 {
		n += 3
	}
	return min(n, 4)
}

// spelled writes a value that is the same in both systems of units.
func spelled[T fmt.Stringer](g measure.Given[T], _ measure.System) string { return g.Value.String() }

// small writes a volume below a litre as typed, "110 mL".
func small(g measure.Given[measure.Volume], s measure.System) string {
	if g.Value < 1 {
		return measure.AsTyped(g, s)
	}
	return measure.Shown(g, s)
}

func decimal[T ~float64](places int) func(measure.Given[T], measure.System) string {
	return func(g measure.Given[T], _ measure.System) string { return measure.Decimal(float64(g.Value), places) }
}

// density adds the temperature of the sample to the words of a row.
func density(k Key) Key {
	say := k.Say
	k.Say = func(e *Entry, units measure.System) string {
		text := say(e, units)
		if text != "" && e.Sample.Known() {
			text += " at " + measure.Shown(e.Sample, units)
		}
		return text
	}
	return k
}

func sampleAlone(e *Entry, units measure.System) string {
	if e.Sample.Known() && !e.HasDensity() {
		return "sample at " + measure.Shown(e.Sample, units)
	}
	return ""
}

func verdictWords(e *Entry, _ measure.System) string {
	if e.Verdict != "" && e.Did != Verdict {
		return "verdict " + e.Verdict
	}
	return e.Verdict
}

func (k Key) sayWith(say func(*Entry, measure.System) string) Key {
	k.Say = say
	return k
}

// tasted makes the row of a key for one of the senses, with its words as they are.
func tasted(name, example, does string, at func(*Entry) *string) Key {
	typed := name + "=" + example
	if strings.Contains(example, " ") {
		typed = name + `="` + example + `"`
	}
	return Key{Name: name, In: "taste", Example: example, Typed: typed, Does: does, Kind: Seen, Column: name}.text(at, "%")
}
