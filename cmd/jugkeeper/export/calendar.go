package export

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Calendar is what is due, late, held and coming within some days as iCalendar
// (RFC 5545), in the words of the printed day. Hours are in UTC; what is meant
// for a day is one of the cellar's zone. What is overdue stands at the moment
// itself. An event keeps its UID for as long as its task is the same occurrence
// of a step, and its DTSTAMP is the moment: a later import takes the place of
// an earlier one, so SEQUENCE stays at its 0 (RFC 5546, section 2.1.5). Only a
// danger rings.
func Calendar(s app.Snapshot, days int) string {
	c := calendar{now: s.At}
	c.put("BEGIN:VCALENDAR")
	c.put("VERSION:2.0")
	c.put("PRODID:-//jugkeeper//jugkeeper//EN")
	events := 0
	for _, v := range append(s.Vessels[:len(s.Vessels):len(s.Vessels)], s.Cultures...) {
		for _, l := range toDo(v, days, s.At) {
			c.event(l, v)
			events++
		}
	}
	if events == 0 {
		c.nothing()
	}
	c.put("END:VCALENDAR")
	return c.text.String()
}

// calendar gathers content lines.
type calendar struct {
	now  time.Time
	text strings.Builder
}

// aTask is how long a task takes in a calendar: long enough to be seen there
// (common practice, no source).
const aTask = "PT15M"

func (c *calendar) event(l words.Line, v app.Vessel) {
	t := l.Task
	c.put("BEGIN:VEVENT")
	c.put("UID:" + escaped(fmt.Sprintf("%s.%s.%d@jugkeeper", uid(v), t.Step, t.Occurrence)))
	c.put("DTSTAMP:" + utc(c.now))
	if at, day := start(l, c.now); day {
		c.put("DTSTART;VALUE=DATE:" + at.Format("20060102"))
	} else {
		c.put("DTSTART:" + utc(at))
		c.put("DURATION:" + aTask)
	}
	c.put("SUMMARY:" + escaped(summary(l)))
	c.put("DESCRIPTION:" + escaped(strings.Join(c.description(l, v), "\n")))
	if l.Word == words.Held || l.Word == words.Stop || isExpected(l) {
		c.put("STATUS:TENTATIVE")
	}
	c.put("TRANSP:TRANSPARENT") // it takes nobody's time in the eyes of others
	if l.Alarm != nil {
		c.alarm(l)
	}
	c.put("END:VEVENT")
}

// alarm rings at the moment of a danger (RFC 5545, section 3.6.6).
func (c *calendar) alarm(l words.Line) {
	c.put("BEGIN:VALARM")
	c.put("ACTION:DISPLAY")
	c.put("TRIGGER;RELATED=START:PT0S")
	c.put("DESCRIPTION:" + escaped(summary(l)))
	c.put("END:VALARM")
}

// uid is a vessel in a UID: a culture may be called as a ferment is.
func uid(v app.Vessel) string {
	if v.Culture != nil {
		return "culture." + v.ID()
	}
	return v.ID()
}

// nothing is a part that shows nowhere: a calendar without any part is none
// (RFC 5545, section 3.6).
func (c *calendar) nothing() {
	for _, line := range []string{"BEGIN:VTIMEZONE", "TZID:UTC", "BEGIN:STANDARD", "DTSTART:19700101T000000",
		"TZOFFSETFROM:+0000", "TZOFFSETTO:+0000", "END:STANDARD", "END:VTIMEZONE"} {
		c.put(line)
	}
}

// start is where an event stands, and whether that is a day. What frees a held
// task goes before the task; what is past stands at now.
func start(l words.Line, now time.Time) (at time.Time, day bool) {
	t := l.Task
	at, known := words.ComesAt(t, now)
	if (l.Word == words.Held || l.Word == words.Stop) && !t.FreedBy.IsZero() {
		at, known = t.FreedBy, true
	}
	if !known || l.Alarm != nil || at.Before(now) {
		at = now
	}
	return at.In(now.Location()), !known || isDay(l)
}

// isDay tells whether only a day is meant.
func isDay(l words.Line) bool {
	t := l.Task
	return words.OfADay(t) || words.ByDay(t) || isExpected(l) && t.Expected.Within >= 12*time.Hour
}

// isExpected tells whether a date is only expected.
func isExpected(l words.Line) bool { return l.Task.Expected != nil && l.Word == words.Coming }

// summary is the vessel, the act and the amount, and what is to be known of it
// before it is opened.
func summary(l words.Line) string {
	text := words.Join(", ", plain(l.Tag)+" "+l.Act, what(l))
	switch {
	case isExpected(l):
		return text + "; about: take a reading"
	case l.Alarm != nil:
		return plain(l.Tag) + " danger: " + l.Act
	case l.Word == words.Held:
		return words.Join("; held: ", text, l.Short)
	case l.Word == words.Late, l.Word == words.Stop:
		return text + "; " + string(l.Word)
	}
	return text
}

// description is until when, how, why, and what to take care of.
func (c *calendar) description(l words.Line, v app.Vessel) []string {
	if l.Alarm != nil {
		return []string{l.Alarm.Long, "as of " + printed(c.now)}
	}
	settings := v.Course.Settings
	until := words.UntilOnPaper(l.Task, settings, c.now)
	if (l.Word == words.Later || l.Word == words.Coming) && !isExpected(l) {
		until = "" // the event stands there
	}
	out := []string{until, l.First, stock(l, settings.Units)}
	if l.Task.Do != schedule.Reminder {
		out = append(out, lines(l.Reason)...)
	}
	if l.Instead != "" {
		out = append(out, "instead: "+l.Instead)
	}
	if care := caution(l.Task, v.Plan, settings.Units); care != "" && care != l.Reason {
		out = append(out, "take care: "+care)
	}
	out = append(out, "as of "+printed(c.now))
	return strings.Split(words.Join("\n", out...), "\n")
}

// utc is form 2 of a date and time (RFC 5545, section 3.3.5).
func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// escaped is a text as a value (RFC 5545, section 3.3.11).
func escaped(text string) string {
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(strings.Join(lines(text), "\n"))
}

// put writes a content line, folded at 75 octets and never inside a character
// (RFC 5545, section 3.1).
func (c *calendar) put(line string) {
	const most = 75
	room := most
	for len(line) > room {
		at := room
		for !utf8.RuneStart(line[at]) {
			at--
		}
		c.text.WriteString(line[:at] + "\r\n ")
		line, room = line[at:], most-1
	}
	c.text.WriteString(line + "\r\n")
}
