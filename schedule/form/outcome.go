package form

import (
	"slices"
	"strings"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

func (o *Outcome) say(word words.Word, text string) { o.Lines = append(o.Lines, Line{word, text}) }

func (o *Outcome) answer(text string) { o.Answer = append(o.Answer, text) }

// warn tells a caution as loud as it is.
func (o *Outcome) warn(c schedule.Caution) {
	word := map[schedule.Loud]words.Word{schedule.Stop: words.Stop, schedule.Warn: words.Warn}[c.Loud]
	if word == "" {
		word = words.Note
	}
	o.say(word, c.Text)
}

// refuse closes the outcome, by its name, with what stands against it.
func (o *Outcome) refuse(no *schedule.No) {
	word := words.No
	if no.Verdict == "stop" {
		word = words.Stop
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
		o.say(words.Open, string(g.Name)+": all conditions are met")
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
		o.say(words.Shut, text)
	}
}

// said tells whether a text stands in a line already.
func (o *Outcome) said(text string) bool {
	return text != "" && slices.ContainsFunc(o.Lines, func(l Line) bool { return strings.Contains(l.Text, text) })
}
