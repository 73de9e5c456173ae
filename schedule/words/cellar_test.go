package words_test

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// The cellar here is invented; its figures are only for the words.

func at(day, hour, minute int) time.Time {
	return time.Date(2026, time.October, day, hour, minute, 0, 0, time.UTC)
}

var now = at(7, 7, 4)

func vessel(tag, id string, stage course.Stage, pitched time.Time, g measure.Gravity, read time.Time, tasks ...schedule.Task) app.Vessel {
	for i := range tasks {
		tasks[i].Subject = id
	}
	last := course.Reading{At: read, Gravity: g}
	return app.Vessel{
		Ferment: ferment.Ferment{ID: id, Tag: tag, File: "ferments/" + id + ".yaml"},
		Course: &course.Course{
			Settings: ferment.DefaultSettings(time.UTC),
			Now:      now,
			Stage:    stage,
			Pitch:    course.Event{At: pitched, Known: true},
			Readings: []course.Reading{{At: pitched, Gravity: g + 0.02}, last},
			Gravity:  course.Known(last),
			Pace:     course.Known(8.7),
			Alcohol:  course.Known(measure.Strength(2.6)),
		},
		Day: schedule.Day{Tasks: tasks},
	}
}

func salt() *schedule.Amount {
	return &schedule.Amount{Known: true, Number: 1, Unit: "g", Of: "ammonium phosphate", Stock: &schedule.Stock{Volume: 0.010, Percent: 10}}
}

var (
	lateDose = schedule.Task{
		Step: "nutrient-2", Occurrence: 1, Do: "nutrient", State: schedule.Late, Opens: at(5, 3, 0), Due: at(5, 11, 0), Closes: at(6, 23, 0),
		Until:  &schedule.Limit{Gravity: 1.0445, Expected: &course.Expected{At: at(8, 4, 0), Within: 4 * time.Hour}},
		Amount: salt(), Also: []ferment.Act{ferment.Degas}, Reason: "8 h late; may be given down to 1.0445",
	}
	heldDose = schedule.Task{
		Step: "nutrient-2", Occurrence: 1, Do: "nutrient", State: schedule.Held, Opens: at(5, 3, 0), Due: at(5, 11, 0), Closes: at(6, 23, 0),
		Amount: salt(), Also: []ferment.Act{ferment.Degas}, Reason: "the reading is 41 h old, the limit is 36 h",
		Frees: "gravity", FreedBy: at(7, 11, 10),
	}
	degas = schedule.Task{
		Step: "degas", Occurrence: 4, Do: "degas", State: schedule.Due, Open: true, Opens: at(6, 16, 20), Due: at(7, 4, 20), Closes: at(7, 16, 20),
		Reason: "put a tray under it, take the airlock off, swirl it; daily until the ½ break",
	}
	lapsedDose = schedule.Task{
		Step: "nutrient-4", Occurrence: 1, Do: "nutrient", State: schedule.Lapsed, Settled: at(6, 19, 10),
		Past:   ferment.BreakLimit{Of: 1, In: 3},
		Reason: "1.0612 is more than 0.005 past the ⅓ break",
	}
	offered = schedule.Task{
		Step: "nutrient-late", Occurrence: 1, Do: "nutrient", State: schedule.Due, Open: true, Option: true,
		Until: &schedule.Limit{Gravity: 1.0511}, Amount: &schedule.Amount{Known: true, Number: 3.8, Unit: "g", Of: "yeast-derived"},
		Also: []ferment.Act{ferment.Degas},
	}
	readTonight = schedule.Task{
		Step: "gravity", Occurrence: 5, Do: "gravity", State: schedule.Due, Opens: at(7, 13, 0), Due: at(7, 19, 0), Closes: at(8, 19, 0),
	}
	readTomorrow = schedule.Task{
		Step: "gravity", Occurrence: 3, Do: "gravity", State: schedule.Waiting, Opens: at(8, 9, 0), Due: at(8, 11, 0), Closes: at(9, 11, 0),
	}
	bottle = schedule.Task{
		Step: "bottle", Occurrence: 1, Do: "bottle", State: schedule.Due, Open: true, Opens: at(1, 0, 0), Due: at(7, 0, 0),
		Closes: time.Date(2027, time.January, 1, 7, 0, 0, 0, time.UTC),
		Amount: &schedule.Amount{Words: "9 × 330 mL", Of: "still"}, Reason: "steady 28 d, clear, racked; 3.05 L in the vessel",
	}
	look = schedule.Task{
		Step: "look", Occurrence: 3, Do: "look", State: schedule.Waiting, Opens: at(8, 7, 0), Due: at(10, 7, 0), Closes: at(13, 7, 0),
	}
)

// morning returns a cellar with a late dose, a held one, two due tasks and a quiet vessel.
func morning() app.Snapshot {
	limeA := vessel("LIME-A", "lime-a", course.Working, at(3, 11, 0), 1.0567, at(6, 18, 40), lateDose, readTomorrow)
	limeB := vessel("LIME-B", "lime-b", course.Working, at(3, 11, 10), 1.0660, at(5, 14, 0), heldDose)
	limeA.Ferment.Trial.Name, limeB.Ferment.Trial.Name = "lime", "lime"
	ivy := vessel("IVY", "ivy", course.Clearing, at(-14, 7, 0), 0.9980, at(-2, 7, 0), look)
	ivy.Day.Quiet = &schedule.Quiet{From: at(1, 0, 0), To: time.Date(2026, time.November, 4, 7, 0, 0, 0, time.UTC)}
	bram := vessel("BRAM", "bram", course.Steady, at(-116, 7, 0), 0.9970, at(3, 7, 0), bottle)
	bram.Course.Pace = course.Known(0.0)
	cellar := ferment.Cellar{
		Dir:      "/cellar",
		Settings: ferment.DefaultSettings(time.UTC),
		Problems: []ferment.Problem{{File: "ferments/sloe.yaml", Line: 31, Column: 14, Message: `gravity "1,0555" is not a density (write 1.055)`}},
	}
	s := app.Snapshot{At: now, Cellar: cellar, Vessels: []app.Vessel{
		limeA, limeB, vessel("HEATH", "heath", course.Working, at(2, 19, 0), 1.0612, at(6, 19, 10), degas, lapsedDose, offered, readTonight), bram, ivy,
	}}
	for _, v := range s.Vessels {
		s.Cellar.Ferments = append(s.Cellar.Ferments, v.Ferment)
	}
	return s
}
