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
	s.Cellar.Cultures[0].Verdict = "discarded"
	fields, _ = f.Outcome(nil)
	field, _ := ferment.FirstWhere(fields, func(f Field) bool { return f.Key == "parent" })
	assert.Equal(t, []string{"none", "lees of lime-a"}, field.Words, "its jar was thrown away, the lees are there")
	s.Cellar.Cultures[0].Verdict = ""
	_, o = f.Outcome(Values{"name": "plum skin", "parent": "plum-1", "start": "later"})
	require.Len(t, o.Change.Cultures, 1)
	assert.Equal(t, []string{"plum-1", "lane hedge"}, []string{o.Change.Cultures[0].From, o.Change.Cultures[0].Source}, "as before")
}

// A culture that was thrown away, judged discarded or had mould is proposed neither as a yeast nor as a parent.
func TestDeadCulturesAreNotProposed(t *testing.T) {
	s := cellar(80, nil)
	for id, log := range map[string]string{"live": "1 passage medium=100mL", "thrown": "1 passage medium=100mL | 9 discard",
		"judged": "1 passage medium=100mL | 9 verdict=discarded", "mouldy": "1 passage medium=100mL | 9 look seen=mould"} {
		s.Cellar.Cultures = append(s.Cellar.Cultures, ferment.Culture{ID: id, Name: id, Log: logOf(log)})
	}
	s.Cellar.Cultures = append(s.Cellar.Cultures, ferment.Culture{ID: "filed", Verdict: "discarded"})
	for form, key := range map[string]string{"culture": "parent", "new": "culture"} {
		f, ok := Open(form, s, "", nil)
		require.True(t, ok)
		fields, _ := f.Outcome(Values{"name": "plum skin", "kind": "wild"})
		field, has := ferment.FirstWhere(fields, func(f Field) bool { return f.Key == key })
		require.True(t, has, form)
		assert.Equal(t, []string{"none", "live"}, field.Words, form)
	}
}
