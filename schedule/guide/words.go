package guide

import "cellar/jugkeeper/schedule/words"

// Mark is a word with its sign, and what it means.
type Mark struct {
	Word  words.Word
	Means string
}

// Marks are the words that stand before what is to be done.
var Marks = []Mark{
	{words.Late, "late, still do it"},
	{words.Held, "not yet; see why"},
	{words.Due, "do it today"},
	{words.AnyDay, "open, it can wait"},
	{words.Later, "later today"},
	{words.Done, "written down"},
	{words.Lapsed, "too late, leave"},
	{words.Warn, "look, or answer"},
}

// Term is a word of the trade or of this program.
type Term struct{ Term, Means string }

// Terms are the words that stand on every screen.
var Terms = []Term{
	{"⅓ ½ ⅔", "of sugar gone"},
	{"points", "7 means 0.007"},
	{"≈", "forecast: measure"},
	{"╭ ╰", "jugs of one trial"},
}

var stages = []Term{
	{"mixed", "honey and water are together; no yeast yet"},
	{"lag", "yeast is in; gravity has not moved"},
	{"working", "gravity falls"},
	{"slowing", "past the two-thirds break"},
	{"clearing", "racked, near its finish"},
	{"steady", "gravity has not moved for long enough; that says no more than that"},
	{"bottled", "nothing is left in the vessel"},
	{"quiet", "leave it alone; only look at the airlock"},
	{"slow start", "no fall yet when there should be one: two days, four for a wild culture"},
	{"sluggish", "it falls, and less than three points a day at 18 °C or more"},
	{"stuck", "it stopped well above its finish"},
	{"at its limit", "it is where its yeast is said to stop"},
	{"restarted", "it ferments again after it was steady: do not close or bottle it"},
	{"gate", "what must be true before something that cannot be undone: nutrient, still bottling, bottle-conditioning"},
	{"stop", "only a typed reason goes on from here; it is recorded"},
	{"doubt", "a reading kept and shown, and counted only when a second one confirms it"},
	{"trial", "two or more vessels of one must with one declared difference"},
	{"dry finish", "the gravity when 86 % of the solids are gone"},
	{"fizz", "carbon dioxide aimed at, in grams a litre; 5 of them are 2.5 bar over the air at 20 °C and 12 % vol"},
}
