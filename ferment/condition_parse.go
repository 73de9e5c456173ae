package ferment

import (
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// ParseCondition reads one yes-or-no question: "ph under 3.1", "gravity since
// w4", "stuck". A single word that is no known condition asks whether the
// step of that name has been settled.
func ParseCondition(text string) (Condition, error) {
	c, known, err := readCondition(text)
	switch {
	case err != nil:
		return Condition{}, err
	case known:
		return c, nil
	case isStepName(c.Text):
		return Condition{Kind: StepDone, Word: c.Text, Text: c.Text}, nil
	}
	return Condition{}, &measure.Error{Text: c.Text, Problem: "is not a condition",
		Hint: "a word, a step or a comparison, e.g. near finish, nutrient-1 or ph under 3.1"}
}

// readCondition reads what is certainly a condition; the text is tidied
// either way.
func readCondition(text string) (c Condition, known bool, err error) {
	words := strings.Fields(text)
	c.Text = strings.Join(words, " ")
	if kind := ConditionKind(strings.ToLower(c.Text)); plainConditions[kind] {
		c.Kind = kind
		return c, true, nil
	}
	for _, form := range conditionForms {
		if value, is := form.value(c.Text); is {
			c.Kind = form.kind
			return c, true, form.read(&c, value)
		}
	}
	if len(words) < 3 {
		return c, false, nil
	}
	c.Word = words[0]
	rest := strings.Join(words[1:], " ")
	if step, since := strings.CutPrefix(rest, "since "); since {
		return readSince(c, step)
	}
	if span, ago := strings.CutSuffix(rest, " ago"); ago {
		return readAgo(c, span)
	}
	return c, false, nil
}

// plainConditions are said in full by their words.
var plainConditions = map[ConditionKind]bool{
	NearFinish: true, Steady: true, Dry: true, Stuck: true, Sluggish: true, Restarted: true, Stabilised: true,
	IsClear: true, HasStarted: true, NotStarted: true, IsWild: true, EndingUndecided: true, HasFilm: true,
	HasMould: true, DryAirlock: true, BacteriaWorked: true, IsPrimed: true, IsDiscarded: true, TwoOpeningsSame: true,
}

// readSince reads "KEY since STEP".
func readSince(c Condition, step string) (Condition, bool, error) {
	c.Kind, c.Step = KeySince, step
	if !IsMeasurement(c.Word) || !isStepName(step) {
		return c, true, &measure.Error{Text: c.Text, Problem: "does not ask for a measurement since a step",
			Hint: "gravity, ph, temperature or volume, e.g. gravity since rack"}
	}
	return c, true, nil
}

// readAgo reads "ACT at least N h ago" and "ACT under N d ago".
func readAgo(c Condition, span string) (Condition, bool, error) {
	c.Kind = ActAtLeastAgo
	length, said := strings.CutPrefix(span, "at least ")
	if !said {
		c.Kind = ActUnderAgo
		length, said = strings.CutPrefix(span, "under ")
	}
	var err error
	c.Offset, err = ParseOffset(length)
	if !said || err != nil || c.Offset.Number < 0 || !IsAct(c.Word) {
		return c, true, &measure.Error{Text: c.Text, Problem: "does not say how long ago an act was",
			Hint: "e.g. rack at least 24 h ago or bottle under 5 d ago"}
	}
	return c, true, nil
}

// ParseBreak reads a break by its fraction, "1/3" or "break 1/3".
func ParseBreak(text string) (BreakLimit, error) {
	fraction := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "break "))
	above, under, _ := strings.Cut(fraction, "/")
	of, err := strconv.ParseUint(above, 10, 8)
	in, err2 := strconv.ParseUint(under, 10, 8)
	if err != nil || err2 != nil || of == 0 || of >= in {
		return BreakLimit{}, &measure.Error{Text: text, Problem: "is not a break", Hint: "a fraction of the expected fall, e.g. break 1/3"}
	}
	return BreakLimit{int(of), int(in)}, nil
}
