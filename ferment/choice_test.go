package ferment_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
)

func TestParseEndings(t *testing.T) {
	for _, c := range []struct {
		of   string
		want []ferment.Ending
		ok   bool
	}{
		{"still", []ferment.Ending{ferment.Still}, true},
		{"Bottle-Conditioned", []ferment.Ending{ferment.BottleConditioned}, true},
		{"still, bottle-conditioned", []ferment.Ending{ferment.Still, ferment.BottleConditioned}, true},
		{"still and sweetened", []ferment.Ending{ferment.Still, ferment.Sweetened}, true},
		{"still still", []ferment.Ending{ferment.Still}, true},
		{"undecided", nil, true},
		{"", nil, false},
		{"and", nil, false},
		{"dry", nil, false},
		{"still, undecided", nil, false},
	} {
		got, ok := ferment.ParseEndings(c.of)
		assert.Equal(t, c.want, got, c.of)
		assert.Equal(t, c.ok, ok, c.of)
	}
}

func TestLastChosenEndingCounts(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, 11, n, 12, 0, 0, 0, time.UTC) }
	chose := func(n int, of string) ferment.Entry {
		return ferment.Entry{At: ferment.At(day(n)), Did: ferment.Choose, Of: of}
	}
	still, sweet := []ferment.Ending{ferment.Still}, []ferment.Ending{ferment.Sweetened}
	parted := ferment.Origin{Ferment: "heath", At: ferment.At(day(10))}
	for _, c := range []struct {
		what string
		f    ferment.Ferment
		want []ferment.Ending
	}{
		{"the file alone", ferment.Ferment{Endings: still}, still},
		{"an entry after the file", ferment.Ferment{Endings: still, Log: []ferment.Entry{chose(2, "sweetened")}}, sweet},
		{"the later of two, in any order", ferment.Ferment{Log: []ferment.Entry{chose(5, "sweetened"), chose(2, "still")}}, sweet},
		{"the lower of two at one time", ferment.Ferment{Log: []ferment.Entry{chose(5, "still"), chose(5, "sweetened")}}, sweet},
		{"one that is yet to come", ferment.Ferment{Endings: still, Log: []ferment.Entry{chose(21, "sweetened")}}, still},
		{"none after one", ferment.Ferment{Endings: still, Log: []ferment.Entry{chose(2, "undecided")}}, nil},
		{"the act alone", ferment.Ferment{Endings: still, Log: []ferment.Entry{chose(2, "")}}, still},
		{"a word that is no ending", ferment.Ferment{Endings: still, Log: []ferment.Entry{chose(2, "dry")}}, still},
		{"a parent's choice", ferment.Ferment{From: parted, Log: []ferment.Entry{chose(2, "still")}}, still},
		{"a part's file before its parent's choice", ferment.Ferment{From: parted, Endings: sweet, Log: []ferment.Entry{chose(2, "still")}}, sweet},
		{"a part's own choice", ferment.Ferment{From: parted, Endings: sweet, Log: []ferment.Entry{chose(2, "sweetened"), chose(12, "still")}}, still},
	} {
		assert.Equal(t, c.want, c.f.Decided(day(20)).Endings, c.what)
	}
}

func TestChoiceWithoutEndingIsRefused(t *testing.T) {
	assert.EqualError(t, (&ferment.Entry{Did: ferment.Choose, Of: "dry"}).Check(), `of "dry" is no ending: still, bottle-conditioned, sweetened or undecided, e.g. of=still`)
	assert.NoError(t, (&ferment.Entry{Did: ferment.Choose, Of: "still, sweetened"}).Check())
	assert.NoError(t, (&ferment.Entry{Did: ferment.Choose}).Check())
}
