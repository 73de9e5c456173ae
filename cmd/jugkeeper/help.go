package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// helpCommand is the help of the program or of one command.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:               "help [COMMAND]",
		Short:             "What a command takes and does",
		Example:           "  jugkeeper help\n  jugkeeper help log",
		Args:              args(cobra.MaximumNArgs(1)),
		ValidArgsFunction: completeCommand,
		RunE: func(cmd *cobra.Command, given []string) error {
			root := cmd.Root()
			if len(given) == 0 {
				return root.Help()
			}
			for _, c := range root.Commands() {
				if c.Name() == given[0] {
					c.InitDefaultHelpFlag()
					return c.Help()
				}
			}
			return unknownCommand(root, given[0])
		},
	}
}

// helpPage is how the help of a command is laid out: what it does, what it
// takes, examples, and of the program its commands and exit statuses.
var helpPage = `{{or .Long .Short}}

usage
  {{.UseLine}}
{{if .HasAvailableSubCommands}}  {{.CommandPath}} COMMAND …

commands{{range .Commands}}{{if and .Runnable (not .Hidden)}}
  {{rpad .Name .NamePadding}}  {{.Short}}{{end}}{{end}}
{{end}}{{if .HasExample}}
examples
{{.Example}}
{{end}}{{if .HasAvailableLocalFlags}}
flags
{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableInheritedFlags}}
flags of every command
{{.InheritedFlags.FlagUsages | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableSubCommands}}
exit status
` + statusList() + `
jugkeeper help COMMAND says more of one; jugkeeper man is the whole as a manual page
{{end}}`

func statusList() string {
	var b strings.Builder
	for _, s := range statuses {
		fmt.Fprintf(&b, "  %-2d  %s\n", s.status, s.means)
	}
	return b.String()
}
