package main

import (
	"io"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
)

// shells are the shells that completion is written for, each with what writes
// it.
var shells = map[string]func(*cobra.Command, io.Writer) error{
	"bash": bash,
	"zsh":  func(root *cobra.Command, out io.Writer) error { return root.GenZshCompletion(out) },
	"fish": func(root *cobra.Command, out io.Writer) error { return root.GenFishCompletion(out, true) },
}

// bash writes the script for bash as the library makes it, which escapes every
// word that it inserts. It escapes commas too, and nobody types a list of names
// so; what is added here turns them back.
func bash(root *cobra.Command, out io.Writer) error {
	if err := root.GenBashCompletionV2(out, true); err != nil {
		return err
	}
	_, err := io.WriteString(out, commasAsTyped)
	return err
}

const commasAsTyped = `
# A list of names, bh-a,bh-b, is matched and inserted with its commas as typed.
eval "__jugkeeper_process_escaped() $(declare -f __jugkeeper_process_completion_results | tail -n +2)"
__jugkeeper_process_completion_results() {
    local cur="${cur//\\,/,}"
    cur="${cur//,/\\,}"
    __jugkeeper_process_escaped
    COMPREPLY=("${COMPREPLY[@]//\\,/,}")
}
`

func completionCommand(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "completion bash|zsh|fish",
		Short: "What a shell needs to complete commands, ferments and steps",
		Long: "Writes a script for a shell. With it the Tab key completes commands, flags, the\n" +
			"names of ferments, what is due in each, figures with their keys, protocols.\n" +
			"bash wants the package bash-completion.",
		Example: "  source <(jugkeeper completion bash)                                    in ~/.bashrc\n" +
			"  source <(jugkeeper completion zsh)                                     in ~/.zshrc, after compinit\n" +
			"  jugkeeper completion fish > ~/.config/fish/completions/jugkeeper.fish",
		Args:              args(cobra.ExactArgs(1)),
		ValidArgsFunction: completeOnce(func() []choice { return plainChoices(sortedNames(shells)) }),
		RunE: func(cmd *cobra.Command, given []string) error {
			write, known := shells[given[0]]
			if !known {
				return usage("there is no completion for %q%s", given[0], ferment.Meant(given[0], sortedNames(shells)))
			}
			return write(cmd.Root(), w.stdout)
		},
	}
}
