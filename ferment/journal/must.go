package journal

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

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
