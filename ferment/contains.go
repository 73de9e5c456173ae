package ferment

import (
	"slices"
	"strings"
	"unicode"
)

// allergen is something that some people must not have, and the words of a
// record that tell of it.
type allergen struct {
	name  string
	words []string
}

// Allergens that mead making may bring in, of those that have to be declared by
// Regulation (EU) No 1169/2011, annex II: finings of egg, milk and fish, also
// where trade need not name them, and nuts that went in. Sulphites are to be
// declared from 10 mg/L on (the same; United States: 27 CFR 4.32(e)).
var allergens = []allergen{
	{"egg", []string{"egg", "eggs", "albumen", "albumin", "lysozyme"}},
	{"milk", []string{"milk", "casein", "caseinate", "whey", "lactose", "cream"}},
	{"fish", []string{"fish", "isinglass"}},
	{"crustaceans", []string{"crab", "shrimp", "shellfish", "chitosan", "chitin"}},
	{"nuts", []string{"nut", "nuts", "almond", "almonds", "hazelnut", "hazelnuts", "walnut", "walnuts", "cashew", "cashews", "pecan",
		"pecans", "pistachio", "pistachios", "macadamia"}},
	{"peanuts", []string{"peanut", "peanuts"}},
}

// Contains are the things to be declared of all that the record says went in.
func Contains(f Ferment, entries []*Entry) []string {
	var out []string
	words := map[string]bool{}
	note := func(text string) {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
			words[w] = true
		}
	}
	for _, p := range f.Must.Fruit {
		note(p.Name)
	}
	sulphites := false
	for _, e := range entries {
		note(e.Of)
		sulphites = sulphites || e.Did == Sulphite || isSulphite(e.Of)
	}
	if sulphites {
		out = append(out, "sulphites")
	}
	for _, a := range allergens {
		if slices.ContainsFunc(a.words, func(w string) bool { return words[w] }) {
			out = append(out, a.name)
		}
	}
	return out
}

func isSulphite(of string) bool {
	of = strings.ToLower(of)
	return strings.Contains(of, "sulphite") || strings.Contains(of, "sulfite")
}
