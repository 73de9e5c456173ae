package schedule

import (
	"errors"
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
)

// alcoholNow is the strength that some amounts depend on.
func (p *planner) alcoholNow() (measure.Strength, error) {
	if !p.c.Alcohol.IsKnown() {
		return 0, errors.New(p.c.Alcohol.Unknown)
	}
	return p.c.Alcohol.Value, nil
}

// primingAmount is the honey that brings the fizz the cellar aims at.
func primingAmount(p *planner) (*Amount, error) {
	alcohol, err := p.alcoholNow()
	if err != nil {
		return nil, err
	}
	b := carbonation.Priming{Volume: p.c.Volume.Value, Liquid: carbonation.Liquid{Alcohol: alcohol}, Warmest: p.c.Warmest().Value,
		Target: p.c.Settings.Fizz, Sugar: carbonation.Honey, Size: bottleSize}
	d, err := carbonation.Prime(b)
	if err != nil {
		return nil, err
	}
	return &Amount{Known: true, Number: d.Batch.Grams(), Unit: "g", Of: "honey", Assumed: measure.Fill(strings.Join(d.Assumed, "; "), p.units()),
		How: fmt.Sprintf("%s of CO₂ less the %s in it: %s of honey in a litre, %s in a bottle of %s",
			b.Target, d.Left, d.PerLitre, d.PerBottle.In(p.units()), measure.Fill("{330 mL}", p.units()))}, nil
}

// bottleSize is the bottle that a dose is told for.
const bottleSize measure.Volume = 0.33

// everydayPH is taken where nobody measured it (common practice, no source).
const everydayPH measure.PH = 3.6

func sulphiteAmount(p *planner) (*Amount, error) {
	limits := p.c.Limits
	s := finishing.Sulphite{PH: everydayPH, Volume: p.c.Volume.Value, Added: p.sulphiteAdded(),
		Molecular: limits.Molecular, Bound: limits.Bound, PK: limits.PK}
	if p.c.Alcohol.IsKnown() {
		s.Alcohol = measure.Give(p.c.Alcohol.Value, p.c.Alcohol.Value.String())
	}
	assumed := "pH 3.6"
	if p.c.PH.IsKnown() {
		s.PH, assumed = p.c.PH.Value, ""
	}
	d, err := finishing.SulphiteFor(s)
	if err != nil {
		return nil, err
	}
	if assumed != "" {
		d.Assumed = append([]string{assumed}, d.Assumed...)
	}
	how := fmt.Sprintf("%s free at pH %s", d.Free, s.PH)
	if d.Warning != "" {
		how += "; " + d.Warning
	}
	return &Amount{Known: true, Number: d.Salt.Grams(), Unit: "g", Of: "metabisulphite", How: how,
		Assumed: measure.Fill(strings.Join(d.Assumed, "; "), p.units()), Stock: stockOf(d.Salt, p.c.Settings.Weighs)}, nil
}

// sulphiteAdded is the sulphur dioxide that has gone into each litre.
func (p *planner) sulphiteAdded() measure.Content {
	return measure.Content(p.c.Given(ferment.Sulphite).Grams() * finishing.SO2Yield / float64(p.c.Volume.Value))
}

func sorbateAmount(p *planner) (*Amount, error) {
	alcohol, err := p.alcoholNow()
	if err != nil {
		return nil, err
	}
	d, err := finishing.SorbateFor(p.c.Volume.Value, alcohol)
	if err != nil {
		return nil, err
	}
	return &Amount{Known: true, Number: d.Salt.Grams(), Unit: "g", Of: "potassium sorbate",
		How: fmt.Sprintf("%s of sorbic acid at %s%s", d.Sorbic, alcohol, p.sorbateAcidity()), Stock: stockOf(d.Salt, p.c.Settings.Weighs)}, nil
}

// sorbateAcidity says how far the sorbate can be trusted at the pH (common
// practice, no source: sorbic acid preserves as long as it is undissociated, pK
// 4.76).
func (p *planner) sorbateAcidity() string {
	switch {
	case !p.c.PH.IsKnown():
		return "; it is for pH under 3.5: measure it"
	case p.c.PH.Value > 3.8:
		return fmt.Sprintf("; at pH %s no dose is sure: lower the pH first", p.c.PH.Value)
	case p.c.PH.Value > 3.5:
		return fmt.Sprintf("; it is for pH under 3.5, and less sure at %s", p.c.PH.Value)
	}
	return ""
}

// honeyAmount hangs on a gravity that only the glasses can choose.
func honeyAmount(*planner) (*Amount, error) {
	return nil, errors.New("choose the gravity by the trial glasses first")
}
