package schedule

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// remedy is a task that follows from the record: due from a time on, until an act, an answer or a typed reason ends it.
type remedy struct {
	step, do, title string
	since           func(*record) time.Time // since when the record asks for it; zero if it does not
	wait, window    time.Duration           // due so long after it; late once open for so long
	why             func(*record) string
	option, bottles bool          // bottles: also asked for once all of it is in bottles
	hides           []ferment.Act // acts of the plan that wait for it
}

// remedies with how long each may wait (common practice, no source).
var remedies = []remedy{
	{step: "stuck-read", do: ferment.DoGravity, title: "take gravity: stuck?", since: stuck(0, 2), wait: aDay, window: 3 * aDay,
		why: says("it seems stuck: take gravity once more before you do anything about it")},
	{step: "stuck-decide", do: Reminder, title: "stuck: decide what to do", since: stuck(3, 999), window: 7 * aDay, why: (*record).stuckAdvice},
	{step: "restarted-read", do: ferment.DoGravity, title: "take gravity: restarted?", since: holding(course.Restarted), wait: 3 * aDay, window: 2 * aDay,
		why: says("it is fermenting again: fit the airlock, close nothing, and take gravity after three days")},
	{step: "slow-read", do: ferment.DoGravity, title: "take gravity again", since: (*record).fellLess, wait: aDay, window: 2 * aDay,
		why: says("it fell less than half as much as its earlier pace suggests: check the reading")},
	{step: "too-warm", do: string(ferment.Move), title: "move it somewhere cooler", since: tooWarm.begun, window: aDay / 2, why: (*record).rangeWords},
	{step: "too-cold", do: string(ferment.Move), title: "move it somewhere warmer", since: tooCold.begun, window: aDay, why: (*record).rangeWords},
	{step: "moved-read", do: ferment.DoTemperature, title: "check the temperature", wait: aDay / 2, window: aDay,
		since: func(r *record) time.Time { return ferment.Later(tooWarm.acted(r), tooCold.acted(r)) },
		why:   says("it was moved because of its temperature: see that it is in range now")},
	{step: "eggs-degas", do: string(ferment.Degas), title: "degas: rotten eggs", since: eggs.begun, window: aDay, why: (*record).airWords},
	{step: "eggs-smell", do: string(ferment.Look), title: "smell it again", since: eggs.acted, wait: aDay, window: aDay,
		why: says("it smelt of rotten eggs and was degassed: say how it smells now")},
	{step: "foam-over", do: string(ferment.Look), title: "make room, clean the airlock", since: foamed.begun, window: aDay / 2,
		why: says("it foamed over: leave a fifth of the vessel empty, clean and refill the airlock")},
	{step: "dry-airlock", do: string(ferment.Look), title: "fill the airlock", since: dryLock.begun, window: aDay / 2,
		why: says("the airlock is dry and lets air in: fill it, then say how it is")},
	{step: "forced-read", do: string(ferment.ForcedTest), title: "read the forced test", since: (*record).testRipe, window: 2 * aDay,
		why: says("pour some out of the warm glass, knock the gas out and type its gravity, e.g. 0.997")},
	{step: "hazy-fine", do: string(ferment.Fine), title: "fine it, if you like", since: (*record).staysHazy, window: 90 * aDay, option: true,
		why: says("still hazy after three months: finings clear it in days, or leave it longer")},
	{step: "vent-bottles", do: Reminder, title: "vent the chilled bottles", since: (*record).chilledCrate, wait: aDay, window: aDay, bottles: true, hides: opening,
		why: says("24 hours in the cold are over. Wear goggles, thick gloves, long sleeves. One bottle at a time, upright in a bucket: " +
			"lift the cap slowly under a towel, wait, lift again. Do not close it again: pour it into a jug under an airlock, or drink it")},
	{step: HotSpell, do: string(ferment.Move), title: "put the bottles in the cool", since: (*record).heatAhead, window: 30 * aDay, bottles: true, why: func(r *record) string { return heatWords(r.c) }},
	{step: "drink-by", do: string(ferment.Taste), title: "taste one: drink them soon", since: (*record).drinkSoon, window: 60 * aDay, bottles: true,
		why: says("a light mead, or one without sulphite, does not keep for ever: taste one first")},
}

func says(words string) func(*record) string { return func(*record) string { return words } }

// remedied adds the tasks of remedies, in place of tasks for the same acts.
func (r *record) remedied(ts []Task) []Task {
	if r.isCulture() {
		return ts
	}
	for _, m := range remedies {
		if r.c.Stage == course.Bottled && !m.bottles {
			continue
		}
		since := m.since(r)
		aside := func(e *ferment.Entry) bool {
			return (e.Step == m.step || e.Skipped == m.step || m.bottles && string(e.Did) == m.do) && !r.momentOf(e).Before(since)
		}
		if since.IsZero() || slices.ContainsFunc(r.entries, aside) {
			continue
		}
		due := since.In(r.zone).Add(m.wait)
		t := r.extra(Task{Step: m.step, Do: m.do, Title: m.title, Due: due, Closes: due.Add(m.window), Reason: m.why(r), Option: m.option, Remedy: true})
		if t.Open && !ferment.IsMeasurement(t.Do) {
			ts = slices.DeleteFunc(ts, func(o Task) bool { return o.Do == t.Do && o.Open && !o.Option && !o.Remedy && o.State != Held })
		}
		for i, o := range ts {
			if slices.Contains(m.hides, ferment.Act(o.Do)) && slices.Contains([]State{Due, Late, Held}, o.State) {
				ts[i] = o.pointless("not yet: " + m.title)
			}
		}
		ts = append(ts, t)
	}
	return ts
}

// HotSpell is the step of the warning before hot weather.
const HotSpell = "hot-spell"

// heatAhead returns when bottles with gas should go into the cool: 30 days before hot weather usually begins. Bottles
// under too much pressure are not to be moved.
func (r *record) heatAhead() time.Time {
	since, stock := heatFrom(r.c).AddDate(0, 0, -30), shelf.Of(r.c)
	for i, b := range stock.Batches {
		_, danger := stock.SignOf(r.c, i)
		if r.Passed(since) && r.c.Settings.Hottest > coolEnough && !b.Still() && b.Left().Some() && !danger {
			return ferment.Later(since, b.At)
		}
	}
	return time.Time{}
}

// chilledCrate returns when a crate that may burst was put into the cold, if a bottle of it is left.
func (r *record) chilledCrate() (at time.Time) {
	if stock := shelf.Of(r.c); len(stock.Batches) > 0 && !stock.Left().Some() {
		return at
	}
	risky := false
	for i, e := range r.entries {
		switch {
		case slices.ContainsFunc(dangers, func(d *danger) bool { return d.alarm != nil && d.alarm.do == ferment.Chill && d.alarm.seen(r, i) }):
			risky, at = true, time.Time{}
		case strings.HasPrefix(e.Skipped, AlarmStep):
			risky = false
		case e.Did == ferment.Chill && risky:
			risky, at = false, r.momentOf(e)
		}
	}
	return at
}

// drinkSoon returns two months before bottles that are left should be drunk, if that is past.
func (r *record) drinkSoon() time.Time {
	for _, b := range shelf.Of(r.c).Batches {
		by, has := shelf.DrinkBy(r.c, b)
		if soon := by.AddDate(0, -2, 0); has && b.Left().Some() && r.Passed(soon) {
			return soon
		}
	}
	return time.Time{}
}

// testRipe returns when the glass of a forced test could first be read, if that is past and it was not.
func (r *record) testRipe() time.Time {
	if ripe := r.c.Test.Begun.AddDate(0, 0, 5); r.c.Test.Running && r.Passed(ripe) {
		return ripe
	}
	return time.Time{}
}

// trouble begins with an entry, is treated by an act, and ends with another entry.
type trouble struct {
	begins, ends func(*record, *ferment.Entry) bool
	act          ferment.Act
}

var (
	tooWarm = trouble{(*record).isWarm, (*record).temperatureNoted, ferment.Move}
	tooCold = trouble{(*record).isCold, (*record).temperatureNoted, ferment.Move}
	eggs    = trouble{smellsOfEggs, func(_ *record, e *ferment.Entry) bool { return e.Smell != "" }, ferment.Degas}
	foamed  = trouble{func(_ *record, e *ferment.Entry) bool { return e.Did == ferment.FoamOver }, airlockSeen, ""}
	dryLock = trouble{func(_ *record, e *ferment.Entry) bool { return e.Airlock == "dry" }, airlockSeen, ""}
)

// times returns when the trouble was last recorded, and when it was treated since.
func (t trouble) times(r *record) (begun, acted time.Time) {
	for _, e := range r.entries {
		switch {
		case t.begins(r, e):
			begun, acted = r.momentOf(e), time.Time{}
		case !begun.IsZero() && t.ends(r, e):
			begun = time.Time{}
		}
		if !begun.IsZero() && t.act != "" && e.Did == t.act {
			acted = r.momentOf(e)
		}
	}
	return begun, acted
}

// begun returns when untreated trouble began.
func (t trouble) begun(r *record) time.Time {
	if begun, acted := t.times(r); acted.IsZero() {
		return begun
	}
	return time.Time{}
}

// acted returns when trouble was treated that has not ended yet.
func (t trouble) acted(r *record) time.Time {
	if begun, acted := t.times(r); !begun.IsZero() {
		return acted
	}
	return time.Time{}
}

// mostWarm is the temperature at which any mead yeast makes fusel alcohols (common practice, no source).
const mostWarm measure.Temperature = 28

// isWarm reports whether an entry shows a fermenting must that is too warm for its yeast.
func (r *record) isWarm(e *ferment.Entry) bool {
	t, span := e.Temperature, r.c.Ferment.Yeast.Temperature
	return r.atWork() && t.Known() && !e.Did.ApartFromCourse() && (t.Value.High >= mostWarm || span.Known() && t.Value.High > span.Value.High)
}

// isCold reports whether a must with sugar left is too cold for its yeast, and not on purpose.
func (r *record) isCold(e *ferment.Entry) bool {
	t, span := e.Temperature, r.c.Ferment.Yeast.Temperature
	works := r.c.Stage == course.Lag || r.c.Stage == course.Working || r.c.Stage == course.Slowing
	return works && t.Known() && span.Known() && !e.Did.ApartFromCourse() && e.Did != ferment.Chill && t.Value.Middle() < span.Value.Low
}

// temperatureNoted reports whether an entry says that the temperature was read or changed.
func (r *record) temperatureNoted(e *ferment.Entry) bool {
	return e.Temperature.Known() && !e.Did.ApartFromCourse() || e.Did == ferment.Chill
}

func (r *record) rangeWords() string {
	words := "it was " + r.c.Temperature.Value.Middle().In(r.units())
	if span := r.c.Ferment.Yeast.Temperature; span.Known() {
		return words + measure.Fill("; its yeast needs {"+decimal(float64(span.Value.Low))+" to "+decimal(float64(span.Value.High))+" °C}", r.units())
	}
	return words + "; keep it under " + mostWarm.In(r.units())
}

func smellsOfEggs(_ *record, e *ferment.Entry) bool {
	smell := strings.ToLower(e.Smell)
	return slices.ContainsFunc([]string{"egg", "sulphide", "sulfide", "sulphur", "sulfur"}, func(w string) bool { return strings.Contains(smell, w) })
}

func airlockSeen(_ *record, e *ferment.Entry) bool { return e.Airlock != "" }

func (r *record) airWords() string {
	limit := r.c.Limits.AmmoniumUntil
	if r.is(ferment.HasStarted) {
		if past, known := r.c.Holds(ferment.Condition{Kind: ferment.AtBreak, Break: limit, Text: "break " + limit.Sign()}); known && !past {
			return "it smells of rotten eggs: degas, with air, for it is before the " + limit.Sign() + " break; smell it again tomorrow"
		}
	}
	return "it smells of rotten eggs: degas, without air; smell it again tomorrow"
}

// holding returns since when a condition has been true, as a remedy asks it; zero if it is not.
func holding(name course.ConditionName) func(*record) time.Time {
	return func(r *record) time.Time {
		if i := slices.IndexFunc(r.c.Conditions, func(c course.Condition) bool { return c.Name == name }); i >= 0 {
			return r.c.Conditions[i].Since
		}
		return time.Time{}
	}
}

// stuck returns since when it is stuck, if so many of the latest readings are within 0.001.
func stuck(from, to int) func(*record) time.Time {
	return func(r *record) time.Time {
		since := holding(course.Stuck)(r)
		if since.IsZero() {
			return since
		}
		n, readings := 0, r.trusted()
		for n < len(readings) && readings[len(readings)-1-n].Gravity-readings[len(readings)-1].Gravity <= 0.001+1e-6 {
			n++
		}
		if n < from || n > to {
			return time.Time{}
		}
		return since
	}
}

func (r *record) stuckAdvice() string {
	i := slices.IndexFunc(r.c.Conditions, func(c course.Condition) bool { return c.Name == course.Stuck })
	return "try in this order: " + strings.Join(r.c.Conditions[i].Look, "; ")
}

// fellLess returns when a reading above the two-thirds break had fallen by less than half of what the pace before it
// suggested, and by 5 points less (common practice, no source).
func (r *record) fellLess() time.Time {
	limit := r.c.Break(2.0 / 3)
	if !limit.IsKnown() || !r.c.Gravity.IsKnown() || r.c.Gravity.Value.Gravity <= limit.Value || r.c.CannotTell != nil || !holding(course.Sluggish)(r).IsZero() {
		return time.Time{}
	}
	rs := r.trusted()
	if len(rs) < 3 || !holding(course.Stuck)(r).IsZero() {
		return time.Time{}
	}
	a, b, c := rs[len(rs)-3], rs[len(rs)-2], rs[len(rs)-1]
	first, then := b.At.Sub(a.At).Hours(), c.At.Sub(b.At).Hours()
	likely := float64(a.Gravity-b.Gravity) / first * then
	fell := float64(b.Gravity - c.Gravity)
	if a.Estimated || first < 12 || then < 12 || fell > likely/2 || likely-fell < 0.005 {
		return time.Time{}
	}
	return c.At
}

// staysHazy returns since when it is hazy at three months or more without fining.
func (r *record) staysHazy() time.Time {
	var hazy time.Time
	for _, e := range r.entries {
		switch {
		case e.Clarity == ferment.Hazy:
			hazy = r.momentOf(e)
		case e.Clarity != "", e.Did == ferment.Fine:
			hazy = time.Time{}
		}
	}
	young := r.c.Pitch.At.AddDate(0, 3, 0)
	if hazy.IsZero() || !r.c.Pitch.Known || hazy.Before(young.AddDate(0, -1, 0)) || !r.Passed(young) {
		return time.Time{}
	}
	return ferment.Later(hazy, young)
}

// StepTitle returns the title of a remedy's or an alarm's step, "" for any other.
func StepTitle(step string) string {
	if r, is := ferment.FirstWhere(remedies, func(r remedy) bool { return r.step == step }); is {
		return r.title
	}
	for _, d := range dangers {
		if d.alarm != nil && AlarmStep+d.name == step {
			return d.alarm.Head
		}
	}
	return ""
}
