package board_test

import (
	"time"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// The mornings here are invented; their figures are only for the screen.

func at(day, hour, minute int) time.Time {
	return time.Date(2026, time.October, day, hour, minute, 0, 0, time.UTC)
}

func task(step string) schedule.Task { return schedule.Task{Step: step, Occurrence: 1} }

// fall returns the levels of a curve between gravities.
func fall(gravities ...float64) []float64 {
	var out []float64
	for i := 1; i < len(gravities); i++ {
		for k := range 6 {
			out = append(out, gravities[i-1]+(gravities[i]-gravities[i-1])*float64(k)/6)
		}
	}
	return append(out, gravities[len(gravities)-1])
}

var (
	limeLate = words.Line{
		Subject: "lime-a", Tag: "LIME-A", Word: words.Late, Act: "nutrient 2",
		Amount: words.Amount{Number: "1.0", Unit: "g"}, Of: "ammonium phosphate", First: "degas first",
		Stock: &words.Amount{Number: "10", Unit: "mL"}, StockOf: "of the 10 % solution",
		Until: "by Wed night", Short: "8 h late: give it above 1.045",
		Reason: "8 h late: give it before gravity reaches 1.045", Task: task("nutrient-2"),
	}
	limeHeld = words.Line{
		Subject: "lime-b", Tag: "LIME-B", Word: words.Held, Act: "nutrient 2",
		Amount: words.Amount{Number: "1.0", Unit: "g"}, Of: "ammonium phosphate",
		Short:  "take gravity first (last 41 h ago)",
		Reason: "The last reading is 41 h old; a dose needs one from the last 36 h. Take gravity first.", Task: task("nutrient-2"),
	}
	heathDegas = words.Line{
		Subject: "heath", Tag: "HEATH", Word: words.Due, Act: "degas", Until: "by 16:20",
		Reason: "put a tray under it, take the airlock off, swirl it; daily until the ½ break", Task: task("degas"),
	}
	heathLapsed = words.Line{
		Subject: "heath", Tag: "HEATH", Word: words.Lapsed, Act: "nutrient 4",
		Short:  "too late: a third of the sugar is gone",
		Reason: "too late: 1.0612 is more than 0.005 past the ⅓ break", Task: task("nutrient-4"),
	}
	heathOption = words.Line{
		Subject: "heath", Tag: "HEATH", Word: words.Option, Act: "nutrient",
		Amount: words.Amount{Number: "3.8", Unit: "g"}, Of: "yeast-derived, once", Until: "above 1.0511", Task: task("nutrient-late"),
	}
	bramBottle = words.Line{
		Subject: "bram", Tag: "BRAM", Word: words.AnyDay, Act: "bottle", Amount: words.Amount{Words: "9 × 330 mL"}, Of: "still",
		Until: "by 1 Jan", Reason: "steady 28 d, clear, racked; 3.05 L in the vessel", Task: task("bottle"),
	}
	heathLater = words.Line{
		Subject: "heath", Tag: "HEATH", Word: words.Later, Act: "gravity", Until: "19:00", Task: task("gravity"),
	}
)

func coming(tag, id, act, until string) words.Line {
	return words.Line{Subject: id, Tag: tag, Word: words.Coming, Act: act, Until: until, Task: task(act)}
}

var (
	limeA = words.Row{
		ID: "lime-a", Tag: "LIME-A", Trial: "╭", HoneyAndYeast: "lime, white wine", Stage: "working", Day: "3",
		Gravity: "1.057", Ago: "12 h", Pace: "8.7", Alcohol: "2.6", Curve: fall(1.076, 1.0755, 1.072, 1.065, 1.0567),
		Next: "⅓ break ≈ 14:30", Card: limeCard,
	}
	limeB = words.Row{
		ID: "lime-b", Tag: "LIME-B", Trial: "╰", HoneyAndYeast: "lime, hawthorn 3", Stage: "working", Day: "3",
		Gravity: "1.066", Ago: "41 h", Stale: true, Pace: "9.2", Alcohol: "1.4", Curve: fall(1.076, 1.076, 1.0755, 1.072, 1.066),
		Next: "gravity now",
	}
	heath = words.Row{
		ID: "heath", Tag: "HEATH", HoneyAndYeast: "heather", Stage: "working", Day: "4",
		Gravity: "1.061", Ago: "12 h", Pace: "11.2", Alcohol: "6.1", Curve: fall(1.106, 1.104, 1.09, 1.0725, 1.0612),
		Next: "gravity 19:00",
	}
	bram = words.Row{
		ID: "bram", Tag: "BRAM", HoneyAndYeast: "bramble", Stage: "steady", Steady: true, Day: "123",
		Gravity: "0.997", Ago: "4 d", Pace: "0.0", Alcohol: "11.5", Curve: fall(1.084, 0.999, 0.997, 0.997, 0.997, 0.997, 0.997, 0.997),
		Next: "bottle by 1 Jan",
	}
	ivy = words.Row{
		ID: "ivy", Tag: "IVY", HoneyAndYeast: "ivy, set", Stage: "quiet", Quiet: true, Day: "46",
		Gravity: "0.998", Ago: "9 d", Pace: "0.1", Alcohol: "12.1", Until: "until Wed 4 Nov", Next: "airlock Sat 10 Oct",
		Sentence: "until Wed 4 Nov; next look at the airlock Sat 10 Oct",
	}
	sloe = words.Broken{
		Where: "sloe.yaml, line 31", What: `gravity "1,0555" is not a density (write 1.055)`, LeftOut: "sloe is left out",
	}
)

var limeCard = words.Card{
	About: []string{"lime blossom, lane trees", "white-wine yeast; LIME-B has hawthorn 3"},
	Stem: []words.Notch{
		{Gravity: 1.0760, Number: "1.0760", Kind: words.Original, Says: "pitched Sat 3 Oct, 11:00", Short: "pitched Sat 3"},
		{Gravity: 1.0567, Number: "1.0567", Kind: words.Now, Says: "Tue 18:40, 12 h ago", Short: "Tue 18:40"},
		{Gravity: 1.0495, Number: "1.0495", Kind: words.AtBreak, Break: "⅓", Says: "about 14:30, ±4 h", Short: "≈ 14:30"},
		{Gravity: 1.0445, Number: "1.0445", Kind: words.AtLimit, Says: "nutrient 2 is over, about Thu 04:00", Short: "nutrient ends"},
		{Gravity: 1.0363, Number: "1.0363", Kind: words.AtBreak, Break: "½", Says: "degas ends", Short: "degas ends"},
		{Gravity: 1.0231, Number: "1.0231", Kind: words.AtBreak, Break: "⅔", Says: "slowing", Short: "slowing"},
		{Gravity: 1.0066, Number: "1.0066", Kind: words.AtLimit, Says: "near finish", Short: "near finish"},
		{Gravity: 0.9966, Number: "0.9966", Kind: words.Finish, Says: "expected finish, 10.7 % vol", Short: "10.7 % vol"},
	},
	Figures: []words.Figure{
		{Name: "falling", Number: "8.7", Unit: "points a day since Mon 18:30", Short: "points/d"},
		{Name: "alcohol", Number: "2.6", Unit: "% vol", Short: "% vol"},
		{Name: "sugar gone", Number: "24", Unit: "%", Short: "%"},
		{Name: "nitrogen", Number: "58", Unit: "of 116 mg/L wanted", Short: "/116 mg/L"},
		{Name: "volume", Number: "3.55", Unit: "L", Short: "L"},
	},
	Log: []words.Logged{
		{When: "Tue 18:40", What: "1.056 at 23 °C, 19.5 °C, pH 3.5"},
		{When: "Tue 18:35", What: "degas; lively, one finger of foam"},
		{When: "Mon 18:30", What: "1.065 at 22 °C"},
		{When: "Sun 15:20", What: "nutrient 1, 1.0 g of ammonium phosphate"},
		{When: "Sun 08:00", What: "started; bubbles, a ring of foam"},
	},
}

// morning returns a cellar with a late dose, one that is held, and two things due.
func morning() words.Sheet {
	return words.Sheet{
		At: at(7, 7, 4), Dir: "~/cellar",
		Counts: []words.Count{{Word: words.Late, N: 1}, {Word: words.Held, N: 1}, {Word: words.Due, N: 1}, {Word: words.AnyDay, N: 1}},
		Tasks: []words.Line{
			limeLate, limeHeld, heathDegas, heathOption, bramBottle, heathLater,
			coming("LIME-A", "lime-a", "gravity", "Thu 11:00"), coming("LIME-B", "lime-b", "gravity", "Thu 11:10"),
			coming("HEATH", "heath", "gravity", "Thu 19:00"), coming("IVY", "ivy", "look at the airlock", "Sat 10 Oct"),
			coming("IVY", "ivy", "rack", "Wed 4 Nov"), heathLapsed,
		},
		Vessels: []words.Row{limeA, limeB, heath, bram, ivy},
		Broken:  []words.Broken{sloe},
	}
}

// kept returns the same morning after the late dose was given.
func kept() words.Sheet {
	s := morning()
	s.At = at(7, 7, 5)
	s.Counts = []words.Count{{Word: words.Held, N: 1}, {Word: words.Due, N: 1}, {Word: words.AnyDay, N: 1}}
	done := limeLate
	done.Word, done.Until, done.Reason, done.First, done.Stock = words.Done, "07:04", "degassed first, 07:03", "", nil
	s.Tasks = append(append([]words.Line{}, s.Tasks[1:]...), done)
	return s
}

// danger returns a morning on which something may not be bottled.
func danger() words.Sheet {
	ling := words.Row{
		ID: "ling", Tag: "LING", HoneyAndYeast: "ling, white wine", Stage: "restarted", Condition: words.Late, Day: "191",
		Gravity: "1.016", Ago: "9 h", Pace: "0.3", Alcohol: "12.4", Curve: fall(1.1, 1.018, 1.016, 1.016, 1.016), Next: "gravity Sat 10",
	}
	alone := limeB
	alone.Trial = ""
	return words.Sheet{
		At:     at(7, 7, 4),
		Counts: []words.Count{{Word: words.Stop, N: 1}, {Word: words.Held, N: 1}, {Word: words.Due, N: 1}},
		Tasks: []words.Line{{
			Subject: "ling", Tag: "LING", Word: words.Stop, Act: "bottle", Amount: words.Amount{Words: "not now"}, Danger: true, Until: "was due today",
			Reason:  "it ferments again: 0.0022 down since the honey went in, and the airlock moves. Closed bottles of it may burst",
			Instead: "fit the airlock, leave it, read gravity Sat 10 Oct", Task: task("bottle"),
		}, limeHeld, heathDegas},
		Vessels: []words.Row{ling, alone, heath, ivy},
	}
}

// alarmed returns a morning on which a soft test bottle is hard.
func alarmed() words.Sheet {
	s := morning()
	s.Counts = append([]words.Count{{Word: words.Danger, N: 1}}, s.Counts...)
	s.Tasks = append([]words.Line{{
		Subject: "gorse", Tag: "GORSE", Word: words.Danger, Act: "soft test bottle is rock hard", Danger: true, Reason: "The other bottles of this batch may burst.",
		Task: task("danger-hard"),
		Alarm: &schedule.Alarm{Head: "soft test bottle is rock hard", Ends: "the crate is in the cold", Steps: []string{
			"Keep everyone away. Open or shake nothing.", "Wear goggles, thick gloves, long sleeves.",
			"Close the crate. Chill it at 2 to 4 °C, 24 h.", "After 24 h lift caps slowly, under a towel."}},
	}}, s.Tasks...)
	return s
}

// calm returns a morning with nothing to do.
func calm() words.Sheet {
	quiet := func(tag, trial, day, gravity, ago, until, airlock string) words.Row {
		return words.Row{
			ID: tag, Tag: tag, Trial: trial, Stage: "quiet", Quiet: true, Day: day, Gravity: gravity, Ago: ago,
			Until: "until " + until, Next: "airlock " + airlock, Sentence: "until " + until + "; next look at the airlock " + airlock,
		}
	}
	return words.Sheet{
		At:    time.Date(2026, time.November, 16, 7, 10, 0, 0, time.UTC),
		Next:  "look at the airlock of HEATH, Sat 21 Nov",
		Tasks: []words.Line{coming("HEATH", "HEATH", "look at the airlock", "Sat 21 Nov")},
		Vessels: []words.Row{
			quiet("LIME-A", "╭", "44", "0.999", "15 d", "Wed 16 Dec", "Tue 24 Nov"),
			quiet("LIME-B", "╰", "44", "1.004", "15 d", "Wed 16 Dec", "Tue 24 Nov"),
			quiet("HEATH", "", "45", "0.998", "23 d", "Tue 22 Dec", "Sat 21 Nov"),
			{ID: "ivy", Tag: "IVY", Stage: "clearing", Day: "86", Gravity: "0.997", Ago: "12 d", Pace: "0.0", Alcohol: "12.1", Next: "gravity Wed 25 Nov"},
		},
	}
}

// conditions returns a cellar with every condition.
func conditions() words.Sheet {
	row := func(tag, stage string, mark words.Word, day, gravity, ago, next string) words.Row {
		return words.Row{ID: tag, Tag: tag, Stage: stage, Condition: mark, Day: day, Gravity: gravity, Ago: ago, Pace: "0.1", Alcohol: "9.9", Next: next}
	}
	doubtful := row("MINT", "reading?", words.Warn, "4", "1.071", "1 h", "rose by 0.008: read once more")
	doubtful.Doubtful = true
	return words.Sheet{
		At:    at(7, 7, 4),
		Tasks: []words.Line{heathLater},
		Vessels: []words.Row{
			row("OAK", "mixed", "", "0", "1.090", "45 min", "pitch by Thu 09:00"),
			row("ELM", "lag", "", "1", "1.090", "1 d", "started? by 19:00"),
			row("ASH", "slow start", words.Warn, "2", "1.090", "3 h", "no fall in 48 h: stir it, measure the pH"),
			row("LIME", "sluggish", words.Warn, "6", "1.051", "5 h", "2.1 a day: warm it to 18 °C"),
			row("ROWAN", "stuck", words.Late, "12", "1.034", "6 h", "0.001 in 80 h: warm it, stir the lees"),
			row("HAZEL", "unclear", words.Warn, "9", "1.030", "20 h", "too early to tell: read again Thu 8 Oct"),
			row("SLOE", "at limit", words.Warn, "20", "1.012", "1 d", "13.8 of 14 % vol: it may stay sweet"),
			row("THYME", "restarted", words.Late, "191", "1.016", "9 h", "do not bottle; gravity Sat 10 Oct"),
			row("GORSE", "film", words.Late, "88", "0.998", "2 d", "a film was seen: do not stir it"),
			row("CLOV", "mould", words.Late, "5", "1.071", "3 h", "throw all of it away, untasted"),
			doubtful,
			row("SAGE", "label?", words.Warn, "30", "1.004", "5 d", "doubtful since 2 Sep: taste and measure both"),
			row("PEAR", "original?", words.Warn, "3", "1.058", "6 h", "unknown: no breaks, no % vol, no dose"),
		},
	}
}

// many returns the morning with more vessels than a small screen has rows.
func many() words.Sheet {
	s := morning()
	for _, tag := range []string{"OAK", "ELM", "ROWAN", "HAZEL"} {
		r := bram
		r.ID, r.Tag, r.Stage, r.Steady, r.Next = tag, tag, "clearing", false, "gravity Mon 12 Oct"
		s.Vessels = append(s.Vessels, r)
	}
	return s
}

// long returns a cellar of names and words that are longer than their columns.
func long() words.Sheet {
	s := morning()
	s.Vessels[0].Tag, s.Tasks[0].Tag = "hawthorn-hedge-3", "hawthorn-hedge-3"
	s.Vessels[0].HoneyAndYeast = "hawthorn, bramble and lime from the lower hedge, white wine"
	s.Tasks[0].Act = "the second and last of the nutrient doses"
	s.Tasks[0].Of = "ammonium phosphate from the small brown jar on the shelf"
	s.Tasks[1].Reason = "the reading is forty-one hours old because nobody was at home, and the limit is 36 h; " +
		"without a fresh one nobody can say whether the third of the fall has passed already"
	return s
}

// wide returns the morning in letters that take two columns.
func wide() words.Sheet {
	s := morning()
	s.Vessels[0].Tag, s.Tasks[0].Tag = "蜂蜜酒", "蜂蜜酒"
	s.Vessels[0].HoneyAndYeast = "菩提樹の蜂蜜、白ワイン酵母"
	s.Tasks[0].Of = "リン酸アンモニウム"
	s.Tasks[0].Reason = "八時間過ぎました。 1.0445 まで加えられます"
	return s
}

// broken returns a cellar of which nothing could be read.
func broken() words.Sheet {
	s := words.Sheet{At: at(7, 7, 4), Dir: "~/cellar"}
	for range 5 {
		s.Broken = append(s.Broken, sloe)
	}
	return s
}
