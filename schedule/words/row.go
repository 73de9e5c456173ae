package words

import (
	"cmp"
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
	return Joined(", ", honeysOf(f, lots), strings.TrimSuffix(yeastName(f.Yeast), " yeast"))
}

// honeysOf is the honey of a must. Honey of no lot is told by how the ferment's
// name begins.
func honeysOf(f ferment.Ferment, lots []ferment.Lot) string {
	var names []string
	for _, h := range f.Must.Honey {
		names = append(names, lotName(h.Lot, lots))
	}
	if text := Joined(", ", names...); text != "" {
		return text
	}
	name, _, _ := strings.Cut(f.Name, ",")
	return name
}

// Joined are the texts that say something, with a sign between.
func Joined(by string, texts ...string) string {
	var some []string
	for _, t := range texts {
		if t = strings.TrimSpace(t); t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, by)
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
