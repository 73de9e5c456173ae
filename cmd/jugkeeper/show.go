package main

import (
	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/app"
)

func showCommand(w world, f *flags) *cobra.Command {
	var days int
	cmd := &cobra.Command{
		Use:               "show NAME",
		Short:             "Show one ferment, open or closed: figures, plan and log",
		Example:           "  jugkeeper show bh-a\n  jugkeeper show bh-a --json",
		Args:              args(cobra.ExactArgs(1)),
		ValidArgsFunction: w.completeNames(f, 1, session.subjects),
		RunE: func(_ *cobra.Command, given []string) error {
			if err := sensibleDays(days); err != nil {
				return err
			}
			s, err := w.openToShow(*f)
			if err != nil {
				return err
			}
			vs, ids, err := s.besides(given)
			if err != nil {
				return err
			}
			v := vs[0]
			if f.json {
				err = writeJSON(w.stdout, showOf(v, s.first, days))
			} else {
				err = w.page(*f, v, s.first)
			}
			if err != nil {
				return err
			}
			return s.troubled(ids)
		},
	}
	cmd.Flags().IntVar(&days, "days", daysAhead, "with --json: forecast `N` days ahead")
	return cmd
}

// troubled returns a failure with the problems in the files of these ferments; nil for none.
func (s session) troubled(ids []string) error {
	return failedBy(ferment.Flat(ids, func(id string) []ferment.Problem { return problemsOf(s.first.Cellar, id) }))
}

func failedBy(ps []ferment.Problem) error {
	if len(ps) > 0 {
		return &failure{status: saidNo, problems: ps}
	}
	return nil
}

// showJSON is one ferment completely: today's part, its figures, and a forecast for some days.
type showJSON struct {
	fermentJSON
	At       string        `json:"at" does:"the time that everything here is worked out for"`
	Readings []readingJSON `json:"readings" does:"the gravity readings, oldest first"`
	Forecast *forecastJSON `json:"forecast" does:"how gravity will probably go on"`
	Gates    []gateJSON    `json:"gates" does:"the checklists before bottling"`
	Plan     []taskJSON    `json:"plan" does:"all tasks of the plan, done ones too"`
	Log      []entryJSON   `json:"log" does:"the entries of the log, with the keys of the files; numbers are metric"`
	Bottles  *bottlesJSON  `json:"bottles" does:"what was bottled"`
	Problems []problemJSON `json:"problems" does:"what cannot be read in its file"`
}

type readingJSON struct {
	At    string  `json:"at" does:"when"`
	Value float64 `json:"value" does:"the gravity, corrected, SG"`
	Error float64 `json:"standard_error" does:"its standard error, in SG"`
	Typed string  `json:"typed" does:"as it was typed"`
	From  string  `json:"from" does:"the instrument, must, started or estimated"`
	Doubt string  `json:"doubt,omitempty" does:"why it is not trusted"`
}

type gateJSON struct {
	Name  string      `json:"name" does:"the name of the checklist"`
	Open  bool        `json:"open" does:"true if nothing is missing"`
	Unmet []unmetJSON `json:"unmet" does:"what is still missing"`
}

type unmetJSON struct {
	What  string `json:"what" does:"what is missing"`
	Frees string `json:"frees" does:"what to do or measure about it"`
}

func showOf(v app.Vessel, s app.Snapshot, days int) showJSON {
	out := showJSON{
		fermentJSON: fermentOf(v), At: stamp(s.At),
		Readings: []readingJSON{}, Gates: []gateJSON{}, Log: ferment.Map(append(v.Course.Entries, v.Course.Later...), entryOf),
		Plan: tasksJSON(v.Day.Tasks), Bottles: bottlesOf(shelf.Of(v.Course)), Problems: problemsJSON(problemsOf(s.Cellar, v.ID())),
	}
	out.Tasks = tasksJSON(todays(v, 0))
	out.Forecast = forecastOf(v, days, out.Unknown)
	for _, r := range v.Course.Readings {
		from := string(r.From)
		if r.Estimated {
			from = "estimated"
		}
		out.Readings = append(out.Readings, readingJSON{stamp(r.At), measure.Round(float64(r.Gravity), 4), measure.Round(r.Error, 5), r.Typed, from, r.Doubt})
	}
	for _, g := range v.Day.Gates {
		unmet := ferment.Map(g.Unmet, func(u course.Unmet) unmetJSON { return unmetJSON{u.What, u.Frees} })
		out.Gates = append(out.Gates, gateJSON{string(g.Name), g.Open, unmet})
	}
	return out
}

// entryJSON is an entry with the keys of the files, numbers metric.
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

// daysAhead is the default length of a forecast.
const daysAhead = 14

type forecastJSON struct {
	Finish     float64     `json:"finish" does:"gravity at the end; if an early stop is likelier, gravity there"`
	FinishLow  float64     `json:"finish_low" does:"the lowest likely value of it"`
	FinishHigh float64     `json:"finish_high" does:"the highest likely value of it"`
	DoneAt     *string     `json:"done_at" does:"when it will be done; null if it is too early for a date"`
	DoneEarly  *string     `json:"done_early" does:"the earliest likely time of that"`
	DoneLate   *string     `json:"done_late" does:"the latest likely time of that"`
	Says       string      `json:"says" does:"not started, perhaps stalled, cannot tell or on its way"`
	Why        string      `json:"why,omitempty" does:"why it says so"`
	NearSince  *string     `json:"near_since" does:"since when it has been near its end"`
	RestsSince *string     `json:"rests_since" does:"since when it has not fallen"`
	ReadNext   *string     `json:"read_next" does:"when the next reading is most useful"`
	Stops      float64     `json:"stops" does:"the chance that it stops early, 0 to 1"`
	Recent     []missJSON  `json:"recent" does:"the last readings, compared with what was forecast for them"`
	Breaks     []breakJSON `json:"breaks" does:"when gravity has fallen by a third, by half and so on"`
	Band       []pointJSON `json:"band" does:"the likely gravity at each reading and on each day to come"`
}

type breakJSON struct {
	Of            int     `json:"of" does:"the break as a fraction: the number above the line, e.g. 1 in 1/3"`
	In            int     `json:"in" does:"the number below the line, e.g. 3 in 1/3"`
	Gravity       float64 `json:"gravity" does:"the gravity at that break, SG"`
	Met           *string `json:"met" does:"when it was reached"`
	Expected      *string `json:"expected" does:"when it will probably be reached"`
	ExpectedEarly *string `json:"expected_early" does:"the earliest likely time of that"`
	ExpectedLate  *string `json:"expected_late" does:"the latest likely time of that"`
}

// missJSON is the difference of a reading from its forecast: above 0 slower.
type missJSON struct {
	pointJSON
	Slower float64 `json:"slower" does:"how far the reading was above the middle, SG; below 0 if it fell faster"`
}

type pointJSON struct {
	At     string  `json:"at" does:"when"`
	Middle float64 `json:"middle" does:"the most likely gravity, SG"`
	Low    float64 `json:"low" does:"the lowest likely gravity, SG"`
	High   float64 `json:"high" does:"the highest likely gravity, SG"`
}

// forecastOf returns a forecast with its band at trusted readings and coming days, or null and the reason.
func forecastOf(v app.Vessel, days int, unknown map[string]string) *forecastJSON {
	_, f := app.Foreseen(v)
	if f.Unknown != "" {
		unknown["forecast"] = f.Unknown
		return nil
	}
	out := &forecastJSON{
		Finish: measure.Round(float64(f.Finish), 4), FinishLow: measure.Round(float64(f.Low), 4), FinishHigh: measure.Round(float64(f.High), 4),
		DoneAt: orNull(f.Done.At), DoneEarly: orNull(f.Done.Early), DoneLate: orNull(f.Done.Late),
		Says: string(f.Says), Why: f.Why, Stops: measure.Round(f.Stops, 2), NearSince: orNull(f.Near), RestsSince: orNull(f.Rests), ReadNext: orNull(f.ReadNext),
		Recent: []missJSON{}, Breaks: []breakJSON{}, Band: ferment.Map(append(f.Along(v.Course.Readings), f.Band(v.Course.Now, days)...), pointOf),
	}
	for _, b := range f.Breaks {
		out.Breaks = append(out.Breaks, breakJSON{b.Of, b.In, measure.Round(float64(b.Gravity), 4), orNull(b.Met),
			orNull(b.Expected.At), orNull(b.Expected.Early), orNull(b.Expected.Late)})
	}
	for _, m := range f.Recent {
		out.Recent = append(out.Recent, missJSON{pointOf(m.Expected), measure.Round(float64(m.Slower), 4)})
	}
	return out
}

func pointOf(p forecast.Point) pointJSON {
	return pointJSON{stamp(p.At), measure.Round(float64(p.Middle), 4), measure.Round(float64(p.Low), 4), measure.Round(float64(p.High), 4)}
}
