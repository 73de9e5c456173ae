package form

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// A culture that is taken back from the lees of a jug is made from the one that was pitched
// there, one generation on, and says where it is from.
func TestACultureFromLees(t *testing.T) {
	s := cellar(80, nil, lime("lime-a", atRest, func(f *ferment.Ferment) { f.Yeast = ferment.Yeast{Kind: ferment.Wild, Culture: "plum-1"} }), lime("lime-b", atRest),
		lime("lime-c", "", func(f *ferment.Ferment) { f.Yeast = ferment.Yeast{Kind: ferment.Wild, Culture: "plum-1"} }))
	s.Cellar.Cultures = []ferment.Culture{{ID: "plum-1", Name: "plum skin", Source: "lane hedge"}}
	f, ok := Open("culture", s, "", nil)
	require.True(t, ok)
	fields, o := f.Outcome(Values{"name": "plum skin", "parent": "lees of lime-a", "start": "later"})
	require.Empty(t, wrong(o), said(o))
	require.Len(t, o.Change.Cultures, 1)
	k := o.Change.Cultures[0]
	assert.Equal(t, []string{"plum-1", "lees of lime-a", "plum-2"}, []string{k.From, k.Source, k.ID})
	assert.Contains(t, said(o), "generation 2, made from plum-1")
	for _, field := range fields {
		if field.Key == "parent" {
			assert.Equal(t, []string{"none", "plum-1", "lees of lime-a"}, field.Words, "only a jug into which a culture was pitched has its lees")
		}
	}
	_, o = f.Outcome(Values{"name": "plum skin", "parent": "plum-1", "start": "later"})
	require.Len(t, o.Change.Cultures, 1)
	assert.Equal(t, []string{"plum-1", "lane hedge"}, []string{o.Change.Cultures[0].From, o.Change.Cultures[0].Source}, "as before")
}
