package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
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
			"given stands there as a comment. The keys are " + strings.Join(keysOfNew(), ", ") + ".",
		Args:              args(cobra.MinimumNArgs(1)),
		ValidArgsFunction: completeNew,
		RunE: func(_ *cobra.Command, given []string) error {
			files, _ := w.store(*f)
			one := ferment.Ferment{ID: given[0], Name: given[0], Protocol: "small-jug"}
			if from != "" {
				other, err := w.other(*f, from)
				if err != nil {
					return err
				}
				one = madeLike(one, other)
			}
			if err := fillIn(&one, given[1:]); err != nil {
				return err
			}
			_, err := files.Carry(ferment.Deed{Ferments: []ferment.Ferment{one}})
			var wrong *journal.ProblemError
			if errors.As(err, &wrong) {
				return usage("%s", wrong.Problems[0].Message)
			}
			if err != nil {
				return err
			}
			fmt.Fprintf(w.stdout, "made %s/ferments/%s.yaml\n", files.Dir(), one.ID)
			return nil
		},
	}
	cmd.Flags().StringVar(&from, "from", "", "take must, yeast and protocol over from another ferment, `NAME`")
	_ = cmd.RegisterFlagCompletionFunc("from", w.completeNames(f, 99, session.withPast))
	return cmd
}

// A keyOfNew is a part of a new ferment that can be given on the command line.
type keyOfNew struct {
	key     string
	example string
	set     func(f *ferment.Ferment, value string) error
}

var newKeys = []keyOfNew{
	{"name", "Bell heather, east hive", asText(func(f *ferment.Ferment) *string { return &f.Name })},
	{"tag", "BH-A", asText(func(f *ferment.Ferment) *string { return &f.Tag })},
	{"vessel", "glass jug", asText(func(f *ferment.Ferment) *string { return &f.Vessel.Kind })},
	{"trial", "bell-heather", func(f *ferment.Ferment, value string) error {
		f.Trial = ferment.Trial{Name: value, Differs: "yeast"}
		return nil
	}},
	{"protocol", "small-jug", asText(func(f *ferment.Ferment) *string { return &f.Protocol })},
	{"ending", "still", setEnding},
	{"volume", "3.6 L", asGiven(measure.ParseVolume, func(f *ferment.Ferment) *measure.Given[measure.Volume] { return &f.Must.Volume })},
	{"honey", "980 g", func(f *ferment.Ferment, value string) (err error) {
		f.Must.Honey = make([]ferment.HoneyPart, 1)
		f.Must.Honey[0].Mass, err = measure.ParseMass(value)
		return err
	}},
	{"water", "2.9 L", asGiven(measure.ParseVolume, func(f *ferment.Ferment) *measure.Given[measure.Volume] { return &f.Must.Water })},
	{"gravity", "1.084", asGiven(measure.ParseGravity, func(f *ferment.Ferment) *measure.Given[measure.Gravity] { return &f.Must.Gravity })},
	{"ph", "3.9", asGiven(measure.ParsePH, func(f *ferment.Ferment) *measure.Given[measure.PH] { return &f.Must.PH })},
	{"yeast", "white-wine yeast, dry", asText(func(f *ferment.Ferment) *string { return &f.Yeast.Name })},
	{"kind", "bought", asText(func(f *ferment.Ferment) *ferment.YeastKind { return &f.Yeast.Kind })},
	{"culture", "hawthorn-3", asText(func(f *ferment.Ferment) *string { return &f.Yeast.Culture })},
	{"demand", "medium", asText(func(f *ferment.Ferment) *ferment.Demand { return &f.Yeast.Demand })},
	{"tolerance", "14 %", asGiven(measure.ParseStrength, func(f *ferment.Ferment) *measure.Given[measure.Strength] { return &f.Yeast.Tolerance })},
	{"temperature", "15 °C to 22 °C", asGiven(measure.ParseTemperatures, func(f *ferment.Ferment) *measure.Given[measure.Span[measure.Temperature]] {
		return &f.Yeast.Temperature
	})},
	{"nutrient", "ammonium phosphate", asText(func(f *ferment.Ferment) *string { return &f.Nutrient.Kind })},
}

// asText takes a value as it is. Whether it is one of the words that are wanted,
// the new file tells when it is read again.
func asText[T ~string](at func(*ferment.Ferment) *T) func(*ferment.Ferment, string) error {
	return func(f *ferment.Ferment, value string) error {
		*at(f) = T(value)
		return nil
	}
}

func asGiven[V any](parse func(string) (measure.Given[V], error), at func(*ferment.Ferment) *measure.Given[V]) func(*ferment.Ferment, string) error {
	return func(f *ferment.Ferment, value string) (err error) {
		*at(f), err = parse(value)
		return err
	}
}

func setEnding(f *ferment.Ferment, value string) error {
	endings, ok := ferment.ParseEndings(value)
	if !ok {
		return fmt.Errorf("%q is none (still, bottle-conditioned, sweetened or undecided, e.g. ending=still)", value)
	}
	f.Endings = endings
	return nil
}

func keysOfNew() []string {
	var keys []string
	for _, k := range newKeys {
		keys = append(keys, k.key)
	}
	return keys
}

// fillIn reads what was given as key=value.
func fillIn(f *ferment.Ferment, pairs []string) error {
	for _, pair := range pairs {
		key, value, is := strings.Cut(pair, "=")
		if !is || value == "" {
			return usage("%q is no key=value, e.g. volume=3.6L", pair)
		}
		i := slices.IndexFunc(newKeys, func(k keyOfNew) bool { return k.key == key })
		if i < 0 {
			return usage("a new ferment has no key %q%s", key, ferment.Meant(key, keysOfNew()))
		}
		if err := newKeys[i].set(f, value); err != nil {
			return usage("%s %w", key, err)
		}
	}
	return nil
}

// other is the ferment, open or closed, that a new one is to be like.
func (w world) other(f flags, name string) (ferment.Ferment, error) {
	s, err := w.open(f)
	if err != nil {
		return ferment.Ferment{}, err
	}
	return s.openOrPast(name)
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

// madeLike is a ferment with what another was made of.
func madeLike(f, other ferment.Ferment) ferment.Ferment {
	f.Vessel.Kind, f.Trial, f.Must, f.Yeast, f.Nutrient = other.Vessel.Kind, other.Trial, other.Must, other.Yeast, other.Nutrient
	if other.Protocol != "" {
		f.Protocol = other.Protocol
	}
	return f
}
