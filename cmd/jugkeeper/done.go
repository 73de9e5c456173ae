package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

func doneCommand(w world, f *flags) *cobra.Command {
	var note, because string
	cmd := &cobra.Command{
		Use:   "done NAME[,NAME…] STEP [AMOUNT]",
		Short: "Mark what is due as done",
		Example: "  jugkeeper done bh-a nutrient            the planned amount\n" +
			"  jugkeeper done bh-a nutrient-2 1.5g\n" +
			"  jugkeeper done bh-a,bh-b degas",
		Args:              args(cobra.MinimumNArgs(2)),
		ValidArgsFunction: w.completeTask(f, canBeDone),
		RunE: func(_ *cobra.Command, given []string) error {
			s, ids, err := w.openFor(*f, given[0])
			if err != nil {
				return err
			}
			wish, err := s.wish(given[1], given[2:])
			if err != nil {
				return err
			}
			wish.Note, wish.Because = note, because
			kept, err := s.app.Done(s.now, ids, wish)
			tell(w, s, kept)
			return err
		},
	}
	cmd.Flags().StringVar(&note, "note", "", "a note with the entry, `TEXT`")
	cmd.Flags().StringVar(&because, "because", "", "the reason `TEXT` for which a gate or a stop is passed; it is recorded")
	return cmd
}

// wish reads what comes after the step in the grammar of the entry line: an
// amount, a stock, a time.
func (s session) wish(step string, rest []string) (app.Wish, error) {
	wish := app.Wish{Step: step}
	if len(rest) == 0 {
		return wish, nil
	}
	settings := s.first.Cellar.Settings
	text := string(ferment.Nutrient) + " " + ferment.JoinParts(rest) // an act, so that a quantity is its amount
	line, err := ferment.ParseLine(text, ferment.LineContext{Now: s.now, Zone: settings.Zone, Units: settings.Units})
	if err != nil {
		return wish, fmt.Errorf("%s: %w", strings.Join(rest, " "), err)
	}
	e := line.Entry
	wish.Amount, wish.Of, wish.Stock, wish.At = e.Amount, e.Of, e.Stock, e.At
	return wish, nil
}

func skipCommand(w world, f *flags) *cobra.Command {
	var note, because string
	cmd := &cobra.Command{
		Use:               "skip NAME[,NAME…] STEP --because TEXT",
		Short:             "Pass a task over, with the reason",
		Example:           "  jugkeeper skip bh-a degas --because 'away for the day'",
		Args:              args(cobra.ExactArgs(2)),
		ValidArgsFunction: w.completeTask(f, anyTask),
		RunE: func(_ *cobra.Command, given []string) error {
			if strings.TrimSpace(because) == "" {
				return usage("skip wants a reason, e.g. --because 'away for the day'")
			}
			s, ids, err := w.openFor(*f, given[0])
			if err != nil {
				return err
			}
			kept, err := s.app.Skip(s.now, ids, app.Wish{Step: given[1], Because: because, Note: note})
			tell(w, s, kept)
			return err
		},
	}
	cmd.Flags().StringVar(&because, "because", "", "the reason `TEXT` for which it is passed over")
	cmd.Flags().StringVar(&note, "note", "", "a note with the entry, `TEXT`")
	return cmd
}
