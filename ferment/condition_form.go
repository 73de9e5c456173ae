package ferment

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// A conditionForm is words with a value after them.
type conditionForm struct {
	kind ConditionKind
	read func(c *Condition, value string) error
}

// value is what stands after the form's words, if the text begins with them.
func (f conditionForm) value(text string) (value string, is bool) {
	n := len(f.kind)
	if len(text) > n+1 && text[n] == ' ' && strings.EqualFold(text[:n], string(f.kind)) {
		return text[n+1:], true
	}
	return "", false
}

var conditionForms = []conditionForm{
	{AtBreak, readBreak}, {StarterAtBreak, readBreak},
	{Below, readGravity}, {Above, readGravity},
	{PaceOver, numberWithin(0, 200, "points a day, e.g. pace over 15")},
	{PaceUnder, numberWithin(0, 200, "points a day, e.g. pace under 3")},
	{PHOver, numberWithin(0, 14, "0 to 14, e.g. ph over 4.6")},
	{PHUnder, numberWithin(0, 14, "0 to 14, e.g. ph under 3.1")},
	{HissOver, numberWithin(0, 5, "0 to 5, e.g. hiss over 4")},
	{HissUnder, numberWithin(0, 5, "0 to 5, e.g. hiss under 2")},
	{LeesOver, readDepth}, {ToleranceOver, readPercent},
	{Feels, wordOf(FeelWords)}, {Saw, wordOf(SeenWords)}, {HasVerdict, wordOf(VerdictWords)}, {Smells, readSmell},
}

func readBreak(c *Condition, value string) (err error) {
	c.Break, err = ParseBreak(value)
	return err
}

func readGravity(c *Condition, value string) error {
	g, err := measure.ParseGravity(value)
	c.Number = float64(g.Value)
	return err
}

func readDepth(c *Condition, value string) error {
	d, err := measure.ParseDepth(value)
	c.Number = float64(d.Value)
	return err
}

func readPercent(c *Condition, value string) error {
	s, err := measure.ParseStrength(value)
	c.Number = float64(s.Value)
	return err
}

func numberWithin(low, high float64, hint string) func(*Condition, string) error {
	return func(c *Condition, value string) error {
		n, err := measure.ParseNumber(value)
		if err != nil || n < low || n > high {
			return &measure.Error{Text: c.Text, Problem: "needs a number in its range", Hint: hint}
		}
		c.Number = n
		return nil
	}
}

func wordOf(known []string) func(*Condition, string) error {
	return func(c *Condition, value string) error {
		c.Word = strings.ToLower(value)
		return oneOf(c.Word, known)
	}
}

func readSmell(c *Condition, value string) error {
	c.Word = strings.ToLower(value)
	if strings.Contains(value, " ") {
		return &measure.Error{Text: c.Text, Problem: "asks for more than one word", Hint: "e.g. smell clean or smell bad"}
	}
	return nil
}
