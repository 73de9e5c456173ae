package bench

import (
	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
)

// keepFigures are about what keeps a mead.
func keepFigures() []Figure {
	return []Figure{
		{
			Name: "sulphite", Use: "metabisulphite for a free sulphur dioxide",
			Ways: []Way{{Keys: []Key{
				{"ph", "of the mead", "3.4", false}, {"volume", "of the mead", "3.3L", false}, {"alcohol", "its strength, for an exact pK", "12%", true},
				{"at", "the temperature it will stand at", "20C", true}, {"pk", "if you know better", "1.81", true}, {"molecular", "wanted, mg/L", "0.8", true},
				{"present", "free sulphur dioxide there already", "10mg/L", true}, {"bound", "share that does not stay free", "30%", true},
			}, work: sulphite}},
			Equation: "free = molecular (1 + 10^(pH − pK)); metabisulphite 0.576 of its mass", Source: "OIV table of mixed pK by strength and temperature, from memory; printed table at 1.81",
			Range: "pH 2.8 to 4.5, 20 to 40 °C", Within: "1 mg/L; 0.02 in pK", Uncertainty: "as good as the pH",
			Cautions: []Caution{
				{"warn", "some people, most of them asthmatic, react to sulphites: say so on the label"},
				{"note", "powder and stock fume: open a window, do not sniff it, never mix it with acid in a closed jar; it forbids bottle-conditioning"},
			},
		},
		{
			Name: "sorbate", Use: "potassium sorbate beside sulphite",
			Ways:     []Way{{Keys: []Key{{"volume", "of the mead", "3.3L", false}, {"alcohol", "its strength", "12%", false}}, work: sorbate}},
			Equation: "200 mg/L of sorbic acid to 10 % vol, 25 less for each 1 % vol, 75 from 15 % on; salt × 1/0.7464", Source: "after older texts, from memory; OIV limit 200 mg/L; stoichiometry",
			Range: "0 to 20 % vol", Within: "0.1 % of stoichiometry", Uncertainty: "a rule of practice",
			Cautions: []Caution{
				{"warn", "it works under pH 3.5, and above 3.8 no dose is sure; always with sulphite; never where bacteria worked (it comes to smell of geranium), never before bottle-conditioning"},
				{"note", "it hinders yeast from beginning again and kills none: clear and cold first"},
			},
		},
		{
			Name: "acid", Use: "acid to a titratable acidity",
			Ways: []Way{{Keys: []Key{
				{"from", "acidity now, as tartaric", "4.5g/L", false}, {"to", "acidity wanted", "5.5g/L", false}, {"volume", "of the mead", "3.3L", false},
				{"kind", "tartaric, citric, malic or lactic", "citric", false},
			}, work: acid}},
			Equation: "(to − from) × volume × equivalent weight", Source: "molar masses", Range: "0 to 20 g/L", Within: "1 %", Uncertainty: "taste first: steps of 0.25 to 0.5 g/L",
		},
		{
			Name: "buffer", Use: "potassium bicarbonate against sourness",
			Ways: []Way{{Keys: []Key{
				{"from", "acidity now, as tartaric", "7g/L", false}, {"to", "acidity wanted", "6g/L", false}, {"volume", "of the mead", "3.3L", false},
			}, work: buffer}},
			Equation: "1.33 g/L for each 1 g/L of acid", Source: "stoichiometry: mead has no tartrate to fall out", Range: "0 to 20 g/L", Within: "1 %", Uncertainty: "pH cannot be foretold: measure it",
			Cautions: []Caution{{"warn", "it foams: degas first, in small parts, tray under"}},
		},
	}
}

func sulphite(f *form) {
	s := finishing.Sulphite{
		PH: want(f, "ph", measure.ParsePH), Volume: want(f, "volume", measure.ParseVolume),
		Molecular: read(f, "molecular", milligrams).Else(f.settings.Limits.Molecular), PK: read(f, "pk", number("pK", 1, 3, "1.81")).Else(f.settings.Limits.PK),
		Alcohol: read(f, "alcohol", measure.ParseStrength), At: read(f, "at", measure.ParseTemperature),
		Present: read(f, "present", milligrams).Value, Bound: read(f, "bound", measure.ParseShare).Else(f.settings.Limits.Bound),
	}
	if f.err != nil {
		return
	}
	d, err := finishing.SulphiteFor(s)
	f.fail(err)
	if f.err != nil {
		return
	}
	f.assume(d.Assumed...)
	if d.Warning != "" {
		f.caution("warn", d.Warning)
	}
	f.give("free", d.Free.MilligramsPerLitre(), "mg/L", 1)
	f.give("salt", d.Salt.Grams(), "g", 3)
	f.give("stock", d.Stock.Millilitres(), "mL of 10 %", 2)
	f.give("pk", d.PK, "", 3)
}

func sorbate(f *form) {
	volume, strength := want(f, "volume", measure.ParseVolume), want(f, "alcohol", measure.ParseStrength)
	if f.err != nil {
		return
	}
	d, err := finishing.SorbateFor(volume, strength)
	f.fail(err)
	f.give("sorbic", d.Sorbic.MilligramsPerLitre(), "mg/L", 0)
	f.give("salt", d.Salt.Grams(), "g", 3)
}

func acid(f *form) {
	from, to := want(f, "from", measure.ParseContent), want(f, "to", measure.ParseContent)
	volume := want(f, "volume", measure.ParseVolume)
	kind := want(f, "kind", word("tartaric", "citric", "malic", "lactic"))
	if f.err != nil {
		return
	}
	m, err := finishing.AcidFor(finishing.Acid(kind), from, to, volume)
	f.fail(err)
	f.give("salt", m.Grams(), "g", 2)
}

func buffer(f *form) {
	from, to := want(f, "from", measure.ParseContent), want(f, "to", measure.ParseContent)
	volume := want(f, "volume", measure.ParseVolume)
	if f.err != nil {
		return
	}
	b, err := finishing.BufferFor(from, to, volume)
	f.fail(err)
	if b.Warning != "" {
		f.caution("warn", b.Warning)
	}
	f.give("salt", b.Salt.Grams(), "g", 2)
}
