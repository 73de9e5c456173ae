package ferment

import (
	"slices"
	"strings"
	"unicode"

	"cellar/jugkeeper/ferment/measure"
)

// Fruit is the composition of a kind of fruit, without stones: the sugar and water in its mass, and by how much the
// sugar varies.
type Fruit struct {
	Names  []string
	Sugar  measure.Share // ± Spread
	Water  measure.Share
	Spread measure.Share
}

// anyFruit is fruit of an unknown kind: 8 to 12 % sugar in the juice.
var anyFruit = Fruit{Sugar: 8, Water: 85, Spread: 4}

// fruits are common fruit, from memory after tables of the composition of foods; the spread covers varieties, years and
// ripeness (from memory).
var fruits = []Fruit{
	{[]string{"bramble", "brambles", "blackberry", "blackberries"}, 5, 88, 2},
	{[]string{"raspberry", "raspberries"}, 4.5, 86, 1.5},
	{[]string{"strawberry", "strawberries"}, 5.5, 91, 1.5},
	{[]string{"bilberry", "bilberries", "blueberry", "blueberries"}, 9, 84, 2.5},
	{[]string{"blackcurrant", "blackcurrants", "redcurrant", "redcurrants", "currant", "currants"}, 7.5, 83, 2},
	{[]string{"gooseberry", "gooseberries"}, 7, 88, 2},
	{[]string{"elderberry", "elderberries"}, 7, 80, 2.5},
	{[]string{"cherry", "cherries"}, 11, 83, 3},
	{[]string{"plum", "plums", "damson", "damsons"}, 9, 86, 2.5},
	{[]string{"sloe", "sloes"}, 7, 78, 3},
	{[]string{"apple", "apples"}, 10.5, 85, 2},
	{[]string{"pear", "pears"}, 9.5, 84, 2},
	{[]string{"quince", "quinces"}, 8, 84, 2},
	{[]string{"peach", "peaches", "apricot", "apricots"}, 8.5, 88, 2},
	{[]string{"grape", "grapes"}, 16, 81, 4},
	{[]string{"rhubarb"}, 1, 94, 0.5},
}

// FruitNames returns the names of the fruit in the table.
func FruitNames() []string {
	return Flat(fruits, func(f Fruit) []string { return f.Names })
}

// FruitOf returns the fruit named in a text, "frozen brambles, stoned". For a fruit that is not in the table, known is
// false and f an average one.
func FruitOf(text string) (f Fruit, known bool) {
	for _, word := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if f, known := FirstWhere(fruits, func(f Fruit) bool { return slices.Contains(f.Names, word) }); known {
			return f, true
		}
	}
	return anyFruit, false
}

// With returns the fruit with measured or typed values. Measured sugar is still that of a sample, and uncertain by a
// twentieth.
func (f Fruit) With(sugar, water measure.Given[measure.Share]) Fruit {
	if sugar.Known() {
		f.Sugar, f.Spread = sugar.Value, sugar.Value/20
	}
	if water.Known() {
		f.Water = water.Value
	}
	f.Water = min(f.Water, 100-f.Sugar)
	return f
}
