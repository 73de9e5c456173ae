// Package lineage is about cultures: where one came from, how its passages went,
// how far it was proved to go, and what the ferments made of it. What nobody
// proved it never assumes.
package lineage

import "cellar/jugkeeper/ferment"

// Parents are the cultures that one came from, the first isolate first. Lost is
// the id of the one that its oldest known ancestor came from and that no file
// has; empty where the line is whole.
func Parents(k ferment.Culture, all []ferment.Culture) (line []ferment.Culture, lost string) {
	seen := map[string]bool{k.ID: true}
	for k.From != "" {
		parent, known := find(k.From, all)
		if !known || seen[parent.ID] {
			return line, k.From
		}
		seen[parent.ID] = true
		line = append([]ferment.Culture{parent}, line...)
		k = parent
	}
	return line, ""
}

// Children are the cultures that were made from one.
func Children(id string, all []ferment.Culture) []ferment.Culture {
	var out []ferment.Culture
	for _, k := range all {
		if k.From == id && k.ID != id {
			out = append(out, k)
		}
	}
	return out
}

// Generation counts from 1 for a first isolate.
func Generation(k ferment.Culture, all []ferment.Culture) int {
	line, _ := Parents(k, all)
	return len(line) + 1
}

// find is the culture with an id.
func find(id string, all []ferment.Culture) (ferment.Culture, bool) {
	for _, k := range all {
		if k.ID == id {
			return k, true
		}
	}
	return ferment.Culture{}, false
}
