package journal

import "cellar/jugkeeper/ferment"

// An item is one thing to be put into a list of a file: how it is written, and
// how it is known again.
type item struct {
	lines []string // as an item of a block, a key a line, without dash and margin
	flow  string   // between braces
	says  string   // what it must be read as
	read  func(value) (says string, whole bool)
}

// itemOf is an item whose keys stand on a line each.
func itemOf[T any](t *table[T], one T) item {
	return item{
		lines: t.pairs(&one, block),
		flow:  t.braces(&one, flow),
		says:  t.braces(&one, compared),
		read: func(v value) (string, bool) {
			var again T
			mark := v.count
			t.read(v, &again)
			return t.braces(&again, compared), v.count == mark
		},
	}
}

func entryItem(e ferment.Entry) item {
	it := itemOf(entryTable, e)
	it.read = func(v value) (string, bool) {
		var again ferment.Entry
		whole := readEntry(v, &again)
		return entryTable.braces(&again, compared), whole
	}
	return it
}

// lineItem is an item on one line, of which there may be many.
func lineItem[T any](t *table[T]) func(T) item {
	return func(one T) item {
		it := itemOf(t, one)
		if it.flow != "" {
			it.lines = []string{it.flow}
		}
		return it
	}
}

var useItem = lineItem(useTable)

func lotItem(l ferment.Lot) item { return itemOf(lotTable, l) }

// cultureItem has each entry of the culture's log on a line of its own.
func cultureItem(c ferment.Culture) item {
	it := itemOf(cultureTable, c)
	bare := c
	bare.Log = nil
	it.lines = cultureTable.pairs(&bare, block)
	if len(c.Log) > 0 {
		it.lines = append(it.lines, "log:")
	}
	for _, e := range c.Log {
		it.lines = append(it.lines, "  - "+flowEntry(e))
	}
	return it
}

func itemsFrom[T any](nouns []T, itemOf func(T) item) []item {
	items := make([]item, len(nouns))
	for i, n := range nouns {
		items[i] = itemOf(n)
	}
	return items
}

// itemsOf are the items that a receipt's bytes say.
func itemsOf(r ferment.Receipt) []item {
	switch {
	case len(r.Lots) > 0:
		return itemsFrom(r.Lots, lotItem)
	case len(r.Uses) > 0:
		return itemsFrom(r.Uses, useItem)
	case len(r.Cultures) > 0:
		return itemsFrom(r.Cultures, cultureItem)
	}
	return itemsFrom(r.Entries, entryItem)
}
