package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// dialogue asks a person at a terminal for entries, line by line.
type dialogue struct {
	w     world
	s     session
	f     flags
	flags logFlags
	ids   []string
	lines *bufio.Reader
}

// byLine asks for entries until an empty line or the end of what is typed.
// Each is kept as soon as it is understood.
func (s session) byLine(w world, f flags, ids []string, l logFlags) error {
	d := dialogue{w, s, f, l, ids, bufio.NewReader(w.stdin)}
	d.say("one entry a line, e.g. 1.046@23, degas or nutrient 1.5g; an empty line ends")
	for {
		fmt.Fprintf(w.stderr, "%s> ", d.labels())
		text, err := d.lines.ReadString('\n')
		text = strings.TrimSpace(text)
		if err == nil && text != "" {
			err = d.take(text)
		} else if err == nil || errors.Is(err, io.EOF) && text == "" {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

func (d *dialogue) say(text string) { fmt.Fprintln(d.w.stderr, text) }

func (d *dialogue) labels() string {
	var labels []string
	for _, id := range d.ids {
		v, _ := d.s.first.Find(id)
		labels = append(labels, v.Label())
	}
	return strings.Join(labels, ", ")
}

// take keeps one line. What cannot be read, or is not to be kept, is said, and
// the next line is asked for.
func (d *dialogue) take(text string) error {
	if err := d.refresh(); err != nil {
		return err
	}
	e, err := d.s.line(d.w, text, d.flags)
	if err != nil {
		d.say(err.Error())
		return nil
	}
	for _, id := range d.ids {
		v, _ := d.s.first.Find(id)
		for _, m := range meaning(d.s.first, v, e) {
			d.say("  " + m)
		}
	}
	if err := d.s.likely(d.w, d.lines, d.ids, []ferment.Entry{e}, d.flags.yes); err != nil {
		d.say("nothing is written")
		return nil
	}
	kept, err := d.s.app.Log(d.s.now, d.ids, e)
	tell(d.w, d.s, kept)
	return err
}

// refresh reads the cellar again, at the time that it has become.
func (d *dialogue) refresh() (err error) {
	if d.f.at == "" {
		d.s.now = d.w.clock()
	}
	d.s.first, err = d.s.app.Open(d.s.now)
	return err
}

// meaning is what an entry will say of a vessel and set off, in lines.
func meaning(s app.Snapshot, v app.Vessel, e ferment.Entry) []string {
	p := app.Meaning(s, v, e)
	var lines []string
	if p.Reading != nil {
		says := v.Label() + " gravity " + words.Exact(p.Reading.Gravity, s.Cellar.Settings)
		if p.PerDay > 0 {
			says += ", falling " + measure.Decimal(p.PerDay, 1) + " points a day"
		}
		if p.Alcohol.IsKnown() {
			says += ", " + measure.Decimal(float64(p.Alcohol.Value), 1) + " % vol"
		}
		lines = append(lines, says)
	}
	for _, effect := range p.Effects {
		l := words.LineOf(effect.Task, v, s.At)
		lines = append(lines, strings.Join(strings.Fields(strings.Join([]string{v.Label(), l.Act, "becomes", string(l.Word), l.Until}, " ")), " "))
	}
	return lines
}
