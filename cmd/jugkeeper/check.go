package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/tui"
)

func checkCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:               "check",
		Short:             "Read every file and list problems and remarks",
		Example:           "  jugkeeper check\n  jugkeeper check --json",
		Args:              args(cobra.NoArgs),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(*cobra.Command, []string) error {
			s, err := w.openToShow(*f)
			if err != nil {
				return err
			}
			problems, remarks, err := s.app.Check(s.now)
			if err != nil {
				return err
			}
			if err := tellCheck(w, *f, problems, append(remarks, keyRemarks(s.first.Cellar)...)); err != nil {
				return err
			}
			if len(problems) > 0 {
				return &silent{&failure{saidNo, fmt.Errorf("there are problems")}}
			}
			return nil
		},
	}
}

// keyRemarks are the keys of the settings that no screen can take.
func keyRemarks(c ferment.Cellar) []ferment.Problem {
	var remarks []ferment.Problem
	_, told := tui.DefaultKeys().Remap(c.Settings.Keys)
	for _, t := range told {
		remarks = append(remarks, ferment.Problem{File: "cellar.yaml", Message: t.Error()})
	}
	return remarks
}

func tellCheck(w world, f flags, problems, remarks []ferment.Problem) error {
	if f.json {
		return writeJSON(w.stdout, checkJSON{problemsJSON(problems), problemsJSON(remarks)})
	}
	for _, p := range problems {
		tellProblem(w.out(f), p, "")
	}
	for _, p := range remarks {
		tellProblem(w.out(f), p, " (a remark)")
	}
	if len(problems)+len(remarks) == 0 {
		fmt.Fprintln(w.out(f), "every file can be read, nothing looks unlikely")
	}
	return nil
}

// tellProblem writes a problem, and under it the line that it is about.
func tellProblem(to io.Writer, p ferment.Problem, kind string) {
	fmt.Fprintf(to, "%s%s\n", p, kind)
	if text := strings.TrimSpace(p.Text); text != "" {
		fmt.Fprintf(to, "    %s\n", text)
	}
}
