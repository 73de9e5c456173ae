package course

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// A grammar reads the condition whose kind and text are set; is is false where
// the text is none of that kind.
type grammar func(c *ferment.Condition) (is bool, err error)

func tidy(text string) string { return strings.Join(strings.Fields(text), " ") }

// alone is a condition that its words say in full.
func alone(c *ferment.Condition) (bool, error) { return strings.EqualFold(c.Text, string(c.Kind)), nil }

// with is the words of the kind with a value after them.
func with(read func(c *ferment.Condition, value string) error) grammar {
	return func(c *ferment.Condition) (bool, error) {
		n := len(c.Kind)
		if len(c.Text) <= n+1 || c.Text[n] != ' ' || !strings.EqualFold(c.Text[:n], string(c.Kind)) {
			return false, nil
		}
		return true, read(c, c.Text[n+1:])
	}
}

// readSince reads "KEY since STEP".
func readSince(c *ferment.Condition) (bool, error) {
	key, step, is := strings.Cut(c.Text, " since ")
	if !is || strings.Contains(key, " ") {
		return false, nil
	}
	c.Word, c.Step = key, step
	if !ferment.IsMeasurement(key) || !ferment.IsStepName(step) {
		return true, &measure.Error{Text: c.Text, Problem: "does not ask for a measurement since a step",
			Hint: "gravity, ph, temperature or volume, e.g. gravity since rack"}
	}
	return true, nil
}

// readAgo reads "ACT at least N h ago" and "ACT under N d ago". What ends on
// "ago" is none of another kind: the last of the two refuses it.
func readAgo(than string) grammar {
	return func(c *ferment.Condition) (bool, error) {
		act, rest, _ := strings.Cut(c.Text, " ")
		span, ago := strings.CutSuffix(rest, " ago")
		length, said := strings.CutPrefix(span, than)
		if !ago || !said && c.Kind != ferment.ActUnderAgo {
			return false, nil
		}
		var err error
		c.Word = act
		c.Offset, err = ferment.ParseOffset(length)
		if !said || err != nil || c.Offset.Number < 0 || !ferment.IsAct(act) {
			return true, &measure.Error{Text: c.Text, Problem: "does not say how long ago an act was",
				Hint: "e.g. rack at least 24 h ago or bottle under 5 d ago"}
		}
		return true, nil
	}
}

// readStep takes any word that can name a step.
func readStep(c *ferment.Condition) (bool, error) {
	c.Word = c.Text
	return ferment.IsStepName(c.Text), nil
}

func readBreak(c *ferment.Condition, value string) (err error) {
	c.Break, err = ferment.ParseBreak(value)
	return err
}

func readGravity(c *ferment.Condition, value string) error {
	g, err := measure.ParseGravity(value)
	c.Number = float64(g.Value)
	return err
}

func readDepth(c *ferment.Condition, value string) error {
	d, err := measure.ParseDepth(value)
	c.Number = float64(d.Value)
	return err
}

func readPercent(c *ferment.Condition, value string) error {
	s, err := measure.ParseStrength(value)
	c.Number = float64(s.Value)
	return err
}

func numberWithin(low, high float64, hint string) func(*ferment.Condition, string) error {
	return func(c *ferment.Condition, value string) error {
		n, err := measure.ParseNumber(value)
		if err != nil || n < low || n > high {
			return &measure.Error{Text: c.Text, Problem: "needs a number in its range", Hint: hint}
		}
		c.Number = n
		return nil
	}
}

func wordOf(known []string) func(*ferment.Condition, string) error {
	return func(c *ferment.Condition, value string) error {
		c.Word = strings.ToLower(value)
		return ferment.OneOf(c.Word, known)
	}
}

func readSmell(c *ferment.Condition, value string) error {
	c.Word = strings.ToLower(value)
	if strings.Contains(value, " ") {
		return &measure.Error{Text: c.Text, Problem: "asks for more than one word", Hint: "e.g. smell clean or smell bad"}
	}
	return nil
}
