package form

import (
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
)

// id asks for what files and commands call something, which nothing else of its
// kind is called.
func (p *page) id(noun, likely string, taken []string) string {
	id := p.ask(Field{Key: "id", Label: "id", Value: likely, From: "what files and commands call it"})
	switch {
	case id == "":
		p.fail("id", "give it an id: letters, digits, - and _, e.g. lime-26")
	case !ferment.LegalName(id):
		p.fail("id", strconv.Quote(id)+" is no id: at most 64 letters, digits, - and _, e.g. lime-26")
	case isTaken(taken, id):
		p.fail("id", strconv.Quote(id)+" is a "+noun+" already, e.g. "+freeID(id, taken))
	}
	return id
}

func isTaken(taken []string, id string) bool {
	return slices.ContainsFunc(taken, func(t string) bool { return strings.EqualFold(t, id) })
}

// likelyID is an id made of the first words of a name, small letters and digits,
// with an end that tells it from others.
func likelyID(name, otherwise, end string, taken []string) string {
	first, _, _ := strings.Cut(name, ",")
	stem := strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			return r
		case r == ' ' || r == '-' || r == '_':
			return '-'
		}
		return -1
	}, strings.ToLower(first)), "-")
	if stem == "" {
		stem = otherwise
	}
	id := strings.Trim(stem[:min(len(stem), mostStem)], "-") + end
	if isTaken(taken, id) {
		return freeID(id, taken)
	}
	return id
}

// mostStem is how many letters of a name an id is made of.
const mostStem = 40

// freeID is an id like another that nothing has yet.
func freeID(id string, taken []string) string {
	for n := 2; ; n++ {
		if free := id + "-" + strconv.Itoa(n); !isTaken(taken, free) {
			return free
		}
	}
}
