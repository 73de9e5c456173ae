package main

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
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
	from := string(r.From)
	if r.Estimated {
		from = "estimated"
	}
	return readingJSON{stamp(r.At), round(float64(r.Gravity), 4), round(r.Error, 5), r.Typed, from, r.Doubt}
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
	out := entryJSON{}
	keys := ferment.Keys()
	for i := range keys {
		if k := &keys[i]; k.In == "" && k.Has(e) {
			out[k.Name] = k.Value(e)
		}
	}
	return out
}
