// Command jugkeeper keeps the record of a few mead ferments and says what each of them needs today.
package main

import (
	"cmp"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	_ "cellar/jugkeeper/tui/guard" // first, so that a silent terminal does not delay a command
)

// A plain command ends before garbage collection is worthwhile; the board uses the default.
const rareGC, usualGC = 400, 100

func main() {
	debug.SetGCPercent(rareGC)
	out := &output{File: os.Stdout}
	if zone := os.Getenv("TZ"); !strings.HasPrefix(zone, "/") { // for a path the runtime falls back to UTC silently
		if _, err := time.LoadLocation(strings.TrimPrefix(zone, ":")); err != nil {
			fmt.Fprintf(os.Stderr, "jugkeeper: TZ=%q is not a time zone known here: UTC is used (e.g. TZ=Europe/Dublin)\n", zone)
		}
	}
	status := run(os.Args[1:], world{
		env:    os.Getenv,
		stdin:  os.Stdin,
		stdout: out,
		stderr: os.Stderr,
		clock:  time.Now,
		local:  time.Local,
	})
	if status == ok && out.err != nil {
		fmt.Fprintln(os.Stderr, "jugkeeper:", out.err)
		status = unusable
	}
	os.Exit(status)
}

// output is standard output with the first error of writing.
type output struct {
	*os.File
	err error
}

// Write writes to the file.
func (o *output) Write(text []byte) (int, error) {
	n, err := o.File.Write(text)
	o.err = cmp.Or(o.err, err)
	return n, err
}

type flags struct {
	cellar string
	at     string
	json   bool
	plain  bool
	metric bool // metric, whatever the cellar's units are
}

func newRoot(w world, asked bool) *cobra.Command {
	var f flags
	var told bool
	root := &cobra.Command{
		Use:   "jugkeeper",
		Short: "Show what each ferment of the cellar needs today",
		Long: "jugkeeper keeps the record of a few mead ferments in plain YAML files and says\n" +
			"what each of them needs today. Without a command it shows the board.",
		Example: "  jugkeeper                     show the board\n" +
			"  jugkeeper --cellar ~/mead     show the board of the cellar in ~/mead\n" +
			"  jugkeeper demo                show the board of an invented cellar",
		Args:          args(cobra.NoArgs),
		SilenceErrors: true,
		SilenceUsage:  true,
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error {
			f.plain = f.plain || w.plain()
			return refusesJSON(cmd, f)
		},
		RunE: func(*cobra.Command, []string) error {
			if told {
				return writeVersion(w, f)
			}
			return showBoard(w, f)
		},
	}
	root.SetFlagErrorFunc(misuse)
	p := root.PersistentFlags()
	p.StringVar(&f.cellar, "cellar", "", "use the cellar in the folder `DIR`")
	p.StringVar(&f.at, "at", "", "take `TIME` as the present time, e.g. 18:30, -2h, '2026-09-12 18:30'")
	p.BoolVar(&f.json, "json", false, "write JSON")
	p.BoolVar(&f.plain, "plain", false, "write plain ASCII without colour, one thing a line")
	root.Flags().BoolVar(&told, "version", false, "show the version of this program")
	root.AddCommand(
		todayCommand(w, &f), logCommand(w, &f), doneCommand(w, &f), skipCommand(w, &f),
		showCommand(w, &f), compareCommand(w, &f), checkCommand(w, &f), newCommand(w, &f), protocolCommand(w, &f),
		demoCommand(w, &f), workCommand(w, &f), exportCommand(w, &f), schemaCommand(w), completionCommand(w), manCommand(w), versionCommand(w, &f),
	)
	cobra.EnableCommandSorting = false // in the order of the work
	root.SetHelpCommand(helpCommand())
	root.SetHelpTemplate(helpPage)
	root.CompletionOptions.DisableDefaultCmd = true
	completesFlags(root, asked)
	return root
}

const nothing = "nothing more"

// usageArgs returns the arguments after the name of a command.
func usageArgs(cmd *cobra.Command) string {
	_, after, _ := strings.Cut(cmd.Use, " ")
	if after == "" {
		return nothing
	}
	return after
}

func example(cmd *cobra.Command) string {
	first, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n")
	first, _, _ = strings.Cut(first, "   ") // without its explanation
	if first == "" || usageArgs(cmd) == nothing {
		return ""
	}
	return ", e.g. " + first
}

// args adds what a command takes to the error for wrong arguments.
func args(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, given []string) error {
		if check(cmd, given) == nil {
			return nil
		}
		if !cmd.HasParent() && len(given) > 0 {
			return unknownCommand(cmd, given[0])
		}
		return usage("%s takes %s%s", cmd.Name(), usageArgs(cmd), example(cmd))
	}
}

// run runs the program with arguments and a world, and returns the exit status.
func run(args []string, w world) int {
	help := w.stdout
	if w.plain() || slices.Contains(args, "--plain") {
		help, w.stderr = aloud{w.stdout}, aloud{w.stderr}
	}
	root := newRoot(w, len(args) > 0 && strings.HasPrefix(args[0], cobra.ShellCompRequestCmd))
	root.SetArgs(timesAreNoFlags(args))
	root.SetIn(w.stdin)
	root.SetOut(help)
	root.SetErr(w.stderr)
	err := root.Execute()
	if err == nil {
		return ok
	}
	told := failure{err: err}
	if f := (*failure)(nil); errors.As(err, &f) {
		told = *f
	}
	switch {
	case told.err == nil && len(told.problems) == 0: // everything was reported
	case slices.Contains(args, "--json"):
		_ = writeJSON(w.stderr, errorJSON{ferment.HarmlessLines(err.Error()), statusOf(err), problemsJSON(told.problems)})
	case len(told.problems) > 0:
		for _, p := range told.problems {
			fmt.Fprintln(w.stderr, p)
		}
	default:
		fmt.Fprintln(w.stderr, "jugkeeper:", ferment.HarmlessLines(err.Error()))
	}
	return statusOf(err)
}

// aTime matches an argument such as -2h, which would be taken for flags.
var aTime = ferment.Pattern(`^-[0-9]+([.,][0-9]+)?(min|h|d|wk|mo)$`)

// timesAreNoFlags writes -2h with a true minus sign, which parsers of times accept too.
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

// world is everything outside the program that a command may use.
type world struct {
	env    func(string) string
	stdin  io.Reader
	stdout io.Writer
	stderr io.Writer
	clock  func() time.Time
	local  *time.Location

	unrecorded bool // entries are not recorded outside the cellar, because it is a demo
}

func terminal(stream any) (width int, ok bool) {
	if o, is := stream.(*output); is {
		stream = o.File
	}
	f, is := stream.(*os.File)
	if !is || !term.IsTerminal(f.Fd()) {
		return 0, false
	}
	width, _, err := term.GetSize(f.Fd())
	return width, err == nil && width > 0
}

// out returns the writer for a command's text: with --plain without signs.
func (w world) out(f flags) io.Writer {
	if f.plain {
		return aloud{w.stdout}
	}
	return w.stdout
}

// aloud replaces signs by words.
type aloud struct{ to io.Writer }

func (a aloud) Write(text []byte) (int, error) {
	_, err := io.WriteString(a.to, words.Aloud(string(text)))
	return len(text), err
}

// answers reports whether a stream is a terminal with a person.
func answers(stream any) bool {
	f, is := stream.(*os.File)
	return is && term.IsTerminal(f.Fd())
}

// plain reports whether the environment asks for plain text.
func (w world) plain() bool {
	return !slices.Contains([]string{"", "0", "false", "no"}, w.env("ACCESSIBLE"))
}

func (w world) dumb() bool { return w.env("TERM") == "dumb" }

// cellarDir returns the folder of the cellar, and whether it was named: a named one that is missing is an error, the
// default one is just empty.
func (w world) cellarDir(flag string) (dir string, named bool) {
	if flag != "" {
		return flag, true
	}
	if dir := w.env("JUGKEEPER_CELLAR"); dir != "" {
		return dir, true
	}
	data := w.xdg("XDG_DATA_HOME", ".local", "share")
	return data, data == "" // without a home there is no empty cellar
}

// stateDir returns the folder for the record and for stacks of panics; empty for none.
func (w world) stateDir() string { return w.xdg("XDG_STATE_HOME", ".local", "state") }

func (w world) looksFile() string {
	if dir := w.xdg("XDG_CONFIG_HOME", ".config"); dir != "" {
		return filepath.Join(dir, "terminal.yaml")
	}
	return ""
}

// xdg returns the program's folder under the one of a variable, else under home; never relative to the working
// directory.
func (w world) xdg(name string, under ...string) string {
	if dir := w.env(name); filepath.IsAbs(dir) {
		return filepath.Join(dir, "jugkeeper")
	}
	home := w.env("HOME")
	if !filepath.IsAbs(home) {
		return ""
	}
	return filepath.Join(append(append([]string{home}, under...), "jugkeeper")...)
}

var environment = [][2]string{
	{"JUGKEEPER_CELLAR", "the folder of the cellar, if --cellar is not given"},
	{"XDG_DATA_HOME", "the folder that the cellar is in, as jugkeeper/, if neither of the two is given; ~/.local/share if not set"},
	{"XDG_STATE_HOME", "the folder for the second copy of each entry and for half-typed lines, as jugkeeper/; ~/.local/state if not set"},
	{"XDG_CONFIG_HOME", "the folder for the theme, chart and mouse settings of this computer, as jugkeeper/terminal.yaml; ~/.config if not set"},
	{"VISUAL, EDITOR", "the editor that the board opens files with"},
	{"NO_COLOR", "if set, no colours are used"},
	{"CLICOLOR_FORCE", "if set and not 0, colours are used even if the output is not a terminal"},
	{"COLORFGBG", "the colours of a terminal that does not report its background, e.g. 0;15"},
	{"JUGKEEPER_THEME", "the theme on this terminal, instead of the one in cellar.yaml: auto, dark, light or mono"},
	{"ACCESSIBLE", "if 1, every command works as with --plain"},
	{"TERM", "dumb if the terminal shows only plain lines, linux if it has no braille signs"},
}

//go:embed licences.txt
var licences string

func versionCommand(w world, f *flags) *cobra.Command {
	var whole bool
	cmd := &cobra.Command{
		Use:               "version",
		Short:             "Show the version of this program",
		Long:              "Writes the version; with --licences also the licences of all modules that are linked into it.",
		Example:           "  jugkeeper version\n  jugkeeper version --licences",
		Args:              args(cobra.NoArgs),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(*cobra.Command, []string) error {
			if whole && !f.json {
				_, err := io.WriteString(w.stdout, licences)
				return err
			}
			return writeVersion(w, *f)
		},
	}
	cmd.Flags().BoolVar(&whole, "licences", false, "write the full licence of each module that is linked")
	return cmd
}

func writeVersion(w world, f flags) error {
	if f.json {
		program, built, _ := strings.Cut(version(), " ")
		return writeJSON(w.stdout, versionJSON{program, built, licencesOf(licences)})
	}
	_, err := fmt.Fprintln(w.stdout, "jugkeeper", version())
	return err
}

// licencesOf returns the modules in the text of licences, each with the name of its licence.
func licencesOf(text string) []licenceJSON {
	var all []licenceJSON
	for _, part := range strings.Split(text, "\n== ")[1:] {
		if head := strings.Fields(part); len(head) > 2 {
			all = append(all, licenceJSON{head[0], head[1], head[2]})
		}
	}
	return all
}

// version returns the version in the binary: a tag, or the commit.
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
	return cmp.Or(v, "(devel)") + " " + info.GoVersion
}

// The exit statuses.
const (
	ok        = 0
	saidNo    = 1
	misused   = 2
	unusable  = 3
	overdue   = 10
	dangerous = 11
)

var statuses = []struct {
	status int
	means  string
}{
	{ok, "it worked, even if other files have problems"},
	{saidNo, "prevented by a checklist, a stop or an open question; or a file has a problem (check, or a file you named)"},
	{misused, "an unknown command, name, step, figure or key; an entry or a value that cannot be read or is out of range"},
	{unusable, "something could not be read or written, or there is no such cellar"},
	{overdue, "today --exit-code: something is late"},
	{dangerous, "today --exit-code: something is dangerous"},
}

// failure is how the program ends: a status, and the error or the problems in requested files. Without either it was
// reported already.
type failure struct {
	status   int
	err      error
	problems []ferment.Problem
}

func (f *failure) Error() string {
	if f.err == nil {
		return "a file has a problem"
	}
	return f.err.Error()
}

func (f *failure) Unwrap() error { return f.err }

func saysNo(format string, args ...any) error {
	return &failure{status: saidNo, err: fmt.Errorf(format, args...)}
}

func usage(format string, args ...any) error {
	return &failure{status: misused, err: fmt.Errorf(format, args...)}
}

// statusOf returns the exit status of an error: misuse if typing something else fixes it, a refusal by a rule, else a
// failure of disk or system.
func statusOf(err error) int {
	var f *failure
	var refused *app.Refused
	var name *ferment.UnknownFerment
	var tag *ferment.TwoTagged
	var step *app.UnknownStep
	var value *app.NeedsValue
	var line *line.Error
	var badName *journal.NameError
	switch {
	case err == nil:
		return ok
	case errors.As(err, &f):
		return f.status
	case errors.As(err, &refused):
		return saidNo
	case errors.As(err, &name), errors.As(err, &tag), errors.As(err, &step), errors.As(err, &value), errors.As(err, &line), errors.As(err, &badName):
		return misused
	}
	return unusable
}
