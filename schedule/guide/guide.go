// Package guide has the texts of the guide in the program: words, cautions with their sources, the source of each
// figure, and what to do in an emergency.
package guide

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// Chapter is one page of the guide.
type Chapter struct {
	Name  string // one word
	Title string
	Parts []Part
}

// Part is one section of a chapter.
type Part struct {
	Head   string // a word or two; empty for text alone
	Mark   words.Word
	Text   string
	Source string // empty for our own words
}

// Chapters returns the pages of the guide, except for the keys, which depend on the settings.
func Chapters() []Chapter {
	return []Chapter{
		{"words", "what the words and marks mean", glossary()},
		{"cautions", "what can do harm, and what to do; local codes and licensed practice come before anything here", cautions()},
		{"urgent", "bottles under pressure, foam, a broken jug", urgent},
		{"discard", "what to throw away, without tasting it", discard},
		{"bottling", "what must be true before nutrient and bottling, and what resets it", checklists},
		{"figures", "where each figure comes from, and how sure it is", figures()},
		{"files", "where the record is, and how it is kept", append(files[:len(files):len(files)], entryKeys()...)},
		{"law", "check your local law", law},
	}
}

func entryKeys() []Part {
	return ferment.Map(ferment.Keys(), func(k ferment.Key) Part { return Part{Head: k.Name, Text: k.Reference()} })
}

func glossary() []Part {
	parts := ferment.Map(Marks, func(m Mark) Part { return Part{Mark: m.Word, Text: m.Means} })
	parts = append(parts, ferment.Map(append(Terms, stages...), func(t Term) Part { return Part{Head: t.Term, Text: t.Means} })...)
	return parts
}

func cautions() []Part {
	return append(ferment.Map(schedule.Cautions(), func(c schedule.Said) Part {
		return Part{Head: ferment.Spaced(c.Name), Text: c.Text, Source: c.Source}
	}), further...)
}

func figures() []Part {
	return ferment.Map(bench.Figures(), func(f bench.Figure) Part {
		return Part{Head: f.Name, Text: f.Use, Source: f.Equation + "; " + f.Source + "; how sure: " + f.Uncertainty}
	})
}

// checklists explain what must be true before nutrient and bottling, what resets it, and how reliable steady is. The
// shares are those of TestSteadyBySimulation in ferment/course.
var checklists = []Part{
	{Head: "what resets it", Text: "honey, fruit, juice, another mead, yeast, a starter, nutrient or a buffer reset steady, the forced test and clear: " +
		"readings from before no longer count. Water, the same mead and sugar for the bottles reset nothing."},
	{Head: "nutrient", Text: "may be given once it has started, with a reading no older than 36 hours, down to 0.005 under the one-third break. Below that a plan may offer one last dose " +
		"of yeast-derived nutrient. Past the half break or over 9 % vol no nutrient may be given any more. A plan may give the first dose with a bought yeast: then only these limits apply."},
	{Head: "steady", Text: "needs at least three hydrometer readings that agree over 14 days (28 for a wild culture). They must rule out a fall of 1.3 points " +
		"in that time, and show at most a third of it. The latest is at most 14 days old. The temperature is recorded, even to 3 °C, and at least 15 °C. " +
		"A reading more than 0.002 off the others starts the days again, and so does a change of more than 3 °C. Steady says only that gravity does not move."},
	{Head: "how sure is steady", Text: "in a simulation with one reading a week to 0.001, each good to 0.0005, this many of 100 meads are called steady by the 3rd, 4th, 6th and 8th reading: " +
		"truly steady 26, 81, 97, 100; falling half a point a fortnight 9, 48, 66, 76; one point 2, 14, 20, 23; two points 0, 0, 0, 0.",
		Source: "a simulation of this program's own rule; the repeatability of a hydrometer is common practice"},
	{Head: "forced test", Text: "keep 100 mL with dry yeast at 25 °C, and read it on the fifth to seventh day, corrected like the vessel. Within 0.001 of the vessel it has passed: " +
		"its gravity is the finish. If it fell, it shows how many points of sugar are left: do not bottle yet, still or for fizz."},
	{Head: "still bottling", Text: "is ready when the mead is steady, clear and racked, nothing grows on it, and its sugar is gone: at most 0.002 above the dry finish, " +
		"or 0.004 and steady for 60 days, or a passed forced test, or stabilised (sweetened: 14 days steady after the honey). The tolerance of the yeast alone is never enough."},
	{Head: "bottle-conditioning", Text: "is ready when the mead is steady (7 days at 18 °C are enough with a forced test), dry or tested, and was never stabilised. It needs a forced test of the last 30 days " +
		"or, with a bought yeast, 60 days steady; a yeast that can reach 2 % vol more; the volume measured after racking; a bottle made for the fizz and for its pressure " +
		"at the hottest place with two points unfinished, one after a test; and one soft test bottle."},
	{Head: "accept", Text: "with accept and a reason you take a mead that ended sweet as it is, after a passed forced test or 90 days steady. It is then no longer called stuck " +
		"or at its limit. It is not ready to bottle by that."},
	{Head: "limits", Text: "can be changed under limits in cellar.yaml or in a plan: steady-days, steady-days-wild, steady-fall, steady-spread, steady-temperature, dry-within, stuck-above, fermentable, forecast-above, molecular, bound, pk, stored-at, gas-left."},
}

const practice = schedule.Practice

// further are cautions without a step of a plan.
var further = []Part{
	{Head: "lifting", Text: "a full jug weighs five kilograms and is slippery: carry it in a crate, with both hands, and wear shoes", Source: practice},
	{Head: "low acid", Text: "do not keep a wet medium above pH 4.6 closed and warm, even if it was boiled: make it fresh, or freeze it", Source: "21 CFR 114.3"},
	{Head: "boiling sugar", Text: "syrup and malt boil over, stick and burn: fill the pan only half, stay with it, and let it cool before you pour it into glass", Source: practice},
	{Head: "stings", Text: "if somebody has trouble breathing, a swollen face, a rash all over or feels faint, call the emergency number at once. Never work alone at the hives if you have reacted to a sting before",
		Source: "medical references on anaphylaxis"},
	{Head: "sulphite fumes", Text: "the fumes of solution and powder sting: open a window, and never close a jar that has acid and sulphite in it", Source: practice},
}

var urgent = []Part{
	{Head: "too much pressure", Text: "a bottle gushes, a cap is domed, or the soft bottle is rock hard before its fifth day:"},
	{Head: "1", Text: "Keep everyone away. Do not touch or carry warm bottles."},
	{Head: "2", Text: "Put on goggles, thick gloves and long sleeves."},
	{Head: "3", Text: "Close the crate and chill all of it for a day: at 2 to 4 °C about half of the pressure at 20 °C is left.",
		Source: "Commission Regulation (EEC) 2676/90"},
	{Head: "4", Text: "Take one bottle at a time, upright in a bucket under a towel. Lift the cap slowly, wait, lift again."},
	{Head: "5", Text: "Do not close it again: pour it into a jug under an airlock, or drink it."},
	{Head: "6", Text: "If one bottle has burst, treat all the others of its batch the same way."},
	{Head: "foam", Text: "Take the bung out and put a tray under it. Add nothing until the foam has fallen. Note what was lost (foam-over, lost=0.2L)."},
	{Head: "broken glass", Text: "Throw away all food and drink that was near it. Wear gloves, wrap the pieces, never pick them up bare-handed."},
	{Head: "gas in a room", Text: "If you have a headache or breathe fast, leave and open the door. The gas stays near the floor.",
		Source: "NIOSH criteria document on carbon dioxide, 1976: 5,000 ppm over a day, 30,000 for minutes, 40,000 dangerous"},
}

var discard = []Part{
	{Text: "a must or a culture with fuzzy or coloured growth: throw all of it away", Source: "Ohio State University Extension HYG-5592"},
	{Text: "anything that smells of sewage, vomit, strong solvent or strong vinegar, has stinking slime, or has a mousy taste"},
	{Text: "anything with glass broken in it or near it, or with cleaning fluid in it"},
	{Text: "a bottle that gushed because something grew in it"},
	{Text: "a wild starter that was never tested"},
	{Text: "how: let the pressure out of bottles first, pour the mead down the drain with much water, wrap the glass"},
}

var files = []Part{
	{Head: "a cellar", Text: "a folder: cellar.yaml, honey.yaml, cultures.yaml, protocols/, ferments/, and ferments/past/ for closed ones"},
	{Head: "yours", Text: "you may edit every file by hand; the program adds text and changes no other byte"},
	{Head: "a mistake", Text: "an entry or a file with a mistake does not count; it is shown with its line and a right example; jugkeeper check lists all"},
	{Head: "never lost", Text: "a second copy of each entry is kept outside the cellar; if an edit loses one, it is offered back"},
	{Head: "copies", Text: "make a backup in another place yourself: copy the folder, it has everything"},
}

var law = []Part{
	{Text: "making mead for yourself is allowed in many countries, but not in all; selling it needs a licence nearly everywhere. Check your local law: it comes before anything shown here"},
	{Head: "as an example", Text: "in the United States an adult may make wine for the household untaxed, 100 US gallons a year, 200 with two adults, never for sale; states may say otherwise",
		Source: "27 CFR 24.75"},
	{Head: "distilling", Text: "spirit may not be made at home there, and many authorities count freezing ice out of mead as the same: this program has no figure for it",
		Source: "27 CFR 19.51; the freezing is from memory"},
	{Head: "a gift", Text: "write on the label: name, strength, date and code; sulphites, and egg, milk or fish if it was fined with them; not for children under twelve months; under pressure, if it is"},
}

// Mark is a word with its sign and its meaning.
type Mark struct {
	Word  words.Word
	Means string
}

// Marks are the words before tasks.
var Marks = []Mark{
	{words.Danger, "read it, do it now"},
	{words.Late, "late: do it now"},
	{words.Held, "not yet: see why"},
	{words.Due, "do it today"},
	{words.AnyDay, "it can wait"},
	{words.Later, "later today"},
	{words.Coming, "on a later day"},
	{words.Done, "written down"},
	{words.Lapsed, "too late: leave it"},
	{words.Warn, "take care"},
	{words.Ask, "answer a question"},
	{words.Shut, "see what is missing"},
	{words.Open, "nothing is missing"},
}

// Term is a word of the trade or of this program.
type Term struct{ Term, Means string }

// Terms are the words used on every screen.
var Terms = []Term{
	{"⅓ ½ ⅔", "of the sugar gone"},
	{"points", "7 points are 0.007"},
	{"≈", "forecast: measure it"},
	{"╭ ╰", "jugs of one trial"},
}

var stages = []Term{
	{"mixed", "honey and water are together; no yeast yet"},
	{"lag", "yeast is in; gravity has not moved"},
	{"working", "gravity falls"},
	{"slowing", "past the two-thirds break"},
	{"clearing", "racked and near its finish"},
	{"steady", "gravity has not moved for two weeks or more"},
	{"bottled", "all of it is in bottles"},
	{"quiet", "leave it alone; only look at the airlock"},
	{"slow start", "gravity has not fallen after two days (four for a wild culture)"},
	{"sluggish", "gravity falls by less than three points a day at 18 °C or more"},
	{"stuck", "gravity stopped well above its finish"},
	{"at its limit", "the yeast has made as much alcohol as its maker says it can"},
	{"restarted", "it ferments again after it was steady: do not close or bottle it"},
	{"stop", "not possible without a typed reason, which is recorded"},
	{"in doubt", "a reading that is kept and shown; it counts once a second one confirms it"},
	{"trial", "two or more vessels of one must with one declared difference"},
	{"dry finish", "the gravity once 86 % of the solids have fermented"},
	{"break", "the moment when a third, half or two thirds of the sugar are gone"},
	{"cap", "the fruit that floats: punch it down daily, or mould grows on it"},
	{"in the jar", "what is left of a culture: its last medium with the sediment, or the volume written down since, and the starters grown from it, " +
		"less what was lost or pitched. Jugs that wait for it get equal parts. The sediment that began a starter is not subtracted: write the volume down."},
	{"fizz", "carbon dioxide aimed at, in grams a litre; 5 g/L make 3.1 bar over the air outside at 20 °C and 12 % vol, 0.7 of it from the air under the cap"},
}
