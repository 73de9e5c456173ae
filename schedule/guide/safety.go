package guide

import "cellar/jugkeeper/schedule"

const practice = schedule.Practice

// further are cautions that belong to no step of a plan.
var further = []Part{
	{Head: "lifting", Text: "a full jug weighs five kilograms and is slippery: carry it in a crate, with both hands, and wear shoes", Source: practice},
	{Head: "low acid", Text: "do not keep a wet medium above pH 4.6 closed and warm, even if it was boiled: make it fresh, or freeze it", Source: "21 CFR 114.3"},
	{Head: "boiling sugar", Text: "syrup and malt boil over, stick and burn: fill the pan only half, stay with it, and let it cool before you pour it into glass", Source: practice},
	{Head: "stings", Text: "trouble breathing, a swollen face, hives all over, feeling faint: call the emergency number at once. Never work alone at the hives after an earlier reaction",
		Source: "medical references on anaphylaxis"},
	{Head: "sulphite fumes", Text: "solution and powder sting: open a window, and never close a jar that has acid and sulphite in it", Source: practice},
}

var urgent = []Part{
	{Head: "too much pressure", Text: "a bottle gushes, a cap is domed, or the soft bottle is rock hard before its fifth day:"},
	{Head: "1", Text: "Keep everyone away. Do not touch or carry warm bottles."},
	{Head: "2", Text: "Put on goggles, thick gloves and long sleeves."},
	{Head: "3", Text: "Close the crate and chill all of it for a day: at 2 to 4 °C a little over half of the pressure at 20 °C is left.",
		Source: "Commission Regulation (EEC) 2676/90"},
	{Head: "4", Text: "Take one bottle at a time, upright in a bucket under a towel. Lift the cap slowly, wait, lift again."},
	{Head: "5", Text: "Do not close it again: pour it into a jug under an airlock, or drink it."},
	{Head: "6", Text: "If one bottle has burst, treat all the others of its batch the same way."},
	{Head: "foam", Text: "Take the bung out and put a tray under it. Add nothing until the foam has fallen. Note what was lost (foam-over, lost=0.2L)."},
	{Head: "broken glass", Text: "Throw away all food and drink that was near it. Wear gloves, wrap the pieces, never pick them up bare-handed."},
	{Head: "gas in a room", Text: "A headache or quick breath: leave, and open the door. The gas stays near the floor.",
		Source: "NIOSH criteria document on carbon dioxide, 1976: 5,000 ppm over a day, 30,000 for minutes, 40,000 dangerous"},
}

var discard = []Part{
	{Text: "fuzzy or coloured growth, on the must or on a culture: throw all of it away", Source: "Ohio State University Extension HYG-5592"},
	{Text: "a smell of sewage, vomit or strong solvent; slime that stinks; strong vinegar; a mousy taste"},
	{Text: "glass broken in it or near it; cleaning fluid spilt into it"},
	{Text: "a bottle that gushed because something grew in it"},
	{Text: "a wild starter that was never proved"},
	{Text: "how: vent bottles first, pour it down the drain with much water, wrap the glass"},
}

var files = []Part{
	{Head: "a cellar", Text: "a folder: cellar.yaml, honey.yaml, cultures.yaml, protocols/, ferments/, and ferments/past/ for closed ones"},
	{Head: "yours", Text: "you may edit every file by hand; the program adds text and changes no other byte"},
	{Head: "a mistake", Text: "the entry, or the whole file, is left out and shown with its line and a right example; jugkeeper check lists all"},
	{Head: "never lost", Text: "a second copy of each entry is kept outside the cellar; if an edit loses one, it is offered back"},
	{Head: "copies", Text: "make a backup in another place yourself: copy the folder, it has everything"},
}

var law = []Part{
	{Text: "making mead for yourself is allowed in many countries, not in all; selling it needs a licence nearly everywhere. Check your local law; it comes before anything shown here"},
	{Head: "as an example", Text: "in the United States an adult may make wine for the household untaxed, 100 US gallons a year, 200 with two adults, never for sale; states may say otherwise",
		Source: "27 CFR 24.75"},
	{Head: "distilling", Text: "spirit may not be made at home there, and freezing ice out to make mead stronger counts as that with many authorities: this program has no figure for it",
		Source: "27 CFR 19.51; the freezing is from memory"},
	{Head: "a gift", Text: "name, strength, date and code, allergens (sulphites; egg, milk or fish where it was fined with them), not for children under twelve months, and under pressure where it is"},
}
