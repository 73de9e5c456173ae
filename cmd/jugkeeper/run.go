package main

import (
	"errors"
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
)

// run is the program: arguments and world in, exit status out.
func run(args []string, w world) int {
	help := w.stdout
	if slices.Contains(args, "--plain") {
		help, w.stderr = aloud{w.stdout}, aloud{w.stderr}
	}
	root := newRoot(w)
	root.SetArgs(timesAreNoFlags(args))
	root.SetIn(w.stdin)
	root.SetOut(help)
	root.SetErr(w.stderr)
	err := root.Execute()
	if err == nil {
		return ok
	}
	var quiet *silent
	if !errors.As(err, &quiet) {
		fmt.Fprintln(w.stderr, "jugkeeper:", ferment.HarmlessLines(err.Error()))
	}
	return statusOf(err)
}

// silent is a failure that has already been told.
type silent struct{ *failure }

func (s *silent) Unwrap() error { return s.failure }

// aTime is an argument that goes back in time, which a command line would take
// for flags.
var aTime = ferment.Pattern(`^-[0-9]+([.,][0-9]+)?(min|h|d|wk|mo)$`)

// timesAreNoFlags writes -2h with a true minus sign, which every reader of
// times takes as well.
func timesAreNoFlags(args []string) []string {
	out := make([]string, len(args))
	for i, a := range args {
		if len(a) > 1 && a[0] == '-' && a[1] != '-' && aTime().MatchString(a) {
			a = "−" + a[1:]
		}
		out[i] = a
	}
	return out
}
