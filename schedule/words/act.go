package words

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// labels are the acts and measurements whose word alone says too little.
var labels = map[string]string{
	"look":    "look at the airlock",
	"choose":  "choose the ending",
	"accept":  "take the finish as it is",
	"started": "see whether it works",
	"aerate":  "air",
	"ph":      "pH",
}

// short are the same in a narrow place.
var short = map[string]string{"look": "airlock", "choose": "ending", "started": "started?", "aerate": "air", "ph": "pH"}

// ActLabel is what a task asks for: the title of its step, or the act in words,
// so that "nutrient-2" is "nutrient 2".
func ActLabel(t schedule.Task) string {
	if t.Title != "" {
		return t.Title
	}
	return labelFrom(labels, t)
}

// ShortLabel is ActLabel for a narrow place: "airlock".
func ShortLabel(t schedule.Task) string { return labelFrom(short, t) }

func labelFrom(words map[string]string, t schedule.Task) string {
	word := wordFor(words, t.Do)
	switch number, isNumber := strings.CutPrefix(t.Step, t.Do+"-"); {
	case t.Step == "", t.Step == t.Do, t.Step == schedule.LateNutrient, ferment.IsMeasurement(t.Do):
		return word
	case isNumber:
		return word + " " + spaced(number)
	}
	return spaced(t.Step)
}

func wordFor(words map[string]string, do string) string {
	if w, ok := words[do]; ok {
		return w
	}
	return spaced(do)
}

func spaced(name string) string { return strings.ReplaceAll(name, "-", " ") }

// FreesLabel is what to do about a held task: "read gravity", "rack".
func FreesLabel(do string) string {
	switch {
	case do == "":
		return ""
	case do == ferment.DoTemperature, do == ferment.DoVolume:
		return "read the " + do
	case ferment.IsMeasurement(do):
		return "read " + wordFor(labels, do)
	}
	return wordFor(labels, do)
}

// past is an act that is over.
func past(act ferment.Act) string {
	if act == ferment.Degas {
		return "degassed"
	}
	return spaced(string(act)) + " done"
}
