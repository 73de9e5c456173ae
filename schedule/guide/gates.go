package guide

// gates say of each gate what opens it and what resets it, and how far steady
// can be trusted. The shares are those of TestSteadyBySimulation in
// ferment/course.
var gates = []Part{
	{Head: "what goes in", Text: "honey, fruit, juice, another mead, yeast, nutrient or a buffer resets steady, the forced test and clear: " +
		"nothing that was read before counts any more. Water and the same mead reset nothing, nor does sugar for the bottles."},
	{Head: "nutrient", Text: "opens with the start, by a reading no older than 36 hours. It closes past the half break or over 9 % vol, for good. " +
		"A plan may give the first dose with a bought yeast: then only the limits apply."},
	{Head: "steady", Text: "opens when three hydrometer readings or more, on one level over 14 days (28 of a wild culture), leave no room for a fall of 1.3 points " +
		"in that time, and seem to fall by no more than a third of that; the latest at most 14 days old; a temperature recorded, even to 3 °C and not under 15 °C. " +
		"A reading more than 0.002 off the others begins it anew, and so does warming it by more than 3 °C. It says that gravity does not move, no more."},
	{Head: "how sure is steady", Text: "simulated, read once a week to 0.001, each reading good to 0.0005. Of 100 meads have opened by the 3rd, 4th, 6th and 8th reading: " +
		"truly steady 26, 81, 97, 100; falling half a point a fortnight 9, 48, 66, 76; one point 2, 14, 20, 23; two points 0, 0, 0, 0.",
		Source: "a simulation of this program's own rule; the repeatability of a hydrometer is common practice"},
	{Head: "forced test", Text: "100 mL with dry yeast at 25 °C, read on the fifth to seventh day, corrected like the vessel. Within 0.001 of the vessel it has passed: " +
		"from then on its gravity is the finish. One that fell says how many points of sugar are left, and neither kind of bottling is ready then."},
	{Head: "still bottling", Text: "opens when it is steady, clear, racked, nothing grows on it, and its sugar is gone: at most 0.002 above the dry finish, " +
		"or 0.004 and steady for 60 days, or a passed forced test, or stabilised (sweetened, 14 days steady after the honey). The yeast's stated tolerance alone makes nothing ready."},
	{Head: "bottle-conditioning", Text: "opens when it is steady (7 days at 18 °C are enough with a forced test), dry or tested, never stabilised; a forced test of the last 30 days " +
		"or, of a bought yeast, 60 days steady; the yeast can reach 2 % vol more; the volume is measured after the racking; the bottle is made for the fizz and for its pressure " +
		"at the hottest place with two points unfinished, one after a test; one soft bottle is for tests."},
	{Head: "accept", Text: "a mead that ended sweet is taken as it is by accept, with a reason, after a passed forced test or 90 days steady. Then it is no longer called stuck " +
		"or at its limit. It never makes bottling ready."},
	{Head: "limits", Text: "under limits in cellar.yaml or a plan: steady-days, steady-days-wild, steady-fall, steady-spread, steady-temperature, dry-within, stuck-above, fermentable, forecast-above, molecular, bound, pk, stored-at, gas-left."},
}
