package line

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// own are the keys that a line reads differently from a file.
var own = map[string]func(l *Line, value string, ctx Context) error{"at": setAt, "to": setTo}

// keyFor returns a key that a line can give.
func keyFor(name string) (*ferment.Key, bool) {
	k, is := ferment.KeyNamed(name)
	return k, is && (k.OnLine() || own[name] != nil)
}

func keyNames() []string {
	var names []string
	for _, k := range ferment.Keys() {
		if _, is := keyFor(k.Name); is {
			names = append(names, k.Name)
		}
	}
	slices.Sort(names)
	return names
}

// example returns a right part for a key, as typed on a line: "ph=3.4".
func example(k *ferment.Key) string {
	if strings.HasPrefix(k.Typed, k.Name+"=") {
		return k.Typed
	}
	value := k.Example
	switch k.Form {
	case ferment.AQuantity:
		value = strings.ReplaceAll(value, " ", "")
	case ferment.AMoment:
		value = k.Typed
	}
	return k.Name + "=" + value
}

// unknownKey says that no entry has a key, or where else it is written down.
func unknownKey(key string) string {
	switch key {
	case "bottles", "triangle":
		return key + " has more than a line can say: use its form, or write it in the file"
	case "taste":
		return "taste is given by its parts, e.g. nose=heather score=72"
	}
	return fmt.Sprintf("no entry has the key %q%s", key, ferment.DidYouMean(key, keyNames()))
}

// give sets a key of the entry to a value, by the key's own rule for lines if it has one.
func (r *lineReader) give(k *ferment.Key, value string) error {
	if set := own[k.Name]; set != nil {
		return set(&r.line, value, r.ctx)
	}
	e := &r.line.Entry
	switch k.Form {
	case ferment.AList:
		return r.list(k, value)
	case ferment.AWord, ferment.AFlag:
		value = strings.ToLower(value)
		if flag := map[string]string{"yes": "true", "no": "false"}[value]; flag != "" && k.Form == ferment.AFlag {
			value = flag
		}
		if k.Name == "did" && !ferment.IsAct(value) {
			return fmt.Errorf("%q is no act%s", value, ferment.DidYouMean(value, k.Words))
		}
	case ferment.AQuantity:
		if err := k.Set(e, r.inFull(k, value), r.ctx.Zone); err != nil {
			return err
		}
		if value = measure.Spelled(k.Text(e)); value == "" {
			return nil
		}
	}
	return k.Set(e, value, r.ctx.Zone)
}

// list gives a key its items, separated by commas; items of a fixed set of words may also be separated by spaces.
func (r *lineReader) list(k *ferment.Key, value string) error {
	if len(k.Words) > 0 {
		value = strings.ToLower(strings.Join(strings.Fields(value), ","))
	}
	for thing := range strings.SplitSeq(value, ",") {
		if thing = strings.TrimSpace(thing); thing == "" {
			continue
		}
		if err := k.Set(&r.line.Entry, thing, r.ctx.Zone); err != nil {
			return err
		}
	}
	return nil
}

// inFull returns a quantity as a file has it where a line allows less: a gravity in thousandths, a bare number, two
// ends of a range with dots between.
func (r *lineReader) inFull(k *ferment.Key, value string) string {
	switch {
	case k.Name == "gravity":
		return wholeGravity(value)
	case k.Name == "temperature" && strings.Contains(value, ".."):
		return strings.Replace(value, "..", " to ", 1)
	case k.Name != "amount":
		return measure.WithUnit(value, measure.Converted(k.Example, r.ctx.Units))
	case strings.EqualFold(value, "unknown"):
		return strings.ToLower(value)
	}
	return value
}

func setAt(l *Line, value string, ctx Context) error {
	at, notice, err := ferment.ParseTime(value, ctx.Now, ctx.Zone)
	if err != nil {
		return err
	}
	l.Entry.At, l.Timed = at, true
	if notice != "" {
		l.Notices = append(l.Notices, notice)
	}
	return nil
}

// kindAndBrimful matches a vessel's kind followed by its brimful volume.
var kindAndBrimful = ferment.Pattern(`^(.*?)[,\s]*(` + measure.NumberPattern + `\s*[[:alpha:]][[:alpha:] ]*)$`)

// setTo reads the vessel that something goes into: "glass jug, 3.6 L". Without a volume at the end all of it is the
// kind.
func setTo(l *Line, value string, _ Context) error {
	l.Entry.To = ferment.Vessel{Kind: value, Declared: true}
	if m := kindAndBrimful().FindStringSubmatch(value); m != nil {
		if v, err := measure.ParseVolume(m[2]); err == nil {
			l.Entry.To.Kind = m[1]
			l.Entry.To.Brimful = measure.Give(v.Value, measure.Spelled(v.Text))
		}
	}
	return nil
}

// amountOfWhat says which parts an amount without an act may have meant.
func amountOfWhat(typed string, a ferment.Amount) string {
	glued := strings.ReplaceAll(typed, " ", "")
	switch a.Dimension() {
	case measure.OfVolume:
		return fmt.Sprintf("%s could be the volume in the vessel or an amount: type vol%s, or an act with it, e.g. water %s", typed, glued, typed)
	case measure.OfContent:
		return fmt.Sprintf("%s could be the acidity or an amount: type ta%s, or an act with it, e.g. buffer %s", typed, glued, typed)
	}
	return fmt.Sprintf("%s of what? type an act with it, e.g. nutrient %s", typed, typed)
}
