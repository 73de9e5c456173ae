package main

import (
	"fmt"
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

func manCommand(w world) *cobra.Command {
	return &cobra.Command{
		Use:               "man",
		Short:             "The manual page",
		Long:              "Writes the manual page, to be read with man or kept where man looks for it.",
		Example:           "  jugkeeper man | man -l -\n  jugkeeper man > ~/.local/share/man/man1/jugkeeper.1",
		Args:              args(cobra.NoArgs),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprint(w.stdout, manOf(cmd.Root(), w))
			return err
		},
	}
}

// page is a manual page in the making, in the language of man.
type page struct{ strings.Builder }

// manOf is the manual page: what the commands and the tables say, in one place.
func manOf(root *cobra.Command, w world) string {
	var p page
	fmt.Fprintf(&p, ".TH JUGKEEPER 1 %s %s\n", builtOn(w), roff(strings.Fields(version())[0]))
	p.section("NAME", "jugkeeper - "+strings.ToLower(root.Short[:1])+root.Short[1:])
	p.section("SYNOPSIS", ".B jugkeeper", roff("[flags]"), ".br", ".B jugkeeper", roff("COMMAND … [flags]"))
	p.section("DESCRIPTION", filled(root.Long))
	p.flags(root.PersistentFlags())
	p.asWritten(root.Example)
	p.section("COMMANDS")
	for _, c := range root.Commands() {
		if listed(c) {
			p.command(c)
		}
	}
	p.section("ENTRIES", filled("What an entry can say, in a file and on one line of jugkeeper log. Parts of a line stand in any order; the first semicolon begins the note."))
	for _, k := range ferment.Keys() {
		p.item(k.Name, k.Reference())
	}
	p.section("FIGURES", filled("What jugkeeper work works out, with the keys of each; those in brackets may be left out."))
	for _, f := range bench.Figures() {
		p.item(f.Name, f.Use)
		for _, way := range f.Ways {
			fmt.Fprintf(&p, ".br\n%s\n", roff(keysOf(way)))
		}
	}
	p.section("KEYS", filled("Keys of the board and the other screens. They can be changed under keys: in cellar.yaml."))
	for _, k := range tui.DefaultKeys().Helps(tui.OnBoard | tui.OnVessel) {
		p.item(k.Keys, k.Does)
	}
	p.section("FILES", roff("The cellar is a folder of YAML files."))
	for _, f := range files {
		p.item(f[0], f[1])
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
		p.item(strings.ReplaceAll(c.Name, "-", " "), c.Text)
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

// item is a word with what is said of it.
func (p *page) item(word, says string) {
	fmt.Fprintf(p, ".TP\n.B %s\n%s\n", roff(word), filled(says))
}

func (p *page) command(c *cobra.Command) {
	fmt.Fprintf(p, ".SS %s\n%s\n", roff(c.Use), roff(c.Short+"."))
	for _, text := range strings.Split(strings.TrimSpace(c.Long), "\n\n") {
		switch {
		case strings.Contains(text, "  "): // a list in columns
			p.asWritten(text)
		case text != "":
			fmt.Fprintf(p, ".PP\n%s\n", filled(text))
		}
	}
	p.flags(c.LocalNonPersistentFlags())
	p.asWritten(c.Example)
}

func (p *page) asWritten(text string) { fmt.Fprintf(p, ".PP\n.nf\n%s\n.fi\n", roff(text)) }

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

// filled is a text that man fills into lines, the source no wider than man
// likes it.
func filled(text string) string { return roff(strings.Join(layout.WrapWords(text, 70), "\n")) }

// roff is a text in which no letter is an instruction, and no hyphen is taken
// for a dash.
func roff(text string) string {
	lines := strings.Split(asIs.Replace(text), "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}

// builtOn is the day of the commit that the program was built from, else today.
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
