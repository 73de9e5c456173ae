package app

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// Typed is what a person types: a line in the grammar of the entry line, and
// what a command takes in options of its own.
type Typed struct {
	Line    string
	Note    string // goes after the note of the line
	Because string // the reason, where the line gives none
}

// Read reads what was typed as an entry. Without a time it is made now. Every
// way of typing an entry or an act comes through here: log, done and the board.
func (t Typed) Read(s ferment.Settings, now time.Time) (line.Line, error) {
	if strings.TrimSpace(t.Line) == "" && t.Note+t.Because != "" {
		return t.with(line.Line{Entry: ferment.Entry{At: ferment.At(now.In(s.Zone))}})
	}
	l, err := line.Parse(t.Line, line.Context{Now: now, Zone: s.Zone, Units: s.Units})
	if err != nil {
		return line.Line{}, err
	}
	return t.with(l)
}

// with is a line with the note and the reason from outside it.
func (t Typed) with(l line.Line) (line.Line, error) {
	e := &l.Entry
	because := strings.TrimSpace(t.Because)
	switch {
	case e.Because != "" && because != "":
		return l, refused("because", "the reason is given twice, as %q and %q: leave one out", e.Because, because)
	case e.Amount.Given() && takesNoAmount[e.Did]:
		return l, refused(e.Amount.Text, "%s takes no amount: leave it out, or type what it is of, e.g. vol3.4L for what is in the vessel", e.Did)
	case because != "":
		e.Because = because
	}
	if v, is := e.Amount.Volume(); is && e.Did == ferment.Rack && !e.Volume.Known() { // what is typed after a racking is what came over
		e.Volume, e.Amount = measure.Give(v, e.Amount.Text), ferment.Amount{}
	}
	if err := choosesSomething(*e); err != nil {
		return l, err
	}
	e.Note = strings.TrimSpace(e.Note + "\n" + t.Note)
	return l, nil
}

// choosesSomething refuses a choice that says none.
func choosesSomething(e ferment.Entry) error {
	if e.Did == ferment.Choose && e.Of == "" {
		return refused("choose", "which ending: still, bottle-conditioned or sweetened? e.g. choose of=still")
	}
	return nil
}

// picked is a line of a choice in which the first word, or the beginning of one,
// names an ending.
func picked(text string) string {
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	var found []string
	for _, e := range ferment.Endings() {
		if word != "" && strings.HasPrefix(string(e), strings.ToLower(word)) {
			found = append(found, string(e))
		}
	}
	if len(found) != 1 {
		return text
	}
	return "of=" + found[0] + " " + rest
}

func refused(part, format string, args ...any) error {
	return &line.Error{Part: part, Column: 1, Message: fmt.Sprintf(format, args...)}
}

// takesNoAmount are the acts of which there is no more or less.
var takesNoAmount = map[ferment.Act]bool{
	ferment.Started: true, ferment.Degas: true, ferment.Aerate: true, ferment.Punch: true, ferment.Chill: true,
	ferment.Look: true, ferment.Squeeze: true, ferment.Choose: true, ferment.Accept: true, ferment.Move: true, ferment.Close: true, ferment.Verdict: true,
}

// read is what was typed after a task, as an entry that settles it. What an
// entry says of tasks is left to the task itself.
func (w Wish) read(v Vessel, t schedule.Task, now time.Time) (line.Line, error) {
	if strings.TrimSpace(w.Line) == "" {
		return w.with(line.Line{Entry: w.Entry, Timed: !w.Entry.At.IsZero()})
	}
	switch {
	case t.Do == string(ferment.Choose):
		w.Line = t.Do + " " + picked(w.Line)
	case ferment.IsAct(t.Do):
		w.Line = t.Do + " " + w.Line
	case !ferment.IsMeasurement(t.Do):
		w.Line = string(ferment.Look) + " " + w.Line // a reminder takes what a look takes
	}
	line, err := w.Typed.Read(v.Course.Settings, now)
	if err != nil {
		return line, err
	}
	e := line.Entry
	for _, own := range [][2]string{{"step", e.Step}, {"skipped", e.Skipped}, {"overrode", e.Overrode}} {
		if key, given := own[0], own[1]; given != "" {
			return line, refused(given, "%s is marked done, so %s is not typed with it: leave %s=%s out", t.Step, key, key, given)
		}
	}
	return line, nil
}
