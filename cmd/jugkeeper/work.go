package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

func workCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:   "work [FIGURE key=value…]",
		Short: "Work out a figure, or list all of them",
		Example: "  jugkeeper work\n  jugkeeper work alcohol og=1.100 fg=0.996\n" +
			"  jugkeeper work prime volume=3.05L alcohol=11.5% warmest=19C target=5g/L bottle='crown beer bottle 330mL'",
		Args:              args(cobra.ArbitraryArgs),
		ValidArgsFunction: completeFigure,
		RunE: func(_ *cobra.Command, given []string) error {
			if len(given) == 0 {
				return listFigures(w, *f)
			}
			figure, err := bench.Find(given[0])
			if err != nil {
				return usage("%w", err)
			}
			values, err := keyValues(given[1:], figure.Example())
			if err != nil {
				return err
			}
			settings := w.settings(*f)
			answer, err := figure.Work(values, settings)
			if err != nil {
				return usage("%w", err)
			}
			if f.json {
				return writeJSON(w.stdout, answerOf(answer))
			}
			w.answer(*f, answer, settings.Units)
			return nil
		},
	}
}

func listFigures(w world, f flags) error {
	if f.json {
		return writeJSON(w.stdout, ferment.Map(bench.Figures(), figureOf))
	}
	for _, fig := range bench.Figures() {
		fmt.Fprintf(w.out(f), "%-14s%s\n", fig.Name, fig.Use)
		for _, way := range fig.Ways {
			fmt.Fprintf(w.out(f), "%14s%s\n", "", keysOf(way))
		}
	}
	return nil
}

func keysOf(way bench.Way) string {
	var keys []string
	for _, k := range way.Keys {
		if k.Optional {
			keys = append(keys, "["+k.Name+"=]")
		} else {
			keys = append(keys, k.Name+"=")
		}
	}
	return strings.Join(keys, " ")
}

// keyValues returns the values given as key=value, without repeats.
func keyValues(given []string, example string) (map[string]string, error) {
	values := map[string]string{}
	for _, g := range given {
		key, value, is := strings.Cut(g, "=")
		key = strings.ToLower(strings.TrimSpace(key))
		switch {
		case !is || strings.TrimSpace(value) == "":
			return nil, usage("%q is not a key=value, e.g. %s", g, example)
		case values[key] != "":
			return nil, usage("%s is given twice", key)
		}
		values[key] = value
	}
	return values, nil
}

// settings returns those of the cellar, else the defaults: a figure needs no cellar.
func (w world) settings(f flags) ferment.Settings {
	_, store := w.store(f)
	c, err := store.Load(w.clock())
	if err != nil {
		return ferment.DefaultSettings(w.clock().Location())
	}
	return c.Settings
}

// answer writes an answer: the numbers, then assumptions and sources.
func (w world) answer(f flags, a bench.Answer, units measure.System) {
	to := w.out(f)
	for _, r := range a.Results {
		number, unit := r.In(units)
		fmt.Fprintf(to, "%-18s%s\n", r.Label(), strings.TrimSpace(number+" "+unit))
	}
	if len(a.Table.Rows) > 0 {
		fmt.Fprintln(to)
		w.table(f, append([][]string{a.Table.Head}, a.Table.Rows...))
	}
	fmt.Fprintln(to)
	for _, c := range a.Cautions {
		fmt.Fprintf(to, "%-18s%s\n", w.loud(f, c.Loud), c.Text)
	}
	for _, line := range a.Assumed {
		fmt.Fprintf(to, "%-18s%s\n", "assumed", line)
	}
	for _, line := range [][2]string{
		{"equation", a.Figure.Equation}, {"source", a.Figure.Source}, {"range", a.Figure.Range}, {"uncertainty", a.Figure.Uncertainty},
	} {
		fmt.Fprintf(to, "%-18s%s\n", line[0], line[1])
	}
}

// loud returns the word of a caution; in capitals with --plain.
func (w world) loud(f flags, word string) string {
	if f.plain {
		return strings.ToUpper(word)
	}
	return word
}

type answerJSON struct {
	Figure      string                `json:"figure" does:"the name of the figure"`
	Inputs      map[string]string     `json:"inputs" does:"the values that you gave, by key"`
	Result      map[string]resultJSON `json:"result" does:"what was worked out, by name"`
	Assumed     []string              `json:"assumed" does:"what was assumed"`
	Equation    string                `json:"equation" does:"the equation, by its name or form"`
	Source      string                `json:"source" does:"where it comes from"`
	Range       string                `json:"range" does:"for which values it is right"`
	Uncertainty string                `json:"uncertainty" does:"how far it may be off"`
	Cautions    []cautionJSON         `json:"cautions" does:"what to be careful about"`
}

type resultJSON struct {
	Value float64 `json:"value" does:"the number"`
	Unit  string  `json:"unit" does:"the unit of the number"`
}

func answerOf(a bench.Answer) answerJSON {
	out := answerJSON{
		Figure: a.Figure.Name, Inputs: map[string]string{}, Result: map[string]resultJSON{}, Assumed: a.Assumed,
		Equation: a.Figure.Equation, Source: a.Figure.Source, Range: a.Figure.Range, Uncertainty: a.Figure.Uncertainty, Cautions: []cautionJSON{},
	}
	if out.Assumed == nil {
		out.Assumed = []string{}
	}
	for _, i := range a.Inputs {
		out.Inputs[i.Key] = i.Text
	}
	for _, r := range a.Results {
		out.Result[r.Name] = resultJSON{measure.Round(r.Value, r.Places+3), r.Unit}
	}
	out.Cautions = ferment.Map(a.Cautions, func(c bench.Caution) cautionJSON { return cautionJSON{c.Loud, c.Text} })
	return out
}

type figureJSON struct {
	Name    string   `json:"name" does:"its name, for jugkeeper work"`
	Use     string   `json:"use" does:"what it works out"`
	Keys    []string `json:"keys" does:"the keys it is worked out from, one line for each way; those in brackets are optional"`
	Source  string   `json:"source" does:"where it comes from"`
	Example string   `json:"example" does:"an example with all values it needs"`
}

func figureOf(f bench.Figure) figureJSON {
	return figureJSON{Name: f.Name, Use: f.Use, Source: f.Source, Example: f.Example(), Keys: ferment.Map(f.Ways, keysOf)}
}

func compareCommand(w world, f *flags) *cobra.Command {
	var yeast string
	cmd := &cobra.Command{
		Use:     "compare NAME NAME…",
		Short:   "Compare two to four ferments, open or closed",
		Example: "  jugkeeper compare lime-a lime-b\n  jugkeeper compare --yeast 'dry wine yeast'",
		Args: args(func(cmd *cobra.Command, given []string) error {
			if yeast != "" {
				return cobra.NoArgs(cmd, given)
			}
			return cobra.RangeArgs(2, 4)(cmd, given)
		}),
		ValidArgsFunction: w.completeNames(f, 4, session.withPast),
		RunE: func(_ *cobra.Command, given []string) error {
			s, err := w.openToShow(*f)
			if err != nil {
				return err
			}
			if yeast != "" {
				return w.ofYeast(*f, s, yeast)
			}
			vs, ids, err := s.besides(given)
			if err != nil {
				return err
			}
			b := words.SideBySide(vs)
			if f.json {
				err = writeJSON(w.stdout, compareOf(b, vs, s.first))
			} else {
				b.Figures = append(b.Figures, words.Expected(vs, ferment.Map(vs, forecastFor))...)
				w.beside(*f, b)
			}
			if err != nil {
				return err
			}
			return s.troubled(ids)
		},
	}
	cmd.Flags().StringVar(&yeast, "yeast", "", "show what your ferments with the yeast `NAME` did, and what the next may do")
	return cmd
}

// besides returns open and closed ferments by their names, planned.
func (s session) besides(names []string) (vs []app.Vessel, ids []string, err error) {
	for _, name := range names {
		open, err := s.named(name)
		if err == nil {
			v, _ := s.first.Find(open[0])
			vs, ids = append(vs, v), append(ids, open[0])
			continue
		}
		var broken *failure
		if errors.As(err, &broken) {
			return nil, nil, err
		}
		f, err := s.openOrPast(name)
		if err != nil {
			return nil, nil, err
		}
		vs = append(vs, app.Plan(f, s.first.Cellar, s.now))
	}
	return vs, ids, nil
}

func forecastFor(v app.Vessel) forecast.Forecast {
	_, f := app.Foreseen(v)
	return f
}

// beside writes a comparison as tables: figures, differences, tastings.
func (w world) beside(f flags, b words.Comparison) {
	head := append([]string{""}, b.Labels...)
	if len(b.Labels) == 2 {
		head = append(head, "differ by")
	}
	table := append([][]string{head}, ferment.Map(b.Figures, func(c words.Compared) []string {
		return append(append([]string{c.Name}, c.Values...), c.Apart)
	})...)
	table = append(table, nil, append([]string{"what differs"}, b.Labels...))
	for _, d := range b.Differs {
		table = append(table, append(append([]string{d.What}, d.Values...), d.Says))
	}
	for _, a := range b.Aged {
		table = append(table, nil, append([]string{a.Name}, b.Labels...))
		table = append(table, ferment.Map(a.Rows, func(c words.Compared) []string { return append([]string{c.Name}, c.Values...) })...)
	}
	w.table(f, table)
	if b.Triangle != "" {
		fmt.Fprintln(w.out(f), "\ntriangle tests: "+b.Triangle)
	}
}

type compareJSON struct {
	Ferments []showJSON    `json:"ferments" does:"each ferment, as in show"`
	Differs  []differsJSON `json:"differs" does:"everything in which their records differ"`
}

type differsJSON struct {
	What     string            `json:"what" does:"the key that differs"`
	Values   map[string]string `json:"values" does:"the value of each ferment, by name"`
	Declared bool              `json:"declared" does:"true if it is the declared difference of the trial"`
}

func compareOf(b words.Comparison, vs []app.Vessel, s app.Snapshot) compareJSON {
	out := compareJSON{Ferments: ferment.Map(vs, func(v app.Vessel) showJSON { return showOf(v, s, daysAhead) }), Differs: []differsJSON{}}
	for _, d := range b.Differs {
		values := map[string]string{}
		for i, v := range vs {
			values[v.ID()] = d.Values[i]
		}
		out.Differs = append(out.Differs, differsJSON{d.What, values, d.Says == words.Declared})
	}
	return out
}
