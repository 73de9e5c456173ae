package main

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
)

type choice struct{ word, is string }

// completer is called when the Tab key is pressed.
type completer = cobra.CompletionFunc

func plainChoices(words []string) []choice {
	return ferment.Map(words, func(w string) choice { return choice{w, ""} })
}

// begun returns the choices that begin with what is typed. Everything for a shell goes through here: words with shell
// characters are left out, and so are repeated ones, because bash inserts what rows have in common.
func begun(typed string, choices []choice) ([]cobra.Completion, cobra.ShellCompDirective) {
	var out []cobra.Completion
	there, how := map[string]bool{}, cobra.ShellCompDirectiveNoSpace
	for _, c := range choices {
		if strings.HasPrefix(c.word, typed) && bare().MatchString(c.word) && !there[c.word] {
			there[c.word] = true
			out = append(out, cobra.CompletionWithDesc(c.word, strings.Map(inert, c.is)))
			if !strings.HasSuffix(c.word, "=") {
				how = cobra.ShellCompDirectiveDefault
			}
		}
	}
	return out, how | cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
}

func completeOnce(choices func() []choice) completer {
	return func(_ *cobra.Command, given []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(given) > 0 {
			return begun(typed, nil)
		}
		return begun(typed, choices())
	}
}

// completing calls choices with the open cellar; without a readable cellar nothing is completed.
func (w world) completing(f *flags, choices func(s session, given []string, typed string) []choice) completer {
	return func(_ *cobra.Command, given []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		s, err := w.open(*f)
		if err != nil {
			return begun(typed, nil)
		}
		return begun(typed, choices(s, given, typed))
	}
}

// completeNames completes ferments in the first arguments, without repeats.
func (w world) completeNames(f *flags, most int, choices func(s session, typed string) []choice) completer {
	return w.completing(f, func(s session, given []string, typed string) []choice {
		if len(given) >= most {
			return nil
		}
		return without(choices(s, typed), given)
	})
}

// listed completes the last of several names joined by commas.
func (s session) listed(typed string) []choice {
	at := strings.LastIndex(typed, ",") + 1
	choices := without(s.subjects(typed[at:]), strings.Split(typed[:at], ","))
	for i := range choices {
		choices[i].word = typed[:at] + choices[i].word
	}
	return choices
}

func without(choices []choice, given []string) []choice {
	return slices.DeleteFunc(choices, func(c choice) bool { return slices.Contains(given, c.word) })
}

// subjects returns ferments and cultures by name; by tag too if a tag is being typed.
func (s session) subjects(typed string) []choice {
	var names, tags []choice
	for _, v := range append(slices.Clone(s.first.Vessels), s.first.Cultures...) {
		names = append(names, choice{v.ID(), about(v)})
		if tag := v.Ferment.Tag; typed != "" && !strings.EqualFold(tag, v.ID()) {
			tags = append(tags, choice{tag, about(v)})
		}
	}
	return append(names, tags...)
}

// bare matches words without special characters for shells: a name, a list of names, a key with its value.
var bare = ferment.Pattern(`^[\pL\pN_][\pL\pN_.,-]*(=[\pL\pN_.,-]*)?$`)

// inert removes characters from a description that a shell would interpret.
func inert(r rune) rune {
	if strings.ContainsRune("$`\\;&|<>(){}[]!\"\n\t", r) {
		return ' '
	}
	return r
}

// about describes a vessel for a shell: tag and name.
func about(v app.Vessel) string {
	title := v.Ferment.Name
	if v.Culture != nil {
		title = v.Culture.Name
	}
	if tag := v.Ferment.Tag; tag != "" && title != "" {
		return tag + ", " + title
	}
	return v.Ferment.Tag + title
}

func (s session) withPast(typed string) []choice {
	past, _ := s.store.PastNames()
	return append(s.subjects(typed), ferment.Map(past, func(name string) choice { return choice{name, "closed"} })...)
}

// completeEntry completes a list of ferments, then acts, keys and their values.
func (w world) completeEntry(f *flags) completer {
	return w.completing(f, func(s session, given []string, typed string) []choice {
		if len(given) == 0 {
			return s.listed(typed)
		}
		return s.parts(strings.Split(given[0], ","), typed)
	})
}

// parts returns the acts and keys of an entry, or the values of the key being typed.
func (s session) parts(names []string, typed string) []choice {
	acts := plainChoices(ferment.ActNames())
	for _, k := range ferment.Keys() {
		if name, _, valued := strings.Cut(typed, "="); valued && name == k.Name {
			vs, _ := s.first.FindAll(names)
			return valuesOf(k.Name, s.first.ValuesOf(k.Name, vs))
		}
		if k.Typed != "" {
			acts = append(acts, choice{k.Name + "=", k.Reference()})
		}
	}
	return acts
}

func valuesOf(key string, values []string) []choice {
	for i, v := range values {
		values[i] = key + "=" + v
	}
	return plainChoices(values)
}

// completeTask completes a list of ferments, then their due, late and held tasks, by step and by act, then parts of an
// entry.
func (w world) completeTask(f *flags) completer {
	return w.completing(f, func(s session, given []string, typed string) []choice {
		var choices []choice
		switch len(given) {
		case 0:
			return s.listed(typed)
		case 1:
			for _, name := range strings.Split(given[0], ",") {
				if vs, err := s.first.FindAll([]string{name}); err == nil {
					choices = append(choices, s.asked(vs[0])...)
				}
			}
		}
		slices.SortStableFunc(choices, func(a, b choice) int { return strings.Compare(a.word, b.word) })
		return choices
	})
}

// asked returns the tasks of a vessel that done can be given.
func (s session) asked(v app.Vessel) []choice {
	var choices []choice
	for _, l := range words.Of(s.first).Lines(v.ID()) {
		switch l.Word {
		case words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay, words.Option:
			is := strings.Join(strings.Fields(v.Label()+" "+string(l.Word)+" "+l.Amount.String()+" "+l.Of), " ")
			choices = append(choices, choice{l.Task.Step, is}, choice{l.Task.Do, is})
		}
	}
	return choices
}

func completeFigure(_ *cobra.Command, given []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var choices []choice
	if len(given) == 0 {
		return begun(typed, ferment.Map(bench.Figures(), func(f bench.Figure) choice { return choice{f.Name, f.Use} }))
	}
	figure, err := bench.Find(given[0])
	if err != nil || strings.Contains(typed, "=") {
		return begun(typed, nil)
	}
	for _, way := range figure.Ways {
		for _, k := range way.Keys {
			c := choice{k.Name + "=", k.Does + ", e.g. " + k.ExampleIn(measure.Metric)}
			there := slices.ContainsFunc(given, func(g string) bool { return strings.HasPrefix(g, c.word) })
			if !there && !slices.ContainsFunc(choices, func(had choice) bool { return had.word == c.word }) {
				choices = append(choices, c)
			}
		}
	}
	return begun(typed, choices)
}

// completePlan completes a protocol: one of the cellar, or at least a built-in one.
func (w world) completePlan(f *flags) completer {
	return completeOnce(func() []choice {
		files, _ := w.store(*f)
		c, _ := files.Check(w.clock())
		return ferment.Map(sortedNames(c.Protocols), func(name string) choice { return choice{name, c.Protocols[name]().Title} })
	})
}

// completeNew completes the keys of a new ferment, and values from a fixed list.
func (w world) completeNew(f *flags) completer {
	return w.completing(f, func(s session, given []string, typed string) []choice {
		if len(given) == 0 {
			return nil
		}
		values, _ := keyValues(given[1:], "")
		if key, _, valued := strings.Cut(typed, "="); valued {
			whole, _ := s.app.OpenWhole(s.now)
			empty, _ := form.Open("new", whole, "", standing(given[0], values))
			fields, _ := empty.Outcome(values)
			i := slices.IndexFunc(fields, func(f form.Field) bool { return f.Key == key })
			if i < 0 {
				return nil
			}
			return valuesOf(key, slices.Clone(fields[i].Words))
		}
		return ferment.Map(newKeys, func(k [2]string) choice { return choice{k[0] + "=", "e.g. " + k[1]} })
	})
}

// completesFlags turns off file completion for flags, except for folders and tables. For a shell the descriptions of
// flags have no marks.
func completesFlags(root *cobra.Command, asked bool) {
	for _, cmd := range append(root.Commands(), root) {
		cmd.Flags().BoolP("help", "h", false, "show this help")
		cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if asked {
				f.Usage = strings.ReplaceAll(f.Usage, "`", "")
			}
			if _, has := cmd.GetFlagCompletionFunc(f.Name); !has && f.Name != "cellar" && f.Name != "table" {
				_ = cmd.RegisterFlagCompletionFunc(f.Name, cobra.NoFileCompletions)
			}
		})
	}
	_ = root.MarkPersistentFlagDirname("cellar")
}

func completeCommand(cmd *cobra.Command, given []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
	return completeOnce(func() []choice {
		var choices []choice
		for _, c := range cmd.Root().Commands() {
			if listed(c) {
				choices = append(choices, choice{c.Name(), c.Short})
			}
		}
		return append(choices, ferment.Map(sortedNames(topics), func(name string) choice { return choice{name, topics[name].use} })...)
	})(cmd, given, typed)
}

// shells are the shells with completion, and how its script is written.
var shells = map[string]func(*cobra.Command, io.Writer) error{
	"bash": bash,
	"zsh":  func(root *cobra.Command, out io.Writer) error { return root.GenZshCompletion(out) },
	"fish": func(root *cobra.Command, out io.Writer) error { return root.GenFishCompletion(out, true) },
}

// bash writes the library's script, which escapes every word it inserts, but keeps commas for lists of names.
func bash(root *cobra.Command, out io.Writer) error {
	if err := root.GenBashCompletionV2(out, true); err != nil {
		return err
	}
	_, err := io.WriteString(out, commasAsTyped)
	return err
}

const commasAsTyped = `
# A list of names, bh-a,bh-b, is matched and inserted with its commas as typed.
eval "__jugkeeper_process_escaped() $(declare -f __jugkeeper_process_completion_results | tail -n +2)"
__jugkeeper_process_completion_results() {
    local cur="${cur//\\,/,}"
    cur="${cur//,/\\,}"
    __jugkeeper_process_escaped
    COMPREPLY=("${COMPREPLY[@]//\\,/,}")
}
`

func completionCommand(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "completion bash|zsh|fish",
		Short: "Write a script for your shell, so that Tab completes what you type",
		Long: "Writes a script for your shell. With it the Tab key completes commands, flags, the\n" +
			"names of ferments, what is due in each, figures with their keys, protocols.\n" +
			"bash needs the package bash-completion.",
		Example: "  source <(jugkeeper completion bash)                                    in ~/.bashrc\n" +
			"  source <(jugkeeper completion zsh)                                     in ~/.zshrc, after compinit\n" +
			"  jugkeeper completion fish > ~/.config/fish/completions/jugkeeper.fish",
		Args:              args(cobra.ExactArgs(1)),
		ValidArgsFunction: completeOnce(func() []choice { return plainChoices(sortedNames(shells)) }),
		RunE: func(cmd *cobra.Command, given []string) error {
			write, known := shells[given[0]]
			if !known {
				return usage("there is no completion for %q%s", given[0], ferment.Meant(given[0], sortedNames(shells)))
			}
			return write(cmd.Root(), w.stdout)
		},
	}
}
