package form

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/desk"
	"cellar/jugkeeper/schedule/sheet"
)

// jug is the vessel that a form is of, in its cellar.
type jug struct {
	s desk.Snapshot
	v desk.Vessel
}

func (j jug) units() measure.System { return j.s.Cellar.Settings.Units }

func (j jug) litres(v measure.Volume) string { return v.In(j.units()) }

// grams is a dose as it is weighed: two places below a gram.
func (j jug) grams(m measure.Mass) string {
	if m < measure.Grams(1) {
		return measure.Decimal(m.Grams(), 2) + " g"
	}
	return m.In(j.units())
}

func millilitres(v measure.Volume) string {
	if v < 0.0995 {
		return measure.Decimal(v.Millilitres(), 1) + " mL"
	}
	return measure.Decimal(v.Millilitres(), 0) + " mL"
}

// shown is a figure as a field shows it; nothing where it is not known.
func shown[T any](f course.Figure[T], as func(T) string) string {
	if !f.IsKnown() {
		return ""
	}
	return as(f.Value)
}

func percent(s measure.Strength) string { return measure.Decimal(float64(s), 1) + " %" }

// gravity is the latest that is trusted.
func (j jug) gravity() course.Figure[measure.Gravity] {
	g := j.v.Course.Gravity
	return course.Figure[measure.Gravity]{Value: g.Value.Gravity, Unknown: g.Unknown}
}

// volume asks what stands in the vessel.
func (j jug) volume(p *page) measure.Given[measure.Volume] {
	f := Field{Key: "volume", Label: "in the vessel", Value: shown(j.v.Course.Volume, j.litres), From: "by the record"}
	if f.Value == "" {
		f.From = "measure it, e.g. 3.2 L"
	}
	return want(p, f, measure.ParseVolume, "measure what stands in the vessel, e.g. 3.2 L")
}

// alcohol asks for the strength.
func (j jug) alcohol(p *page) measure.Given[measure.Strength] {
	return want(p, j.alcoholField(), measure.ParseStrength, "give its alcohol, e.g. 12 %, or read gravity: it follows from that and the original")
}

func (j jug) alcoholField() Field {
	f := Field{Key: "alcohol", Label: "alcohol", Value: shown(j.v.Course.Alcohol, percent), From: "by its gravities"}
	if f.Value == "" {
		f.From = j.v.Course.Alcohol.Unknown
	}
	return f
}

// mead is what stands in the vessel by the record, as far as that is known.
func (j jug) mead() (honey.Mead, error) {
	c := j.v.Course
	switch {
	case !c.Volume.IsKnown():
		return honey.Mead{}, errors.New(c.Volume.Unknown)
	case !c.Gravity.IsKnown():
		return honey.Mead{}, errors.New(c.Gravity.Unknown + ": read gravity")
	case !c.Alcohol.IsKnown():
		return honey.Mead{}, errors.New(c.Alcohol.Unknown)
	}
	return honey.Mead{Volume: c.Volume.Value, Gravity: c.Gravity.Value.Gravity, Alcohol: c.Alcohol.Value}, nil
}

func (j jug) mixed(m honey.Mead) string {
	return fmt.Sprintf("%s, %s, %s", j.litres(m.Volume), sheet.Exact(m.Gravity, j.s.Cellar.Settings), m.Alcohol)
}

// settle is what an act writes, told of what stands against it.
func (j jug) settle(o *Outcome, w desk.Wish) []ferment.Entry {
	_, err := desk.Settling(j.v, w, j.s.At)
	var refused *desk.Refused
	if errors.As(err, &refused) {
		o.refuse(&refused.No)
	}
	entries, err := desk.Settled(j.v, w, j.s.At)
	if err != nil {
		o.Wrong = append(o.Wrong, Wrong{"what", err.Error()})
	}
	return entries
}

// write puts entries of the jug into the deed, the reason to go on all the same
// with the last of them.
func (j jug) write(o *Outcome, values Values, entries ...ferment.Entry) {
	if n := len(entries); n > 0 && o.Closed != "" {
		entries[n-1].Overrode, entries[n-1].Because = o.Closed, strings.TrimSpace(values[Because])
	}
	o.Deed.Entries = append(o.Deed.Entries, ferment.Logged{Subject: j.v.ID(), Entries: entries})
}

// after is a ferment as it will be once a deed is written.
func (j jug) after(d ferment.Deed, id string) (desk.Vessel, bool) {
	fs := append(slices.Clone(j.s.Cellar.Ferments), d.Ferments...)
	for i := range fs {
		for _, l := range d.Entries {
			if l.Subject == fs[i].ID {
				fs[i].Log = append(slices.Clone(fs[i].Log), l.Entries...)
			}
		}
	}
	fs = ferment.Parted(fs, j.s.Cellar.Parents...)
	i := slices.IndexFunc(fs, func(f ferment.Ferment) bool { return f.ID == id })
	if i < 0 {
		return desk.Vessel{}, false
	}
	return desk.Plan(fs[i], j.s.Cellar, j.s.At), true
}

// ledger says what stood in a vessel before a deed, what came and went by it, and
// what stands there then.
func (j jug) ledger(o *Outcome, id string) {
	is, ok := j.after(o.Deed, id)
	if !ok {
		return
	}
	was, open := j.s.Find(id)
	var parts []string
	switch {
	case !open:
		was.Course.Ledger = is.Course.Ledger // a new one begins with what it has
	case was.Course.Volume.IsKnown():
		parts = append(parts, j.litres(was.Course.Volume.Value)+" before")
	}
	for _, m := range is.Course.Ledger[min(len(was.Course.Ledger), len(is.Course.Ledger)):] {
		if m.Known && m.Volume != 0 {
			parts = append(parts, fmt.Sprintf("%s %s", signed(m.Volume, j.litres), m.What))
		}
	}
	now := "then unknown: " + is.Course.Volume.Unknown
	switch v := is.Course.Volume; {
	case v.IsKnown() && v.Value < drop:
		now = "nothing then"
	case v.IsKnown():
		now = j.litres(v.Value) + " then"
	}
	o.say("", is.Label()+": "+strings.Join(append(parts, now), ", "))
}

func signed(v measure.Volume, as func(measure.Volume) string) string {
	if v < 0 {
		return "−" + as(-v)
	}
	return "+" + as(v)
}

func (o *Outcome) say(word sheet.Word, text string) { o.Lines = append(o.Lines, Line{word, text}) }

func (o *Outcome) answer(text string) { o.Answer = append(o.Answer, text) }

// warn tells a caution as loud as it is.
func (o *Outcome) warn(c schedule.Caution) {
	word := map[schedule.Loud]sheet.Word{schedule.Stop: sheet.Stop, schedule.Warn: sheet.Warn}[c.Loud]
	if word == "" {
		word = sheet.Note
	}
	o.say(word, c.Text)
}

// refuse closes the outcome, by its name, with what stands against it.
func (o *Outcome) refuse(no *schedule.No) {
	word := sheet.No
	if no.Verdict == "stop" {
		word = sheet.Stop
	}
	text := strings.Join(no.Why, "; ")
	if no.Instead != "" {
		text += ": " + no.Instead
	}
	o.say(word, text)
	o.close(no.Name)
}

func (o *Outcome) close(name string) {
	switch {
	case o.Closed == "":
		o.Closed = name
	case !slices.Contains(strings.Split(o.Closed, " and "), name):
		o.Closed += " and " + name
	}
}

// gate tells every unmet condition of a shut gate with what would meet it, and
// closes the outcome.
func (o *Outcome) gate(g schedule.Gate) {
	if g.Open {
		o.say(sheet.Open, string(g.Name)+": all conditions are met")
		return
	}
	o.close(string(g.Name))
	for i, u := range g.Unmet {
		text := u.What
		if u.Frees != "" {
			text += ": " + u.Frees
		}
		if i == 0 {
			text = string(g.Name) + " is shut: " + text
		} else if why, _, _ := strings.Cut(u.Frees, ";"); o.said(why) {
			continue
		}
		o.say(sheet.Shut, text)
	}
}

// said tells whether a text stands in a line already.
func (o *Outcome) said(text string) bool {
	return text != "" && slices.ContainsFunc(o.Lines, func(l Line) bool { return strings.Contains(l.Text, text) })
}

// gateNamed is a gate of the day as it stands; it is not ok where the day has
// none.
func (j jug) gateNamed(name ferment.Gate) (schedule.Gate, bool) {
	for _, g := range j.v.Day.Gates {
		if g.Name == name {
			return g, true
		}
	}
	return schedule.Gate{}, false
}
