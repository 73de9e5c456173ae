package line

import (
	"reflect"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Write returns an entry as it would be typed, with its time. It is not ok if a line cannot say all of what could be
// typed: a note of several lines, quotes in a value. Bottles and triangle tests are left out.
func Write(e ferment.Entry, ctx Context) (text string, ok bool) {
	at := e.At.Time.In(ctx.Zone).Format("2006-01-02 15:04:05")
	if e.At.DayOnly {
		at = e.At.Time.Format(time.DateOnly)
	}
	words := []string{strings.TrimSuffix(at, ":00")}
	for _, k := range ferment.Keys() {
		if !k.OnLine() && own[k.Name] == nil || k.Name == "at" || k.Name == "note" || !k.Has(&e) {
			continue
		}
		word := written(&k, &e, ctx.Units)
		if last := len(words) - 1; k.Name == "sample" && e.HasDensity() {
			words[last] += word
		} else {
			words = append(words, word)
		}
	}
	if text = strings.Join(words, " "); e.Note != "" {
		text += " ; " + e.Note
	}
	again, err := Parse(text, ctx)
	return text, err == nil && !strings.Contains(text, "\n") && SameEntry(again.Entry, e)
}

// SameEntry reports whether two entries say the same in every key that can be typed.
func SameEntry(a, b ferment.Entry) bool {
	for _, k := range ferment.Keys() {
		if k.Name != "at" && (k.OnLine() || own[k.Name] != nil) && !reflect.DeepEqual(k.Value(&a), k.Value(&b)) {
			return false
		}
	}
	return a.At.DayOnly == b.At.DayOnly && a.At.Time.Truncate(time.Second).Equal(b.At.Time.Truncate(time.Second))
}

// written returns a key with its value as it would be typed.
func written(k *ferment.Key, e *ferment.Entry, units measure.System) string {
	value := k.Text(e)
	glued := strings.ReplaceAll(value, " ", "")
	switch {
	case k.Name == "to":
		value = strings.TrimSuffix(e.To.Kind+", "+e.To.Brimful.Text, ", ")
	case k.Name == "sample" && units == measure.US:
		return "@" + strings.TrimSuffix(glued, "°F")
	case k.Name == "sample":
		return "@" + strings.TrimSuffix(glued, "°C")
	case k.Name == "did" || k.Name == "clarity" || k.Name == "gravity" || k.Name == "amount":
		return value
	case k.Form == ferment.AList && len(k.Words) > 0:
		value = glued
	case k.Name == "doubt" && value == "true":
		return "?"
	case k.Before != "":
		return k.Before + glued
	case len(k.After) > 0:
		return glued + k.After[0]
	case k.Name == "temperature" && !strings.Contains(value, "to"):
		return strings.Replace(glued, "°", "", 1)
	}
	if strings.ContainsAny(value, " ;@") {
		value = `"` + value + `"`
	}
	return k.Name + "=" + value
}
