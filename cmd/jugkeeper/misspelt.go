package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"cellar/jugkeeper/ferment"
)

// unknownCommand says that no command has a name, and which was meant.
func unknownCommand(root *cobra.Command, name string) error {
	near := ferment.DidYouMean(name, commandNames(root))
	if near == "" {
		near = " (jugkeeper help lists them)"
	}
	return usage("no command is called %q%s", name, near)
}

// listed tells whether a command is one for a person.
func listed(c *cobra.Command) bool { return c.Runnable() && !c.Hidden }

func commandNames(root *cobra.Command) []string {
	var names []string
	for _, c := range root.Commands() {
		if listed(c) {
			names = append(names, c.Name())
		}
	}
	return names
}

// misuse makes the command line library's complaints exit as misuse, with the
// flag that was meant or the way to help.
func misuse(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		if near := ferment.Nearest(unknown.GetSpecifiedName(), flagNames(cmd)); near != "" {
			return usage("%s has no flag --%s (did you mean --%s?)", cmd.Name(), unknown.GetSpecifiedName(), near)
		}
		return usage("%s has no flag %s: it has --%s", cmd.Name(), dashed(unknown), strings.Join(flagNames(cmd), ", --"))
	}
	said, _, _ := strings.Cut(strings.TrimSpace(err.Error()), ": strconv.")
	return usage("%s (see %s --help)", said, cmd.CommandPath())
}

func dashed(f *pflag.NotExistError) string {
	if f.GetSpecifiedShortnames() != "" {
		return "-" + f.GetSpecifiedName()
	}
	return "--" + f.GetSpecifiedName()
}

func flagNames(cmd *cobra.Command) []string {
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}
