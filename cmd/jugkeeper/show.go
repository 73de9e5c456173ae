package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
)

func showCommand(w world, f *flags) *cobra.Command {
	var days int
	cmd := &cobra.Command{
		Use:               "show NAME",
		Short:             "One ferment, open or closed: figures, plan, log",
		Example:           "  jugkeeper show bh-a\n  jugkeeper show bh-a --json",
		Args:              args(cobra.ExactArgs(1)),
		ValidArgsFunction: w.completeNames(f, 1, session.subjects),
		RunE: func(_ *cobra.Command, given []string) error {
			if err := sensibleDays(days); err != nil {
				return err
			}
			s, err := w.openToShow(*f)
			if err != nil {
				return err
			}
			vs, ids, err := s.besides(given)
			if err != nil {
				return err
			}
			v := vs[0]
			if f.json {
				err = writeJSON(w.stdout, showOf(v, s.first, days))
			} else {
				err = w.page(*f, v, s.first)
			}
			if err != nil {
				return err
			}
			return s.troubled(w, ids)
		},
	}
	cmd.Flags().IntVar(&days, "days", daysAhead, "draw the forecast `N` days ahead, with --json")
	return cmd
}

// troubled tells of the problems in the files that were asked for by name, and
// fails where there are any.
func (s session) troubled(w world, ids []string) error {
	var found []ferment.Problem
	for _, id := range ids {
		found = append(found, problemsOf(s.first.Cellar, id)...)
	}
	return tellProblems(w, found)
}

// tellProblems writes problems where diagnostics go, and fails if there are
// any.
func tellProblems(w world, ps []ferment.Problem) error {
	for _, p := range ps {
		fmt.Fprintln(w.stderr, p)
	}
	if len(ps) > 0 {
		return &silent{&failure{saidNo, errors.New("a file has a problem")}}
	}
	return nil
}
