package form

import (
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
)

// named asks for what the new ferment is called.
func (n newFerment) named(p *page) ferment.Ferment {
	f := ferment.Ferment{ID: n.askFile(p, "", n.freeFile(n.model.ID), nil)}
	f.Tag = n.askTag(p, "", f.ID, nil)
	f.Name = p.ask(Field{Key: "name", Label: "name", Value: n.model.Name, From: "free text, e.g. Lime blossom"})
	return f
}

// askFile asks for the name of a file, which nobody has yet.
func (n newFerment) askFile(p *page, suffix, free string, beside []ferment.Ferment) string {
	key := "file" + suffix
	id := p.ask(Field{Key: key, Label: lettered("file", suffix), Value: free, From: "what commands call it, e.g. lime-a"})
	switch {
	case id == "":
		p.fail(key, "give it the name of a file: letters, digits, - and _, e.g. lime-a")
	case !ferment.LegalName(id):
		p.fail(key, strconv.Quote(id)+" is no name of a file: at most 64 letters, digits, - and _, e.g. lime-a")
	default:
		if who := n.whoHas(id, beside); who != "" {
			p.fail(key, strconv.Quote(id)+" is "+who+" already, e.g. "+n.freeFile(id, beside...))
		}
	}
	return id
}

// askTag asks for what stands on the glass; nothing need to.
func (n newFerment) askTag(p *page, suffix, id string, beside []ferment.Ferment) string {
	key := "tag" + suffix
	own := slices.Concat(beside, []ferment.Ferment{{ID: id}})
	likely := strings.ToUpper(id)
	if !ferment.FitsTag(likely) || n.whoHas(likely, beside) != "" {
		likely = ""
	}
	tag := p.ask(Field{Key: key, Label: lettered("tag", suffix), Value: likely, From: "on the glass, e.g. LIME-A"})
	who := n.whoHas(tag, beside)
	switch {
	case tag == "":
	case !ferment.FitsTag(tag):
		p.fail(key, strconv.Quote(tag)+" is wider than six columns, e.g. "+n.freeTag(tag, own))
	case who != "":
		p.fail(key, strconv.Quote(tag)+" is "+who+" already, e.g. "+n.freeTag(tag, own))
	}
	return tag
}

// lettered is a label of one vessel of several: "B file".
func lettered(label, suffix string) string {
	if suffix == "" {
		return label
	}
	return strings.ToUpper(suffix[1:]) + " " + label
}

// whoHas is what answers to a name, or stands on a glass, or would once what is
// made beside it is; "" where it is free. Closed ferments answer to their file
// name only.
func (n newFerment) whoHas(name string, beside []ferment.Ferment) string {
	for _, f := range slices.Concat(n.all, beside) {
		if strings.EqualFold(f.ID, name) {
			return "the name of a ferment"
		}
		if f.Called(name) {
			return "the tag of " + f.ID
		}
	}
	for _, k := range n.s.Cellar.Cultures {
		if strings.EqualFold(k.ID, name) {
			return "the name of a culture"
		}
	}
	for _, p := range n.s.Cellar.Problems {
		if strings.EqualFold(p.File, "ferments/"+name+".yaml") {
			return "the name of a file with problems"
		}
	}
	return ""
}

// freeFile is the next free name after one: "lime-b" after "lime-a", "lime-2"
// after "lime"; "" after none.
func (n newFerment) freeFile(after string, beside ...ferment.Ferment) string {
	for after != "" {
		if after = next(after); n.whoHas(after, beside) == "" {
			return after
		}
	}
	return ""
}

// next is a name with its last letter or number one higher.
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

// freeTag is a tag with the beginning of another, that nobody has.
func (n newFerment) freeTag(tag string, beside []ferment.Ferment) string {
	begin := []rune(strings.ToUpper(tag))
	for len(begin) > 0 && !ferment.FitsTag(string(begin)+"00") {
		begin = begin[:len(begin)-1]
	}
	for i := 2; ; i++ {
		if free := string(begin) + strconv.Itoa(i); n.whoHas(free, beside) == "" {
			return free
		}
	}
}
