package ferment

import (
	"slices"
	"strings"
)

// Question is a key that an act asks about, and the possible answers; without answers it is free text.
type Question struct {
	Key     string // a key of an entry
	Label   string // at most 9 columns
	Answers []Answer
	Hint    string // what to look for, or a right example, with quantities in braces
	Needed  bool   // an answer is required
}

// Answer is a word to choose, and the value of the key for it; no value means that nothing was seen.
type Answer struct {
	Word, Value string
	Alone       bool // nothing else is asked after it
}

func yesNo(value string) []Answer { return []Answer{{Word: "yes", Value: value}, {Word: "no"}} }

// wordsOf returns an answer for each word, recorded as that word.
func wordsOf(words []string) []Answer {
	return Map(words, func(w string) Answer { return Answer{Word: w, Value: w} })
}

// mould returns the answer that is recorded as mould; no other can be given with it.
func mould(word string) Answer { return Answer{Word: word, Value: "mould", Alone: true} }

var smells = []Answer{{Word: "clean", Value: "clean"}, {Word: "sour", Value: "sour"}, {Word: "bad", Value: "bad"}}

// questions are what acts ask, mostly about what is seen and smelt. The words for clearness, growth and smell are
// common practice, no source.
var questions = map[Act][]Question{
	Look: {
		{Key: "airlock", Label: "airlock", Answers: wordsOf(AirlockWords), Hint: "fill a dry one up"},
		{Key: "seen", Label: "surface", Answers: []Answer{{Word: "clean"}, {Word: "film", Value: "film"}, mould("mould"), {Word: "flies", Value: "flies"}}, Hint: "mould is fuzzy or coloured"},
		{Key: "clarity", Label: "clarity", Answers: wordsOf(ClarityWords), Hint: "clear: print reads through it"},
		{Key: "smell", Label: "smell", Answers: smells, Hint: "clean: of fruit, bread or wine"},
	},
	Started: {
		{Key: "airlock", Label: "bubbles", Answers: []Answer{{Word: "yes", Value: "working"}, {Word: "nothing yet", Value: "still"}}, Hint: "in the airlock, or rising", Needed: true},
		{Key: "seen", Label: "foam", Answers: yesNo("foam"), Hint: "a ring or a cap of it"},
		{Key: "gravity", Label: "gravity", Hint: "if you measured it, e.g. 1.080"},
	},
	Squeeze: {
		{Key: "feel", Label: "feels", Answers: wordsOf(FeelWords), Hint: "hard: it does not give at all", Needed: true},
	},
	FruitIn: {
		{Key: "of", Label: "fruit", Hint: "e.g. bramble, frozen", Needed: true},
		{Key: "amount", Label: "mass", Hint: "stones out, e.g. {500 g}", Needed: true},
		{Key: "sugar", Label: "sugar", Hint: "in it, e.g. 6 %; else from a table"},
		{Key: "of", Label: "frozen", Answers: yesNo("frozen"), Hint: "freezing and thawing releases the juice"},
		{Key: "of", Label: "sulphite", Answers: yesNo("sulphited"), Hint: "a day before; none if wild"},
	},
	FruitOut: {
		{Key: "volume", Label: "left over", Hint: "in the vessel, e.g. {3.3 L}"},
		{Key: "lost", Label: "lost", Hint: "in the pressed fruit, e.g. {0.2 L}"},
		{Key: "gravity", Label: "gravity", Hint: "of a sample, e.g. 1.004"},
	},
	Open: {
		{Key: "bottle", Label: "bottle", Hint: "its code, or test, drink, tasting"},
		{Key: "hiss", Label: "hiss", Hint: "0 none, 1 a sigh, 3 lively, 5 gushes", Needed: true},
		{Key: "foam", Label: "foam", Hint: "how high in the glass, e.g. {2 cm}"},
		{Key: "palate", Label: "palate", Hint: "any words: sweet, a little, dry"},
		{Key: "gravity", Label: "gravity", Hint: "of the flat sample, e.g. 0.998"},
	},
	Taste: {
		{Key: "look", Label: "look", Hint: "any words, e.g. clear, pale gold"},
		{Key: "nose", Label: "nose", Hint: "how it smells, e.g. heather"},
		{Key: "palate", Label: "palate", Hint: "how it tastes, e.g. dry, sharp", Needed: true},
		{Key: "faults", Label: "faults", Hint: "e.g. sulphur, vinegar; or none"},
		{Key: "score", Label: "score", Hint: "0 to 100, e.g. 70"},
	},
	TopUp: {
		{Key: "amount", Label: "amount", Hint: "what goes in, e.g. {0.2 L}", Needed: true},
		{Key: "of", Label: "with", Hint: "water, or which mead, e.g. lime-a", Needed: true},
		{Key: "alcohol", Label: "strength", Hint: "of a mead, e.g. 12 %"},
	},
	Blend: {
		{Key: "amount", Label: "amount", Hint: "what goes in, e.g. {0.5 L}", Needed: true},
		{Key: "of", Label: "with", Hint: "which mead, e.g. lime-a", Needed: true},
		{Key: "alcohol", Label: "strength", Hint: "of that mead, e.g. 12 %"},
	},
	Rack: {
		{Key: "gravity", Label: "gravity", Hint: "of a sample, e.g. 0.998"},
		{Key: "sample", Label: "sample", Hint: "its temperature, e.g. {19 °C}"},
		{Key: "lees", Label: "sediment", Hint: "its height, e.g. {1.5 cm}"},
		{Key: "clarity", Label: "clarity", Answers: wordsOf(ClarityWords), Hint: "clear: print reads through it"},
		{Key: "temperature", Label: "warmth", Hint: "of the mead, e.g. {18 °C}"},
	},
}

// cultureQuestions are what an act asks on a culture, if that differs.
var cultureQuestions = map[Act][]Question{
	Look: {
		{Key: "seen", Label: "gas", Answers: yesNo("gas"), Hint: "bubbles on the glass, or a hiss", Needed: true},
		{Key: "seen", Label: "sediment", Answers: yesNo("sediment"), Hint: "a white or cream layer below", Needed: true},
		{Key: "seen", Label: "growth", Answers: []Answer{{Word: "none"}, mould("some")}, Hint: "fuzz, film, pink, green, black", Needed: true},
		{Key: "smell", Label: "smell", Answers: smells, Hint: "clean: of fruit, bread or wine", Needed: true},
	},
	Verdict: {
		{Key: "verdict", Label: "verdict", Answers: wordsOf(VerdictWords), Hint: "usable: it ferments must cleanly", Needed: true},
	},
}

// Questions returns what an act asks on a ferment or on a culture; nil for nothing.
func Questions(act Act, ofCulture bool) []Question {
	if own, has := cultureQuestions[act]; has && ofCulture {
		return own
	}
	return questions[act]
}

// AnswersTo reports whether the entry answers the questions of an act, and so also counts as that act. It counts as a
// start if bubbles or foam were seen.
func (e *Entry) AnswersTo(act Act) bool {
	if e.Did.ApartFromCourse() {
		return false
	}
	switch act {
	case Look:
		return e.Airlock != "" || e.Clarity != "" || e.Smell != "" || len(e.Seen) > 0
	case Started:
		return e.Airlock == "working" || e.Saw("foam") || e.Saw("gas")
	case Squeeze:
		return e.Feel != ""
	}
	return false
}

// NothingYet reports whether somebody looked for a start and saw none.
func (e *Entry) NothingYet() bool {
	return e.Did == Started && e.Airlock == "still" && !e.AnswersTo(Started)
}

// Answered returns the entry line for answers: one key with all its values.
func Answered(questions []Question, answers []string) string {
	var keys []string
	values := map[string][]string{}
	for i, q := range questions {
		value := answers[i]
		if n := slices.IndexFunc(q.Answers, func(a Answer) bool { return a.Word == value }); n >= 0 {
			value = q.Answers[n].Value
		}
		if value = strings.TrimSpace(value); value == "" {
			continue
		}
		if _, had := values[q.Key]; !had {
			keys = append(keys, q.Key)
		}
		values[q.Key] = append(values[q.Key], value)
	}
	parts := make([]string, len(keys))
	for i, key := range keys {
		between := ","
		if key == "of" { // free text, not a list
			between = ", "
		}
		parts[i] = key + "=" + quoted(strings.Join(values[key], between))
	}
	return strings.Join(parts, " ")
}

// quoted returns a value as it is typed on the entry line: in quotes if it has a space or a sign.
func quoted(value string) string {
	if strings.ContainsAny(value, " ;@") {
		return `"` + strings.ReplaceAll(value, `"`, "'") + `"`
	}
	return value
}
