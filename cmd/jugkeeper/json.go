package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// writeJSON writes a value as JSON, with control characters escaped.
func writeJSON(w io.Writer, v any) error {
	var text strings.Builder
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := io.WriteString(w, escaped(versioned(text.String())))
	return err
}

// escaped returns JSON with escapes for characters that a terminal would interpret.
func escaped(text string) string {
	var out strings.Builder
	for _, r := range text {
		if r == '\n' || ferment.Harmless(string(r)) == string(r) {
			out.WriteRune(r)
		} else {
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	return out.String()
}

type todayJSON struct {
	At       string        `json:"at" does:"the time that everything here is worked out for"`
	Cellar   string        `json:"cellar" does:"the folder of the cellar"`
	Ferments []fermentJSON `json:"ferments" does:"the open ferments, or those that you named"`
	Cultures []cultureJSON `json:"cultures" does:"the cultures of yeast"`
	Honey    []honeyJSON   `json:"honey" does:"honey lots that need attention"`
	Problems []problemJSON `json:"problems" does:"what cannot be read in the files"`
}

type fermentJSON struct {
	Name           string            `json:"name" does:"the name of its file, without .yaml"`
	Tag            string            `json:"tag" does:"the code on the vessel"`
	Title          string            `json:"title" does:"what it is called"`
	Stage          string            `json:"stage" does:"mixed, lag, working, slowing, clearing, steady or bottled"`
	Conditions     []string          `json:"conditions" does:"the conditions that are true now, e.g. stuck"`
	Day            *float64          `json:"day" does:"days since the pitch"`
	Gravity        *gravityJSON      `json:"gravity" does:"the last reading that is trusted"`
	Present        *float64          `json:"present" does:"gravity now: the last reading with what went in since"`
	Original       *float64          `json:"original" does:"gravity before the pitch"`
	ExpectedFinish *float64          `json:"expected_finish" does:"the gravity at which it is expected to end"`
	Alcohol        *float64          `json:"alcohol" does:"% vol"`
	Pace           *float64          `json:"pace" does:"how much gravity falls in a day, in thousandths"`
	Volume         *float64          `json:"volume" does:"litres in the vessel"`
	Unknown        map[string]string `json:"unknown" does:"for each figure that is null, the reason"`
	Tasks          []taskJSON        `json:"tasks" does:"what is due, late or held, what became too late since yesterday, and with --days what is coming"`
}

type gravityJSON struct {
	Value float64 `json:"value" does:"the gravity, corrected, SG"`
	At    string  `json:"at" does:"when it was read"`
	From  string  `json:"from" does:"the instrument; must or started if no instrument was used"`
}

type cultureJSON struct {
	Name  string     `json:"name" does:"its id"`
	Title string     `json:"title" does:"what it is called"`
	Tasks []taskJSON `json:"tasks" does:"as for a ferment"`
}

type honeyJSON struct {
	Lot     string       `json:"lot" does:"its id"`
	Reason  string       `json:"reason" does:"why it needs attention"`
	Caution *cautionJSON `json:"caution" does:"the caution that belongs to it"`
}

type taskJSON struct {
	Step       string       `json:"step" does:"the step of the plan"`
	Title      string       `json:"title" does:"what to do, in words"`
	Occurrence int          `json:"occurrence" does:"for a step that repeats: which time it is, counted from 1"`
	Do         string       `json:"do" does:"the act or measurement that marks it as done"`
	State      string       `json:"state" does:"waiting, due, late, held, done, skipped or lapsed"`
	Opens      *string      `json:"opens" does:"the earliest time to do it"`
	Due        *string      `json:"due" does:"the best time to do it"`
	Expected   *string      `json:"expected" does:"about when it will be due, if that depends on readings to come"`
	Closes     *string      `json:"closes" does:"the latest time to do it"`
	Amount     *amountJSON  `json:"amount" does:"how much is planned"`
	Also       []string     `json:"also" does:"acts to do just before it"`
	Reason     string       `json:"reason" does:"why it is in this state"`
	Frees      *string      `json:"frees" does:"for a held task: what to do or measure first"`
	Option     bool         `json:"option" does:"true if it is only offered"`
	Caution    *cautionJSON `json:"caution" does:"what to take care of"`
	Danger     *dangerJSON  `json:"danger,omitempty" does:"a danger that somebody must see to now"`
}

type dangerJSON struct {
	Head  string   `json:"head" does:"the danger, in a few words"`
	Steps []string `json:"steps" does:"what to do, in order"`
	Text  string   `json:"text" does:"the danger, with its reason"`
	Ends  string   `json:"ends" does:"the act that ends it"`
}

type amountJSON struct {
	Value   *float64 `json:"value" does:"the number; null if it is not known"`
	Unit    string   `json:"unit" does:"the unit of the number"`
	Of      string   `json:"of" does:"what to add"`
	Words   string   `json:"words,omitempty" does:"the amount in words, if there is no number"`
	How     string   `json:"how,omitempty" does:"how it was worked out"`
	Assumed string   `json:"assumed,omitempty" does:"what was assumed for it"`
}

type cautionJSON struct {
	Loud string `json:"loud" does:"how serious it is: stop, warn or note"`
	Text string `json:"text" does:"the caution, in words"`
}

type problemJSON struct {
	File    string `json:"file" does:"the file, seen from the folder of the cellar"`
	Line    int    `json:"line" does:"the line, counted from 1; 0 for the whole file"`
	Column  int    `json:"column" does:"the column, counted from 1; 0 for the whole line"`
	Message string `json:"message" does:"what is wrong, with a right example"`
	Text    string `json:"text,omitempty" does:"the line as it is in the file"`
}

type checkJSON struct {
	Problems []problemJSON `json:"problems" does:"what cannot be read, in every file"`
	Remarks  []problemJSON `json:"remarks" does:"what is allowed but unlikely"`
}

func problemsJSON(ps []ferment.Problem) []problemJSON {
	return ferment.Map(ps, func(p ferment.Problem) problemJSON { return problemJSON{p.File, p.Line, p.Column, p.Message, p.Text} })
}

// todayOf returns the day as data, for some days also coming tasks.
func todayOf(s app.Snapshot, chosen []app.Vessel, days int) todayJSON {
	out := todayJSON{
		At: stamp(s.At), Cellar: s.Cellar.Dir,
		Ferments: []fermentJSON{}, Cultures: []cultureJSON{}, Honey: lotsJSON(s.Cellar, s.At),
		Problems: problemsJSON(s.Cellar.Problems),
	}
	for _, v := range chosen {
		if v.Culture != nil {
			out.Cultures = append(out.Cultures, cultureJSON{v.ID(), v.Culture.Name, tasksJSON(todays(v, days))})
			continue
		}
		f := fermentOf(v)
		f.Tasks = tasksJSON(todays(v, days))
		out.Ferments = append(out.Ferments, f)
	}
	return out
}

func lotsJSON(c ferment.Cellar, now time.Time) []honeyJSON {
	return ferment.Map(schedule.LotNotices(c, now), func(n schedule.LotNotice) honeyJSON {
		return honeyJSON{n.Lot, n.Reason, &cautionJSON{string(n.Caution.Loud), n.Caution.Text}}
	})
}

// todays returns the tasks of the day's list like the board, without done and skipped ones.
func todays(v app.Vessel, days int) []schedule.Task {
	var out []schedule.Task
	for _, l := range words.UpTo(days, v, v.Course.Now) {
		if l.Word != words.Done && l.Word != words.Skipped {
			out = append(out, l.Task)
		}
	}
	return out
}

func fermentOf(v app.Vessel) fermentJSON {
	c := v.Course
	out := fermentJSON{
		Name: v.ID(), Tag: v.Ferment.Tag, Title: v.Ferment.Name, Stage: string(c.Stage),
		Conditions: ferment.Map(c.Conditions, func(k course.Condition) string { return string(k.Name) }), Unknown: map[string]string{},
	}
	out.Day = number(out.Unknown, "day", dayOf(c), 1)
	if g := c.Gravity; g.IsKnown() {
		out.Gravity = &gravityJSON{measure.Round(float64(g.Value.Gravity), 4), stamp(g.Value.At), string(g.Value.From)}
	} else {
		out.Unknown["gravity"] = g.Unknown
	}
	out.Present = number(out.Unknown, "present", c.Present, 4)
	out.Original = number(out.Unknown, "original", c.Original.Figure, 4)
	out.ExpectedFinish = number(out.Unknown, "expected_finish", c.Finish, 4)
	out.Alcohol = number(out.Unknown, "alcohol", c.Alcohol, 2)
	out.Pace = number(out.Unknown, "pace", c.Pace, 1)
	out.Volume = number(out.Unknown, "volume", c.Volume, 3)
	if v.Trouble != "" {
		out.Unknown["tasks"] = v.Trouble
	}
	return out
}

func dayOf(c *course.Course) course.Figure[float64] {
	if !c.Pitch.Known {
		return course.Unknown[float64]("not pitched yet")
	}
	return course.Known(c.Now.Sub(c.Pitch.At).Hours() / 24)
}

// number returns a figure's value, or null and the reason under its name.
func number[T ~float64](unknown map[string]string, name string, f course.Figure[T], places int) *float64 {
	if !f.IsKnown() {
		unknown[name] = f.Unknown
		return nil
	}
	v := measure.Round(float64(f.Value), places)
	return &v
}

func tasksJSON(ts []schedule.Task) []taskJSON {
	out := make([]taskJSON, len(ts))
	for i, t := range ts {
		out[i] = taskJSON{
			Step: t.Step, Title: words.ActLabel(t), Occurrence: t.Occurrence, Do: t.Do, State: string(t.State),
			Opens: orNull(t.Opens), Due: orNull(t.Due), Closes: orNull(t.Closes),
			Amount: amountOf(t.Amount), Also: ferment.Texts(t.Also), Reason: t.Reason, Option: t.Option,
		}
		if t.Expected != nil {
			out[i].Expected = orNull(t.Expected.At)
		}
		if t.Frees != "" {
			out[i].Frees = &t.Frees
		}
		if a := t.Alarm; a != nil {
			out[i].Danger = &dangerJSON{a.Head, a.Steps, a.Long, a.Ends}
		}
		if t.Caution != nil {
			out[i].Caution = &cautionJSON{string(t.Caution.Loud), t.Caution.Text}
		}
	}
	return out
}

func amountOf(a *schedule.Amount) *amountJSON {
	if a == nil {
		return nil
	}
	out := &amountJSON{Unit: a.Unit, Of: a.Of, Words: a.Words, How: a.How, Assumed: a.Assumed}
	if a.Known {
		v := measure.Round(a.Number, 2)
		out.Value = &v
	}
	return out
}

func stamp(t time.Time) string { return t.Format(time.RFC3339) }

// orNull writes a time, null for none.
func orNull(t time.Time) *string {
	if t.IsZero() {
		return nil
	}
	s := stamp(t)
	return &s
}

// bottlesJSON is the bottles; an unknown count is null.
type bottlesJSON struct {
	Left    *int             `json:"left" does:"how many bottles are left"`
	Drink   *int             `json:"drink" does:"how many of these are to drink"`
	Keep    *int             `json:"keep" does:"how many are to keep"`
	Tasting *int             `json:"tasting" does:"how many are for tastings"`
	Test    *int             `json:"test" does:"how many are for tests"`
	Kinds   []bottleKindJSON `json:"kinds" does:"the bottles, by bottling and kind"`
}

type bottleKindJSON struct {
	Bottled string   `json:"bottled" does:"when they were filled"`
	Kind    string   `json:"kind" does:"the kind of bottle"`
	For     string   `json:"for" does:"drink, keep, tasting or test"`
	Size    *float64 `json:"size" does:"the volume of one, in litres"`
	Fizz    *float64 `json:"fizz" does:"carbon dioxide in g/L; 0 for still mead"`
	Filled  *int     `json:"filled" does:"how many were filled"`
	Left    *int     `json:"left" does:"how many are left"`
	Codes   []string `json:"codes" does:"the codes of the bottles that are left, as far as known"`
}

func bottlesOf(s shelf.Shelf) *bottlesJSON {
	if len(s.Batches) == 0 {
		return nil
	}
	out := &bottlesJSON{
		Left: counted(s.Left()), Drink: counted(s.Left(shelf.Drink)), Keep: counted(s.Left(shelf.Keep)),
		Tasting: counted(s.Left(shelf.Tasting)), Test: counted(s.Left(shelf.Test)), Kinds: []bottleKindJSON{},
	}
	for _, b := range s.Batches {
		for _, l := range b.Lines {
			out.Kinds = append(out.Kinds, bottleKindJSON{
				Bottled: stamp(b.At), Kind: l.As.Kind, For: l.Purpose(), Size: given(l.As.Size, 4), Fizz: given(b.Fizz, 2),
				Filled: counted(l.Filled), Left: counted(l.Left), Codes: append([]string{}, l.Codes...),
			})
		}
	}
	return out
}

// counted writes a count, null for an unknown one.
func counted(c shelf.Count) *int {
	if c.Unknown {
		return nil
	}
	return &c.N
}

// given writes a value, null for one that was not given.
func given[T ~float64](g measure.Given[T], places int) *float64 {
	if !g.Known() {
		return nil
	}
	v := measure.Round(float64(g.Value), places)
	return &v
}
