package main

import (
	"bufio"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/schedule/app"
)

func doneCommand(w world, f *flags) *cobra.Command {
	var l logFlags
	cmd := &cobra.Command{
		Use:   "done NAME[,NAME…] STEP [PART…]",
		Short: "Mark what is due as done",
		Example: "  jugkeeper done bh-a nutrient            the planned amount\n" +
			"  jugkeeper done bh-a nutrient-2 1.5g -30min\n" +
			"  jugkeeper done bh-a rack vol3.1L lost=0.2L clear\n" +
			"  jugkeeper done bh-a gravity 1.046@23\n" +
			"  jugkeeper done bh-a,bh-b degas",
		Long: "Marks a step of the plan as done, with whatever an entry of it may say: the parts are\n" +
			"those of log, in any order.",
		Args:              args(cobra.MinimumNArgs(2)),
		ValidArgsFunction: w.completeTask(f),
		RunE: func(_ *cobra.Command, given []string) error {
			s, ids, err := w.openFor(*f, given[0])
			if err != nil {
				return err
			}
			wish := app.Wish{Step: given[1], Typed: l.typed(line.Join(given[2:]))}
			if err := s.likelyDone(w, ids, wish, l.yes); err != nil {
				return err
			}
			kept, err := s.app.Done(s.now, ids, wish)
			tell(w, s, kept)
			return err
		},
	}
	l.on(cmd, "the reason `TEXT` for which a gate or a stop is passed; it is recorded")
	return cmd
}

// likelyDone asks about what is not as expected in what a task would write.
func (s session) likelyDone(w world, ids []string, wish app.Wish, yes bool) error {
	from := bufio.NewReader(w.stdin)
	for _, id := range ids {
		v, _ := s.first.Find(id)
		entries, _, _ := app.Settling(v, wish, s.now) // what is refused, Done says
		if err := s.likely(w, from, []string{id}, entries, yes); err != nil {
			return err
		}
	}
	return nil
}

func skipCommand(w world, f *flags) *cobra.Command {
	var note, because string
	cmd := &cobra.Command{
		Use:               "skip NAME[,NAME…] STEP --because TEXT",
		Short:             "Pass a task over, with the reason",
		Example:           "  jugkeeper skip bh-a degas --because 'away for the day'",
		Args:              args(cobra.ExactArgs(2)),
		ValidArgsFunction: w.completeTask(f),
		RunE: func(_ *cobra.Command, given []string) error {
			if strings.TrimSpace(because) == "" {
				return usage("skip wants a reason, e.g. --because 'away for the day'")
			}
			s, ids, err := w.openFor(*f, given[0])
			if err != nil {
				return err
			}
			kept, err := s.app.Skip(s.now, ids, app.Wish{Step: given[1], Typed: app.Typed{Because: because, Note: note}})
			tell(w, s, kept)
			return err
		},
	}
	cmd.Flags().StringVar(&because, "because", "", "the reason `TEXT` for which it is passed over")
	cmd.Flags().StringVar(&note, "note", "", "a note with the entry, `TEXT`")
	return cmd
}
