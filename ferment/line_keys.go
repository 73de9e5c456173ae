package ferment

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// keyRule is how the value of one key of an entry is read on a line.
type keyRule struct {
	example string
	set     func(l *Line, value string, ctx LineContext) error
}

// entryKeys are the keys of an entry that a line can give.
var entryKeys = map[string]keyRule{
	"at":            {"18:30", setAt},
	"gravity":       {"1.046", given(typedGravity, func(e *Entry) *measure.Given[measure.Gravity] { return &e.Gravity })},
	"brix":          {"11.4", given(measure.ParseBrix, func(e *Entry) *measure.Given[measure.Brix] { return &e.Brix })},
	"plato":         {"11.4", given(measure.ParseBrix, func(e *Entry) *measure.Given[measure.Brix] { return &e.Plato })},
	"oechsle":       {"62", given(measure.ParseOechsle, func(e *Entry) *measure.Given[float64] { return &e.Oechsle })},
	"refractometer": {"8.6", given(measure.ParseRefractometer, func(e *Entry) *measure.Given[measure.Brix] { return &e.Refractometer })},
	"sample":        {"23C", setSample},
	"with":          {"hydrometer", text(func(e *Entry) *string { return &e.With })},
	"degassed":      {"false", setDegassed},
	"temperature":   {"19.5C", setTemperature},
	"ph":            {"3.4", given(measure.ParsePH, func(e *Entry) *measure.Given[measure.PH] { return &e.PH })},
	"acidity":       {"5.5", setAcidity},
	"volume":        {"3.4L", given(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Volume })},
	"lees":          {"1.5cm", given(measure.ParseDepth, func(e *Entry) *measure.Given[measure.Depth] { return &e.Lees })},
	"clarity":       {"clear", oneWord(ClarityWords, func(e *Entry, w string) { e.Clarity = Clarity(w) })},
	"seen":          {"film,gas", setSeen},
	"airlock":       {"working", oneWord(AirlockWords, func(e *Entry, w string) { e.Airlock = w })},
	"smell":         {"clean", text(func(e *Entry) *string { return &e.Smell })},
	"feel":          {"firm", oneWord(FeelWords, func(e *Entry, w string) { e.Feel = w })},
	"label":         {"doubtful", oneWord([]string{"doubtful"}, func(e *Entry, w string) { e.Label = w })},
	"place":         {"cellar", text(func(e *Entry) *string { return &e.Place })},
	"lost":          {"0.2L", given(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Lost })},
	"doubt":         {"true", setDoubt},
	"did":           {"degas", setDid},
	"step":          {"nutrient-2", text(func(e *Entry) *string { return &e.Step })},
	"amount":        {"1.5g", setAmount},
	"of":            {`"ammonium phosphate"`, text(func(e *Entry) *string { return &e.Of })},
	"stock":         {"10%", given(measure.ParseShare, func(e *Entry) *measure.Given[measure.Share] { return &e.Stock })},
	"lot":           {"bell-heather-26", text(func(e *Entry) *string { return &e.Lot })},
	"water":         {"18.1%", given(measure.ParseShare, func(e *Entry) *measure.Given[measure.Share] { return &e.Water })},
	"skipped":       {"degas", text(func(e *Entry) *string { return &e.Skipped })},
	"overrode":      {"nutrient", text(func(e *Entry) *string { return &e.Overrode })},
	"because":       {"away", text(func(e *Entry) *string { return &e.Because })},
	"remind":        {"2027-02-10", setRemind},
	"note":          {"bready", text(func(e *Entry) *string { return &e.Note })},
	"to":            {`"glass jug, 3.6 L"`, setTo},
	"left":          {"0.6L", given(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Left })},
	"bottle":        {`"BH-A 3"`, text(func(e *Entry) *string { return &e.Bottle })},
	"hiss":          {"3", given(measure.ParseHiss, func(e *Entry) *measure.Given[float64] { return &e.Hiss })},
	"foam":          {"2cm", given(measure.ParseDepth, func(e *Entry) *measure.Given[measure.Depth] { return &e.Foam })},
	"look":          {"pale", text(func(e *Entry) *string { return &e.Taste.Look })},
	"nose":          {"heather", text(func(e *Entry) *string { return &e.Taste.Nose })},
	"palate":        {"dry", text(func(e *Entry) *string { return &e.Taste.Palate })},
	"body":          {"thin", text(func(e *Entry) *string { return &e.Taste.Body })},
	"finish":        {"short", text(func(e *Entry) *string { return &e.Taste.Finish })},
	"faults":        {"vinegar,dull", setFaults},
	"score":         {"72", given(measure.ParseScore, func(e *Entry) *measure.Given[float64] { return &e.Taste.Score })},
	"blind":         {"true", setBlind},
	"medium":        {"100mL", given(measure.ParseVolume, func(e *Entry) *measure.Given[measure.Volume] { return &e.Medium })},
	"alcohol":       {"5%", given(measure.ParseStrength, func(e *Entry) *measure.Given[measure.Strength] { return &e.Alcohol })},
	"verdict":       {"usable", oneWord(VerdictWords, func(e *Entry, w string) { e.Verdict = w })},
}

// unknownKey says what instead of a key that a line cannot give.
func unknownKey(key string) string {
	switch key {
	case "bottles", "triangle":
		return key + " holds more than a line can say: keep it with its form, or write it in the file"
	case "taste":
		return "taste is given by its parts, e.g. nose=heather score=72"
	}
	return fmt.Sprintf("no entry has the key %q%s", key, DidYouMean(key, keyNames()))
}

func keyNames() []string {
	names := make([]string, 0, len(entryKeys))
	for name := range entryKeys {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// given reads a quantity and keeps it as a file has it.
func given[T any](parse func(string) (measure.Given[T], error), place func(*Entry) *measure.Given[T]) func(*Line, string, LineContext) error {
	return func(l *Line, value string, _ LineContext) error {
		g, err := parse(value)
		if err == nil {
			*place(&l.Entry) = measure.Give(g.Value, Spelled(g.Text))
		}
		return err
	}
}

// text keeps the words as they were typed.
func text(place func(*Entry) *string) func(*Line, string, LineContext) error {
	return func(l *Line, value string, _ LineContext) error {
		*place(&l.Entry) = value
		return nil
	}
}

func oneWord(known []string, set func(*Entry, string)) func(*Line, string, LineContext) error {
	return func(l *Line, value string, _ LineContext) error {
		word := strings.ToLower(value)
		if err := OneOf(word, known); err != nil {
			return err
		}
		set(&l.Entry, word)
		return nil
	}
}
