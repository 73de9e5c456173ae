package main

import (
	"bufio"
	"cmp"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/template"
	"time"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

func newCommand(w world, f *flags) *cobra.Command {
	var from string
	var yes bool
	cmd := &cobra.Command{
		Use:   "new NAME [key=value…]",
		Short: "Write the file of a new ferment, with comments",
		Example: "  jugkeeper new lime-a\n" +
			"  jugkeeper new lime-a tag=LIME-A volume=3.6L gravity=1.084 'yeast=white-wine yeast, dry'\n" +
			"  jugkeeper new lime-a lot=lime-26 volume=3.6L gravity=1.084\n" +
			"  jugkeeper new lime-b --from lime-a volume=2L\n" +
			"  jugkeeper new lime-a volume=7.2L gravity=1.084 from=target vessels=2 differs=temperature temperature-b='12 °C to 15 °C'",
		Long: "Writes ferments/NAME.yaml, with every key that a ferment can have. Keys that you do not\n" +
			"give are there as comments. With a lot, or with from=target, gravity and volume are what\n" +
			"you want, and honey and water are worked out; otherwise they are what you measured.\n" +
			strings.Join(layout.WrapWords("The keys are "+strings.Join(keysOfNew(), ", ")+".", 86), "\n"),
		Args:              args(cobra.MinimumNArgs(1)),
		ValidArgsFunction: w.completeNew(f),
		RunE: func(_ *cobra.Command, given []string) error {
			values, err := keyValues(given[1:], "volume=3.6L")
			if err != nil {
				return err
			}
			s, err := w.open(*f) // a named cellar that is missing is not created
			if err != nil {
				return err
			}
			if from != "" {
				other, err := s.openOrPast(from)
				if err != nil {
					return err
				}
				values["from"], values["like"] = "like", other.ID
			}
			return s.make(w, given[0], values, yes)
		},
	}
	cmd.Flags().BoolVar(&yes, "yes", false, "write it even if it looks unlikely")
	cmd.Flags().StringVar(&from, "from", "", "copy must, yeast and protocol from another ferment, `NAME`")
	_ = cmd.RegisterFlagCompletionFunc("from", w.completeNames(f, 99, session.withPast))
	return cmd
}

// newKeys are the keys of a new ferment on the command line, with an example.
var newKeys = [][2]string{
	{"name", "Bell heather, east hive"}, {"tag", "BH-A"}, {"vessel", "glass jug"}, {"brimful", "4.1 L"},
	{"from", "target"}, {"gravity", "1.084"}, {"volume", "3.6 L"}, {"lot", "bell-heather-26"}, {"honey", "980 g"}, {"honey-water", "18.1 %"},
	{"water", "2.9 L"}, {"fruit", "bramble"}, {"fruit-mass", "500 g"}, {"measured", "1.083"}, {"ph", "3.9"}, {"fermentable", "80 %"}, {"when", "now"},
	{"yeast", "white-wine yeast, dry"}, {"kind", "bought"}, {"culture", "hawthorn-3"}, {"demand", "medium"}, {"tolerance", "14 %"},
	{"temperature", "15 °C to 22 °C"}, {"nutrient", "ammonium phosphate"}, {"nitrogen", "200 mg/L"},
	{"protocol", "small-jug"}, {"ending", "still"}, {"trial", "bell-heather"}, {"differs", "yeast"}, {"vessels", "2"},
}

func keysOfNew() []string {
	return ferment.Map(newKeys, func(k [2]string) string { return k[0] })
}

// standing returns the default of a field on the command line. A gravity is a target if honey is given for it, else
// measured. The must is not mixed unless that is said.
func standing(name string, given form.Values) form.Values {
	stands := form.Values{"file": name, "name": name, "when": "not yet", "from": "masses", "brimful": ""}
	if given["from"] != "like" {
		stands["lot"] = "none"
	}
	if given["gravity"] != "" && given["lot"] != "" && given["honey"] == "" {
		stands["from"] = "target"
	}
	return stands
}

// make fills in the form of a new ferment and writes it.
func (s session) make(w world, name string, given form.Values, yes bool) error {
	whole, err := s.app.OpenWhole(s.now)
	if err != nil {
		return err
	}
	stands := standing(name, given)
	if way := cmp.Or(given["from"], stands["from"]); way == "masses" && given["measured"] == "" {
		stands["measured"] = given["gravity"]
		delete(given, "gravity")
	}
	empty, _ := form.Open("new", whole, "", stands)
	fields, o := empty.Outcome(given)
	for _, key := range slices.Sorted(maps.Keys(given)) {
		known := append(keysOfNew(), ferment.Map(fields, func(f form.Field) string { return f.Key })...)
		switch {
		case slices.ContainsFunc(fields, func(f form.Field) bool { return f.Key == key }):
		case slices.Contains(keysOfNew(), key):
			return usage("leave %[2]s out: with from=%[1]s it is worked out, or not needed", cmp.Or(given["from"], stands["from"]), key)
		default:
			return usage("a new ferment has no key %q%s", key, ferment.Meant(key, known))
		}
	}
	if len(o.Wrong) > 0 {
		return usage("%s", strings.TrimPrefix(o.Wrong[0].Key+": "+o.Wrong[0].Text, "file: "))
	}
	if asks := empty.Asks(o.Change); len(asks) > 0 && !yes {
		if err := s.keepAllTheSame(w, bufio.NewReader(w.stdin), name+": "+strings.Join(app.Says(asks), "; ")); err != nil {
			return err
		}
	}
	if _, err := s.app.Apply(s.now, o.Change); err != nil {
		var wrong *journal.ProblemError
		if errors.As(err, &wrong) {
			return usage("%s", wrong.Problems[0].Message)
		}
		return err
	}
	return s.tellNew(w, o)
}

// tellNew reports what was made, the must, and cautions.
func (s session) tellNew(w world, o form.Outcome) error {
	files := ferment.Map(o.Change.Ferments, func(f ferment.Ferment) string { return "ferments/" + f.ID + ".yaml" })
	made := madeJSON{files, append([]string{}, o.Answer...), []string{}}
	for _, l := range o.Lines {
		if len(o.Answer) > 0 && l.Word == words.Warn {
			made.Cautions = append(made.Cautions, l.Text)
		}
	}
	if s.flags.json {
		return writeJSON(w.stdout, made)
	}
	for _, file := range made.Files {
		fmt.Fprintf(w.stdout, "made %s/%s\n", ferment.Harmless(s.store.Dir()), file)
	}
	for _, line := range made.Answer {
		fmt.Fprintln(w.stdout, line)
	}
	for _, text := range made.Cautions {
		fmt.Fprintln(w.stdout, words.Warn.String()+"  "+text)
	}
	return nil
}

// openOrPast finds a ferment among the open ones, then the closed ones.
func (s session) openOrPast(name string) (ferment.Ferment, error) {
	f, err := s.first.Cellar.Find(name)
	if err == nil {
		return f, nil
	}
	past, pastErr := s.store.LoadPast(name)
	var broken *journal.ProblemError
	switch {
	case errors.As(pastErr, &broken):
		return f, &failure{status: saidNo, err: broken}
	case pastErr != nil:
		return f, err
	}
	return past, nil
}

//go:embed demo
var demoFiles embed.FS

func demoCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:     "demo [DIR]",
		Short:   "Show the board of an invented cellar, to try things out",
		Example: "  jugkeeper demo\n  jugkeeper demo ~/play          keep the invented cellar in this folder",
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
				return &failure{status: unusable, err: fmt.Errorf("cannot write the demo cellar: %w", err)}
			}
			fmt.Fprintf(w.stderr, "an invented cellar in %s\n", ferment.Harmless(dir))
			f.cellar, f.at = dir, ""
			fixed := w
			if !now.Equal(w.clock()) {
				fixed.clock = func() time.Time { return now }
			}
			fixed.unrecorded = true
			return showBoard(fixed, *f)
		},
	}
}

// demoDir returns a folder for the demo: the requested one, if empty, or a temporary one.
func demoDir(given []string) (string, error) {
	if len(given) == 0 {
		dir, err := os.MkdirTemp("", "jugkeeper-demo-")
		if err != nil {
			return "", &failure{status: unusable, err: fmt.Errorf("cannot make a folder for the demo: %w", err)}
		}
		return dir, nil
	}
	dir := given[0]
	there, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return "", &failure{status: unusable, err: fmt.Errorf("cannot use %s for the demo: %w", dir, err)}
	case len(there) > 0:
		return "", usage("%s is not empty: name a new folder for the demo", dir)
	}
	return dir, nil
}

// writeDemo writes the invented cellar as if it had been kept until now.
func writeDemo(dir string, now time.Time) error {
	times := template.FuncMap{"ago": func(span string) (string, error) { return ago(now, span) }}
	times["weekday"] = func(ahead int) string { return strings.ToLower(now.AddDate(0, 0, ahead).Weekday().String()) }
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

// ago returns the time so long before now, "2d 11.5h", to five minutes.
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
