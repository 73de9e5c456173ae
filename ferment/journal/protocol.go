package journal

import (
	"path"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/protocol"
)

type (
	aProtocol = ferment.Protocol
	aStep     = ferment.Step
)

// A plan is a protocol as it is read, each step with the node it came from.
type plan struct {
	aProtocol
	nodes []*yaml.Node
}

var protocolTable = tableOf("a protocol",
	format[plan](),
	text("name", "small-jug", func(p *plan) *string { return &p.Name }),
	text("title", "Small jug, nutrient in two steps", func(p *plan) *string { return &p.Title }),
	text("for", "a first still mead", func(p *plan) *string { return &p.For }),
	word("ending", endingWords(), func(p *plan) *ferment.Ending { return &p.Ending }),
	field[plan]{key: "limits", example: "{steady-days: 7}", read: readLimits},
	field[plan]{key: "steps", example: "[{step: pitch, do: pitch, due: mix}]", read: readSteps},
)

// readLimits keeps what a protocol changes as a change, to be laid over the
// limits of the cellar.
func readLimits(v value, p *plan) {
	mark := v.count
	limitsTable.read(v, &ferment.Limits{})
	if v.count != mark {
		return
	}
	p.Limits = func(l ferment.Limits) ferment.Limits {
		silent := value{&reader{source: v.source}, v.node, v.key, v.example}
		limitsTable.read(silent, &l)
		return l
	}
}

// readSteps leaves out a step with a problem, as half a step would plan
// something else.
func readSteps(v value, p *plan) {
	v.inLog = true
	defer func() { v.inLog = false }()
	for _, item := range v.items() {
		s, ok := readStep(item)
		if !ok {
			p.Problem = true
			continue
		}
		p.Steps = append(p.Steps, s)
		p.nodes = append(p.nodes, item.node)
	}
}

// ReadProtocol reads a protocol, built-in or the person's own. A problem in a
// step costs that step; where it costs the whole file, the protocol has no
// name.
func ReadProtocol(file string, data []byte) (ferment.Protocol, []ferment.Problem) {
	r := newReader(file, data, time.UTC)
	p := plan{aProtocol: ferment.Protocol{File: file, Source: string(data)}}
	readable := r.file("format: 1, name and steps", func(root value) { protocolTable.read(root, &p) })
	if !readable {
		return ferment.Protocol{File: file, Source: string(data), Problem: true}, r.problems
	}
	if p.Name == "" {
		p.Name = strings.TrimSuffix(path.Base(file), ".yaml")
	}
	r.checkPlan(&p)
	ferment.SortProblems(r.problems)
	return p.aProtocol, r.problems
}

// checkPlan leaves out the steps that cannot be planned. A fragment may build
// on steps of the protocol it follows, which is not known here.
func (r *reader) checkPlan(p *plan) {
	var elsewhere func(string) bool
	if p.Ending != "" || p.Problem {
		elsewhere = func(string) bool { return true }
	}
	bad := map[int]bool{}
	for _, e := range protocol.Check(p.aProtocol, elsewhere) {
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
	parsed("every", "1 d", ferment.ParseOffset, func(r *ferment.Repeat, o ferment.Offset) { r.Every = o }),
	when("until", "pitch + 5 d", func(r *ferment.Repeat, w ferment.When) { r.Until = &w }),
	whole("at-most", "3", 1, 1000, func(r *ferment.Repeat) *int { return &r.AtMost }),
	field[ferment.Repeat]{key: "at", example: "[3 d, 5 d]", read: readOffsets},
	when("from", "pitch", func(r *ferment.Repeat, w ferment.When) { r.From = &w }),
)

func readOffsets(v value, r *ferment.Repeat) {
	for _, item := range v.items() {
		s, ok := item.word()
		if !ok {
			continue
		}
		o, err := ferment.ParseOffset(s)
		if err != nil {
			item.refuse(err)
			continue
		}
		r.At = append(r.At, o)
	}
}

var quietTable = tableOf("a quiet period",
	when("from", "pitch + 14 d", func(q *ferment.Quiet, w ferment.When) { q.From = w }),
	when("to", "quiet + 60 d", func(q *ferment.Quiet, w ferment.When) { q.To = w }),
)

// parsePart reads a share of the need as a number from 0 to 1.
func parsePart(s string) (float64, error) {
	g, err := measure.ParseShare(s)
	return float64(g.Value) / 100, err
}
