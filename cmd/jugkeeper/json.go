package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
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

// writeJSON writes a value so that it is read back to the letter and no terminal
// obeys any of it: what one would obey is escaped.
func writeJSON(w io.Writer, v any) error {
	var text strings.Builder
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := io.WriteString(w, escaped(text.String()))
	return err
}

// escaped is JSON with escapes for what a terminal would obey and JSON lets
// stand as it is.
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
	At       string        `json:"at"`
	Cellar   string        `json:"cellar"`
	Ferments []fermentJSON `json:"ferments"`
	Cultures []cultureJSON `json:"cultures"`
	Honey    []honeyJSON   `json:"honey"`
	Problems []problemJSON `json:"problems"`
}

type fermentJSON struct {
	Name           string            `json:"name"`
	Tag            string            `json:"tag"`
	Title          string            `json:"title"`
	Stage          string            `json:"stage"`
	Conditions     []string          `json:"conditions"`
	Day            *float64          `json:"day"`
	Gravity        *gravityJSON      `json:"gravity"`
	Original       *float64          `json:"original"`
	ExpectedFinish *float64          `json:"expected_finish"`
	Alcohol        *float64          `json:"alcohol"`
	Pace           *float64          `json:"pace"`
	Volume         *float64          `json:"volume"`
	Unknown        map[string]string `json:"unknown"`
	Tasks          []taskJSON        `json:"tasks"`
}

type gravityJSON struct {
	Value float64 `json:"value"`
	At    string  `json:"at"`
	From  string  `json:"from"`
}

type cultureJSON struct {
	Name  string     `json:"name"`
	Title string     `json:"title"`
	Tasks []taskJSON `json:"tasks"`
}

type honeyJSON struct {
	Lot     string       `json:"lot"`
	Reason  string       `json:"reason"`
	Caution *cautionJSON `json:"caution"`
}

type taskJSON struct {
	Step       string       `json:"step"`
	Title      string       `json:"title"`
	Occurrence int          `json:"occurrence"`
	Do         string       `json:"do"`
	State      string       `json:"state"`
	Opens      *string      `json:"opens"`
	Due        *string      `json:"due"`
	Expected   *string      `json:"expected"`
	Closes     *string      `json:"closes"`
	Amount     *amountJSON  `json:"amount"`
	Also       []string     `json:"also"`
	Reason     string       `json:"reason"`
	Frees      *string      `json:"frees"`
	Option     bool         `json:"option"`
	Caution    *cautionJSON `json:"caution"`
	Danger     *dangerJSON  `json:"danger,omitempty"`
}

// dangerJSON is a danger that wants somebody now.
type dangerJSON struct {
	Head  string   `json:"head"`
	Steps []string `json:"steps"`
	Text  string   `json:"text"`
	Ends  string   `json:"ends"`
}

type amountJSON struct {
	Value   *float64 `json:"value"`
	Unit    string   `json:"unit"`
	Of      string   `json:"of"`
	Words   string   `json:"words,omitempty"`
	How     string   `json:"how,omitempty"`
	Assumed string   `json:"assumed,omitempty"`
}

type cautionJSON struct {
	Loud string `json:"loud"`
	Text string `json:"text"`
}

type problemJSON struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
	Text    string `json:"text,omitempty"` // the line as it stands
}

type checkJSON struct {
	Problems []problemJSON `json:"problems"`
	Remarks  []problemJSON `json:"remarks"`
}

func problemsJSON(ps []ferment.Problem) []problemJSON {
	out := make([]problemJSON, len(ps))
	for i, p := range ps {
		out[i] = problemJSON{p.File, p.Line, p.Column, p.Message, p.Text}
	}
	return out
}

// todayOf is the day as data: with days, what is coming in them too.
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

// lotsJSON are the honey lots to know something of.
func lotsJSON(c ferment.Cellar, now time.Time) []honeyJSON {
	out := []honeyJSON{}
	for _, n := range schedule.LotNotices(c, now) {
		out = append(out, honeyJSON{n.Lot, n.Reason, &cautionJSON{string(n.Caution.Loud), n.Caution.Text}})
	}
	return out
}

// todays are the tasks that a day's list holds, as the board and the printed day
// have them, without what is done or skipped.
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
		Conditions: []string{}, Unknown: map[string]string{},
	}
	for _, k := range c.Conditions {
		out.Conditions = append(out.Conditions, string(k.Name))
	}
	out.Day = number(out.Unknown, "day", dayOf(c), 1)
	if g := c.Gravity; g.IsKnown() {
		out.Gravity = &gravityJSON{round(float64(g.Value.Gravity), 4), stamp(g.Value.At), string(g.Value.From)}
	} else {
		out.Unknown["gravity"] = g.Unknown
	}
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

func dayOf(c course.Course) course.Figure[float64] {
	if !c.Pitch.Known {
		return course.Unknown[float64]("not pitched yet")
	}
	return course.Known(c.Now.Sub(c.Pitch.At).Hours() / 24)
}

// number is a figure's value, or null with the reason under its name.
func number[T ~float64](unknown map[string]string, name string, f course.Figure[T], places int) *float64 {
	if !f.IsKnown() {
		unknown[name] = f.Unknown
		return nil
	}
	v := round(float64(f.Value), places)
	return &v
}

func tasksJSON(ts []schedule.Task) []taskJSON {
	out := make([]taskJSON, len(ts))
	for i, t := range ts {
		out[i] = taskJSON{
			Step: t.Step, Title: words.ActLabel(t), Occurrence: t.Occurrence, Do: t.Do, State: string(t.State),
			Opens: orNull(t.Opens), Due: orNull(t.Due), Closes: orNull(t.Closes),
			Amount: amountOf(t.Amount), Also: []string{}, Reason: t.Reason, Option: t.Option,
		}
		if t.Expected != nil {
			out[i].Expected = orNull(t.Expected.At)
		}
		for _, a := range t.Also {
			out[i].Also = append(out[i].Also, string(a))
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
		v := round(a.Number, 2)
		out.Value = &v
	}
	return out
}

func stamp(t time.Time) string { return t.Format(time.RFC3339) }

func orNull(t time.Time) *string {
	if t.IsZero() {
		return nil
	}
	s := stamp(t)
	return &s
}

func round(v float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(v*p) / p
}

// bottlesJSON is what stands in bottles; a count that nobody wrote is null.
type bottlesJSON struct {
	Left    *int             `json:"left"`
	Drink   *int             `json:"drink"`
	Keep    *int             `json:"keep"`
	Tasting *int             `json:"tasting"`
	Test    *int             `json:"test"`
	Kinds   []bottleKindJSON `json:"kinds"`
}

type bottleKindJSON struct {
	Bottled string   `json:"bottled"`
	Kind    string   `json:"kind"`
	For     string   `json:"for"`
	Size    *float64 `json:"size"` // L
	Fizz    *float64 `json:"fizz"` // g/L, 0 for a still one
	Filled  *int     `json:"filled"`
	Left    *int     `json:"left"`
	Codes   []string `json:"codes"` // not known to have gone
}

// bottlesOf is nil while nothing is bottled.
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

func counted(c shelf.Count) *int {
	if c.Unknown {
		return nil
	}
	return &c.N
}

func given[T ~float64](g measure.Given[T], places int) *float64 {
	if !g.Known() {
		return nil
	}
	v := round(float64(g.Value), places)
	return &v
}
