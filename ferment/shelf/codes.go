package shelf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Codes returns the bottle codes in a text: "BH-A 1-3, 7" is BH-A 1, BH-A 2, BH-A 3 and BH-A 7. A number alone gets the
// prefix of the code before it; other text is a code as it is.
func Codes(text string) []string {
	var out []string
	before := ""
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		part = strings.Join(strings.Fields(strings.ReplaceAll(part, "–", "-")), " ")
		if part == "" {
			continue
		}
		if digits(part[:1]) {
			part = before + part
		}
		head, _ := cutNumber(part)
		run, prefix := runOf(part)
		if run == nil {
			run, prefix = []string{part}, head
		}
		out, before = append(out, run...), prefix
	}
	return out
}

// Runs returns codes with those that follow one another taken together: "BH-A 1-3".
func Runs(codes []string) []string {
	var out []string
	for len(codes) > 0 {
		n, text := 1, codes[0]
		for n < len(codes) {
			_, last := cutNumber(codes[n])
			longer := codes[0] + "-" + last
			if !slices.Equal(Codes(longer), codes[:n+1]) {
				break
			}
			n, text = n+1, longer
		}
		out, codes = append(out, text), codes[n:]
	}
	return out
}

// runOf returns the codes of a run such as "A 1-8" or "A1-A8", at most 10000, and their prefix; nil if the text is not
// a run.
func runOf(part string) (run []string, prefix string) {
	rest, last := cutNumber(part)
	rest, again := cutDash(rest)
	prefix, first := cutNumber(rest)
	if last == "" || first == "" || again != "" && again != prefix {
		return nil, ""
	}
	from, _ := strconv.Atoi(first)
	to, _ := strconv.Atoi(last)
	if to <= from || to-from >= 10000 {
		return nil, ""
	}
	for n := from; n <= to; n++ {
		run = append(run, fmt.Sprintf("%s%0*d", prefix, len(first), n))
	}
	return run, prefix
}

// cutNumber splits off the number at the end of a text, at most nine digits.
func cutNumber(text string) (before, number string) {
	i := len(text)
	for i > 0 && len(text)-i < 9 && digits(text[i-1:i]) {
		i--
	}
	return text[:i], text[i:]
}

// cutDash splits "BH-A 1-" or "A1-A" at its last dash. Without a dash both parts are empty.
func cutDash(text string) (before, again string) {
	i := strings.LastIndexByte(text, '-')
	if i < 0 {
		return "", ""
	}
	return strings.TrimRight(text[:i], " "), strings.TrimLeft(text[i+1:], " ")
}

func digits(s string) bool { return strings.Trim(s, "0123456789") == "" }

// sameCode reports whether two codes mean the same bottle, ignoring case and spaces, or by the number alone.
func sameCode(written, code string) bool {
	if digits(written) && written != "" {
		_, number := cutNumber(code)
		return strings.TrimLeft(number, "0") == strings.TrimLeft(written, "0")
	}
	plain := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), "")) }
	return plain(written) == plain(code)
}

// Kinds returns the kinds of bottles to choose from: those of the settings, else the built-in ones.
func Kinds(s ferment.Settings) []carbonation.Bottle {
	own := ferment.Map(s.Bottles, ownKind)
	if len(own) == 0 {
		return carbonation.BuiltIn()
	}
	return own
}

// AllKinds returns the kinds of the settings, then the built-in ones, each name once.
func AllKinds(s ferment.Settings) (all []carbonation.Bottle) {
	for _, b := range slices.Concat(ferment.Map(s.Bottles, ownKind), carbonation.BuiltIn()) {
		if !slices.ContainsFunc(all, func(had carbonation.Bottle) bool { return strings.EqualFold(had.Kind, b.Kind) }) {
			all = append(all, b)
		}
	}
	return all
}

// KindOf returns a kind of bottle by name, ignoring case: one of the settings, else a built-in one.
func KindOf(s ferment.Settings, kind string) (carbonation.Bottle, bool) {
	return ferment.FirstWhere(AllKinds(s), func(b carbonation.Bottle) bool { return strings.EqualFold(b.Kind, kind) })
}

// KindForFizz returns the kind of bottle for the fizz that the settings aim at, soft or not, and its size if it has one: the
// first that is strong enough in the hottest place with a point unfinished, else the first that may be filled to it.
func KindForFizz(c *course.Course, soft bool) (found carbonation.Bottle, size measure.Given[measure.Volume]) {
	s, l := c.Settings, carbonation.Liquid{Alcohol: c.Alcohol.Value}
	for _, b := range Kinds(s) {
		if IsSoft(b.Kind) != soft || b.CheckFizz(s.Fizz) != nil {
			continue
		}
		strain, err := b.Strain(FilledAt(c, c.Now).Value, s.Fizz, l, s.Hottest, 1)
		if stands := err == nil && strain.Load() != carbonation.Over; found.Kind == "" || stands {
			if found = b; stands {
				break
			}
		}
	}
	own, _ := ferment.FirstWhere(s.Bottles, func(b ferment.BottleKind) bool { return strings.EqualFold(b.Kind, found.Kind) })
	return found, own.Size
}

// ownKind returns a kind of bottle from the settings; what they leave out is that of the built-in kind.
func ownKind(b ferment.BottleKind) carbonation.Bottle {
	known, _ := carbonation.BottleOf(b.Kind)
	return carbonation.Bottle{Kind: b.Kind, Holds: b.Holds.Or(known.Holds), Rated: b.Stands}
}
