package app_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

// typed returns an entry typed now, without a time.
func typed(what string) ferment.Entry {
	e := line("1 00:00 " + what)
	e.At = ferment.Moment{}
	return e
}

// TestEntryOfSeveralVesselsIsScaled: one line for two jugs goes into both, with an amount per litre converted for each (arithmetic).
func TestEntryOfSeveralVesselsIsScaled(t *testing.T) {
	s := lime()
	d := app.New(s)
	kept, err := d.Log(at(5, 9, 0), []string{"lime-a", "LIME-B"}, typed("nutrient 0.4g/L"))
	require.NoError(t, err)
	assert.Len(t, kept.Receipts, 2)
	assert.Equal(t, []string{"09:00:00 nutrient 1.4 g"}, written(s, "lime-a", 1), "3.5 L")
	assert.Equal(t, []string{"09:00:00 nutrient 0.72 g"}, written(s, "lime-b", 1), "1.8 L")

	_, err = d.Done(at(5, 22, 0), []string{"lime-a", "lime-b"}, app.Wish{Step: "nutrient", Typed: app.Typed{Line: "0.2g/L"}})
	require.NoError(t, err)
	assert.Equal(t, []string{"21:59:00 degas", "22:00:00 nutrient nutrient-2 0.7 g"}, written(s, "lime-a", 2))
	assert.Equal(t, []string{"21:59:00 degas", "22:00:00 nutrient nutrient-2 0.36 g"}, written(s, "lime-b", 2))

	undone, err := d.Undo(time.Time{})
	require.NoError(t, err)
	assert.Len(t, undone, 2, "one act is taken back from both")
	assert.Equal(t, []string{"09:00:00 nutrient 0.72 g"}, written(s, "lime-b", 1))
}

// TestAmountPerLitreNeedsTheVolume: without it nothing is written.
func TestAmountPerLitreNeedsTheVolume(t *testing.T) {
	s := lime()
	s.cellar.Ferments[1].Must.Volume.Text = ""
	_, err := app.New(s).Log(at(5, 9, 0), []string{"lime-a", "lime-b"}, typed("nutrient 0.4g/L"))
	assert.ErrorContains(t, err, "LIME-B: 0.4 g/L needs the volume in the vessel")
	assert.Equal(t, []string{"07:00:00"}, written(s, "lime-a", 1), "all or none")
}

// TestLogKeepsUnlikelyEntries, with a notice.
func TestLogKeepsUnlikelyEntries(t *testing.T) {
	for _, c := range []struct {
		what, log, line string
		notices         []string
	}{
		{"in time", "3 11:00 pitch|4 08:00 started", "nutrient 1.4g", nil},
		{"twice in two hours", "3 11:00 pitch|4 08:00 started|5 07:00 nutrient 1.4g", "nutrient 1.4g", []string{"HEATH: nutrient, too soon: 1.4 g went in at 07:00; doses must be 12 h apart: not before 19:00. It is kept and counted."}},
		{"before the start", "4 11:00 pitch", "nutrient 1.4g", []string{"HEATH: nutrient, held: no sign of fermentation yet. It is kept and counted. Better: check that it has started, and write it down: started"}},
		{"with its reason", "4 11:00 pitch", "nutrient 1.4g overrode=started because=cold", nil},
		{"a reading", "3 11:00 pitch", "1.080", nil},
	} {
		s := holding(jug("heath", 3.6, c.log))
		kept, err := app.New(s).Log(at(5, 9, 0), []string{"heath"}, typed(c.line))
		require.NoError(t, err, c.what)
		assert.Equal(t, c.notices, kept.Notices, c.what)
		assert.Len(t, kept.Receipts, 1, c.what)
	}
}

// TestARackingThatIsClearItself is not held back until the mead is clear: the entry says so.
func TestARackingThatIsClearItself(t *testing.T) {
	const held = "HEATH: rack, held: it is not clear by the record. It is kept and counted. Better: type clear once it is"
	for line, notices := range map[string][]string{"rack": {held}, "rack hazy": {held}, "rack clear": nil} {
		s := holding(jug("heath", 3.6, "1 11:00 pitch|2 11:00 started|3 11:00 1.000|4 11:00 rack|5 11:00 0.998 17C|15 11:00 0.998 17C|24 11:00 0.998 17C|25 11:00 chill"))
		f := &s.cellar.Ferments[0]
		f.Protocol = "sweetened"
		for i := range 4 { // in August
			f.Log[i].At = ferment.At(f.Log[i].At.Time.AddDate(0, -2, 0))
		}
		kept, err := app.New(s).Log(at(31, 12, 0), []string{"heath"}, typed(line))
		require.NoError(t, err)
		assert.Equal(t, notices, kept.Notices, line)
	}
}

// TestLogOfACulture goes into the culture's own log.
func TestLogOfACulture(t *testing.T) {
	s := lime()
	d := app.New(s)
	_, err := d.Done(at(4, 15, 0), []string{"Hawthorn-3"}, app.Wish{Step: "w1"})
	require.NoError(t, err)
	_, err = d.Log(at(5, 15, 0), []string{"hawthorn-3"}, typed("look seen=gas smell=clean"))
	require.NoError(t, err)
	assert.Equal(t, []string{"15:00:00 passage w1 100 mL", "15:00:00 look"}, written(s, "hawthorn-3", 2))
	_, v := vessel(s, "hawthorn-3", at(5, 15, 1))
	assert.True(t, isDone(v, "w1"))
	assert.True(t, isDone(v, "w1-look"))
}

// TestUnknownSubjects: a wrong name among several writes nothing.
func TestUnknownSubjects(t *testing.T) {
	s := lime()
	_, err := app.New(s).Log(at(5, 9, 0), []string{"lime-a", "sloe"}, typed("degas"))
	var unknown *ferment.UnknownFerment
	assert.ErrorAs(t, err, &unknown)
	assert.Equal(t, []string{"07:00:00"}, written(s, "lime-a", 1))
}

// TestFullDisk: one subject is not written; what was written for the others is listed and can be undone.
func TestFullDisk(t *testing.T) {
	s := lime()
	s.full = "lime-a"
	d := app.New(s)
	kept, err := d.Log(at(5, 9, 0), []string{"lime-a", "lime-b"}, typed("degas"))
	assert.ErrorIs(t, err, errFull)
	require.Len(t, kept.Receipts, 1)
	assert.Equal(t, "lime-b", kept.Receipts[0].Subject)
	assert.Equal(t, 1, d.UndoCount())
}
