package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
)

func checkCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:   "check",
		Short: "Read every file and list problems and remarks",
		Args:  args(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			files, _ := w.store(*f)
			c, err := files.Check(w.clock())
			if err != nil && !w.empty(*f, err) {
				return err
			}
			if err := tellCheck(w, *f, c); err != nil {
				return err
			}
			if len(c.Problems) > 0 {
				return &silent{&failure{saidNo, fmt.Errorf("there are problems")}}
			}
			return nil
		},
	}
}

func tellCheck(w world, f flags, c ferment.Cellar) error {
	if f.json {
		return writeJSON(w.stdout, checkJSON{problemsJSON(c.Problems), problemsJSON(c.Remarks)})
	}
	for _, p := range c.Problems {
		fmt.Fprintln(w.stdout, p)
	}
	for _, p := range c.Remarks {
		fmt.Fprintf(w.stdout, "%s (a remark)\n", p)
	}
	if len(c.Problems)+len(c.Remarks) == 0 {
		fmt.Fprintln(w.stdout, "every file can be read, nothing looks unlikely")
	}
	return nil
}
