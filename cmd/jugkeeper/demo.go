package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"text/template"
	"time"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
)

//go:embed demo
var demoFiles embed.FS

func demoCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:     "demo [DIR]",
		Short:   "An invented cellar to walk about in, and the board on it",
		Example: "  jugkeeper demo\n  jugkeeper demo ~/play          in a folder that stays",
		Args:    args(cobra.MaximumNArgs(1)),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
		RunE: func(_ *cobra.Command, given []string) error {
			now, err := w.nowBy(*f, w.local)
			if err != nil {
				return err
			}
			dir, err := demoDir(given)
			if err != nil {
				return err
			}
			if err := writeDemo(dir, now); err != nil {
				return &failure{unusable, fmt.Errorf("cannot write the demo cellar: %w", err)}
			}
			fmt.Fprintf(w.stderr, "an invented cellar in %s\n", ferment.Harmless(dir))
			f.cellar, f.at = dir, ""
			fixed := w
			if !now.Equal(w.clock()) {
				fixed.clock = func() time.Time { return now }
			}
			return showBoard(fixed.withoutRecord(), *f)
		},
	}
}

// demoDir is a new folder for the demo: the one asked for, if it is empty, or
// a temporary one.
func demoDir(given []string) (string, error) {
	if len(given) == 0 {
		dir, err := os.MkdirTemp("", "jugkeeper-demo-")
		if err != nil {
			return "", &failure{unusable, fmt.Errorf("cannot make a folder for the demo: %w", err)}
		}
		return dir, nil
	}
	dir := given[0]
	there, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return "", &failure{unusable, fmt.Errorf("cannot use %s for the demo: %w", dir, err)}
	case len(there) > 0:
		return "", usage("%s is not empty: name a new folder for the demo", dir)
	}
	return dir, nil
}

// writeDemo writes the invented cellar as if it had been kept until now.
func writeDemo(dir string, now time.Time) error {
	times := template.FuncMap{"ago": func(span string) (string, error) { return ago(now, span) }}
	return fs.WalkDir(demoFiles, "demo", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		target := filepath.Join(dir, strings.TrimPrefix(strings.TrimPrefix(path, "demo"), "/"))
		if entry.IsDir() {
			return os.MkdirAll(target, 0o777)
		}
		source, err := demoFiles.ReadFile(path)
		if err != nil {
			return err
		}
		page, err := template.New(path).Funcs(times).Parse(string(source))
		if err != nil {
			return err
		}
		var text strings.Builder
		if err := page.Execute(&text, nil); err != nil {
			return err
		}
		return os.WriteFile(target, []byte(text.String()), 0o666)
	})
}

// ago is the time so many days and hours before now, "2d 11.5h", to the full
// five minutes.
func ago(now time.Time, span string) (string, error) {
	back := time.Duration(0)
	for _, part := range strings.Fields(span) {
		n, err := strconv.ParseFloat(part[:len(part)-1], 64)
		if err != nil {
			return "", err
		}
		hours := map[byte]float64{'d': 24, 'h': 1}[part[len(part)-1]]
		back += time.Duration(n * hours * float64(time.Hour))
	}
	return now.Add(-back).Truncate(5 * time.Minute).Format(time.RFC3339), nil
}
