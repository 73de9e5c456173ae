package schedule

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/lineage"
	"cellar/jugkeeper/ferment/measure"
)

// Practice is the source of what the trade does without one.
const Practice = "common practice, no source"

// Said is a caution with its name and source.
type Said struct{ Name, Text, Source string }

// cautions are what can happen and what to do about it, by name, with quantities in braces.
var cautions = []Said{
	{"alcohol", "mead is strong: take only sips; drink none of it if you drive, are pregnant or take medicines that do not go with alcohol", Practice},
	{"bottle-pressure", "too much sugar bursts bottles: weigh the dose, use bottles made for pressure and without a chip, keep them in a closed crate, and fill one soft bottle to squeeze",
		"pressures by the method of Commission Regulation (EEC) 2676/90; CETIE bottling guide 1 on the pressure in a still bottle"},
	{"cappings-wash", "cappings wash ferments by itself within a day or two: use it in a must now, or freeze it", Practice},
	{"cleaning", "cleaners burn, and chlorine with acid, ammonia or sulphite gives off poison gas: use one at a time, follow its label, rinse well",
		"extension sanitation notes; " + Practice},
	{"closed-lid", "a closed jug builds pressure at once when it is swirled, and breaks: take the bung out to degas, and never screw a lid on a fermenting jug",
		Practice + "; the pressure follows from the gas laws"},
	{"crate", "if the soft test bottle is rock hard, or a bottle foams over, the others may burst: keep everyone away, close the crate, chill all of it, then follow the chapter urgent of the guide",
		Practice},
	{"discard", "if there is fuzzy or coloured growth, stinking slime, a smell of sewage or strong vinegar, or broken glass near it: throw all of it away, untasted",
		"Ohio State University Extension HYG-5592 on mould; the rest is " + Practice},
	{"do-not-taste", "what grows in an untested culture is not known: look and smell, do not taste",
		"Viveros-Lizondo et al., Fermentation 10:389 (2024), on what was found in apiaries"},
	{"drawn-in-air", "a cooling vessel draws in air and the liquid of its airlock: swap the airlock for a closure that lets nothing in",
		"worked out with the gas laws; jugkeeper work gas"},
	{"first-taste", "an untested culture can make you ill: take at most a sip, and only at pH 4.2 or less, with gravity halved, after 14 days, with a clean smell and never any mould",
		"21 CFR 114.3 for the acidity; the rest is " + Practice},
	{"fruit-stones", "stones give off cyanide and mouldy fruit spoils the must: take stones and mouldy pieces out first", "from memory; " + Practice},
	{"glass", "hot liquid breaks cold glass: keep them within {30 °C of each other}, wear shoes, never carry a jug by its neck alone", Practice},
	{"hive-treatment", "a treatment of the hive may be in the honey: use it only where the label allows honey supers, or after the withdrawal period",
		"from memory: the label of the treatment is the law"},
	{"in-the-cold", "wait until it has been in the cold for 24 h; then put each bottle upright in a bucket and lift the cap slowly under a towel; do not cap it again", Practice},
	{"infants", "honey may carry spores that make infants ill: give none, in any form, to a child under twelve months", "Institut national de santé publique du Québec"},
	{"label-sulphites", "some people react to sulphites: write them on the label", "27 CFR 4.32(e)"},
	{"mould", "mould in a liquid is in the whole of it: do not skim, do not taste, throw all of it away", "Ohio State University Extension HYG-5592"},
	{"must-sulphite", "sulphite fumes sting and slow a yeast: open a window, and wait a day before the yeast goes in", Practice},
	{"open-cool", "a bottle under pressure can burst or gush: keep it cool and upright, open it over a sink, away from the face",
		Practice + "; the pressure by the method of Commission Regulation (EEC) 2676/90"},
	{"overpressure-drill", "bottles under too much pressure burst: keep everyone away, wear goggles and gloves, chill the closed crate for 24 h, then lift each cap slowly under a towel",
		Practice + "; that the cold takes about half of the pressure follows from Commission Regulation (EEC) 2676/90"},
	{"own-law", "laws on home making differ by country: check yours; not for sale", "27 CFR 24.75, for one country"},
	{"powder", "powder makes a gassy must foam over: degas it until it is quiet, stir the powder into {20 to 50 mL} of must first, and put a tray under it", Practice},
	{"racking-air", "air makes mead stale: keep the end of the tube under the surface, and do not splash, except once if it smells of eggs", Practice},
	{"room-gas", "several fermenting vessels fill a small closed room with gas: open the door first, and let no child or pet stay near the floor there",
		"NIOSH criteria document on carbon dioxide, 1976"},
	{"sealed-jar", "a culture in a closed jar builds pressure and breaks it: leave the lid loose, in the fridge", Practice},
	{"sorbate", "sorbate alone does not stop yeast, and with bacteria it smells of geranium: add it only after sulphite, never before priming",
		"OIV International Code of Oenological Practices II.3.4.5; University of Minnesota enology notes"},
	{"spirit-and-flame", "spirit vapour catches fire: turn the stove off before you pour", Practice},
	{"sulphite-asthma", "sulphite fumes sting, and some people with asthma react to it: open a window, do not sniff, write it on the label",
		"27 CFR 4.32(e): declared in trade from 10 mg/L"},
	{"toxic-nectar", "honey of rhododendron, azalea or laurel can poison, and fermenting does not help: ask beekeepers near you, use none of it, set bitter or odd honey aside",
		"Jansen et al., Cardiovascular Toxicology 12 (2012); the Bad Bug Book of the US Food and Drug Administration"},
	{"wet-glass", "a full vessel is heavy and wet glass slips: use both hands, one under it, or a crate; wear shoes", Practice},
	{"wet-honey", "wet honey ferments by itself and lifts its lid: make mead of it first, or keep it cold", "USDA Agriculture Handbook 335; Codex CXS 12-1981"},
}

// cautionOf returns the name of a step's caution: its own, or that of all powders.
func cautionOf(s ferment.Step) string {
	if s.Caution == "" && (s.Do == string(ferment.Nutrient) || s.Do == string(ferment.Buffer)) {
		return "powder"
	}
	return s.Caution
}

// CautionOf returns a caution by name, for print; empty for an unknown name.
func CautionOf(name string, units measure.System) Caution {
	c := Caution{Name: name, Loud: Note}
	if i := slices.IndexFunc(cautions, func(s Said) bool { return s.Name == name }); i >= 0 {
		c.Text = measure.Fill(cautions[i].Text, units)
	}
	return c
}

// CautionOfStep returns a step's caution, for print before the step comes up.
func CautionOfStep(s ferment.Step, units measure.System) Caution {
	return CautionOf(cautionOf(s), units)
}

// always are the cautions of every ferment.
var always = []string{"closed-lid", "glass", "room-gas", "cleaning", "discard", "infants"}

// CautionsOf returns the cautions of steps, without repeats, and those of every ferment.
func CautionsOf(steps []ferment.Step, units measure.System) []Caution {
	var out []Caution
	have := map[string]bool{"": true}
	add := func(name string) {
		if c := CautionOf(name, units); !have[name] && c.Text != "" {
			out = append(out, c)
		}
		have[name] = true
	}
	for _, s := range steps {
		add(cautionOf(s))
	}
	for _, name := range always {
		add(name)
	}
	return out
}

// Cautions returns all cautions of plans by name, in metric units.
func Cautions() []Said {
	all := slices.Clone(cautions)
	for i := range all {
		all[i].Text = measure.Fill(all[i].Text, measure.Metric)
	}
	return all
}

// Warning returns a caution by name, as a warning.
func Warning(name string) Caution {
	c := CautionOf(name, measure.Metric)
	c.Loud = Warn
	return c
}

// LotNotice is a notice about a honey lot, before it is used or kept.
type LotNotice struct {
	Lot     string // the id
	Reason  string
	Caution Caution
}

// LotNotices returns the notices of lots that will not keep or are from treated hives, in their order, except used-up
// lots. Closed ferments count if the cellar has them.
func LotNotices(c ferment.Cellar, now time.Time) []LotNotice {
	return ferment.Flat(larder.All(c.Lots, c.OpenAndPast(), now), noticesOf)
}

// noticesOf returns what needs care about honey of one lot: it is too wet to keep, or its hive was treated.
func noticesOf(a larder.Account) []LotNotice {
	var out []LotNotice
	if a.Left.Gone() {
		return nil
	}
	if says, keepsNot := WhyNotKept(a); keepsNot {
		name := "wet-honey"
		if a.IsWash() {
			name = "cappings-wash"
		}
		out = append(out, LotNotice{a.Lot.ID, says, Warning(name)})
	}
	if a.Treated() {
		out = append(out, LotNotice{a.Lot.ID, "its hive was treated: " + a.Lot.Treated, Warning("hive-treatment")})
	}
	return out
}

// WhyNotKept says why a lot will not keep and what to do.
func WhyNotKept(a larder.Account) (says string, keepsNot bool) {
	switch {
	case a.WashTooOld():
		return fmt.Sprintf("cappings wash, %d days old: it ferments by itself; use it now", int(a.Age.Hours()/24)), true
	case a.IsWash():
		return "cappings wash: use it within a day or two", true
	case !a.Water.Known():
		return "", false
	}
	water := measure.Decimal(float64(a.Water.Share), 1) + " % water"
	switch honey.KeepingOf(a.Water.Share) {
	case honey.First:
		return water + ": use it first", true
	case honey.AtOnce:
		return water + ": use it now", true
	}
	return "", false
}

// LotCautions returns the cautions for a lot, the most severe first, and those for any honey.
func LotCautions(a larder.Account) []Caution {
	out := ferment.Map(noticesOf(a), func(n LotNotice) Caution { return n.Caution })
	infants, toxic := CautionOf("infants", measure.Metric), CautionOf("toxic-nectar", measure.Metric)
	text := strings.ToLower(a.Lot.ID + " " + a.Lot.Name + " " + a.Lot.Note)
	if slices.ContainsFunc(toxicBlooms, func(plant string) bool { return strings.Contains(text, plant) }) {
		toxic.Loud = Warn
		return append(out, toxic, infants)
	}
	return append(out, infants, toxic)
}

// toxicBlooms are plants whose nectar makes poisonous honey, as named by a bee culture's guide and a review of
// grayanotoxin honey.
var toxicBlooms = []string{"rhododendron", "azalea", "laurel", "kalmia", "pieris"}

// CultureCautions returns the cautions for a culture, the most severe first; none for a discarded one.
func CultureCautions(c *course.Course) []Caution {
	if c.Over() {
		return nil
	}
	seen := func(word string) bool {
		return slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return e.Saw(word) })
	}
	var out []Caution
	ps := lineage.Passages(c)
	if seen("mould") {
		out = append(out, Caution{"mould", Stop, "mould was seen in it: throw all of it away, untasted"})
	} else if seen("film") {
		out = append(out, Caution{"film", Warn, "a film was seen on it: do not go on until you know what grows"})
	}
	if len(ps) > 0 && ps[len(ps)-1].SmellsBad() {
		out = append(out, Caution{"discard", Stop, "it smells bad: throw it away, untasted"})
	}
	if caution := AcidCaution(c.PH.Value); c.PH.IsKnown() && caution != nil {
		out = append(out, *caution)
	}
	if len(ps) > 0 && ps[len(ps)-1].Outcome == lineage.Idle && course.VerdictOf(*c.Culture, c.Now) != "usable" {
		out = append(out, Caution{"discard", Warn, "no gas and no sediment in 14 days: throw it away, untasted"})
	}
	if unmet := lineage.MissingForSip(c); len(unmet) > 0 && len(ps) > 0 {
		first := Warning("do-not-taste")
		if unmet[0] == lineage.NotProved {
			first.Text += "; " + lineage.NotProved
		} else {
			first.Text += "; a sip needs: " + strings.Join(unmet, ", ")
		}
		out = append(out, first)
	}
	if course.VerdictOf(*c.Culture, c.Now) == "usable" && lineage.Stale(c) {
		out = append(out, Caution{"refresh", Warn, "more than three months in one medium: refresh it before it is pitched, and smell it first"})
	}
	if _, stored := c.Last(ferment.Backup); stored {
		out = append(out, CautionOf("sealed-jar", c.Settings.Units))
	}
	loudness := []Loud{Stop, Warn, Note}
	slices.SortStableFunc(out, func(a, b Caution) int { return slices.Index(loudness, a.Loud) - slices.Index(loudness, b.Loud) })
	return out
}

// AcidCaution returns the caution for too little acid in a medium for wild yeast; nil if there is enough.
func AcidCaution(ph measure.PH) *Caution {
	switch {
	case ph > lowAcid:
		return &Caution{"low-acid", Stop, fmt.Sprintf("the medium is at pH %s, over %s: never keep it closed; throw it away, or bring it to %s or less", ph, lowAcid, selective)}
	case ph > selective:
		return &Caution{"low-acid", Warn, fmt.Sprintf("the medium is at pH %s: %s or less keeps other things from growing", ph, selective)}
	}
	return nil
}

// selective is the highest pH of a medium for wild yeast (common practice, no source).
const selective measure.PH = 4.2

// lowAcid is the pH above which a wet medium may not be kept closed: 21 CFR 114.3, the limit for botulinum in foods.
const lowAcid measure.PH = 4.6
