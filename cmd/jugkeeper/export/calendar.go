package export

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Sent are the events exported before, by UID.
type Sent map[string]Event

// Event is an event as exported last.
type Event struct {
	Sequence int    // RFC 5545, section 3.8.7.4
	Start    string // its DTSTART, and DURATION on a second line
	Summary  string
	Gone     time.Time // when it was first cancelled; zero if still planned
}

// Remembered is for how many days a cancelled event is sent, as not every calendar is brought up to date each time.
const Remembered = 366

// Calendar returns what is due, late, held and coming within some days as iCalendar (RFC 5545). Hours are in UTC; what
// is overdue is at the moment itself. A task keeps its UID; what was sent before is sent again with a higher SEQUENCE
// if it changed, CANCELLED if it is done or gone (RFC 5546, section 2.1.4); if not whole, for the vessels of the
// snapshot alone. Only a danger rings.
func Calendar(s app.Snapshot, days int, whole bool, sent Sent) string {
	c := calendar{now: s.At, sent: sent}
	c.put("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//jugkeeper//jugkeeper//EN")
	planned, mine := map[string]bool{}, map[string]bool{}
	for _, v := range append(s.Vessels[:len(s.Vessels):len(s.Vessels)], s.Cultures...) {
		mine[uid(v)] = true
		soon := toDo(v, days, s.At)
		for _, l := range toDo(v, Remembered, s.At) {
			id := fmt.Sprintf("%s.%s.%d@jugkeeper", uid(v), l.Task.Step, l.Task.Occurrence)
			_, before := sent[id]
			near := slices.ContainsFunc(soon, func(o words.Line) bool { return o.Task.Step == l.Task.Step && o.Task.Occurrence == l.Task.Occurrence })
			if planned[id] = true; near || before {
				c.event(id, l, v)
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(sent)) {
		if !planned[id] && (whole || mine[subject(id)]) {
			c.cancelled(id)
		}
	}
	if !c.some { // a calendar needs a component (RFC 5545, section 3.6); this one is not displayed
		c.put("BEGIN:VTIMEZONE", "TZID:UTC", "BEGIN:STANDARD", "DTSTART:19700101T000000",
			"TZOFFSETFROM:+0000", "TZOFFSETTO:+0000", "END:STANDARD", "END:VTIMEZONE")
	}
	c.put("END:VCALENDAR")
	return c.text.String()
}

type calendar struct {
	now  time.Time
	sent Sent
	some bool // there is an event
	text strings.Builder
}

func (c *calendar) begin(id string, is Event) {
	was, before := c.sent[id]
	if is.Sequence = was.Sequence; before && (was.Start != is.Start || was.Summary != is.Summary || was.Gone.IsZero() != is.Gone.IsZero()) {
		is.Sequence++
	}
	c.sent[id], c.some = is, true
	c.put("BEGIN:VEVENT", "UID:"+escaped(id), "DTSTAMP:"+utc(c.now), "SEQUENCE:"+strconv.Itoa(is.Sequence))
	c.put(strings.Split(is.Start, "\n")...)
	c.put("SUMMARY:"+escaped(is.Summary), "TRANSP:TRANSPARENT") // no time is taken
}

// cancelled is an event that is done or no longer planned.
func (c *calendar) cancelled(id string) {
	is := c.sent[id]
	if is.Gone.IsZero() {
		is.Gone = c.now
	} else if c.now.Sub(is.Gone) > Remembered*24*time.Hour {
		delete(c.sent, id)
		return
	}
	c.begin(id, is)
	c.put("DESCRIPTION:"+escaped("done, or no longer planned"), "STATUS:CANCELLED", "END:VEVENT")
}

// event adds a line of the day as an event.
func (c *calendar) event(id string, l words.Line, v app.Vessel) {
	is := Event{Summary: summary(l)}
	if at, day := start(l, c.now); day {
		is.Start = "DTSTART;VALUE=DATE:" + at.Format("20060102")
	} else {
		is.Start = "DTSTART:" + utc(at) + "\nDURATION:PT15M" // long enough to be seen (common practice, no source)
	}
	c.begin(id, is)
	category := "CATEGORIES:mead," + escaped(l.Task.Do)
	if l.Alarm != nil {
		category += ",danger"
	}
	c.put("DESCRIPTION:"+escaped(strings.Join(c.description(l, v), "\n")), category)
	if l.Word == words.Held || l.Word == words.Stop || isExpected(l) {
		c.put("STATUS:TENTATIVE")
	}
	if l.Alarm != nil { // an alarm at the moment of a danger (RFC 5545, section 3.6.6)
		c.put("BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER;RELATED=START:PT0S", "DESCRIPTION:"+escaped(summary(l)), "END:VALARM")
	}
	c.put("END:VEVENT")
}

// subject returns the vessel of a UID, as in uid.
func subject(id string) string {
	parts := strings.Split(id, ".")
	if parts[0] == "culture" && len(parts) > 3 {
		return parts[0] + "." + parts[1]
	}
	return parts[0]
}

// uid returns a vessel for a UID: a culture may have the same name as a ferment.
func uid(v app.Vessel) string {
	if v.Culture != nil {
		return "culture." + v.ID()
	}
	return v.ID()
}

// start returns the beginning of an event, for a held task when it may now be done, and whether it is for a whole day.
func start(l words.Line, now time.Time) (at time.Time, day bool) {
	t := l.Task
	at, known := words.ComesAt(t, now)
	if (l.Word == words.Held || l.Word == words.Stop) && !t.FreedBy.IsZero() {
		at, known = t.FreedBy, true
	}
	if !known || l.Alarm != nil || at.Before(now) {
		at = now
	}
	return at.In(now.Location()), !known || words.OfADay(t) || words.ByDay(t) || isExpected(l) && t.Expected.Within >= 12*time.Hour
}

func isExpected(l words.Line) bool { return l.Task.Expected != nil && l.Word == words.Coming }

// summary writes the vessel, act, amount and state.
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

// description writes until when, how, why, and cautions.
func (c *calendar) description(l words.Line, v app.Vessel) []string {
	if l.Alarm != nil {
		return []string{l.Alarm.Long, "as of " + printed(c.now)}
	}
	settings := v.Course.Settings
	until := words.UntilOnPaper(l.Task, settings, c.now)
	if (l.Word == words.Later || l.Word == words.Coming) && !isExpected(l) {
		until = "" // the event has it
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

// utc returns form 2 of a date and time (RFC 5545, section 3.3.5).
func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// escaped returns a text as a value (RFC 5545, section 3.3.11).
func escaped(text string) string {
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(strings.Join(lines(text), "\n"))
}

// put writes content lines, folded at 75 octets between characters (RFC 5545, section 3.1).
func (c *calendar) put(lines ...string) {
	const most = 75
	for _, line := range lines {
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
}
