package tui

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/guide"
)

// keyChapter is the chapter of the guide about the keys, as they are on this
// keyboard.
func (m Model) keyChapter() guide.Chapter {
	c := guide.Chapter{Name: "keys", Title: "what the keys do; they can be changed under keys in cellar.yaml"}
	for _, h := range m.keys.Helps(anywhere) {
		c.Parts = append(c.Parts, guide.Part{Head: h.Keys, Text: h.Does})
	}
	const entries = "an entry is one line: what was read or done, in any order, e.g. 1046@23 ph3.4 degas; lively"
	c.Parts = append(c.Parts, guide.Part{Head: "the line", Text: entries})
	for _, g := range strings.Split(grammarIn(m.snapshot.Cellar.Settings.Units), "\n") {
		head, does, _ := strings.Cut(g, "\t")
		c.Parts = append(c.Parts, guide.Part{Head: head, Text: does})
	}
	return c
}

// grammarIn is what a line can say, with examples in a system of units.
func grammarIn(units measure.System) string {
	if units != measure.US {
		return grammar
	}
	return strings.NewReplacer("@23", "@73", "19.5C 17..24C", "67F 63..75F", "vol3.4L", "vol3.6qt", "14mL", "0.5 fl oz", "lost=0.2L", "lost=8 fl oz").Replace(grammar)
}

// grammar is what a line can say.
const grammar = "1046\tgravity; 1.046 is the same\n" +
	"@23\ttemperature of the sample\n" +
	"11.4bx 62oe 8.6r\tBrix, Oechsle, a refractometer\n" +
	"19.5C 17..24C\ttemperature of the vessel, or the day's lowest and highest\n" +
	"ph3.4 vol3.4L clear\tthe vessel's other readings\n" +
	"degas\tan act; nutrient 1.5g one with its amount, nutrient 14mL stock=10% as a solution\n" +
	"lost=0.2L seen=film\tany key of an entry\n" +
	"-2h yesterday 20:00\twhen, where it is not now\n" +
	"remind=2027-02-10\tthe note comes up on that day\n" +
	"?\tin doubt: kept, and nothing follows from it\n" +
	";\tthe note begins"
