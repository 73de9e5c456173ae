package main

import (
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
)

// daysAhead is how far a forecast is drawn unless asked otherwise.
const daysAhead = 14

type forecastJSON struct {
	Finish     float64     `json:"finish"`
	FinishLow  float64     `json:"finish_low"`
	FinishHigh float64     `json:"finish_high"`
	DoneAt     *string     `json:"done_at"`
	DoneEarly  *string     `json:"done_early"`
	DoneLate   *string     `json:"done_late"`
	Says       string      `json:"says"`
	Why        string      `json:"why,omitempty"`
	NearSince  *string     `json:"near_since"`
	RestsSince *string     `json:"rests_since"`
	ReadNext   *string     `json:"read_next"`
	Stops      float64     `json:"stops"`
	Recent     []missJSON  `json:"recent"`
	Breaks     []breakJSON `json:"breaks"`
	Band       []pointJSON `json:"band"`
}

type breakJSON struct {
	Of            int     `json:"of"`
	In            int     `json:"in"`
	Gravity       float64 `json:"gravity"`
	Met           *string `json:"met"`
	Expected      *string `json:"expected"`
	ExpectedEarly *string `json:"expected_early"`
	ExpectedLate  *string `json:"expected_late"`
}

// missJSON is how a reading fell against what was forecast: above 0 slower.
type missJSON struct {
	pointJSON
	Slower float64 `json:"slower"`
}

type pointJSON struct {
	At     string  `json:"at"`
	Middle float64 `json:"middle"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
}

// forecastOf is the forecast of a course with its band at each reading that is
// trusted and on each day to come, or null with the reason.
func forecastOf(c course.Course, days int, unknown map[string]string) *forecastJSON {
	f := forecast.Of(c).LookingBack()
	if f.Unknown != "" {
		unknown["forecast"] = f.Unknown
		return nil
	}
	out := &forecastJSON{
		Finish: round(float64(f.Finish), 4), FinishLow: round(float64(f.Low), 4), FinishHigh: round(float64(f.High), 4),
		DoneAt: orNull(f.Done.At), DoneEarly: orNull(f.Done.Early), DoneLate: orNull(f.Done.Late),
		Says: string(f.Says), Why: f.Why, Stops: round(f.Stops, 2), NearSince: orNull(f.Near), RestsSince: orNull(f.Rests), ReadNext: orNull(f.ReadNext),
		Recent: []missJSON{}, Breaks: []breakJSON{}, Band: []pointJSON{},
	}
	for _, b := range f.Breaks {
		out.Breaks = append(out.Breaks, breakJSON{b.Of, b.In, round(float64(b.Gravity), 4), orNull(b.Met),
			orNull(b.Expected.At), orNull(b.Expected.Early), orNull(b.Expected.Late)})
	}
	for _, m := range f.Recent {
		out.Recent = append(out.Recent, missJSON{pointOf(m.Expected), round(float64(m.Slower), 4)})
	}
	for _, p := range f.Along(c.Readings) {
		out.Band = append(out.Band, pointOf(p))
	}
	for _, p := range f.Band(c.Now, days) {
		out.Band = append(out.Band, pointOf(p))
	}
	return out
}

func pointOf(p forecast.Point) pointJSON {
	return pointJSON{stamp(p.At), round(float64(p.Middle), 4), round(float64(p.Low), 4), round(float64(p.High), 4)}
}
