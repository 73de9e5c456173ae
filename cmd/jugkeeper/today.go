package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
)

func todayCommand(w world, f *flags) *cobra.Command {
	var days, width int
	cmd := &cobra.Command{
		Use:               "today [NAME…]",
		Short:             "What each vessel needs today",
		Example:           "  jugkeeper today\n  jugkeeper today bh-a --days 7\n  jugkeeper today --json",
		ValidArgsFunction: w.completeNames(f, 99, session.subjects),
		RunE: func(_ *cobra.Command, given []string) error {
			if err := sensibleDays(days); err != nil {
				return err
			}
			s, err := w.openToShow(*f)
			if err != nil {
				return err
			}
			if days > 0 {
				s.first = foreseen(s.first)
			}
			ids, chosen, err := s.chosen(given)
			if err != nil {
				return err
			}
			if f.json {
				err = writeJSON(w.stdout, todayOf(s.first, chosen, days))
			} else {
				err = w.paper(*f, narrowed(s.first, chosen, len(given) > 0), days, width)
			}
			if err != nil {
				return err
			}
			return s.troubled(w, ids)
		},
	}
	cmd.Flags().IntVar(&days, "days", 0, "look `N` days ahead")
	cmd.Flags().IntVar(&width, "width", 0, "write in `N` columns, from 30 on")
	return cmd
}

// foreseen is a snapshot whose dates ahead come from forecasts.
func foreseen(s app.Snapshot) app.Snapshot {
	vs := make([]app.Vessel, len(s.Vessels))
	for i, v := range s.Vessels {
		vs[i], _ = app.Foreseen(v)
	}
	s.Vessels = vs
	return s
}

// chosen are the vessels that names mean, all where none is named.
func (s session) chosen(names []string) (ids []string, vs []app.Vessel, err error) {
	if len(names) == 0 {
		return nil, append(append(vs, s.first.Vessels...), s.first.Cultures...), nil
	}
	for _, name := range names {
		more, err := s.named(name)
		if err != nil {
			return nil, nil, err
		}
		ids = append(ids, more...)
	}
	vs, err = s.first.FindAll(ids)
	return ids, vs, err
}

// narrowed is a snapshot of some vessels alone.
func narrowed(s app.Snapshot, vs []app.Vessel, some bool) app.Snapshot {
	if !some {
		return s
	}
	s.Vessels, s.Cultures = nil, nil
	for _, v := range vs {
		if v.Culture != nil {
			s.Cultures = append(s.Cultures, v)
		} else {
			s.Vessels = append(s.Vessels, v)
		}
	}
	s.Cellar.Problems, s.Cellar.Lots = nil, nil
	return s
}

// paper writes the day as a person would read it on a sheet of paper.
func (w world) paper(f flags, s app.Snapshot, days, width int) error {
	columns, isTerminal := terminal(w.stdout)
	switch {
	case width != 0 && width < 30:
		return usage("--width %d is too narrow: 30 columns or more, e.g. --width 38", width)
	case width != 0:
		columns = width
	case !isTerminal:
		columns = 80
	}
	day := words.Ahead(s, days)
	if f.plain || isTerminal && w.dumb() {
		_, err := fmt.Fprint(w.stdout, board.Plain(day, columns))
		return err
	}
	_, err := fmt.Fprint(w.stdout, board.Today(day, columns, w.theme(s.Cellar.Settings, isTerminal)))
	return err
}

func sensibleDays(days int) error {
	if days < 0 || days > 366 {
		return usage("--days %d is not a number of days ahead: 0 to 366, e.g. --days 7", days)
	}
	return nil
}
