package form

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// record is the cellar at one moment.
type record struct{ s app.Snapshot }

func (r record) units() measure.System { return r.s.Cellar.Settings.Units }

func (r record) litres(v measure.Volume) string { return v.In(r.units()) }

func (r record) grams(m measure.Mass) string {
	if m < measure.Grams(1) { // a dose: two decimals
		return measure.Decimal(m.Grams(), 2) + " g"
	}
	return m.In(r.units())
}

func (r record) lot(id string) (ferment.Lot, bool) {
	return ferment.FirstWhere(r.s.Cellar.Lots, func(l ferment.Lot) bool { return l.ID == id && id != "" })
}

func (r record) account(l ferment.Lot) larder.Account {
	return larder.Of(l, r.s.Cellar.OpenAndPast(), r.s.At)
}

// draws says what is left of a lot after so much is taken.
func (r record) draws(o *Outcome, l ferment.Lot, wanted measure.Mass) {
	in := func(m measure.Mass) string { return m.In(r.units()) }
	switch left := r.account(l).Left; {
	case !left.Weighed:
		o.sayf(words.Note, "%s: the lot was never weighed, so %s may not be left", l.ID, in(wanted))
	case left.Mass < wanted-measure.Grams(0.5):
		there := max(left.Mass, 0)
		o.sayf(words.Warn, "%s: %s are wanted, %s are left, %s are missing", l.ID, in(wanted), in(there), in(wanted-there))
	default:
		o.sayf("", "%s: %s left, %s after this", l.ID, in(left.Mass), in(left.Mass-wanted))
	}
}

func (r record) culture(id string) ferment.Culture {
	k, _ := ferment.FirstWhere(r.s.Cellar.Cultures, func(k ferment.Culture) bool { return k.ID == id })
	return k
}

func lotIDs(lots []ferment.Lot) []string {
	return ferment.Map(lots, func(l ferment.Lot) string { return l.ID })
}

func cultureIDs(cultures []ferment.Culture) []string {
	return ferment.Map(cultures, func(k ferment.Culture) string { return k.ID })
}

// alive returns the ids of the cultures that are not thrown away and never had mould.
func (r record) alive() []string {
	return cultureIDs(ferment.Where(r.s.Cellar.Cultures, func(k ferment.Culture) bool {
		c := course.OfCulture(k, r.s.Cellar.Settings, r.s.Cellar.Settings.Limits, r.s.At)
		return !c.Over() && !slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return e.Saw("mould") })
	}))
}

// owner returns what already has a name, "" for a free name.
type owner func(name string) string

// names returns the owner of names and tags, including ferments about to be made. Closed ferments only have their file
// name.
func (r record) names(beside ...ferment.Ferment) owner {
	return func(name string) string {
		for _, f := range slices.Concat(r.s.Cellar.OpenAndPast(), beside) {
			switch {
			case strings.EqualFold(f.ID, name):
				return "the name of a ferment"
			case f.Called(name):
				return "the tag of " + f.ID
			}
		}
		for _, p := range r.s.Cellar.Problems {
			if strings.EqualFold(p.File, "ferments/"+name+".yaml") {
				return "the name of a file with problems"
			}
		}
		return among(cultureIDs(r.s.Cellar.Cultures), "the name of a culture")(name)
	}
}

// among returns who has a name: one of these ids, as a kind in words.
func among(ids []string, kind string) owner {
	return func(name string) string {
		if slices.ContainsFunc(ids, func(id string) bool { return strings.EqualFold(id, name) }) {
			return kind
		}
		return ""
	}
}

func (p *asking) askName(f Field, who owner) string {
	id := p.ask(f)
	switch {
	case id == "":
		p.fail(f.Key, "give it a name: letters, digits, _ and, not first, -, e.g. lime-a")
	case !ferment.LegalName(id):
		p.fail(f.Key, strconv.Quote(id)+" is no name of a file: at most 64 letters, digits, _ and, not first, -, e.g. lime-a")
	case who(id) != "":
		p.fail(f.Key, strconv.Quote(id)+" is "+who(id)+" already, e.g. "+free(id, who))
	}
	return id
}

// askTag asks for the tag of a ferment, which may be empty.
func (p *asking) askTag(f Field, id string, who owner) string {
	f.Value = freeTag(id, who)
	tag := p.ask(f)
	switch {
	case tag == "":
	case !ferment.FitsTag(tag):
		p.fail(f.Key, strconv.Quote(tag)+" is wider than six columns, e.g. "+freeTag(tag, who))
	case who(tag) != "":
		p.fail(f.Key, strconv.Quote(tag)+" is "+who(tag)+" already, e.g. "+freeTag(tag, who))
	}
	return tag
}

// free returns the first free name from name on.
func free(name string, who owner) string {
	for name != "" && who(name) != "" {
		name = next(name)
	}
	return name
}

// freeTag returns the first free tag for a name: LIME-A for lime-a, LIME for lime-blossom.
func freeTag(name string, who owner) string {
	for ; name != ""; name = next(name) {
		front, _, _ := strings.Cut(name, "-")
		end := ""
		if i := strings.LastIndex(name, "-"); i > 0 && len(name)-i <= 3 {
			end = name[i:]
		}
		for !ferment.FitsTag(front + end) {
			_, size := utf8.DecodeLastRuneInString(front)
			front = front[:len(front)-size]
		}
		if tag := strings.ToUpper(front + end); who(tag) == "" {
			return tag
		}
	}
	return ""
}

// next returns a name with its last letter or number increased: lime-b, or lime-2 for lime.
func next(name string) string {
	i := strings.LastIndex(name, "-")
	front, last := name[:i+1], name[i+1:]
	if len(last) == 1 && (last >= "a" && last < "z" || last >= "A" && last < "Z") && i > 0 {
		return front + string(last[0]+1)
	}
	if number, err := strconv.Atoi(last); err == nil && number > 0 && number < 1e6 && i > 0 {
		return front + strconv.Itoa(number+1)
	}
	return name[:min(len(name), 56)] + "-2"
}

// stem makes an id: the first words in lower case letters and digits, at most 40.
func stem(name, otherwise string) string {
	words, _, _ := strings.Cut(name, ",")
	id := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			return r
		case r == ' ' || r == '-' || r == '_':
			return '-'
		}
		return -1
	}, strings.ToLower(words))
	return cmp.Or(strings.Trim(id[:min(len(id), 40)], "-"), otherwise)
}
