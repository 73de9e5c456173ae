package journal

import (
	"cmp"
	"fmt"
	"path"
	"strings"
	"time"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/protocol"
)

// plan is a protocol being read, each step with its node.
type plan struct {
	ferment.Protocol
	nodes []*yaml.Node
}

var protocolTable = tableOf("a protocol",
	format[plan](),
	text("name", "small-jug", func(p *plan) *string { return &p.Name }).is("the name that ferments use; if the file has another name, that one counts"),
	text("title", "Small jug, nutrient in two steps", func(p *plan) *string { return &p.Title }).is("what it is, in a line"),
	text("for", "a first still mead", func(p *plan) *string { return &p.For }).is("what it is suited for"),
	word("ending", ferment.Texts(ferment.Endings()), func(p *plan) *ferment.Ending { return &p.Ending }).is("the ending that this plan is for, after another plan"),
	field[plan]{key: "limits", example: "{steady-days: 7}", read: readLimits, shape: shape{form: Group, of: limitsTable.describe}}.is("figures of the program's rules that this plan changes"),
	field[plan]{key: "steps", example: "[{step: pitch, do: pitch, due: mix}]", read: readSteps, shape: shape{form: Group, of: stepTable.describe, needs: "step", several: true}}.is("the steps of the plan"),
)

// readLimits stores what a protocol changes as a function on the limits of the cellar.
func readLimits(v value, p *plan) {
	mark := v.count
	limitsTable.read(v, &ferment.Limits{})
	if v.count == mark {
		p.Limits = func(l ferment.Limits) ferment.Limits {
			silent := value{&reader{source: v.source}, v.node, v.key, v.example}
			limitsTable.read(silent, &l)
			return l
		}
	}
}

// readSteps leaves out steps with a problem, because half a step would plan something else.
func readSteps(v value, p *plan) {
	v.inLog = true
	defer func() { v.inLog = false }()
	for _, item := range v.items() {
		if s, ok := readStep(item); ok {
			p.Steps, p.nodes = append(p.Steps, s), append(p.nodes, item.node)
		} else {
			p.Problem = true
		}
	}
}

// ReadProtocol reads a protocol. A problem in a step leaves out that step; one outside of steps leaves the protocol
// without a name.
func ReadProtocol(file string, data []byte) (ferment.Protocol, []ferment.Problem) {
	r := newReader(file, data, time.UTC)
	p := plan{Protocol: ferment.Protocol{File: file, Source: string(data)}}
	if !r.file("format: 1, name and steps", func(root value) { protocolTable.read(root, &p) }) {
		return ferment.Protocol{File: file, Source: string(data), Problem: true}, r.problems
	}
	p.Name = cmp.Or(p.Name, strings.TrimSuffix(path.Base(file), ".yaml"))
	r.checkPlan(&p)
	ferment.SortProblems(r.problems)
	return p.Protocol, r.problems
}

// checkPlan leaves out steps that cannot be planned. A fragment may refer to steps of the protocol that it follows,
// which is not known here.
func (r *reader) checkPlan(p *plan) {
	var elsewhere func(string) bool
	if p.Ending != "" || p.Problem {
		elsewhere = func(string) bool { return true }
	}
	bad := map[int]bool{}
	for _, e := range protocol.Check(p.Protocol, elsewhere) {
		node := p.nodes[e.Index]
		if at := child(node, e.Key); at != nil {
			node = at
		}
		r.fail(node, "%s", e.Message)
		bad[e.Index] = true
	}
	var good []ferment.Step
	for i, s := range p.Steps {
		if !bad[i] {
			good = append(good, s)
		}
	}
	p.Steps, p.Problem = good, p.Problem || len(bad) > 0
}

var repeatTable = tableOf("a repeat",
	parsed("every", "1 d", ferment.ParseOffset, func(r *ferment.Repeat, o ferment.Offset) { r.Every = o }).is("the time from one to the next"),
	when("until", "pitch + 5 d", func(r *ferment.Repeat, w ferment.When) { r.Until = &w }).is("when it ends"),
	whole("at-most", "3", 1, 1000, func(r *ferment.Repeat) *int { return &r.AtMost }).is("how many in all"),
	many("at", "[3 d, 5 d]", wordBy(ferment.ParseOffset), func(r *ferment.Repeat) *[]ferment.Offset { return &r.At }, nil).as(shape{form: Parsed, several: true}).is("when each comes, counted from the point in from"),
	when("from", "pitch", func(r *ferment.Repeat, w ferment.When) { r.From = &w }).is("the point that the times in at are counted from"),
)

var quietTable = tableOf("a quiet period",
	when("from", "pitch + 14 d", func(q *ferment.Quiet, w ferment.When) { q.From = w }).is("when it begins"),
	when("to", "quiet + 60 d", func(q *ferment.Quiet, w ferment.When) { q.To = w }).is("when it ends"),
)

var (
	gateWords   = ferment.Texts([]ferment.Gate{ferment.NutrientGate, ferment.SteadyGate, ferment.StillGate, ferment.ConditioningGate})
	doWords     = append(ferment.ActNames(), ferment.DoGravity, ferment.DoPH, ferment.DoTemperature, ferment.DoVolume)
	partWords   = []string{"culture", "ferment"}
	missedWords = ferment.Texts([]ferment.Missed{ferment.Drop, ferment.Late, ferment.Ask})
)

// stepDraft is a step being read, with the values that are converted later.
type stepDraft struct {
	ferment.Step
	part     string
	brokenBy []ferment.Condition
	first    []string
}

var stepTable = tableOf("a step",
	text("step", "nutrient-1", func(s *stepDraft) *string { return &s.Name }).is("the name of the step; no other step of the plan may have it"),
	parsed("title", "look at the culture", parseTitle, func(s *stepDraft, title string) { s.Title = title }).is("how lists name the step, at most 28 characters"),
	text("do", "nutrient", func(s *stepDraft) *string { return &s.Do }).as(shape{form: Word, words: doWords}).is("the act or measurement that marks it as done"),
	word("part", partWords, func(s *stepDraft) *string { return &s.part }).is("whether it is planned on a culture or on a ferment"),
	when("due", "pitch + 2 d", func(s *stepDraft, w ferment.When) { s.Due = w }).is("when to do it: an act, a step or a condition, and a time after it"),
	parsed("window", "-12 h .. +24 h", protocol.ParseWindow, func(s *stepDraft, w ferment.Window) { s.Window = w }).is("how long before and after it may be done"),
	optional("repeat", "{every: 1 d, until: pitch + 5 d}", repeatTable, func(s *stepDraft) **ferment.Repeat { return &s.Repeat }).is("how often it comes again"),
	conditions("when", "[near finish]", func(s *stepDraft) *[]ferment.Condition { return &s.When }).is("conditions that must be true before it is shown"),
	conditions("needs", "[started]", func(s *stepDraft) *[]ferment.Condition { return &s.Needs }).is("conditions that must be true before it may be done"),
	words("first", "[degas]", ferment.ActNames(), func(s *stepDraft) *[]string { return &s.first }).is("acts to do just before it"),
	conditions("unless", "[stuck]", func(s *stepDraft) *[]ferment.Condition { return &s.Unless }).is("conditions under which it is left out"),
	when("ends", "break 1/2", func(s *stepDraft, w ferment.When) { s.Ends = &w }).is("from this point on it is too late to do it"),
	word("gate", gateWords, func(s *stepDraft) *ferment.Gate { return &s.Gate }).is("the checklist that must be passed"),
	parsed("share", "50 %", measure.ParseShare, func(s *stepDraft, share measure.Given[measure.Share]) { s.Share = float64(share.Value) / 100 }).is("how much of all the nutrient this dose is"),
	text("amount", "by figure", func(s *stepDraft) *string { return &s.Amount }).is("a quantity, words, or by figure: then the program works it out"),
	text("of", "potassium bicarbonate", func(s *stepDraft) *string { return &s.Of }).is("what is added"),
	text("kind", "yeast-derived organic nutrient", func(s *stepDraft) *string { return &s.Kind }).is("the kind of nutrient"),
	field[stepDraft]{key: "medium", example: "{gravity: 1.035, alcohol: 5 %}", read: readMedium, shape: shape{form: Figures}}.is("what the culture is grown in"),
	optional("quiet", "{from: pitch + 14 d, to: quiet + 60 d}", quietTable, func(s *stepDraft) **ferment.Quiet { return &s.Quiet }).is("a time in which routine steps are hidden"),
	conditions("broken-by", "[stuck, mould]", func(s *stepDraft) *[]ferment.Condition { return &s.brokenBy }).is("conditions that end the quiet"),
	word("missed", missedWords, func(s *stepDraft) *ferment.Missed { return &s.Missed }).is("what to do when its time is over: forget it (drop), show it as late, or ask whether it was done"),
	flag("option", func(s *stepDraft) *bool { return &s.Option }).is("true for a step that is only offered, never late"),
	text("say", "put a tray under it", func(s *stepDraft) *string { return &s.Say }).is("how to do it, in a few words; a quantity in braces is shown in the units of the cellar"),
	text("caution", "powder", func(s *stepDraft) *string { return &s.Caution }).is("the name of the caution to show with it"),
)

// parseTitle reads a title that fits a line of the day.
func parseTitle(s string) (string, error) {
	title := strings.TrimSpace(ferment.Harmless(s))
	if n := utf8.RuneCountInString(title); n > ferment.MaxTitle {
		return "", &measure.Error{Text: s, Problem: fmt.Sprintf("has %d characters, and a title has room for %d", n, ferment.MaxTitle), Hint: "e.g. title: look at the culture"}
	}
	return title, nil
}

// optional is the field of an optional noun inside another. It is never written.
func optional[T, V any](key, example string, t *table[V], at func(*T) **V) field[T] {
	return field[T]{key: key, example: example, read: func(v value, into *T) {
		*at(into) = new(V)
		t.read(v, *at(into))
	}}.as(shape{form: Group, of: t.describe})
}

// readMedium reads words, or figures of the liquid, as one text.
func readMedium(v value, s *stepDraft) {
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

// readStep is not ok if any part is wrong. Missing values follow from the act.
func readStep(v value) (ferment.Step, bool) {
	var s stepDraft
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
	s.Culture = s.part == partWords[0]
	s.First = ferment.Map(s.first, func(act string) ferment.Act { return ferment.Act(act) })
	if s.Quiet != nil {
		s.Quiet.BrokenBy = s.brokenBy
		return s.Step, true
	}
	protocol.Complete(&s.Step)
	return s.Step, true
}

// mostNested is the deepest nesting of first and last.
const mostNested = 5

// when reads a time of a plan: one point, or the first or last of several.
func (v value) when(depth int) (w ferment.When, ok bool) {
	if v.node.Kind != yaml.MappingNode {
		return wordBy(protocol.ParseWhen)(v)
	}
	if !v.plain() {
		return w, false
	}
	if len(v.node.Content) != 2 || depth == mostNested {
		v.wrong("takes one of first and last")
		return w, false
	}
	choice := v.node.Content[0]
	items := value{v.reader, v.node.Content[1], v.key, v.example}.items()
	if ok = len(items) > 0; !ok {
		value{v.reader, v.node.Content[1], v.key, v.example}.wrong("has nothing to choose from")
	}
	var all []ferment.When
	var texts []string
	for _, item := range items {
		one, good := item.when(depth + 1)
		all, texts, ok = append(all, one), append(texts, one.Text), ok && good
	}
	switch choice.Value {
	case "first":
		w.First = all
	case "last":
		w.Last = all
	default:
		v.fail(choice, "%s is no choice of times (first or last, e.g. due: {first: [pitch + 2 d, break 1/3]})", quote(choice.Value))
		return w, false
	}
	w.Text = choice.Value + " of " + strings.Join(texts, ", ")
	return w, ok
}

func when[T any](key, example string, set func(*T, ferment.When)) field[T] {
	return one(key, example, func(v value) (ferment.When, bool) { return v.when(0) }, set, nil).as(shape{form: Point})
}

func conditions[T any](key, example string, at func(*T) *[]ferment.Condition) field[T] {
	return many(key, example, wordBy(protocol.ParseCondition), at, nil).as(shape{form: Parsed, several: true})
}
