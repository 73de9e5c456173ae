package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func versionCommand(w world) *cobra.Command {
	return &cobra.Command{
		Use:               "version",
		Short:             "The version of this program",
		Example:           "  jugkeeper version",
		Args:              args(cobra.NoArgs),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(w.stdout, "jugkeeper", version())
			return err
		},
	}
}

// version is what the Go tool wrote into the binary: a tag, or the commit it
// was built from.
func version() string {
	info, known := debug.ReadBuildInfo()
	if !known {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && (v == "" || v == "(devel)") {
			v = s.Value[:min(12, len(s.Value))]
		}
	}
	if v == "" {
		v = "(devel)"
	}
	return v + " " + info.GoVersion
}
