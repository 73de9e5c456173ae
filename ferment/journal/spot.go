package journal

import "cellar/jugkeeper/ferment"

// A spot is a list of a file: behind a key of the file itself, or of one item
// of a list of it.
type spot struct {
	list, id string // the list, and the id of its item that has the key; empty for the file itself
	key      string
}

var (
	fermentLog   = spot{key: "log"}
	honeyLots    = spot{key: "lots"}
	yeastStrains = spot{key: "cultures"}
)

func cultureLog(id string) spot { return spot{"cultures", id, "log"} }
func usesOf(lot string) spot    { return spot{"lots", lot, "used"} }

// spotOf is where a receipt's bytes stand.
func spotOf(r ferment.Receipt) spot {
	switch {
	case len(r.Lots) > 0:
		return honeyLots
	case len(r.Uses) > 0:
		return usesOf(r.Subject)
	case len(r.Cultures) > 0:
		return yeastStrains
	case r.File == culturesFile:
		return cultureLog(r.Subject)
	}
	return fermentLog
}

// begins tells whether the list may be the first thing in an empty file.
func (at spot) begins() bool { return at.list == "" && at.key != "log" }

// A naming is what a list and what stands in it are called.
type naming struct{ one, an, many, list string }

func (at spot) words() naming {
	return map[string]naming{
		"log":      {"entry", "an entry", "entries", "log"},
		"lots":     {"lot", "a lot", "lots", "list of lots"},
		"used":     {"use", "a use", "uses", "list of uses"},
		"cultures": {"culture", "a culture", "cultures", "list of cultures"},
	}[at.key]
}

// owner is what an item of the list is called that has the key.
func (at spot) owner() string {
	return map[string]string{"lots": "lot", "cultures": "culture"}[at.list]
}
