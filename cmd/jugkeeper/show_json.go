package main

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// showJSON is one ferment whole: what today says of it, and all that it rests
// on, with a forecast that is drawn so many days ahead.
type showJSON struct {
	fermentJSON
	At       string        `json:"at"`
	Readings []readingJSON `json:"readings"`
	Forecast *forecastJSON `json:"forecast"`
	Gates    []gateJSON    `json:"gates"`
	Plan     []taskJSON    `json:"plan"`
	Log      []entryJSON   `json:"log"`
	Bottles  *bottlesJSON  `json:"bottles"`
	Problems []problemJSON `json:"problems"`
}

type readingJSON struct {
	At    string  `json:"at"`
	Value float64 `json:"value"`
	Error float64 `json:"standard_error"`
	Typed string  `json:"typed"`
	From  string  `json:"from"`
	Doubt string  `json:"doubt,omitempty"`
}

type gateJSON struct {
	Name  string      `json:"name"`
	Open  bool        `json:"open"`
	Unmet []unmetJSON `json:"unmet"`
}

type unmetJSON struct {
	What  string `json:"what"`
	Frees string `json:"frees"`
}

func showOf(v app.Vessel, s app.Snapshot, days int) showJSON {
	out := showJSON{
		fermentJSON: fermentOf(v), At: stamp(s.At),
		Readings: []readingJSON{}, Gates: []gateJSON{}, Log: []entryJSON{},
		Plan: tasksJSON(v.Day.Tasks), Bottles: bottlesOf(shelf.Of(v.Course)), Problems: problemsJSON(problemsOf(s.Cellar, v.ID())),
	}
	out.Tasks = tasksJSON(todays(v, 0))
	out.Forecast = forecastOf(v.Course, days, out.Unknown)
	for _, r := range v.Course.Readings {
		out.Readings = append(out.Readings, readingOf(r))
	}
	for _, g := range v.Day.Gates {
		out.Gates = append(out.Gates, gateOf(g))
	}
	for _, e := range append(v.Course.Entries, v.Course.Later...) {
		out.Log = append(out.Log, entryOf(e))
	}
	return out
}

func readingOf(r course.Reading) readingJSON {
	return readingJSON{stamp(r.At), round(float64(r.Gravity), 4), round(r.Error, 5), r.Typed, string(r.From), r.Doubt}
}

func gateOf(g schedule.Gate) gateJSON {
	out := gateJSON{Name: string(g.Name), Open: g.Open, Unmet: []unmetJSON{}}
	for _, u := range g.Unmet {
		out.Unmet = append(out.Unmet, unmetJSON{u.What, u.Frees})
	}
	return out
}

// entryJSON is an entry with the keys of the files, its numbers metric.
type entryJSON map[string]any

func entryOf(e *ferment.Entry) entryJSON {
	out := entryJSON{"at": stamp(e.At.Time)}
	if e.At.DayOnly {
		out["at"] = e.At.Time.Format(time.DateOnly)
	}
	give(out, "gravity", e.Gravity)
	give(out, "brix", e.Brix)
	give(out, "plato", e.Plato)
	give(out, "oechsle", e.Oechsle)
	give(out, "refractometer", e.Refractometer)
	give(out, "sample", e.Sample)
	give(out, "ph", e.PH)
	give(out, "acidity", e.Acidity)
	give(out, "volume", e.Volume)
	give(out, "lees", e.Lees)
	give(out, "lost", e.Lost)
	give(out, "water", e.Water)
	give(out, "left", e.Left)
	give(out, "hiss", e.Hiss)
	give(out, "foam", e.Foam)
	give(out, "alcohol", e.Alcohol)
	give(out, "medium", e.Medium)
	if e.Temperature.Known() {
		t := e.Temperature.Value
		out["temperature"] = map[string]float64{"low": float64(t.Low), "high": float64(t.High)}
	}
	for key, word := range map[string]string{
		"with": e.With, "clarity": string(e.Clarity), "airlock": e.Airlock, "smell": e.Smell, "feel": e.Feel,
		"label": e.Label, "place": e.Place, "doubt": string(e.Doubt), "did": string(e.Did), "step": e.Step,
		"of": e.Of, "lot": e.Lot, "skipped": e.Skipped, "overrode": e.Overrode, "because": e.Because,
		"note": e.Note, "bottle": e.Bottle, "verdict": e.Verdict,
	} {
		if word != "" {
			out[key] = word
		}
	}
	if t := tasteOf(e.Taste); len(t) > 0 {
		out["taste"] = t
	}
	if t := e.Triangle; t.Odd > 0 {
		out["triangle"] = map[string]any{"with": t.With, "codes": t.Codes, "odd": t.Odd, "said": t.Said}
	}
	if len(e.Seen) > 0 {
		out["seen"] = e.Seen
	}
	if e.Amount.Given() {
		out["amount"] = amountGiven(e.Amount)
	}
	return out
}

func tasteOf(t ferment.Tasting) map[string]any {
	out := map[string]any{}
	for key, word := range map[string]string{"look": t.Look, "nose": t.Nose, "palate": t.Palate, "body": t.Body, "finish": t.Finish} {
		if word != "" {
			out[key] = word
		}
	}
	if len(t.Faults) > 0 {
		out["faults"] = t.Faults
	}
	if t.Score.Known() {
		out["score"] = t.Score.Value
	}
	if t.Blind {
		out["blind"] = true
	}
	return out
}

func give[T ~float64](out entryJSON, key string, g measure.Given[T]) {
	if g.Known() {
		out[key] = float64(g.Value)
	}
}

func amountGiven(a ferment.Amount) any {
	if a.Unknown {
		return "unknown"
	}
	return map[string]any{"value": a.Number, "unit": a.Unit}
}
