package guide

import "cellar/jugkeeper/schedule"

const practice = schedule.Practice

// further are cautions that belong to no step of a plan.
var further = []Part{
	{Head: "lifting", Text: "a full jug weighs five kilograms and is slippery: in a crate, both hands, shoes on", Source: practice},
	{Head: "low acid", Text: "a wet medium above pH 4.6 is not kept closed in the warm, boiled or not: make it fresh, or freeze it", Source: "21 CFR 114.3"},
	{Head: "boiling sugar", Text: "syrup and malt boil over, stick and burn: a pan half empty, watched, cooled before it meets glass", Source: practice},
	{Head: "stings", Text: "trouble to breathe, a swollen face, hives all over, faint: the emergency number at once; not alone at the hives after an earlier reaction",
		Source: "medical references on anaphylaxis"},
	{Head: "sulphite fumes", Text: "solution and powder sting: open a window, never together with acid in a closed jar", Source: practice},
}

var urgent = []Part{
	{Head: "too much pressure", Text: "a bottle that gushes, a domed cap, a soft bottle hard as stone before its fifth day:"},
	{Head: "1", Text: "nobody near; nothing warm is touched or carried"},
	{Head: "2", Text: "goggles, thick gloves, long sleeves"},
	{Head: "3", Text: "the whole crate, closed, into the cold for a day: at 2 to 4 °C a little over half of the pressure at 20 °C is left",
		Source: "Commission Regulation (EEC) 2676/90"},
	{Head: "4", Text: "one bottle at a time, upright in a bucket under a towel, each cap lifted slowly, a rest, again"},
	{Head: "5", Text: "not closed again: back into a jug under an airlock, or drunk"},
	{Head: "6", Text: "where one has burst its sisters are suspect, all of them"},
	{Head: "foam", Text: "the bung out, a tray under, nothing more goes in until it has fallen; note what was lost (foam-over, lost=0.2L)"},
	{Head: "broken glass", Text: "what was near it is thrown away; gloves, wrapped, never by hand into a sack"},
	{Head: "gas in a room", Text: "headache and quick breath: out, and the door open; gas lies low",
		Source: "NIOSH criteria document on carbon dioxide, 1976: 5,000 ppm over a day, 30,000 for minutes, 40,000 dangerous"},
}

var discard = []Part{
	{Text: "fuzzy or coloured growth, on the must or on a culture: throw all of it away", Source: "Ohio State University Extension HYG-5592"},
	{Text: "a smell of sewage, vomit or strong solvent; slime that stinks; strong vinegar; a mousy taste"},
	{Text: "glass broken in it or near it; cleaning fluid spilt into it"},
	{Text: "a bottle that gushed by what grew in it"},
	{Text: "a wild starter that was never proved"},
	{Text: "down the drain with much water, bottles vented first, glass wrapped"},
}

var files = []Part{
	{Head: "a cellar", Text: "a folder: cellar.yaml, honey.yaml, cultures.yaml, protocols/, ferments/, and ferments/past/ for closed ones"},
	{Head: "yours", Text: "every file may be edited by hand; the program puts text in and changes no other byte"},
	{Head: "a mistake", Text: "leaves out the entry, or the file that it is in, and is shown with its line and a right example; jugkeeper check lists all"},
	{Head: "never lost", Text: "each entry is kept once more outside the cellar; one that an edit has lost is offered back"},
	{Head: "copies", Text: "a copy in another place is still yours to make: the folder is all there is"},
}

var law = []Part{
	{Text: "making mead for yourself is allowed in many countries and not in all; selling it wants a licence nearly everywhere. Check your local law; it comes before anything shown here"},
	{Head: "as an example", Text: "in the United States an adult may make wine for the household untaxed, 100 US gallons a year, 200 with two adults, never for sale; states may say otherwise",
		Source: "27 CFR 24.75"},
	{Head: "distilling", Text: "spirit may not be made at home there, and freezing ice out to make mead stronger counts as that with many authorities: this program has no figure for it",
		Source: "27 CFR 19.51; the freezing is from memory"},
	{Head: "a gift", Text: "name, strength, date and code, allergens (sulphites; egg, milk or fish where it was fined with them), not for children under twelve months, and under pressure where it is"},
}
