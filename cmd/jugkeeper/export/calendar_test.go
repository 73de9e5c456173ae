package export_test

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/schedule/app"
)

// property is a content line: name, parameters, raw value.
type property struct{ name, params, value string }

// component is the part between a BEGIN and its END.
type component struct {
	name       string
	properties []property
	parts      []*component
}

func (c *component) all(name string) []string {
	var out []string
	for _, p := range c.properties {
		if p.name == name {
			out = append(out, p.value)
		}
	}
	return out
}

func (c *component) one(t *testing.T, name string) string {
	t.Helper()
	all := c.all(name)
	require.Len(t, all, 1, "%s of %v", name, c.properties)
	return all[0]
}

// contentLine matches an unfolded content line: name, parameters, value (RFC 5545, section 3.1, contentline).
var contentLine = regexp.MustCompile(`^([A-Z-]+)((?:;[A-Z-]+=[^:;,"]+)*):(.*)$`)

// unfolded returns the content lines of a calendar. Lines end in CRLF, have at most 75 octets, and continue after one
// space (RFC 5545, section 3.1).
func unfolded(t *testing.T, text string) []string {
	t.Helper()
	require.True(t, strings.HasSuffix(text, "\r\n"), "the last line ends too")
	require.NotRegexp(t, `[^\r]\n|\r[^\n]`, text, "every line ends in CRLF, and nothing else is one of them")
	var out []string
	for _, line := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		require.LessOrEqual(t, len(line), 75, line)
		require.NotEmpty(t, line)
		require.True(t, utf8.ValidString(line), "a fold inside a character: %q", line)
		if rest, is := strings.CutPrefix(line, " "); is {
			require.NotEmpty(t, out)
			out[len(out)-1] += rest
			continue
		}
		out = append(out, line)
	}
	return out
}

// read reads a calendar strictly by the standard.
func read(t *testing.T, text string) *component {
	t.Helper()
	var open []*component
	var whole *component
	for _, line := range unfolded(t, text) {
		require.Nil(t, whole, "nothing stands after the end")
		m := contentLine.FindStringSubmatch(line)
		require.NotNil(t, m, line)
		for _, r := range m[3] { // section 3.1, VALUE-CHAR: no controls
			require.True(t, r >= ' ' && r != 0x7f, "%q", line)
		}
		switch p := (property{m[1], m[2], m[3]}); p.name {
		case "BEGIN":
			c := &component{name: p.value}
			if n := len(open); n > 0 {
				open[n-1].parts = append(open[n-1].parts, c)
			}
			open = append(open, c)
		case "END":
			last := open[len(open)-1]
			require.Equal(t, last.name, p.value)
			if open = open[:len(open)-1]; len(open) == 0 {
				whole = last
			}
		default:
			open[len(open)-1].properties = append(open[len(open)-1].properties, p)
		}
	}
	require.NotNil(t, whole, "it ends")
	return whole
}

// meant unescapes a TEXT value, and checks that what must be escaped is (RFC 5545, section 3.3.11).
func meant(t *testing.T, value string) string {
	t.Helper()
	var b strings.Builder
	for rs := []rune(value); len(rs) > 0; rs = rs[1:] {
		if strings.ContainsRune(";,", rs[0]) {
			require.Fail(t, "not escaped", value)
		}
		if rs[0] != '\\' {
			b.WriteRune(rs[0])
			continue
		}
		require.Greater(t, len(rs), 1, value)
		rs = rs[1:]
		require.Contains(t, `\;,nN`, string(rs[0]), value)
		b.WriteString(map[rune]string{'n': "\n", 'N': "\n"}[rs[0]])
		if rs[0] != 'n' && rs[0] != 'N' {
			b.WriteRune(rs[0])
		}
	}
	return b.String()
}

// events checks a calendar against the standard and returns its events by UID.
func events(t *testing.T, text string) map[string]*component {
	t.Helper()
	c := read(t, text)
	require.Equal(t, "VCALENDAR", c.name)
	require.Equal(t, "2.0", c.one(t, "VERSION")) // section 3.7.4, required once
	require.NotEmpty(t, c.one(t, "PRODID"))      // section 3.7.3, required once
	require.NotEmpty(t, c.parts)                 // section 3.6: at least one component
	out := map[string]*component{}
	for _, e := range c.parts {
		if e.name != "VEVENT" {
			continue
		}
		uid := e.one(t, "UID") // section 3.8.4.7, required once, and unique
		require.NotContains(t, out, uid)
		out[uid] = e
		stamp, err := time.Parse("20060102T150405Z", e.one(t, "DTSTAMP")) // section 3.8.7.2: in UTC
		require.NoError(t, err)
		require.False(t, stamp.IsZero())
		for _, p := range e.properties {
			if p.name != "DTSTART" { // section 3.8.2.4
				continue
			}
			layout := map[string]string{"": "20060102T150405Z", ";VALUE=DATE": "20060102"}[p.params]
			_, err := time.Parse(layout, p.value)
			require.NoError(t, err, p)
			require.Equal(t, p.params == "", len(e.all("DURATION")) == 1, "section 3.8.2.5: a day has no length in minutes")
		}
		e.one(t, "DTSTART")
		for _, name := range []string{"SUMMARY", "DESCRIPTION"} {
			require.NotEmpty(t, meant(t, e.one(t, name)))
		}
		for _, s := range e.all("STATUS") { // section 3.8.1.11, of an event
			require.Contains(t, []string{"TENTATIVE", "CONFIRMED", "CANCELLED"}, s)
		}
		require.Empty(t, e.parts, "nothing rings (section 3.6.6)")
	}
	return out
}

func TestCalendarFollowsTheStandard(t *testing.T) {
	s := opened(t, invented, now)
	all := events(t, export.Calendar(s, 14, true, export.Sent{}))
	require.Greater(t, len(all), 8)
	for uid, e := range all {
		assert.Regexp(t, `^(LIME-A|LIME-B|BRAM) \w`, meant(t, e.one(t, "SUMMARY")), uid)
		assert.Equal(t, "20261007T073000Z", e.one(t, "DTSTAMP"))
		assert.Contains(t, meant(t, e.one(t, "DESCRIPTION")), "as of Wed 7 Oct 2026, 08:30", "in the cellar's zone")
	}
	dose := all["lime-a.nutrient-2.1@jugkeeper"]
	require.NotNil(t, dose)
	assert.Regexp(t, `^LIME-A nutrient 2, \d\.\d g ammonium phosphate`, meant(t, dose.one(t, "SUMMARY")))
	assert.Contains(t, meant(t, dose.one(t, "DESCRIPTION")), "take care: powder makes a gassy must foam over")
	reminder := all["lime-a.reminder.1@jugkeeper"]
	require.NotNil(t, reminder)
	assert.Contains(t, reminder.properties, property{"DTSTART", ";VALUE=DATE", "20261012"}, "a day, not midnight in another zone")
	assert.Equal(t, `LIME-A reminder, =1+1, wash; the \ <bung> & "ring" 蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜 é�[2J�� END:VEVENT @sum]]>`,
		meant(t, reminder.one(t, "SUMMARY")))
}

// A forecast date is marked, and a held task has no firm date.
func TestCalendarMarksUncertainDates(t *testing.T) {
	about := 0
	for uid, e := range events(t, export.Calendar(opened(t, invented, now), 14, true, export.Sent{})) {
		summary, description := meant(t, e.one(t, "SUMMARY")), meant(t, e.one(t, "DESCRIPTION"))
		firm := len(e.all("STATUS")) == 0
		if strings.Contains(summary, "; about: take a reading") {
			about++
			assert.Regexp(t, `^about \w+ \d+ \w+ \d\d:\d\d, ±\d+ (h|d): take a reading`, description)
			assert.False(t, firm, uid)
		}
		if strings.Contains(summary, "; held") {
			assert.False(t, firm, uid)
		}
	}
	assert.Positive(t, about)
}

// An import on the next day updates remaining tasks and adds new ones, because a task keeps its UID.
func TestCalendarUpdates(t *testing.T) {
	today := events(t, export.Calendar(opened(t, invented, now), 14, true, export.Sent{}))
	tomorrow := events(t, export.Calendar(opened(t, invented, now.AddDate(0, 0, 1)), 14, true, export.Sent{}))
	same := 0
	for uid, e := range tomorrow {
		before, known := today[uid]
		if !known {
			continue
		}
		same++
		assert.Less(t, before.one(t, "DTSTAMP"), e.one(t, "DTSTAMP"), uid)
		title := func(e *component) string { return strings.Split(meant(t, e.one(t, "SUMMARY")), ", ")[0] }
		assert.Equal(t, strings.Split(title(before), ";")[0], strings.Split(title(e), ";")[0], uid)
		if !slices.Equal(before.all("STATUS"), e.all("STATUS")) || before.one(t, "DTSTART") < "20261009" {
			continue
		}
		assert.Equal(t, before.one(t, "DTSTART"), e.one(t, "DTSTART"), "%s has no reason to move", uid)
	}
	assert.Greater(t, same, len(tomorrow)/2)
}

// Done or removed events are cancelled for a year, with the same UID and a higher SEQUENCE (RFC 5546, section 2.1.4). A
// calendar updated with both exports is the same as with the second alone.
func TestCalendarCancelsWhatIsDoneOrGone(t *testing.T) {
	sent := export.Sent{}
	first := events(t, export.Calendar(opened(t, invented, now), 60, true, sent))
	dosed, later := maps.Clone(invented), now.AddDate(0, 0, 1)
	dosed["ferments/lime-a.yaml"] = strings.Replace(dosed["ferments/lime-a.yaml"], "20:00:00+01:00, gravity: 1.059}", "20:00:00+01:00, gravity: 1.059}\n"+
		"  - {at: 2026-10-07T09:00:00+01:00, did: nutrient, step: nutrient-2, amount: 1.4 g}", 1)
	delete(dosed, "ferments/lime-b.yaml") // closed, or deleted
	second := export.Calendar(opened(t, dosed, later), 14, true, sent)
	alone := events(t, export.Calendar(opened(t, dosed, later), 60, true, export.Sent{}))
	assert.Equal(t, second, export.Calendar(opened(t, dosed, later), 14, true, sent), "nothing has changed")
	cancelled := 0
	for uid, e := range events(t, second) {
		before, known := first[uid]
		if !slices.Equal(e.all("STATUS"), []string{"CANCELLED"}) {
			assert.Contains(t, alone, uid)
			assert.Equal(t, "0", alone[uid].one(t, "SEQUENCE"))
			continue
		}
		cancelled++
		require.True(t, known, "%s was never sent", uid)
		assert.Equal(t, "0", before.one(t, "SEQUENCE"), uid)
		assert.Equal(t, "1", e.one(t, "SEQUENCE"), uid)
		assert.Equal(t, before.one(t, "DTSTART"), e.one(t, "DTSTART"), uid)
		delete(first, uid)
	}
	assert.Greater(t, cancelled, 5)
	assert.NotContains(t, first, "lime-a.nutrient-2.1@jugkeeper", "the dose that was given rings no more")
	for uid := range first {
		assert.Contains(t, alone, uid, "left over")
	}
	export.Calendar(opened(t, dosed, later.AddDate(2, 0, 0)), 14, true, sent)
	assert.NotContains(t, sent, "lime-b.nutrient-1.1@jugkeeper", "after a year nobody is told")
}

// A calendar of one ferment does not affect the others.
func TestCalendarOfOneFermentCancelsNothingOfOthers(t *testing.T) {
	sent := export.Sent{}
	export.Calendar(opened(t, invented, now), 14, true, sent)
	s := opened(t, invented, now)
	s.Vessels, s.Cultures = []app.Vessel{found(t, s, "lime-a")}, nil
	assert.NotContains(t, export.Calendar(s, 14, false, sent), "CANCELLED")
}

func TestEmptyCalendarIsValid(t *testing.T) {
	text := export.Calendar(opened(t, nil, now), 14, true, export.Sent{})
	assert.Empty(t, events(t, text))
	assert.Equal(t, "VTIMEZONE", read(t, text).parts[0].name)
}

// Two exports at one moment are identical.
func TestCalendarIsRepeatable(t *testing.T) {
	s := opened(t, invented, now)
	assert.Equal(t, export.Calendar(s, 14, true, export.Sent{}), export.Calendar(s, 14, true, export.Sent{}))
	assert.NotEqual(t, export.Calendar(s, 14, true, export.Sent{}), export.Calendar(s, 2, true, export.Sent{}), "fewer days, fewer events")
}

// Lines are only folded between characters.
func TestCalendarFoldsBetweenCharacters(t *testing.T) {
	for shift := range 4 {
		note := strings.Repeat("x", shift) + strings.Repeat("蜂蜜", 60)
		all := events(t, export.Calendar(opened(t, map[string]string{
			"ferments/lime.yaml": "format: 1\nlog: [{at: 2026-10-06, did: pitch, remind: 2026-10-08, note: " + note + "}]\n",
		}, now), 14, true, export.Sent{}))
		assert.Equal(t, "lime reminder, "+note, meant(t, all["lime.reminder.1@jugkeeper"].one(t, "SUMMARY")))
	}
}
