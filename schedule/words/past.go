package words

import "time"

// PastCard is one closed ferment in words.
type PastCard struct {
	ID, Name, File  string
	Closed          string // "12 Mar 26"
	Strength, Score string // "11.2", "78" of the last tasting that has one
	Again           string // "with changes", of the last tasting that says so
	Honey, Yeast    string
	Facts           []Fact

	at              time.Time
	strength, score float64
}

// PastBy are what closed ferments can be sorted by.
var PastBy = []string{"closed", "score", "strength", "honey", "yeast"}
