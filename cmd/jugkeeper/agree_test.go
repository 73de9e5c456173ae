package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/vessel"
)

// Two invented meads that are steady, one of them stabilised.
const (
	agreeingLime = `format: 1
name: lime blossom
tag: LIME
vessel: {kind: glass jug, brimful: 4.1 L}
must: {volume: 3.6 L, gravity: 1.084}
yeast: {name: white-wine yeast, tolerance: 14 %}
log:
  - {at: 2026-03-01T10:00:00Z, did: pitch}
  - {at: 2026-04-10T10:00:00Z, gravity: 0.998, temperature: 18 °C}
  - {at: 2026-04-17T10:00:00Z, gravity: 0.998, temperature: 18 °C, clarity: clear}
  - {at: 2026-04-18T10:00:00Z, did: rack, volume: 3.17 L}
  - {at: 2026-04-28T10:00:00Z, gravity: 0.998, temperature: 18 °C}
  - {at: 2026-05-02T10:00:00Z, did: sulphite, amount: 0.3 g}
  - {at: 2026-05-02T10:01:00Z, did: sorbate, amount: 0.8 g}
`
	agreeingSloe = `format: 1
tag: SLOE
vessel: {kind: glass jug, brimful: 2.2 L}
must: {volume: 2 L, gravity: 1.0713}
log:
  - {at: 2026-03-01T10:00:00Z, did: pitch}
  - {at: 2026-04-27T10:00:00Z, gravity: 1.0037}
`
)

// agreed is what a place says of a jug: litres, gravity and % vol, each as it is written there.
type agreed struct{ volume, gravity, alcohol string }

// TestEveryPlaceSaysTheSame: after a mead is sweetened, blended, topped up or parted, form,
// page, board, paper, label and JSON have one volume, one gravity and one strength, to the
// digits that each shows, and so they have after the next reading.
func TestEveryPlaceSaysTheSame(t *testing.T) {
	for name, c := range map[string]struct {
		typed form.Values
		also  string // another ferment that the form changes
		next  string // the gravity that is read a week on
	}{
		"sweetened":              {form.Values{"what": "sweeten", "amount": "137 g"}, "", "1.0113"},
		"blended":                {form.Values{"what": "blend", "amount": "0.37 L"}, "sloe", "0.9986"},
		"topped up with water":   {form.Values{"what": "top up", "with": "water", "amount": "0.23 L"}, "", "0.9981"},
		"topped up with another": {form.Values{"what": "top up", "with": "another mead", "of": "clover", "strength": "9.3 %", "amount": "0.23 L"}, "", "0.9979"},
		"parted":                 {form.Values{"what": "into two", "part": "1.13 L", "after": "1.97 L", "name": "lime-b"}, "lime-b", "0.998"},
	} {
		t.Run(name, func(t *testing.T) {
			dir, now := t.TempDir(), time.Date(2026, 5, 4, 10, 0, 0, 0, time.UTC)
			require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments"), 0o777))
			for file, text := range map[string]string{"cellar.yaml": "format: 1\ntimezone: UTC\n", "ferments/lime.yaml": agreeingLime, "ferments/sloe.yaml": agreeingSloe} {
				require.NoError(t, os.WriteFile(filepath.Join(dir, file), []byte(text), 0o666))
			}
			d := app.New(journal.Open(dir, time.UTC, protocols.Files()))
			s, err := d.OpenWhole(now)
			require.NoError(t, err)
			f, ok := form.Open("rack", s, "lime", nil)
			require.True(t, ok)
			_, o := f.Outcome(c.typed.With(form.Because, "a trial"))
			require.Empty(t, o.Wrong)
			_, err = d.Apply(now, o.Change)
			require.NoError(t, err)
			then := place(t, d, "lime", now)
			if said := regexp.MustCompile(`^then (\S+ L) at (\S+) with (.*)$`).FindStringSubmatch(lastOf(o.Answer)); said != nil {
				assert.Equal(t, then, agreed{said[1], said[2], said[3]}, "form")
			} else {
				assert.Contains(t, strings.Join(o.Answer, "; "), then.volume, "form")
			}
			if c.also != "" {
				place(t, d, c.also, now)
			}
			week := now.AddDate(0, 0, 7)
			_, err = d.Log(week, []string{"lime"}, ferment.Entry{At: ferment.At(week), Gravity: measure.Give(gravityOf(t, c.next), c.next)})
			require.NoError(t, err)
			assert.Equal(t, gravityOf(t, c.next).Places(4), place(t, d, "lime", week).gravity, "the reading counts")
		})
	}
}

func lastOf(lines []string) string { return lines[len(lines)-1] }

func gravityOf(t *testing.T, text string) measure.Gravity {
	g, err := measure.ParseGravity(text)
	require.NoError(t, err)
	return g.Value
}

// place returns what the course says of a jug, once every place was seen to say it.
func place(t *testing.T, d *app.App, id string, now time.Time) agreed {
	t.Helper()
	s, err := d.OpenWhole(now.Add(time.Minute))
	require.NoError(t, err)
	v, is := s.Find(id)
	require.True(t, is, id)
	c := v.Course
	require.True(t, c.Volume.IsKnown() && c.Present.IsKnown() && c.Alcohol.IsKnown(), id)
	so := agreed{c.Volume.Value.In(measure.Metric), c.Present.Value.Places(4), c.Alcohol.Value.String()}
	percent, litres := strings.Fields(so.alcohol)[0], strings.Fields(so.volume)[0]
	glass := words.Glass(c.Present.Value, s.Cellar.Settings)

	page := vessel.Page(theme.Theme{}, 100, v, nil, s.At)
	if c.Gravity.Value.Gravity.Places(4) != so.gravity {
		assert.Regexp(t, `now +`+regexp.QuoteMeta(glass)+`\s`, page, "page of %s", id)
	} else {
		assert.Regexp(t, `gravity +`+regexp.QuoteMeta(glass)+`\s`, page, "page of %s", id)
	}
	assert.Regexp(t, `alcohol +`+regexp.QuoteMeta(percent)+` +% vol`, page, "page of %s", id)
	assert.Regexp(t, `volume +`+regexp.QuoteMeta(litres)+`\s`, page, "page of %s", id)

	board := words.Of(s).Row(id)
	assert.Equal(t, percent, board.Alcohol, "board")
	for _, f := range board.Card.Figures {
		if f.Name == "volume" {
			assert.Equal(t, litres, f.Number, "card")
		}
	}
	j := fermentOf(v)
	require.NotNil(t, j.Present)
	assert.Equal(t, so.volume+so.gravity, measure.Volume(*j.Volume).In(measure.Metric)+fmt.Sprintf("%.4f", *j.Present), "JSON")
	assert.InDelta(t, float64(c.Alcohol.Value), *j.Alcohol, 0.005, "JSON has one digit more")
	assert.Contains(t, export.Tags(app.Snapshot{At: s.At, Cellar: s.Cellar, Vessels: []app.Vessel{v}}), so.volume+",", "paper tag")

	rack, _ := form.Open("rack", s, id, form.Values{"what": "sweeten"})
	fields, _ := rack.Outcome(nil)
	said := form.Values{}
	for _, f := range fields {
		said[f.Key] = f.Value
	}
	assert.Equal(t, []string{so.volume, c.Present.Value.String(), percent + " %"}, []string{said["volume"], said["gravity"], said["alcohol"]}, "the next form")

	// bottled still, its label has the same strength
	e := ferment.Entry{At: ferment.At(s.At), Did: ferment.Bottle, Bottles: []ferment.Bottles{{Kind: "still-wine bottle", Size: measure.Give(measure.Volume(0.75), "750 mL"), Count: 1}}}
	whole := v.Ferment
	whole.Log = append(whole.Log[:len(whole.Log):len(whole.Log)], e)
	label, _ := export.Labels(app.Snapshot{At: s.At, Cellar: s.Cellar, Vessels: []app.Vessel{app.Plan(whole, s.Cellar, s.At)}})
	assert.Contains(t, label, "about "+so.alcohol, "label")
	return so
}
