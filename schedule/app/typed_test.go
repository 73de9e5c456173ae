package app_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

// everyPart has one part of a line for each key, except those that name the task.
var everyPart = []string{
	"1.046", "brix=11.4", "plato=11.4", "oechsle=62", "8.6r", "1.046@23", "with=hydrometer", "degassed=false", "19.5C", "17..24C", "ph3.4", "ta5.5",
	"vol3.4L", "lees=1.5cm", "clear", "seen=film,gas", "airlock=working", `smell="wet wool"`, "feel=firm", "label=doubtful", "place=cellar", "lost=0.2L",
	"?", "1.5g", "unknown", "0.3g/L", `of="ammonium phosphate"`, "of=still", "14mL stock=10%", "lot=lime-26", "water=18.1%", "because=away", "remind=2027-02-10",
	`to="glass jug, 3.6 L"`, "left=0.6L", `bottle="BH-A 3"`, "hiss=3", "foam=2cm", "look=pale", "nose=heather", "palate=dry", "body=thin", "finish=short",
	"faults=vinegar,dull", "score=72", "blind=true", "medium=100mL", "alcohol=5%", "verdict=usable", "-30min", "yesterday 20:00", "; bready",
}

// TestDoneAcceptsEntryLineText: every act with every part is parsed the same by done and log, or refused by both.
func TestDoneAcceptsEntryLineText(t *testing.T) {
	s, v := vessel(holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started")), "heath", at(5, 9, 0))
	settings := s.Cellar.Settings
	for _, act := range ferment.Map(ferment.ActNames(), func(name string) ferment.Act { return ferment.Act(name) }) {
		for _, part := range everyPart {
			because := "whatever is not ready" // gates are not tested here
			if part == "because=away" {
				because = ""
			}
			line, wrong := app.Typed{Line: string(act) + " " + part, Note: "n", Because: because}.Read(settings, s.At)
			wish := app.Wish{Step: string(act), Typed: app.Typed{Line: part, Note: "n", Because: because}}
			entries, _, err := app.Settling(v, wish, s.At)
			if wrong != nil {
				require.Error(t, err, "%s %s", act, part)
				assert.Equal(t, wrong.Error(), err.Error())
				continue
			}
			require.NoError(t, err, "%s %s", act, part)
			got, want := entries[len(entries)-1], line.Entry
			got.Step, got.Overrode = "", ""
			if !want.Amount.Given() || part == "0.3g/L" {
				got.Amount, want.Amount = ferment.Amount{}, ferment.Amount{} // one has the plan's amount, the other the vessel's
			}
			if want.Of == "" {
				got.Of = ""
			}
			assert.Equal(t, want, got, "%s %s", act, part)
		}
	}
}

// TestReasonBesideTheLine: accepting a finish needs a reason, in the line or beside it.
func TestReasonBesideTheLine(t *testing.T) {
	s, _ := vessel(holding(jug("heath", 3.6, "3 11:00 pitch")), "heath", at(5, 9, 0))
	for _, typed := range []app.Typed{{Line: "accept because=sweet"}, {Line: "accept", Because: "sweet"}} {
		l, err := typed.Read(s.Cellar.Settings, s.At)
		require.NoError(t, err)
		assert.Equal(t, "sweet", l.Entry.Because)
	}
	_, err := app.Typed{Line: "accept"}.Read(s.Cellar.Settings, s.At)
	assert.ErrorContains(t, err, "accepting a finish needs a reason")
}

// TestTypedTextAfterARacking: a volume is the volume racked, not an amount.
func TestTypedTextAfterARacking(t *testing.T) {
	s, v := vessel(holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started")), "heath", at(5, 9, 0))
	entries, _, err := app.Settling(v, app.Wish{Step: "rack", Typed: app.Typed{Line: "3.1L"}}, s.At)
	require.NoError(t, err)
	e := entries[len(entries)-1]
	assert.False(t, e.Amount.Given())
	assert.InDelta(t, 3.1, float64(e.Volume.Value), 1e-9)
}

// TestEndingIsChosenByItsBeginning: the task accepts one of three words or its beginning, and nothing else.
func TestEndingIsChosenByItsBeginning(t *testing.T) {
	s, v := vessel(holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started")), "heath", at(5, 9, 0))
	for typed, want := range map[string]string{
		"still": "still", "st": "still", "b": "bottle-conditioned", "sw -30min": "sweetened", "of=still": "still", `of="still, sweetened"`: "still, sweetened",
	} {
		entries, _, err := app.Settling(v, app.Wish{Step: "choose", Typed: app.Typed{Line: typed}}, s.At)
		require.NoError(t, err, typed)
		assert.Equal(t, want, entries[0].Of, typed)
	}
	for _, typed := range []string{"", "s", "dry", "-30min", "; later"} {
		_, _, err := app.Settling(v, app.Wish{Step: "choose", Typed: app.Typed{Line: typed}}, s.At)
		assert.Error(t, err, "%q", typed)
	}
	_, err := app.Typed{Line: "choose"}.Read(s.Cellar.Settings, s.At)
	assert.ErrorContains(t, err, "still, bottle-conditioned or sweetened")
}

// What a key can be is the same for a shell and for the board.
func TestValuesOfAKey(t *testing.T) {
	s, v := vessel(lime(), "lime-a", at(6, 12, 0))
	for key, want := range map[string][]string{"step": {"pitch", "rack"}, "bottle": {ferment.ForWords[0]}, "of": {"bramble"}, "airlock": {"still"}, "note": nil} {
		got := s.ValuesOf(key, []app.Vessel{v})
		for _, w := range want {
			assert.Contains(t, got, w, key)
		}
		assert.Equal(t, want == nil, len(got) == 0, key)
		assert.NotContains(t, got, "", key)
	}
	s.Cellar.Lots = []ferment.Lot{{ID: "ivy-26"}}
	assert.Equal(t, []string{"ivy-26"}, s.ValuesOf("lot", nil))
}
