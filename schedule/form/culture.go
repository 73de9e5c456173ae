package form

import (
	"maps"
	"slices"
	"strconv"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/lineage"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

func init() { kinds["culture"] = cultureKind }

// wildPlan is the plan of a culture where nobody names another.
const wildPlan = "wild-culture"

// cultureKind is the form for a culture from the day that it is collected, or
// made from another.
func cultureKind(s app.Snapshot, subject string, given Values) (Form, bool) {
	if v, is := s.Find(subject); is && v.Culture != nil {
		given = maps.Clone(given)
		if given == nil {
			given = Values{}
		}
		given["parent"] = subject
	}
	return laid(Form{Name: "culture", Title: "culture begun"}, given, isolate{s}.lay), true
}

// isolate is a new culture being written down.
type isolate struct{ s app.Snapshot }

func (i isolate) lay(p *page) func() Outcome {
	k := ferment.Culture{Verdict: "trying"}
	k.Name = p.ask(Field{Key: "name", Label: "name", From: "e.g. hawthorn blossom"})
	k.From = i.parent(p)
	k.ID = i.id(p, k)
	k.Source = p.ask(Field{Key: "source", Label: "source", Value: i.culture(k.From).Source, From: "where it is from, e.g. blossom, lane hedge"})
	if plan := p.choose(Field{Key: "protocol", Label: "plan", Value: i.likelyPlan(), Words: append(i.plans(), none)}); plan != none {
		k.Protocol = plan
	}
	e := ferment.Entry{At: p.when(i.s.At), Did: ferment.Collect, Note: p.note()}
	k.Log = []ferment.Entry{e}
	return func() Outcome { return i.work(k) }
}

// parent asks what the culture was made from, where there is any to choose.
func (i isolate) parent(p *page) string {
	ids := []string{none}
	for _, k := range i.s.Cellar.Cultures {
		ids = append(ids, k.ID)
	}
	if len(ids) == 1 {
		return ""
	}
	if id := p.choose(Field{Key: "parent", Label: "made from", Value: none, Words: ids}); id != none {
		return id
	}
	return ""
}

func (i isolate) culture(id string) ferment.Culture {
	n := slices.IndexFunc(i.s.Cellar.Cultures, func(k ferment.Culture) bool { return k.ID == id })
	if n < 0 {
		return ferment.Culture{}
	}
	return i.s.Cellar.Cultures[n]
}

// id asks for what files and commands call it: the next after its parent.
func (i isolate) id(p *page, k ferment.Culture) string {
	var taken []string
	for _, other := range i.s.Cellar.Cultures {
		taken = append(taken, other.ID)
	}
	for _, f := range i.s.Cellar.Ferments { // commands name both
		taken = append(taken, f.ID)
	}
	likely := likelyID(k.Name, "wild", "-1", taken)
	if k.From != "" {
		for likely = next(k.From); isTaken(taken, likely); likely = next(likely) {
		}
	}
	return p.id("name", likely, taken)
}

// plans are the protocols with steps for a culture.
func (i isolate) plans() []string {
	var names []string
	for _, name := range slices.Sorted(maps.Keys(i.s.Cellar.Protocols)) {
		if slices.ContainsFunc(i.s.Cellar.Protocols[name]().Steps, func(s ferment.Step) bool { return s.Culture }) {
			names = append(names, name)
		}
	}
	return names
}

func (i isolate) likelyPlan() string {
	if slices.Contains(i.plans(), wildPlan) {
		return wildPlan
	}
	return none
}

// work is what the culture wants first, and what to beware of.
func (i isolate) work(k ferment.Culture) Outcome {
	o := Outcome{Deed: ferment.Deed{Cultures: []ferment.Culture{k}}}
	v := app.PlanCulture(k, i.s.Cellar, i.s.At)
	o.answer("generation " + ordinal(k, i.s.Cellar.Cultures))
	for _, t := range v.Day.Tasks {
		if t.State != schedule.Due && t.State != schedule.Late {
			continue
		}
		l := words.LineOf(t, v, i.s.At)
		o.answer(joined(" ", l.Act, l.Amount.String(), l.Until))
		o.say(l.Word, joined("; ", l.Act, t.Say))
		if t.Caution != nil {
			o.warn(*t.Caution)
		}
	}
	if k.Protocol == "" {
		o.say(words.Note, "without a plan nothing is asked for")
	}
	o.warn(schedule.Warning("do-not-taste"))
	return o
}

func ordinal(k ferment.Culture, all []ferment.Culture) string {
	n := lineage.Generation(k, all)
	if n == 1 {
		return "1, a first isolate"
	}
	return joined(", ", strconv.Itoa(n), "made from "+k.From)
}
