package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/tui"
	"cellar/jugkeeper/tui/layout"
)

func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:               "help [COMMAND|files|json]",
		Short:             "Explain a command, the keys of the files, or the fields of JSON",
		Example:           "  jugkeeper help\n  jugkeeper help log\n  jugkeeper help files\n  jugkeeper help json",
		Args:              args(cobra.MaximumNArgs(1)),
		ValidArgsFunction: completeCommand,
		RunE: func(cmd *cobra.Command, given []string) error {
			root := cmd.Root()
			if len(given) == 0 {
				return root.Help()
			}
			if t, is := topics[given[0]]; is {
				_, err := io.WriteString(cmd.OutOrStdout(), t.text())
				return err
			}
			for _, c := range root.Commands() {
				if c.Name() == given[0] {
					c.InitDefaultHelpFlag()
					return c.Help()
				}
			}
			return unknownCommand(root, given[0])
		},
	}
}

// helpPage is the layout of a command's help: what it does, arguments, examples, and for the program its commands and
// exit statuses.
var helpPage = `{{or .Long .Short | trimTrailingWhitespaces}}

usage
  {{.UseLine}}
{{if .HasAvailableSubCommands}}  {{.CommandPath}} COMMAND …

commands{{range .Commands}}{{if and .Runnable (not .Hidden)}}
  {{rpad .Name .NamePadding}}  {{.Short}}{{end}}{{end}}
{{end}}{{if .HasExample}}
examples
{{.Example}}
{{end}}{{if .HasAvailableLocalFlags}}
flags
{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableInheritedFlags}}
flags of every command
{{.InheritedFlags.FlagUsages | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableSubCommands}}
exit status
` + statusList() + `
jugkeeper help COMMAND explains a command; jugkeeper man writes the manual page
{{end}}`

func statusList() string {
	var b strings.Builder
	for _, s := range statuses {
		fmt.Fprintf(&b, "  %-2d  %s\n", s.status, s.means)
	}
	return b.String()
}

func manCommand(w world) *cobra.Command {
	return &cobra.Command{
		Use:               "man",
		Short:             "Write the manual page",
		Long:              "Writes the manual page. Read it with man, or put it where man finds it.",
		Example:           "  jugkeeper man | man -l -\n  jugkeeper man > ~/.local/share/man/man1/jugkeeper.1",
		Args:              args(cobra.NoArgs),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprint(w.stdout, manOf(cmd.Root(), w))
			return err
		},
	}
}

// page is a manual page being written, in roff.
type page struct{ strings.Builder }

// manOf returns the manual page, from the commands and tables.
func manOf(root *cobra.Command, w world) string {
	var p page
	fmt.Fprintf(&p, ".TH JUGKEEPER 1 %s %s\n", builtOn(w), roff(strings.Fields(version())[0]))
	p.section("NAME", "jugkeeper - "+strings.ToLower(root.Short[:1])+root.Short[1:])
	p.section("SYNOPSIS", ".B jugkeeper", roff("[flags]"), ".br", ".B jugkeeper", roff("COMMAND … [flags]"))
	p.section("DESCRIPTION", filled(root.Long))
	p.flags(root.LocalFlags())
	p.preformatted(root.Example)
	p.section("COMMANDS")
	for _, c := range root.Commands() {
		if listed(c) {
			p.command(c)
		}
	}
	p.section("ENTRIES", filled("What an entry can say, in a file and on one line of jugkeeper log. The parts of a line may come in any order; the first semicolon begins the note."))
	for _, k := range ferment.Keys() {
		p.item(k.Name, k.Reference())
	}
	p.section("FIGURES", filled("What jugkeeper work works out, with the keys of each; those in brackets may be left out."))
	for _, f := range bench.Figures() {
		p.item(f.Name, f.Use)
		for _, way := range f.Ways {
			fmt.Fprintf(&p, ".br\n%s\n", filled(keysOf(way)))
		}
	}
	p.section("KEYS", filled("Keys of the board and the other screens. They can be changed under keys: in cellar.yaml."))
	for _, k := range tui.DefaultKeys().Helps(tui.OnBoard | tui.OnVessel) {
		p.item(k.Keys, k.Does)
	}
	for _, name := range sortedNames(topics) {
		p.topic(strings.ToUpper(name), topics[name])
	}
	p.section("ENVIRONMENT")
	for _, e := range environment {
		p.item(e[0], e[1])
	}
	p.section("EXIT STATUS")
	for _, s := range statuses {
		p.item(fmt.Sprint(s.status), s.means)
	}
	p.section("CAUTIONS", roff("Local codes and licensed practice come before anything said here."))
	for _, c := range schedule.Cautions() {
		p.item(ferment.Spaced(c.Name), c.Text)
	}
	p.section("SEE ALSO", filled("jugkeeper help COMMAND, the key ? on every screen, and the README of the program."))
	return p.String()
}

func (p *page) section(name string, lines ...string) {
	fmt.Fprintf(p, ".SH %s\n", name)
	for _, l := range lines {
		p.WriteString(l + "\n")
	}
}

func (p *page) item(word, says string) {
	fmt.Fprintf(p, ".TP\n.B %s\n%s\n", roff(word), filled(says))
}

func (p *page) topic(name string, t topic) {
	p.section(name)
	for i, about := range t.about {
		if i > 0 {
			p.WriteString(".PP\n")
		}
		p.WriteString(filled(about) + "\n")
	}
	depth := 0
	for _, r := range t.rows() {
		for ; depth < r.depth; depth++ {
			p.WriteString(".RS 2\n")
		}
		for ; depth > r.depth; depth-- {
			p.WriteString(".RE\n")
		}
		if r.says == "" {
			fmt.Fprintf(p, ".SS %s\n", roff(r.name))
		} else {
			p.item(r.name, r.says)
		}
	}
	p.WriteString(strings.Repeat(".RE\n", depth))
}

func (p *page) command(c *cobra.Command) {
	fmt.Fprintf(p, ".SS %s\n%s\n", roff(c.Use), roff(c.Short+"."))
	for _, text := range strings.Split(strings.TrimSpace(c.Long), "\n\n") {
		switch {
		case strings.Contains(text, "  "): // a list in columns
			p.preformatted(text)
		case text != "":
			fmt.Fprintf(p, ".PP\n%s\n", filled(text))
		}
	}
	p.flags(c.LocalNonPersistentFlags())
	p.preformatted(c.Example)
}

func (p *page) preformatted(text string) { fmt.Fprintf(p, ".PP\n.nf\n%s\n.fi\n", roff(text)) }

func (p *page) flags(all *pflag.FlagSet) {
	all.VisitAll(func(f *pflag.Flag) {
		if f.Name == "help" {
			return
		}
		value, says := pflag.UnquoteUsage(f)
		if f.Value.Type() == "bool" {
			value = ""
		}
		p.item(strings.TrimSpace("--"+f.Name+" "+value), says)
	})
}

var asIs = strings.NewReplacer(`\`, `\e`, "-", `\-`)

// filled returns a text for man to fill, in short source lines.
func filled(text string) string { return roff(strings.Join(layout.WrapWords(text, 70), "\n")) }

func roff(text string) string {
	lines := strings.Split(asIs.Replace(text), "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}

// builtOn returns the day of the commit of the program, else today.
func builtOn(w world) string {
	if info, known := debug.ReadBuildInfo(); known {
		for _, s := range info.Settings {
			if t, err := time.Parse(time.RFC3339, s.Value); s.Key == "vcs.time" && err == nil {
				return t.Format(time.DateOnly)
			}
		}
	}
	return w.clock().Format(time.DateOnly)
}

func unknownCommand(root *cobra.Command, name string) error {
	near := cmp.Or(ferment.DidYouMean(name, commandNames(root)), " (jugkeeper help lists them)")
	return usage("no command is called %q%s", name, near)
}

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

// misuse gives cobra's errors the status of misuse, with the flag that was meant or the way to help.
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

// dashed returns an unknown flag as it was typed.
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
