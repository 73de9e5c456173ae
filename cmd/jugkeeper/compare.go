package main

import (
	"errors"
	"github.com/spf13/cobra"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

func compareCommand(w world, f *flags) *cobra.Command {
	var yeast string
	cmd := &cobra.Command{
		Use:     "compare NAME NAME…",
		Short:   "Two to four ferments side by side, closed ones too",
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
				w.beside(*f, b)
			}
			if err != nil {
				return err
			}
			return s.troubled(w, ids)
		},
	}
	cmd.Flags().StringVar(&yeast, "yeast", "", "what your ferments with the yeast `NAME` did, and what the next may do")
	return cmd
}

// besides are the ferments that names mean, open or closed.
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

// beside writes the comparison as a table: figures, differences, tastings.
func (w world) beside(f flags, b words.Comparison) {
	head := append([]string{""}, b.Labels...)
	if len(b.Labels) == 2 {
		head = append(head, "apart")
	}
	table := [][]string{head}
	for _, c := range b.Figures {
		table = append(table, append(append([]string{c.Name}, c.Values...), c.Apart))
	}
	table = append(table, nil, append([]string{"what differs"}, b.Labels...))
	for _, d := range b.Differs {
		declared := ""
		switch {
		case d.Declared:
			declared = "declared"
		case b.Trial.Name != "":
			declared = "not declared"
		}
		table = append(table, append(append([]string{d.What}, d.Values...), declared))
	}
	if len(b.Tastings) > 0 {
		table = append(table, nil, append([]string{"tasted, by age"}, b.Labels...))
	}
	for _, c := range b.Tastings {
		table = append(table, append([]string{c.Name}, c.Values...))
	}
	w.table(f, table)
}

type compareJSON struct {
	Ferments []showJSON    `json:"ferments"`
	Differs  []differsJSON `json:"differs"`
}

type differsJSON struct {
	What     string            `json:"what"`
	Values   map[string]string `json:"values"`
	Declared bool              `json:"declared"`
}

func compareOf(b words.Comparison, vs []app.Vessel, s app.Snapshot) compareJSON {
	out := compareJSON{Ferments: []showJSON{}, Differs: []differsJSON{}}
	for _, v := range vs {
		out.Ferments = append(out.Ferments, showOf(v, s, daysAhead))
	}
	for _, d := range b.Differs {
		values := map[string]string{}
		for i, v := range vs {
			values[v.ID()] = d.Values[i]
		}
		out.Differs = append(out.Differs, differsJSON{d.What, values, d.Declared})
	}
	return out
}
