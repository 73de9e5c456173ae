package main

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
)

func protocolCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:   "protocol [NAME]",
		Short: "List the protocols, or print one to change",
		Example: "  jugkeeper protocol\n" +
			"  jugkeeper protocol small-jug > protocols/my-jug.yaml",
		Args:              args(cobra.MaximumNArgs(1)),
		ValidArgsFunction: w.completePlan(f),
		RunE: func(_ *cobra.Command, given []string) error {
			files, _ := w.store(*f)
			c, err := files.Check(w.clock())
			if err != nil && !w.empty(*f, err) {
				return err
			}
			if len(given) == 0 {
				listProtocols(w.out(*f), c.Protocols)
				return nil
			}
			return printProtocol(w, c, given[0])
		},
	}
}

func listProtocols(to io.Writer, all ferment.Plans) {
	width := 0
	for name := range all {
		width = max(width, len(name))
	}
	for _, name := range sortedNames(all) {
		p := all[name]()
		title := p.Title
		if p.File != "" {
			title += " (" + p.File + ")"
		}
		fmt.Fprintf(to, "%-*s  %s\n", width, name, title)
	}
}

// printProtocol prints a protocol as it was written. The problems in it are
// told, and make the command fail.
func printProtocol(w world, c ferment.Cellar, name string) error {
	p, known := c.Protocols.Named(name)
	if !known {
		return usage("no protocol is called %q%s", name, ferment.Meant(name, sortedNames(c.Protocols)))
	}
	if _, err := fmt.Fprint(w.stdout, p.Source); err != nil {
		return err
	}
	return tellProblems(w, problemsIn(c, p.File))
}

func sortedNames[T any](all map[string]T) []string { return slices.Sorted(maps.Keys(all)) }
