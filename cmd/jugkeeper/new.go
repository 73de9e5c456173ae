package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
)

func newCommand(w world, f *flags) *cobra.Command {
	var from string
	cmd := &cobra.Command{
		Use:   "new NAME [key=value…]",
		Short: "A new ferment file, commented, ready to edit",
		Example: "  jugkeeper new lime-a\n" +
			"  jugkeeper new lime-a tag=LIME-A volume=3.6L gravity=1.084 'yeast=white-wine yeast, dry'\n" +
			"  jugkeeper new lime-b --from lime-a tag=LIME-B",
		Long: "Writes ferments/NAME.yaml with every part that a ferment can have; what was not\n" +
			"given stands there as a comment. The keys are " + strings.Join(draftKeys(), ", ") + ".",
		Args:              args(cobra.MinimumNArgs(1)),
		ValidArgsFunction: completeDraft,
		RunE: func(_ *cobra.Command, given []string) error {
			files, _ := w.store(*f)
			d, err := newDraft(given[0], given[1:])
			if err != nil {
				return err
			}
			if from != "" {
				if err := d.takeOver(w, *f, from); err != nil {
					return err
				}
			}
			text := d.text()
			if got := journal.ReadFerment("ferments/"+d.id+".yaml", []byte(text), w.local); len(got.Problems) > 0 {
				return usage("%s", got.Problems[0].Message)
			}
			if err := files.Create(d.id, []byte(text)); err != nil {
				return err
			}
			fmt.Fprintf(w.stdout, "made %s/ferments/%s.yaml\n", files.Dir(), d.id)
			return nil
		},
	}
	cmd.Flags().StringVar(&from, "from", "", "take must, yeast and protocol over from another ferment, `NAME`")
	_ = cmd.RegisterFlagCompletionFunc("from", w.completeNames(f, 99, session.withPast))
	return cmd
}

// draft is a ferment file in the making: a value for each key that was given.
type draft struct {
	id     string
	values map[string]string
}

// field is one key of a draft: where it stands and what it is for.
type field struct {
	key     string // on the command line; empty for a line that only opens others
	line    string // in the file; %s is the value
	example string // what stands there, as a comment, until a person knows better
	comment string
}

// The fields of a draft in the order of the file.
var fields = []field{
	{"", "format: 1", "", ""},
	{"name", "name: %s", "Bell heather, east hive", "free text"},
	{"tag", "tag: %s", "BH-A", "on the glass; at most six columns"},
	{"vessel", "vessel: {kind: %s}", "glass jug", "with brimful: 4.1 L beside kind, if you know it"},
	{"trial", "trial: {name: %s, differs: yeast}", "bell-heather", "two vessels of one must, one thing different"},
	{"protocol", "protocol: %s", "small-jug", "jugkeeper protocol lists them"},
	{"ending", "ending: %s", "undecided", "still, bottle-conditioned, sweetened or undecided"},
	{"", "must:", "", ""},
	{"volume", "  volume: %s", "3.6 L", ""},
	{"honey", "  honey: [{mass: %s}]", "980 g", "with water: 18.1 % beside mass, if you know it"},
	{"water", "  water: %s", "2.9 L", "where honey went into so much water"},
	{"gravity", "  gravity: %s", "1.084", "measured; left out, it is worked out from the masses"},
	{"ph", "  ph: %s", "3.9", ""},
	{"", "yeast:", "", ""},
	{"yeast", "  name: %s", "white-wine yeast, dry", ""},
	{"kind", "  kind: %s", "bought", "bought, wild or slurry"},
	{"demand", "  demand: %s", "medium", "of nitrogen: low, medium or high"},
	{"tolerance", "  tolerance: %s", "14 %", "the alcohol it is said to reach"},
	{"temperature", "  temperature: %s", "15 °C to 22 °C", ""},
	{"nutrient", "nutrient: {kind: %s}", "ammonium phosphate", "target: and own: in mg/L go beside it"},
	{"", "log:", "", ""},
}

func draftKeys() []string {
	var keys []string
	for _, f := range fields {
		if f.key != "" {
			keys = append(keys, f.key)
		}
	}
	return keys
}

func newDraft(id string, pairs []string) (draft, error) {
	d := draft{id, map[string]string{"protocol": "small-jug", "name": id}}
	for _, pair := range pairs {
		key, value, is := strings.Cut(pair, "=")
		switch {
		case !is || value == "":
			return d, usage("%q is no key=value, e.g. volume=3.6L", pair)
		case !slices.Contains(draftKeys(), key):
			return d, usage("a new ferment has no key %q%s", key, ferment.Meant(key, draftKeys()))
		}
		d.values[key] = value
	}
	return d, nil
}

// takeOver fills in what another ferment, open or closed, was made of, where
// nothing else was asked for.
func (d draft) takeOver(w world, f flags, from string) error {
	s, err := w.open(f)
	if err != nil {
		return err
	}
	other, err := s.openOrPast(from)
	if err != nil {
		return err
	}
	for key, value := range madeOf(other) {
		if _, asked := d.values[key]; value != "" && (!asked || key == "protocol") {
			d.values[key] = value
		}
	}
	return nil
}

func (s session) openOrPast(name string) (ferment.Ferment, error) {
	f, err := s.first.Cellar.Find(name)
	if err == nil {
		return f, nil
	}
	past, pastErr := s.store.LoadPast(name)
	var broken *journal.ProblemError
	switch {
	case errors.As(pastErr, &broken):
		return f, &failure{saidNo, broken}
	case pastErr != nil:
		return f, err
	}
	return past, nil
}

func madeOf(f ferment.Ferment) map[string]string {
	made := map[string]string{
		"protocol": f.Protocol, "vessel": f.Vessel.Kind, "volume": f.Must.Volume.Text, "water": f.Must.Water.Text,
		"gravity": f.Must.Gravity.Text, "ph": f.Must.PH.Text, "yeast": f.Yeast.Name, "kind": string(f.Yeast.Kind),
		"demand": string(f.Yeast.Demand), "tolerance": f.Yeast.Tolerance.Text, "temperature": f.Yeast.Temperature.Text,
		"nutrient": f.Nutrient.Kind, "trial": f.Trial.Name,
	}
	if len(f.Must.Honey) > 0 {
		made["honey"] = f.Must.Honey[0].Mass.Text
	}
	return made
}

// text is the file: what is known as it is, the rest as a comment to fill in.
func (d draft) text() string {
	var b strings.Builder
	for i, f := range fields {
		value, given := d.values[f.key]
		line := f.line
		switch {
		case f.key == "" && strings.HasSuffix(line, ":") && !d.opens(i):
			line = "# " + line
		case f.key == "":
		case given:
			line = fmt.Sprintf(f.line, journal.Scalar(value))
		default:
			line = indentOf(f.line) + "# " + strings.TrimLeft(fmt.Sprintf(f.line, f.example), " ")
		}
		if f.comment != "" {
			line = fmt.Sprintf("%-39s # %s", line, f.comment)
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

// opens tells whether something that was given stands under a line that only
// opens others. The log stands open for what comes.
func (d draft) opens(i int) bool {
	if fields[i].line == "log:" {
		return true
	}
	for _, under := range fields[i+1:] {
		if !strings.HasPrefix(under.line, " ") {
			return false
		}
		if _, given := d.values[under.key]; given {
			return true
		}
	}
	return false
}

func indentOf(line string) string { return line[:len(line)-len(strings.TrimLeft(line, " "))] }
