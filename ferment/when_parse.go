package ferment

import (
	"regexp"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

const whenHint = "an act, a step or a condition, and perhaps an offset, e.g. pitch + 2 d, last rack, break 1/3"

// A step in time at the end of a text. A minus wants a space before it, since
// names of steps hold hyphens.
var trailingOffset = regexp.MustCompile(`^(.*\S)(?:\s*(\+)|\s+([-−]))\s*([\d.,]\S*(?:\s+[[:alpha:]]+)?)$`)

// ParseWhen reads one point in time of a plan, with its offset: "pitch + 2 d",
// "last rack", "end of quiet", "break 1/3 + 1 d". A word that is no condition
// is taken for an act or a step; whether there is such a step is for
// Protocol.Check to say.
func ParseWhen(text string) (When, error) {
	w := When{Text: strings.Join(strings.Fields(text), " ")}
	point := w.Text
	var err error
	if m := trailingOffset.FindStringSubmatch(w.Text); m != nil {
		point = m[1]
		if w.Offset, err = ParseOffset(m[2] + m[3] + m[4]); err != nil {
			return When{}, err
		}
	}
	if w.Point, err = parsePoint(point); err != nil {
		return When{}, err
	}
	return w, nil
}

// parsePoint reads an anchor, a condition, or the end of a step.
func parsePoint(text string) (Point, error) {
	if step, end := strings.CutPrefix(text, "end of "); end && isStepName(step) {
		return Point{EndOf: step}, nil
	}
	if name, last := strings.CutPrefix(text, "last "); last && isAnchor(name) {
		return Point{Anchor: name, Last: true}, nil
	}
	c, known, err := readCondition(text)
	switch {
	case err != nil:
		return Point{}, err
	case known:
		return Point{Condition: &c}, nil
	case isAnchor(text):
		return Point{Anchor: text}, nil
	}
	return Point{}, &measure.Error{Text: text, Problem: "is not a point in time", Hint: whenHint}
}

// PlannedPitch is the anchor of what is made ready before the yeast goes in.
const PlannedPitch = "planned pitch"

func isAnchor(text string) bool { return text == PlannedPitch || isStepName(text) }

// isStepName tells whether a text can name a step: one word of letters and
// digits, perhaps with hyphens.
func isStepName(text string) bool { return stepName.MatchString(text) }

var stepName = regexp.MustCompile(`^\pL[\pL\d]*(?:[-_][\pL\d]+)*$`)
