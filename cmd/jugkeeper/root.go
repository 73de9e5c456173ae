package main

import (
	"strings"

	"github.com/spf13/cobra"
)

// flags are those that every command takes.
type flags struct {
	cellar string
	at     string
	json   bool
	plain  bool
	metric bool // whatever the cellar shows
}

func newRoot(w world) *cobra.Command {
	var f flags
	root := &cobra.Command{
		Use:   "jugkeeper",
		Short: "What each ferment of the cellar needs today",
		Long: "jugkeeper keeps the record of a few mead ferments in plain YAML files and says\n" +
			"what each of them needs today. Without a command it shows the board.",
		Example: "  jugkeeper                     the board\n" +
			"  jugkeeper --cellar ~/mead     of another cellar\n" +
			"  jugkeeper demo                of an invented one",
		Args:          args(cobra.NoArgs),
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return showBoard(w, f)
		},
	}
	root.SetFlagErrorFunc(misuse)
	p := root.PersistentFlags()
	p.StringVar(&f.cellar, "cellar", "", "the folder `DIR` of the cellar")
	p.StringVar(&f.at, "at", "", "take this `TIME` as now, e.g. 18:30, -2h, '2026-09-12 18:30'")
	p.BoolVar(&f.json, "json", false, "write JSON")
	p.BoolVar(&f.plain, "plain", false, "no colour, ASCII, line by line")
	root.AddCommand(
		todayCommand(w, &f), logCommand(w, &f), doneCommand(w, &f), skipCommand(w, &f),
		showCommand(w, &f), compareCommand(w, &f), checkCommand(w, &f), newCommand(w, &f), protocolCommand(w, &f),
		demoCommand(w, &f), workCommand(w, &f), exportCommand(w, &f), completionCommand(w), manCommand(w), versionCommand(w),
	)
	cobra.EnableCommandSorting = false // the order is that of the work
	root.SetHelpCommand(helpCommand())
	root.SetHelpTemplate(helpPage)
	root.CompletionOptions.DisableDefaultCmd = true
	completesFlags(root)
	return root
}

const nothing = "nothing more"

// taken is what stands after the name of a command.
func taken(cmd *cobra.Command) string {
	_, after, _ := strings.Cut(cmd.Use, " ")
	if after == "" {
		return nothing
	}
	return after
}

// example is the first one of a command.
func example(cmd *cobra.Command) string {
	first, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n")
	first, _, _ = strings.Cut(first, "   ") // what it means
	if first == "" || taken(cmd) == nothing {
		return ""
	}
	return ", e.g. " + first
}

// args says what a command takes to whom gives it something else.
func args(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, given []string) error {
		if check(cmd, given) == nil {
			return nil
		}
		if !cmd.HasParent() && len(given) > 0 {
			return unknownCommand(cmd, given[0])
		}
		return usage("%s takes %s%s", cmd.Name(), taken(cmd), example(cmd))
	}
}
