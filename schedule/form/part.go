package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

const undecided = "undecided"

// part racks the mead into two: what is parted goes its own way, under its own
// name, and the ledger of the parent loses it.
func (j jug) part(p *page) func() Outcome {
	goes := want(p, Field{Key: "part", Label: "parted off", From: "what goes its own way, e.g. 1.0 L"}, measure.ParseVolume,
		"measure what goes its own way, e.g. 1.0 L")
	rest := j.over(p, "stays", goes.Value)
	stays, part := j.into(p, "", "into", rest.holds), j.into(p, "-part", "the part into", goes.Value)
	f := j.parted(p, goes, part)
	at, note := p.when(j.s.At), p.note()
	if goes.Known() && goes.Value <= 0 {
		p.fail("part", goes.Text+" is nothing: measure what goes its own way, e.g. 1.0 L")
	}
	if rest.holds <= 0 {
		p.fail("after", "measure what stays together, e.g. 2.2 L")
	}
	return func() Outcome {
		var o Outcome
		// What came over is the whole of it; the part is taken off it by its own
		// file, so that the same litre is not lost twice.
		whole := rest.holds + goes.Value
		over := measure.Give(whole, measure.Of(float64(whole), "L").Text)
		entries := j.settle(&o, app.Wish{Step: string(ferment.Rack), At: at, Note: note,
			Entry: ferment.Entry{To: stays, Volume: over, Lost: rest.lost}})
		f.From.At = at
		o.Deed.Ferments = []ferment.Ferment{f}
		j.write(&o, p.values, entries...)
		o.answer(fmt.Sprintf("%s stay as %s, %s go on as %s", j.litres(rest.holds), j.v.Label(), goes.Text, f.Label()))
		j.surprise(&o, moved{after: over})
		j.ledger(&o, j.v.ID())
		j.ledger(&o, f.ID)
		j.headspace(&o, part, goes.Value)
		j.headspace(&o, stays, rest.holds)
		o.say(words.Note, f.Label()+" has the must, the yeast and the log of "+j.v.Label()+" up to now")
		j.rackingCautions(&o)
		return o
	}
}

// parted asks for the ferment that goes its own way.
func (j jug) parted(p *page, goes measure.Given[measure.Volume], in ferment.Vessel) ferment.Ferment {
	f := ferment.Ferment{Name: j.v.Ferment.Name, Vessel: in, Protocol: j.v.Ferment.Protocol, Nutrient: j.v.Ferment.Nutrient,
		From: ferment.Origin{Ferment: j.v.ID(), Volume: goes}}
	id, tag := j.next()
	f.ID = p.ask(Field{Key: "name", Label: "its file", Value: id, From: "letters, digits, - and _"})
	f.Tag = p.ask(Field{Key: "tag", Label: "its tag", Value: tag, From: "on its glass, at most six columns"})
	ending := p.choose(Field{Key: "ending", Label: "its ending", Value: undecided,
		Words: []string{undecided, string(ferment.Still), string(ferment.BottleConditioned), string(ferment.Sweetened)}})
	if ending != undecided {
		f.Endings = []ferment.Ending{ferment.Ending(ending)}
	}
	j.checkName(p, "name", f.ID)
	if len([]rune(f.Tag)) > 6 {
		p.fail("tag", strconv.Quote(f.Tag)+" is longer than six columns, e.g. "+tag)
	}
	if f.Tag != "" && j.taken(f.Tag) {
		p.fail("tag", strconv.Quote(f.Tag)+" stands on another vessel, e.g. "+tag)
	}
	return f
}

func (j jug) checkName(p *page, key, name string) {
	legal := name != "" && len(name) <= 64 && strings.Trim(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == ""
	switch id, _ := j.next(); {
	case !legal:
		p.fail(key, strconv.Quote(name)+" is no name of a file: letters, digits, - and _, e.g. "+id)
	case j.taken(name):
		p.fail(key, "there is a "+strconv.Quote(name)+" already, e.g. "+id)
	}
}

// taken tells whether an open ferment answers to a name or a tag.
func (j jug) taken(name string) bool {
	return slices.ContainsFunc(j.s.Cellar.OpenAndPast(), func(f ferment.Ferment) bool { return f.Called(name) })
}

// next is a name and a tag that are free: the parent's with the next letter, or a
// number.
func (j jug) next() (id, tag string) {
	id, tag = stem(j.v.ID()), stem(j.v.Ferment.Tag)
	for c := 'a'; c <= 'z'; c++ {
		name, mark := id+"-"+string(c), ""
		if tag != "" {
			mark = cut(tag, 4) + "-" + strings.ToUpper(string(c))
		}
		if !j.taken(name) && (mark == "" || !j.taken(mark)) {
			return name, mark
		}
	}
	return "", ""
}

// stem is a name without the letter that tells it from its siblings.
func stem(name string) string {
	if n := len(name); n > 2 && name[n-2] == '-' {
		return name[:n-2]
	}
	return name
}

func cut(text string, most int) string {
	r := []rune(text)
	return string(r[:min(len(r), most)])
}
