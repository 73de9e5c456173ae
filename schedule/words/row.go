package words

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// rowOf is a vessel in words, without what is drawn of it.
func rowOf(v subject, s app.Snapshot) Row {
	c := v.Course
	r := Row{
		ID:            v.ID(),
		Tag:           v.Label(),
		HoneyAndYeast: honeyAndYeast(v.Ferment, s.Cellar.Lots),
		Day:           Day(c, s.At),
		Gravity:       Unknown,
		Ago:           Unknown,
		Pace:          figure(c.Pace, oneDecimal[float64]),
		Alcohol:       figure(c.Alcohol, oneDecimal[measure.Strength]),
		Next:          next(v, s.At),
	}
	r.Stage, r.Condition = StageOf(*v.Vessel)
	r.Steady = r.Condition == "" && c.Stage == course.Steady && r.Stage != "quiet"
	r.Quiet = r.Stage == "quiet"
	if r.Quiet {
		r.Until, r.Sentence = quiet(v, s.At)
	}
	if g, ok := latest(c); ok {
		r.Gravity, r.Doubtful = Glass(g.Gravity, c.Settings), g.Doubt != ""
		r.Ago, r.Stale = Age(s.At.Sub(g.At)), waitsForReading(v.Day.Tasks)
	}
	return r
}

// Told tells whether a sentence says how the vessel is, and no figures.
func (r Row) Told() bool { return r.Quiet || r.Culture }

// cultureRow is a culture among the vessels: what was seen last, and what comes
// next.
func cultureRow(v subject, now time.Time) Row {
	r := Row{ID: v.ID(), Tag: v.Label(), Culture: true, Stage: "culture", Day: Unknown, Gravity: Unknown, Ago: Unknown, Pace: Unknown, Alcohol: Unknown}
	if first := slices.MinFunc(v.Course.Entries, func(a, b *ferment.Entry) int { return a.At.Time.Compare(b.At.Time) }); first != nil {
		r.Day = strconv.Itoa(max(-daysApart(first.At.Time, now), 0))
	}
	var seen string
	for _, e := range v.Course.Entries {
		if len(e.Seen) > 0 {
			seen = strings.Join(e.Seen, " and ") + " " + e.At.Time.In(now.Location()).Format("Mon")
			if daysApart(e.At.Time, now) < -6 {
				seen = strings.Join(e.Seen, " and ") + " " + Date(e.At.Time, now)
			}
		}
	}
	next := ""
	if later := ahead(v.shown); len(later) > 0 {
		next = strings.TrimSpace(ActLabel(*later[0].task) + " " + later[0].until(now))
	}
	r.Until = Join("; ", seen, next)
	r.Sentence, r.Next = r.Until, ""
	return r
}

func figure[T any](f course.Figure[T], write func(T) string) string {
	if !f.IsKnown() {
		return Unknown
	}
	return write(f.Value)
}

// Day is the whole days since the pitch, which is day 0.
func Day(c course.Course, now time.Time) string {
	switch {
	case c.Pitch.Known:
		return strconv.Itoa(int(max(now.Sub(c.Pitch.At), 0) / day))
	case c.Stage == course.Mixed:
		return "0"
	}
	return Unknown
}

// latest is the reading to show: the latest trusted one, else one in doubt.
func latest(c course.Course) (course.Reading, bool) {
	if n := len(c.Readings); n > 0 {
		if last := c.Readings[n-1]; last.Doubt != "" {
			return last, true
		}
	}
	return c.Gravity.Value, c.Gravity.IsKnown() && c.Gravity.Value.Gravity > 0
}

// waitsForReading tells whether something is held until gravity is read again.
func waitsForReading(ts []schedule.Task) bool {
	for _, t := range ts {
		if WordOf(t) == Held && t.Frees == ferment.DoGravity {
			return true
		}
	}
	return false
}

// honeyAndYeast says what a vessel is made of: "lime, white wine".
func honeyAndYeast(f ferment.Ferment, lots []ferment.Lot) string {
	return Join(", ", honeysOf(f, lots), strings.TrimSuffix(yeastName(f.Yeast), " yeast"))
}

// honeysOf is the honey of a must. Honey of no lot is told by how the ferment's
// name begins.
func honeysOf(f ferment.Ferment, lots []ferment.Lot) string {
	var names []string
	for _, h := range f.Must.Honey {
		names = append(names, lotName(h.Lot, lots))
	}
	if text := Join(", ", names...); text != "" {
		return text
	}
	name, _, _ := strings.Cut(f.Name, ",")
	return name
}

func yeastName(y ferment.Yeast) string { return cmp.Or(y.Name, spaced(y.Culture)) }

func lotName(id string, lots []ferment.Lot) string {
	for _, l := range lots {
		if l.ID == id && l.Name != "" {
			return l.Name
		}
	}
	return spaced(id)
}

// tie marks the rows of each trial with the string that holds them together.
func tie(rows []Row, vs []app.Vessel) {
	trial := func(i int) string {
		if i < 0 || i >= len(vs) {
			return ""
		}
		return vs[i].Ferment.Trial.Name
	}
	for i := range rows {
		name := trial(i)
		if name == "" {
			continue
		}
		switch above, below := trial(i-1) == name, trial(i+1) == name; {
		case above && below:
			rows[i].Trial = "│"
		case above:
			rows[i].Trial = "╰"
		case below:
			rows[i].Trial = "╭"
		}
	}
}
