package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/sheet"
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
			lost, err := lostRemarks(files, c)
			if err != nil {
				return err
			}
			c.Remarks = append(c.Remarks, lost...)
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

// lostRemarks are the entries that were given to the program and stand in no
// file any more. The board offers them back.
func lostRemarks(files *journal.Store, c ferment.Cellar) ([]ferment.Problem, error) {
	lost, err := files.Lost(c)
	if err != nil {
		return nil, &failure{unusable, fmt.Errorf("cannot read the record of entries: %w", err)}
	}
	var remarks []ferment.Problem
	for _, l := range lost {
		remarks = append(remarks, ferment.Problem{File: l.File, Message: fmt.Sprintf("an entry of %s is gone: %s (the board offers it back)",
			l.Entry.At.Time.Format("2006-01-02 15:04"), sheet.EntryLine(l.Entry))})
	}
	return remarks, nil
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
