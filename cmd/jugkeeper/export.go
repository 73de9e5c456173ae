package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
)

type kind struct {
	name, use string
	write     func(order) (text string, missing []string)
}

// order is what to export: the vessels, in a snapshot with only these.
type order struct {
	snapshot app.Snapshot
	named    bool // a person named them
	days     int
	comma    bool        // decimal comma
	sent     export.Sent // events of earlier calendars
}

// The kinds, with the reason why a kind leaves out a vessel.
var kinds = []kind{
	{"calendar", "what is due, late, held and coming, for a calendar program (iCalendar)", func(o order) (string, []string) {
		return export.Calendar(foreseen(o.snapshot, export.Remembered), o.days, !o.named, o.sent), nil
	}},
	{"table", "every entry, one a row, for a spreadsheet (CSV, metric)", func(o order) (string, []string) {
		return export.Table(append(o.snapshot.Vessels, o.snapshot.Cultures...), o.comma), nil
	}},
	{"sheet", "a page for each ferment, to print and fill in by hand", func(o order) (string, []string) {
		return export.Forms(foreseen(o.snapshot, 0)), nil
	}},
	{"tag", "paper tags for the vessels, several on a page", func(o order) (string, []string) {
		return export.Tags(foreseen(o.snapshot, 0)), nil
	}},
	{"curve", "the gravity of one or several ferments over time, as a picture (SVG)", func(o order) (string, []string) {
		return export.Curves(o.snapshot)
	}},
	{"label", "labels for bottles, several on a page", func(o order) (string, []string) {
		return export.Labels(o.snapshot)
	}},
}

func exportCommand(w world, f *flags) *cobra.Command {
	var o order
	var decimal string
	cmd := &cobra.Command{
		Use:   "export KIND [NAME…]",
		Short: "Write a calendar, a table, paper sheets, tags, labels or a curve",
		Long: "Writes to standard output, for all open ferments, or for those that you name, open or closed.\nWithout a kind it lists the kinds:\n\n" +
			kindList(),
		Example:           exportExample + "\n  jugkeeper export sheet lime-a | lp\n  jugkeeper export curve lime-a lime-b > lime.svg",
		ValidArgsFunction: w.completeExport(f),
		RunE: func(_ *cobra.Command, given []string) error {
			if len(given) == 0 {
				_, err := fmt.Fprint(w.out(*f), kindList())
				return err
			}
			k, err := kindNamed(given[0])
			if err != nil {
				return err
			}
			if err := sensibleDays(o.days); err != nil {
				return err
			}
			if o.comma = decimal == "comma"; !o.comma && decimal != "point" {
				return usage("--decimal is point or comma, e.g. jugkeeper export table --decimal comma")
			}
			return w.export(*f, k, given[1:], o)
		},
	}
	cmd.Flags().IntVar(&o.days, "days", export.Remembered, "for a calendar: look `N` days ahead")
	cmd.Flags().StringVar(&decimal, "decimal", "point", "for a table: the decimal `SIGN`, point or comma; with comma, semicolons separate the cells")
	return cmd
}

const exportExample = "  jugkeeper export calendar > mead.ics"

// export writes vessels as a kind, and says for which there is nothing to write.
func (w world) export(f flags, k kind, names []string, o order) error {
	s, err := w.open(f)
	if err != nil {
		return err
	}
	vs, ids, err := s.besides(separate(names))
	if err != nil {
		return err
	}
	sent := filepath.Join(s.store.StateDir(), "calendar.json")
	o.snapshot, o.named, o.sent = s.first, len(names) > 0, export.Sent{}
	if had, err := journal.ReadSmall(sent); err == nil && k.name == "calendar" {
		_ = json.Unmarshal(had, &o.sent) // a broken file counts as empty
	}
	if o.named {
		o.snapshot.Vessels, o.snapshot.Cultures = vs, nil
	}
	text, missing := k.write(o)
	if _, err := io.WriteString(w.stdout, text); err != nil {
		return err
	}
	if len(o.sent) > 0 && s.store.StateDir() != "" {
		now, _ := json.Marshal(o.sent) // of texts and numbers
		if err := errors.Join(os.MkdirAll(filepath.Dir(sent), 0o777), os.WriteFile(sent, now, 0o600)); err != nil {
			fmt.Fprintln(w.stderr, "cannot note what is in this calendar, so the next one cannot cancel it:", err)
		}
	}
	if o.named || text == "" {
		for _, m := range missing {
			fmt.Fprintln(w.stderr, m)
		}
	}
	if err := s.troubled(ids); err != nil {
		return err
	}
	if text == "" && o.named {
		return &failure{status: saidNo}
	}
	return nil
}

// separate returns names given one by one or as a list, without repeats.
func separate(given []string) []string {
	var names []string
	for _, g := range given {
		for _, name := range strings.Split(g, ",") {
			if name = strings.TrimSpace(name); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

func kindNamed(name string) (kind, error) {
	for _, k := range kinds {
		if strings.EqualFold(k.name, name) {
			return k, nil
		}
	}
	names := ferment.Map(kinds, func(k kind) string { return k.name })
	return kind{}, usage("nothing can be exported as %q%s, e.g. %s", name, ferment.Meant(name, names), strings.TrimSpace(exportExample))
}

func kindList() string {
	var b strings.Builder
	for _, k := range kinds {
		fmt.Fprintf(&b, "%-10s%s\n", k.name, k.use)
	}
	return b.String()
}

func (w world) completeExport(f *flags) completer {
	return func(cmd *cobra.Command, given []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(given) > 0 {
			return w.completeNames(f, 99, session.withPast)(cmd, given[1:], typed)
		}
		return begun(typed, ferment.Map(kinds, func(k kind) choice { return choice{k.name, k.use} }))
	}
}

func (w world) makeStateDir() error {
	if w.stateDir() == "" {
		return journal.ErrNowhere
	}
	return os.MkdirAll(w.stateDir(), 0o777)
}

// trouble stores the stack of a panic.
func (w world) trouble(stack string) (file string, err error) {
	if err := w.makeStateDir(); err != nil {
		return "", err
	}
	file = filepath.Join(w.stateDir(), "trouble.txt")
	return file, os.WriteFile(file, []byte(stack), 0o600)
}
