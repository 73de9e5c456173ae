// Package ferment has the data of the cellar: ferments and their entries, must, yeast, honey lots, cultures, protocols,
// settings. It reads no file and no clock.
package ferment

import (
	"hash/fnv"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// Ferment is one must on one yeast in a vessel, from pitching to the last bottle.
type Ferment struct {
	ID       string // file name without .yaml, also used in commands
	Name     string // free text
	Tag      string // the short code on the glass
	Vessel   Vessel
	Trial    Trial
	From     Origin // the ferment from which it was racked off, if any
	Protocol string
	Endings  []Ending // empty while undecided
	Must     Must
	Yeast    Yeast
	Nutrient NutrientPlan
	Log      []Entry // in the file's order
	Note     string

	File       string         // path in the cellar
	Incomplete bool           // an entry could not be read and was left out
	Past       bool           // closed, in ferments/past
	Stamp      uint64         // changes whenever the text of the file does
	Lines      map[string]int // lines of some keys in the file, from 1
}

// Vessel is the container.
type Vessel struct {
	Kind     string
	Brimful  measure.Given[measure.Volume]
	Declared bool // the file has something about it
}

// Trial names the ferments of one must, and how they differ.
type Trial struct{ Name, Differs string }

// Origin is the ferment from which another was racked off, when, and how much of it.
type Origin struct {
	Ferment string
	At      Moment
	Volume  measure.Given[measure.Volume]
}

// Ending is how a ferment is to end.
type Ending string

// The endings. A ferment without one is undecided.
const (
	Still             Ending = "still"
	BottleConditioned Ending = "bottle-conditioned"
	Sweetened         Ending = "sweetened"
)

// Again returns whether the ferment is to be made again, one of AgainWords, and why, as its last
// tasting that says so has it; empty where none does.
func (f Ferment) Again() (word, why string) {
	var at Moment
	for _, e := range f.Log {
		if e.Taste.Again != "" && !e.At.Time.Before(at.Time) {
			word, why, at = e.Taste.Again, Harmless(e.Note), e.At
		}
	}
	return word, why
}

// Undecided reports whether no ending was chosen yet.
func (f Ferment) Undecided() bool { return len(f.Endings) == 0 }

// EndsAs reports whether the ferment is to end in the given way, alone or among others.
func (f Ferment) EndsAs(e Ending) bool { return slices.Contains(f.Endings, e) }

// Label returns the short name of a ferment: the tag, else the name of the file.
func (f Ferment) Label() string {
	if f.Tag != "" {
		return f.Tag
	}
	return f.ID
}

// Called reports whether a typed name means this ferment, ignoring case; for a closed one only the file name counts.
func (f Ferment) Called(name string) bool {
	return strings.EqualFold(f.ID, name) || !f.Past && f.Tag != "" && strings.EqualFold(f.Tag, name)
}

// Must is the honey, water and fruit before fermentation.
type Must struct {
	Volume  measure.Given[measure.Volume]
	Honey   []HoneyPart
	Water   measure.Given[measure.Volume] // volume of water for the honey
	Fruit   []FruitPart
	Gravity measure.Given[measure.Gravity] // measured; counts as a reading at the pitch
	PH      measure.Given[measure.PH]

	Fermentable measure.Given[measure.Share] // share of the solids that yeast can ferment
	HoneyWater  measure.Given[measure.Share] // in the first honey, by its lot or as written; not in the file
}

// HoneyPart is an amount of honey of one lot.
type HoneyPart struct {
	Lot   string
	Mass  measure.Given[measure.Mass]
	Water measure.Given[measure.Share] // water in the honey
}

// FruitPart is an amount of one fruit.
type FruitPart struct {
	Name  string
	Mass  measure.Given[measure.Mass]
	Sugar measure.Given[measure.Share]
	Water measure.Given[measure.Share]
}

// YeastKind is where a yeast came from.
type YeastKind string

// The kinds of yeast; bought is the default.
const (
	Bought YeastKind = "bought"
	Wild   YeastKind = "wild"
	Slurry YeastKind = "slurry"
)

// Demand is how much nitrogen a yeast needs.
type Demand string

// The demands; medium is the default.
const (
	Low    Demand = "low"
	Medium Demand = "medium"
	High   Demand = "high"
)

// Yeast is the yeast of a ferment.
type Yeast struct {
	Name        string
	Kind        YeastKind
	Culture     string // id in cultures.yaml
	Demand      Demand
	Tolerance   measure.Given[measure.Strength]
	Temperature measure.Given[measure.Span[measure.Temperature]]

	// From is the culture with that id, nil if the cellar has none. It is in no file: Joined sets it.
	From *Culture
	// Stock is how much of the culture there is, as of a plan; nil without one. It is in no file either.
	Stock *Stock
}

// IsWild reports whether the yeast is a wild culture, whose finish is unproved. Any culture counts as one until its
// tolerance is given.
func (y Yeast) IsWild() bool {
	return y.Kind == Wild || y.Culture != "" && !y.Tolerance.Known()
}

// NutrientPlan is what the person decided about the nutrient; each part is optional.
type NutrientPlan struct {
	Target measure.Given[measure.Content] // nitrogen wanted
	Own    measure.Given[measure.Content] // nitrogen already in the must
	Kind   string                         // a nutrient of cellar.yaml
}

// Lot is honey of one harvest.
type Lot struct {
	ID              string
	Name            string
	Taken           Moment
	Mass            measure.Given[measure.Mass] // at harvest
	Water           measure.Given[measure.Share]
	RefractiveIndex measure.Given[float64]
	ReadAt          measure.Given[measure.Temperature]
	State           string                       // extracted, crushed, cappings-wash, set
	Treated         string                       // hive treatments and dates; "none"
	Fermentable     measure.Given[measure.Share] // share of its solids that yeast can ferment
	Used            []Use
	Note            string
	Line            int
}

// LotStates are the possible states of a lot.
var LotStates = []string{"extracted", "crushed", "cappings-wash", "set"}

// Use is honey of a lot that was used outside of ferments.
type Use struct {
	At   Moment
	Mass measure.Given[measure.Mass]
	For  string
}

// Culture is a kept yeast with its log.
type Culture struct {
	ID       string
	Name     string
	From     string // the parent culture
	Source   string
	Protocol string
	Log      []Entry
	Verdict  string // trying, usable, discarded
	Note     string
	Line     int

	Incomplete bool
}

// Joined adds to ferments what other files say about them: the cultures pitched into them, and water and fermentable
// share of their honey.
func (c Cellar) Joined(fs []Ferment) []Ferment {
	out := make([]Ferment, len(fs))
	stamps := map[string]uint64{} // of the ferments with each culture, which share what there is of it
	for _, f := range c.Ferments {
		stamps[f.Yeast.Culture] = stamps[f.Yeast.Culture]*31 + f.Stamp
	}
	for i, f := range fs {
		for k := range c.Cultures {
			if f.Yeast.Culture != "" && c.Cultures[k].ID == f.Yeast.Culture {
				f.Yeast.From = &c.Cultures[k]
				f.Stamp = f.Stamp*31 + c.Cultures[k].stamp()*31 + stamps[f.Yeast.Culture]
			}
		}
		if share := c.fermentable(f.Must); share.Known() {
			f.Must.Fermentable = share
			f.Stamp = f.Stamp*31 + math.Float64bits(float64(share.Value))
		}
		if f.Must.HoneyWater = c.honeyWater(f.Must); f.Must.HoneyWater.Known() {
			f.Stamp = f.Stamp*31 + math.Float64bits(float64(f.Must.HoneyWater.Value))
		}
		if slices.ContainsFunc(f.Log, func(e Entry) bool { return f.Pours(&e) }) { // the other may be any of them
			for _, o := range c.OpenAndPast() {
				f.Stamp = f.Stamp*31 + o.Stamp
			}
		}
		out[i] = f
	}
	return out
}

// fermentable returns the fermentable share of a must's solids by its lots, if any of them gives one: the mean by mass,
// with the default for lots that give none.
func (c Cellar) fermentable(m Must) (share measure.Given[measure.Share]) {
	var mass, sum float64
	told := false
	for _, h := range m.Honey {
		i := slices.IndexFunc(c.Lots, func(l Lot) bool { return l.ID == h.Lot })
		of := c.Settings.Limits.Fermentable
		if i >= 0 && c.Lots[i].Fermentable.Known() {
			of, told = c.Lots[i].Fermentable.Value, true
		}
		grams := h.Mass.Or(1).Grams() // lots without a mass have equal weight
		mass, sum = mass+grams, sum+grams*float64(of)
	}
	if m.Fermentable.Known() || !told {
		return share
	}
	v := measure.Share(sum / mass)
	return measure.Give(v, v.String())
}

// honeyWater returns the water of a must's first honey: as measured in its lot, also by refraction, else as written.
func (c Cellar) honeyWater(m Must) (water measure.Given[measure.Share]) {
	if len(m.Honey) == 0 {
		return water
	}
	l, _ := FirstWhere(c.Lots, func(l Lot) bool { return l.ID == m.Honey[0].Lot })
	if w, err := honey.Water(gravity.Index(l.RefractiveIndex.Value), l.ReadAt.Or(20)); err == nil && l.RefractiveIndex.Known() {
		water = measure.Give(w, w.String())
	}
	return l.Water.Else(water).Else(m.Honey[0].Water)
}

// stamp changes with what of the culture matters to a ferment: the verdicts on it, and how much there is.
func (c Culture) stamp() uint64 {
	h := fnv.New64a()
	for _, e := range c.Log {
		h.Write([]byte(strings.Join([]string{e.Verdict, e.At.Time.String(), e.Medium.Text, e.Volume.Text, e.Lost.Text, e.Amount.Text}, "\n")))
	}
	h.Write([]byte(c.Verdict))
	return h.Sum64()
}

// Bottles is one kind of bottle, filled on one day.
type Bottles struct {
	Kind  string
	Size  measure.Given[measure.Volume]
	Count int
	Codes string
	Fizz  measure.Given[measure.Content] // target of CO₂; 0 with the text "none" for a still one
	Honey measure.Given[measure.Mass]    // in each bottle
	For   string                         // drink, test, tasting, keep
}

// NoFizz is the word for no CO₂.
const NoFizz = "none"

// ParseFizz reads a bottle's target of CO₂, 0 to 30 g/L or volumes; none is a still one.
func ParseFizz(s string) (measure.Given[measure.Content], error) {
	if strings.TrimSpace(s) == NoFizz {
		return measure.Give(measure.Content(0), NoFizz), nil
	}
	return measure.ParseCarbonation(s)
}

// ForWords are what a bottle can be reserved for.
var ForWords = []string{"drink", "test", "tasting", "keep"}

// Tasting is a taster's words about a glass.
type Tasting struct {
	Look, Nose, Palate, Body, Finish string
	Faults                           []string
	Score                            measure.Given[float64] // 0 to 100
	Blind                            bool
	Again                            string // whether it is to be made again, one of AgainWords
}

// Triangle is a blind test of three glasses, one of them odd.
type Triangle struct {
	With  string // the other ferment
	Codes []int
	Odd   int
	Said  int
}

// Parted gives the ferments as they are after a racking into two: a part has the must, yeast and log of its parent up to
// then, and the parent that much less. Closed parents are passed separately.
func Parted(fs []Ferment, closed ...Ferment) []Ferment {
	byID := map[string]Ferment{}
	for _, f := range append(slices.Clone(closed), fs...) {
		byID[f.ID] = f
	}
	parts := map[string][]Ferment{} // by the parent
	for _, f := range fs {
		if f.From.Volume.Known() {
			parts[f.From.Ferment] = append(parts[f.From.Ferment], f)
		}
	}
	out := make([]Ferment, len(fs))
	for i, f := range fs {
		out[i] = inherit(f, byID)
		for _, part := range parts[f.ID] {
			lost := Entry{At: part.From.At, Lost: part.From.Volume, Note: "split into " + part.ID}
			out[i].Log = append(out[i].Log[:len(out[i].Log):len(out[i].Log)], lost)
			out[i].Stamp = out[i].Stamp*31 + part.Stamp
		}
	}
	return out
}

// inherit adds from the parent what the ferment does not say; nothing if the parent is gone or was itself racked off
// this one.
func inherit(f Ferment, byID map[string]Ferment) Ferment {
	origin := f.From
	for seen := map[string]bool{f.ID: true}; f.From.Ferment != "" && !seen[f.From.Ferment]; {
		parent, known := byID[f.From.Ferment]
		if !known {
			break
		}
		seen[parent.ID] = true
		f = partOf(parent, f)
		f.From = parent.From
	}
	f.From = origin
	return f
}

// partOf returns a ferment that was racked off its parent, with the parent's must, yeast and log up to then.
func partOf(parent, f Ferment) Ferment {
	if !f.Must.Given() {
		f.Must = parent.Must
	}
	if f.Yeast == (Yeast{}) {
		f.Yeast = parent.Yeast
	}
	var log []Entry
	for _, e := range parent.Log {
		if !e.At.Earliest().After(f.From.At.Latest()) {
			e.Line = 0 // it is in another file
			log = append(log, e)
		}
	}
	if f.From.Volume.Known() {
		log = append(log, Entry{At: f.From.At, Volume: f.From.Volume, Note: "split from " + parent.ID})
	}
	f.Log = append(log, f.Log...)
	f.Stamp = f.Stamp*31 + parent.Stamp
	return f
}

// Given reports whether the file has something about the must.
func (m Must) Given() bool {
	return m.Volume.Known() || len(m.Honey) > 0 || m.Water.Known() || m.Gravity.Known() || len(m.Fruit) > 0
}

// Endings lists every ending.
func Endings() []Ending { return []Ending{Still, BottleConditioned, Sweetened} }

// ParseEndings reads the endings in an entry: "still", "still, bottle-conditioned", or "undecided", which is none. It
// is not ok for anything else.
func ParseEndings(of string) (endings []Ending, ok bool) {
	words := strings.FieldsFunc(strings.ToLower(of), func(r rune) bool { return r == ',' || r == ' ' })
	if len(words) == 1 && words[0] == "undecided" {
		return nil, true
	}
	for _, w := range words {
		switch e := Ending(w); {
		case w == "and":
		case !slices.Contains(Endings(), e):
			return nil, false
		case !slices.Contains(endings, e):
			endings = append(endings, e)
		}
	}
	return endings, len(endings) > 0
}

// Decided returns the ferment with the ending that its log had chosen by then, else that of its file. A choice of the
// parent from before the split does not override the file of the new one.
func (f Ferment) Decided(now time.Time) Ferment {
	var last Moment
	endings, own := f.Endings, len(f.Endings) > 0
	for _, e := range f.Log {
		if e.Did != Choose || e.At.Time.After(now) || e.At.Time.Before(last.Time) ||
			own && f.From.Ferment != "" && !e.At.Earliest().After(f.From.At.Latest()) { // from before the split
			continue
		}
		if chosen, ok := ParseEndings(e.Of); ok {
			endings, last = chosen, e.At
		}
	}
	f.Endings = endings
	return f
}
