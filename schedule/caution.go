package schedule

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// caution is what a step is warned of: as a warning the first time in a
// ferment, afterwards as a note. Only what stands in the record stops.
func (p *planner) caution(s ferment.Step) *Caution {
	name := cautionOf(s)
	text := cautionText(name, p.units())
	if text == "" {
		return p.stillCaution(s)
	}
	loud := Warn
	for i, other := range p.steps {
		if cautionOf(other) == name && len(p.history[i]) > 0 {
			loud = Note
		}
	}
	c := &Caution{Name: name, Loud: loud, Text: text}
	p.addPressure(c)
	if still := p.stillCaution(s); still != nil && still.Loud == Warn && name != "bottle-pressure" {
		c.Loud, c.Text = Warn, still.Text+"; "+c.Text
	}
	return c
}

// stopped is the danger that stands in the record against an act.
func (p *planner) stopped(do string) (hold, bool) {
	for _, d := range dangers {
		if d.acts[ferment.Act(do)] {
			if why, stands := d.stands(p); stands {
				c := &Caution{Name: d.name, Loud: Stop, Text: why}
				return hold{name: d.name, verdict: "stop", reason: why, frees: d.frees, danger: c, instead: d.instead}, true
			}
		}
	}
	return hold{}, false
}

// danger is something in the record that stops some acts.
type danger struct {
	name    string
	acts    map[ferment.Act]bool
	stands  func(*planner) (why string, stands bool)
	instead string
	frees   string
}

func acts(as ...ferment.Act) map[ferment.Act]bool {
	set := map[ferment.Act]bool{}
	for _, a := range as {
		set[a] = true
	}
	return set
}

var dangers []danger

func init() {
	closing := acts(ferment.Bottle, ferment.Prime)
	dangers = []danger{
		{"mould", acts(ferment.Nutrient, ferment.Rack, ferment.Bottle, ferment.Prime, ferment.Taste, ferment.Honey, ferment.TopUp, ferment.Blend,
			ferment.Fine, ferment.Sulphite, ferment.Sorbate, ferment.Passage, ferment.Starter, ferment.Backup),
			mouldStands, "throw all of it away, untasted", ""},
		{"film", acts(ferment.Bottle, ferment.Prime, ferment.Blend), filmStands, "leave it under its airlock and find out what grows", string(ferment.Look)},
		{"restarted", closing, restartedStands, "airlock on, leave it, read gravity again", ferment.DoGravity},
		{"bottle-pressure", closing, pressureStands, "aim at less fizz, or take a stronger bottle", ""},
		{"sorbate", acts(ferment.Sorbate), sorbateStands, "leave the sorbate out", ""},
		{"bottle-heat", acts(ferment.Squeeze, ferment.Open), heatStands, coolPlace, ferment.DoTemperature},
		{"low-acid", acts(ferment.Backup), lowAcidStands, "throw it away, or bring the medium to pH 4.2 or less", ferment.DoPH},
	}
}

func mouldStands(p *planner) (string, bool) {
	return "mould was seen in it", p.holds(ferment.Condition{Kind: ferment.HasMould, Text: "mould"})
}

func filmStands(p *planner) (string, bool) {
	return "a film was seen on it", p.holds(ferment.Condition{Kind: ferment.HasFilm, Text: "film"})
}

func restartedStands(p *planner) (string, bool) {
	return "it works again; closed bottles of it may burst", p.holds(ferment.Condition{Kind: ferment.Restarted, Text: "restarted"})
}

// pressureStands: of what is to be conditioned, no bottle at hand stands the
// pressure.
func pressureStands(p *planner) (string, bool) {
	if !p.fizzes() || !p.c.Alcohol.IsKnown() {
		return "", false
	}
	over, stands := p.overPressure()
	return over, !stands && over != ""
}

// sorbateStands: with bacteria, without sulphite, or before priming sorbate
// does harm.
func sorbateStands(p *planner) (string, bool) {
	switch {
	case p.holds(ferment.Condition{Kind: ferment.BacteriaWorked, Text: "bacteria worked"}):
		return "bacteria have worked in it: with sorbate it smells of geranium", true
	case p.holds(ferment.Condition{Kind: ferment.IsPrimed, Text: "primed"}):
		return "it is primed: sorbate would leave the sugar in the bottles", true
	case len(p.times[string(ferment.Sulphite)]) == 0:
		return "no sulphite is recorded: sorbate alone does not stop yeast", true
	}
	return "", false
}

// coolPlace is what to do with bottles that stand too warm.
const coolPlace = "take the closed crate to a cool place first"

func heatStands(p *planner) (string, bool) {
	t := p.c.Temperature
	bottled, ok := p.c.Last(ferment.Bottle)
	if !ok || !t.IsKnown() || p.c.TemperatureAt.Before(bottled.At.Time) || t.Value.High <= p.c.Settings.Hottest {
		return "", false
	}
	return fmt.Sprintf("the bottles stood at %s, over the %s they are reckoned for", t.Value.High.In(p.units()), p.c.Settings.Hottest.In(p.units())), true
}

// lowAcid is the pH above which a wet medium may not stand closed: 21 CFR
// 114.3, the line for growth of botulinum in foods.
const lowAcid measure.PH = 4.6

func lowAcidStands(p *planner) (string, bool) {
	if !p.c.PH.IsKnown() || p.c.PH.Value <= lowAcid {
		return "", false
	}
	return fmt.Sprintf("the medium stands at pH %s, over %s", p.c.PH.Value, lowAcid), true
}
