package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
)

func todayCommand(w world, f *flags) *cobra.Command {
	var days, width int
	var one, ask bool
	cmd := &cobra.Command{
		Use:               "today [NAME…]",
		Short:             "What each vessel needs today",
		Example:           "  jugkeeper today\n  jugkeeper today bh-a --days 7\n  jugkeeper today --line --exit-code\n  jugkeeper today --json",
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
			shown := narrowed(s.first, chosen, len(given) > 0)
			switch {
			case one && (f.json || days > 0 || width > 0):
				return usage("--line goes with no other form: leave --json, --days and --width out, e.g. jugkeeper today --line")
			case one:
				_, err = fmt.Fprintln(w.stdout, words.Of(shown).OneLine())
			case f.json:
				err = writeJSON(w.stdout, todayOf(s.first, chosen, days))
			default:
				err = w.paper(*f, shown, days, width)
			}
			if err == nil {
				err = s.troubled(w, ids)
			}
			if err != nil || !ask {
				return err
			}
			return urgency(shown)
		},
	}
	cmd.Flags().BoolVar(&one, "line", false, "write one line, for a prompt or a status bar")
	cmd.Flags().BoolVar(&ask, "exit-code", false, "end with 10 where something is late, 11 where something is dangerous")
	cmd.Flags().IntVar(&days, "days", 0, "look `N` days ahead")
	cmd.Flags().IntVar(&width, "width", 0, "write in `N` columns, from 30 on")
	return cmd
}

// urgency is the status that is asked for with --exit-code; what it is about has been
// written.
func urgency(s app.Snapshot) error {
	switch danger, late := words.Of(s).Urgent(); {
	case danger:
		return &silent{&failure{dangerous, errors.New("something is dangerous")}}
	case late:
		return &silent{&failure{overdue, errors.New("something is late")}}
	}
	return nil
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
