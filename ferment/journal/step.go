package journal

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/protocol"
)

var gateWords = []string{string(ferment.NutrientGate), string(ferment.SteadyGate), string(ferment.StillGate), string(ferment.ConditioningGate)}

var missedWords = []string{string(ferment.Drop), string(ferment.Late), string(ferment.Ask)}

// A rung is a step as it is read, with the keys that belong to its quiet
// period.
type rung struct {
	aStep
	brokenBy []ferment.Condition
	first    []string
}

var stepTable = tableOf("a step",
	text("step", "nutrient-1", func(s *rung) *string { return &s.Name }),
	parsed("title", "look at the culture", parseTitle, func(s *rung, title string) { s.Title = title }),
	text("do", "nutrient", func(s *rung) *string { return &s.Do }),
	parsed("part", "culture", parsePlace, func(s *rung, culture bool) { s.Culture = culture }),
	when("due", "pitch + 2 d", func(s *rung, w ferment.When) { s.Due = w }),
	parsed("window", "-12 h .. +24 h", protocol.ParseWindow, func(s *rung, w ferment.Window) { s.Window = w }),
	field[rung]{key: "repeat", example: "{every: 1 d, until: pitch + 5 d}", read: readRepeat},
	conditions("when", "[near finish]", func(s *rung) *[]ferment.Condition { return &s.When }),
	conditions("needs", "[started]", func(s *rung) *[]ferment.Condition { return &s.Needs }),
	words("first", "[degas]", ferment.ActNames(), func(s *rung) *[]string { return &s.first }),
	conditions("unless", "[stuck]", func(s *rung) *[]ferment.Condition { return &s.Unless }),
	when("ends", "break 1/2", func(s *rung, w ferment.When) { s.Ends = &w }),
	word("gate", gateWords, func(s *rung) *ferment.Gate { return &s.Gate }),
	parsed("share", "50 %", parsePart, func(s *rung, share float64) { s.Share = share }),
	text("amount", "by figure", func(s *rung) *string { return &s.Amount }),
	text("of", "potassium bicarbonate", func(s *rung) *string { return &s.Of }),
	text("kind", "yeast-derived organic nutrient", func(s *rung) *string { return &s.Kind }),
	field[rung]{key: "medium", example: "{gravity: 1.035, alcohol: 5 %}", read: readMedium},
	field[rung]{key: "quiet", example: "{from: pitch + 14 d, to: quiet + 60 d}", read: readQuiet},
	conditions("broken-by", "[stuck, mould]", func(s *rung) *[]ferment.Condition { return &s.brokenBy }),
	word("missed", missedWords, func(s *rung) *ferment.Missed { return &s.Missed }),
	flag("option", "true", func(s *rung, is bool) { s.Option = is }, nil),
	text("say", "airlock open, tray under", func(s *rung) *string { return &s.Say }),
	text("caution", "powder", func(s *rung) *string { return &s.Caution }),
)

// parseTitle takes what fits a line of the day.
func parseTitle(s string) (string, error) {
	title := strings.TrimSpace(ferment.Harmless(s))
	if n := utf8.RuneCountInString(title); n > ferment.MaxTitle {
		return "", &measure.Error{Text: s, Problem: fmt.Sprintf("has %d characters, and a title has room for %d", n, ferment.MaxTitle), Hint: "e.g. title: look at the culture"}
	}
	return title, nil
}

func parsePlace(s string) (culture bool, err error) {
	if s == "culture" || s == "ferment" {
		return s == "culture", nil
	}
	return false, &measure.Error{Text: s, Problem: "is no part of a plan", Hint: "culture or ferment, e.g. part: culture"}
}

func readRepeat(v value, s *rung) {
	s.Repeat = &ferment.Repeat{}
	repeatTable.read(v, s.Repeat)
}

func readQuiet(v value, s *rung) {
	s.Quiet = &ferment.Quiet{}
	quietTable.read(v, s.Quiet)
}

// readMedium takes words, or some figures of the liquid, as one text.
func readMedium(v value, s *rung) {
	if v.node.Kind != yaml.MappingNode {
		s.Medium, _ = v.scalar()
		return
	}
	var parts []string
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		key := v.node.Content[i].Value
		if text, ok := (value{v.reader, v.node.Content[i+1], key, v.example}).scalar(); ok {
			parts = append(parts, key+" "+text)
		}
	}
	s.Medium = strings.Join(parts, ", ")
}

// readStep is not ok where any part of the step is wrong.
func readStep(v value) (ferment.Step, bool) {
	var s rung
	mark := v.count
	stepTable.read(v, &s)
	if v.count == mark && s.Name == "" {
		v.missing(stepTable.noun, "step", "nutrient-1")
	}
	if v.count == mark && len(s.brokenBy) > 0 && s.Quiet == nil {
		v.missing("broken-by", "quiet", "{from: pitch + 14 d, to: quiet + 60 d}")
	}
	if v.count != mark {
		return ferment.Step{}, false
	}
	return s.whole(v), true
}

// whole fills in what follows from the act where nothing is said.
func (s rung) whole(v value) ferment.Step {
	for _, act := range s.first {
		s.First = append(s.First, ferment.Act(act))
	}
	if s.Quiet != nil {
		s.Quiet.BrokenBy = s.brokenBy
		return s.aStep
	}
	var every ferment.Offset
	if s.Repeat != nil {
		every = s.Repeat.Every
	}
	window, missed := protocol.DefaultWindow(s.Do, every)
	if !v.has("window") {
		s.Window = window
	}
	if s.Missed == "" {
		s.Missed = missed
	}
	return s.aStep
}
