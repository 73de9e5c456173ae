package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// Alarm is a danger that wants somebody now: what it is, what may happen, and what
// to do.
type Alarm struct {
	Head  string   // what it is, up to 36 columns
	Risk  string   // what may happen, one sentence; empty where the head says it
	Steps []string // what to do, in order, each up to 45 columns
	Long  string   // the same in full, for paper and for reading aloud
	Ends  string   // what ends it: "the crate is in the cold"
}

// AlarmStep is what the step of an alarm begins with: "danger-hard".
const AlarmStep = "danger-"

// danger is something in the record that can do harm. It stops some acts. One with
// an alarm comes before everything else, until an act or a typed reason ends it; no
// clock does.
type danger struct {
	name    string
	acts    map[ferment.Act]bool
	stands  func(*planner) (why string, stands bool) // nil: while the alarm lasts
	why     string                                   // and then why it stops them; empty where the head says it
	instead string
	frees   string
	alarm   *alarm
}

// alarm is when a danger is told of, and how.
type alarm struct {
	Alarm
	in     func(*planner) bool      // the subjects and stages that can have it
	seen   func(*planner, int) bool // the entry at that place says so
	do     ferment.Act              // the act that ends it
	over   func(*planner, int) bool // an entry that ends it too; nil for none
	hides  map[ferment.Act]bool     // what makes no sense meanwhile, as do the acts it stops
	all    bool                     // nothing else makes sense
	passes bool                     // the act that ends it also settles the plan's own step for it
}

func acts(as ...ferment.Act) map[ferment.Act]bool {
	set := map[ferment.Act]bool{}
	for _, a := range as {
		set[a] = true
	}
	return set
}

// drill is what to do before a crate that may burst, in full.
const drill = "2. Put on goggles, thick gloves and long sleeves. 3. Close the crate and chill the whole crate at {2 to 4 °C} for 24 hours. " +
	"4. Then one bottle at a time, upright in a bucket under a towel: lift the cap slowly, wait, repeat. " +
	"5. Do not close it again: into a jug under an airlock, or drink it."

var dangers []danger

func init() {
	closing := acts(ferment.Bottle, ferment.Prime)
	opening := acts(ferment.Squeeze, ferment.Open, ferment.Taste, ferment.Move)
	burst := "The other bottles of this batch may burst."
	goggles, cold := "Wear goggles, thick gloves, long sleeves.", "Close the crate. Chill at {2 to 4 °C}, 24 h."
	then := "After 24 h: each cap slowly, under a towel."
	dangers = []danger{
		{name: "hard", acts: opening, instead: "keep away, chill the closed crate for 24 hours", frees: string(ferment.Chill), alarm: &alarm{
			Alarm: Alarm{Head: "soft test bottle is rock hard", Risk: burst, Ends: "the crate is in the cold",
				Steps: []string{"Keep everyone away. Open or shake nothing.", goggles, cold, then},
				Long:  burst + " 1. Keep everyone away; do not open, shake or lift a single bottle. " + drill},
			in: (*planner).inFizz, seen: entryThat(func(e *ferment.Entry) bool { return e.Feel == "hard" }), do: ferment.Chill, passes: true}},
		{name: "gush", acts: opening, instead: "keep away, chill the closed crate for 24 hours", frees: string(ferment.Chill), alarm: &alarm{
			Alarm: Alarm{Head: "a bottle gushed", Risk: "The others have the same pressure.", Ends: "the crate is in the cold",
				Steps: []string{"Open no other bottle.", goggles, cold, then},
				Long:  "The others have the same pressure. 1. Keep everyone away; open no other bottle. " + drill},
			in: (*planner).inFizz, seen: entryThat(func(e *ferment.Entry) bool { return e.Hiss.Known() && e.Hiss.Value > gushes }), do: ferment.Chill}},
		{name: "bottle-heat", acts: acts(ferment.Squeeze, ferment.Open), stands: heatStands, instead: coolPlace, frees: ferment.DoTemperature, alarm: &alarm{
			Alarm: Alarm{Head: "bottles too warm for their gas", Risk: "Warm bottles may burst.", Ends: "the crate is cool",
				Steps: []string{"Keep away from the crate. Open nothing.", goggles, "Close the crate. Get it below {22 °C}, slowly."},
				Long: "Warm bottles may burst. 1. Keep away, open nothing. 2. Goggles, gloves, sleeves. 3. Close the crate; cool the room, or move " +
					"the closed crate to a cooler place. 4. Chill 24 hours before any is opened."},
			in: (*planner).inFizz, seen: (*planner).tooHotThen, do: ferment.Move, over: (*planner).coolThen, hides: acts(ferment.Taste)}},
		{name: "mould", acts: acts(ferment.Nutrient, ferment.Rack, ferment.Bottle, ferment.Prime, ferment.Taste, ferment.Honey, ferment.TopUp, ferment.Blend,
			ferment.Fine, ferment.Sulphite, ferment.Sorbate, ferment.Passage, ferment.Starter, ferment.Backup),
			why: "mould was seen in it", instead: "throw all of it away, untasted", alarm: &alarm{
				Alarm: Alarm{Head: "mould in the must", Ends: "all of it is thrown away",
					Steps: []string{"Do not taste it. Do not skim it.", "Throw all of it away.", "Wash and sanitise all that touched it."},
					Long: "Mould in a liquid is in the whole of it. 1. Do not taste, do not skim. 2. Throw all of it away. " +
						"3. Wash, rinse and sanitise jug, bung, airlock and tube."},
				seen: sawIt("mould"), do: ferment.Dump, all: true}},
		{name: "film", acts: acts(ferment.Bottle, ferment.Prime, ferment.Blend), why: "a film was seen on it",
			instead: "leave it under its airlock and find out what grows",
			frees:   string(ferment.Look), alarm: &alarm{
				Alarm: Alarm{Head: "a skin on the surface", Ends: "it is racked from under the skin",
					Steps: []string{"Do not stir it in, do not bottle it.", "Fuzzy or coloured? Throw all of it away.", "White, dry? Smell it, take pH, rack under it."},
					Long: "Do not stir. Fuzzy or coloured growth is mould: throw all of it away. A dry white skin: smell it, take pH, " +
						"rack from under it into a full jug, add sulphite."},
				seen: sawIt("film"), do: ferment.Rack, over: (*planner).cleanThen, hides: acts(ferment.Taste, ferment.Punch)}},
		{name: "lid", acts: acts(ferment.Degas, ferment.Punch), instead: "loosen the lid slowly, face away, and fit an airlock", frees: string(ferment.Look), alarm: &alarm{
			Alarm: Alarm{Head: "closed lid on a working jug", Risk: "A closed jug that ferments breaks.", Ends: "it is under an airlock",
				Steps: []string{"Do not shake or swirl it.", "Face away, loosen the lid slowly.", "Fit an airlock; a tray under it."},
				Long: "A closed jug that ferments breaks. 1. Do not shake or lift it. 2. Face away, a towel over it, loosen the lid slowly " +
					"until it is quiet. 3. Fit an airlock, tray under: it may foam."},
			in: (*planner).atWork, seen: entryThat(func(e *ferment.Entry) bool { return e.Airlock == "closed" }), do: ferment.Look, over: (*planner).unlidded,
			hides: acts(ferment.Nutrient, ferment.Aerate, ferment.Buffer)}},
		{name: "jar", acts: acts(ferment.Passage, ferment.Starter, ferment.Pitch), instead: "throw it away and make it fresh, at pH 4.2 or less", alarm: &alarm{
			Alarm: Alarm{Head: "jar kept closed above pH 4.6", Ends: "all of it is thrown away",
				Steps: []string{"Do not taste it.", "Throw it away.", "Make it fresh, at pH 4.2 or less."},
				Long: "A wet medium above pH 4.6, closed and warm, can grow what poisons without a smell. Do not taste. Throw it away; " +
					"boiling again does not make it safe. Make it fresh at pH 4.2 or less, or freeze it."},
			in: (*planner).isCulture, seen: (*planner).shutThen, do: ferment.Discard, all: true}},
		{name: "restarted", acts: closing, stands: restartedStands, instead: "airlock on, leave it, read gravity again", frees: ferment.DoGravity},
		{name: "bottle-pressure", acts: closing, stands: pressureStands, instead: "aim at less fizz, or take a stronger bottle"},
		{name: "sorbate", acts: acts(ferment.Sorbate), stands: sorbateStands, instead: "leave the sorbate out"},
		{name: "low-acid", acts: acts(ferment.Backup), stands: lowAcidStands, instead: "throw it away, or bring the medium to pH 4.2 or less", frees: ferment.DoPH},
	}
}

// gushes is the hiss over which a bottle gushes, on the scale of 0 to 5 (common
// practice, no source).
const gushes = 4

// stopped is the danger that stops an act.
func (p *planner) stopped(do string) (hold, bool) {
	for i := range dangers {
		d := &dangers[i]
		if !d.acts[ferment.Act(do)] {
			continue
		}
		if why, stops := d.stops(p); stops {
			c := &Caution{Name: d.name, Loud: Stop, Text: why}
			return hold{name: d.name, verdict: "stop", reason: why, frees: d.frees, danger: c, instead: d.instead}, true
		}
	}
	return hold{}, false
}

func (d *danger) stops(p *planner) (why string, stops bool) {
	if d.stands != nil {
		return d.stands(p)
	}
	if _, on := p.alarmSince(d); on {
		return cmp.Or(d.why, d.head(p)), true
	}
	return "", false
}

// alarmSince is since when an alarm lasts.
func (p *planner) alarmSince(d *danger) (since time.Time, on bool) {
	// The entries are gone through in the order of time: what says that there is
	// danger begins the alarm, what was done about it or a typed reason ends it, and it
	// may begin again.
	a := d.alarm
	if a.in != nil && !a.in(p) {
		return time.Time{}, false
	}
	for i, e := range p.entries {
		switch {
		case e.Step == AlarmStep+d.name, e.Skipped == AlarmStep+d.name:
			on = false
		case a.seen(p, i):
			if !on {
				since, on = p.momentOf(e), true
			}
		case e.Did == a.do && a.do != ferment.Look, e.Did == ferment.Discard, a.over != nil && a.over(p, i):
			on = false
		}
	}
	return since, on
}

// head is what a danger is called, with its figure where it has one.
func (d *danger) head(p *planner) string {
	switch {
	case d.name == "mould" && p.isCulture():
		return "mould on the culture"
	case d.name == "bottle-heat" && p.c.Temperature.IsKnown():
		return fmt.Sprintf("bottles at %s, made for %s", p.c.Temperature.Value.High.In(p.units()), p.c.Settings.Hottest.In(p.units()))
	}
	return d.alarm.Head
}

// alarms are the tasks of the dangers, and the other tasks without those that
// make no sense meanwhile.
func (p *planner) alarms(ts []Task) []Task {
	var out []Task
	for i := range dangers {
		d := &dangers[i]
		if d.alarm == nil {
			continue
		}
		if since, on := p.alarmSince(d); on {
			out = append(out, d.task(p, since))
			ts = slices.DeleteFunc(ts, func(t Task) bool { // what the alarm asks for is not missed
				return t.State == Lapsed && t.Do == string(d.alarm.do) && !t.Due.Before(since)
			})
			for j := range ts {
				if d.hides(ts[j]) {
					ts[j] = instead(ts[j], d.head(p))
				}
			}
		}
	}
	return append(out, ts...)
}

// In is an alarm in the units of a person.
func (a Alarm) In(s measure.System) Alarm {
	a.Long, a.Steps = measure.Fill(a.Long, s), slices.Clone(a.Steps)
	for i, step := range a.Steps {
		a.Steps[i] = measure.Fill(step, s)
	}
	return a
}

func (d *danger) task(p *planner, since time.Time) Task {
	told := d.alarm.In(p.units())
	told.Head = d.head(p)
	do := d.alarm.do
	if p.isCulture() && do == ferment.Dump {
		do = ferment.Discard
		told.Steps = []string{"Do not taste it.", "Throw all of it away.", "Keep no spare jar of it."}
		told.Long += " Spare jars taken since the last clean look go too."
	}
	return Task{Subject: p.c.Ferment.ID, Step: AlarmStep + d.name, Title: told.Head, Occurrence: 1, Do: string(do), State: Due, Open: true,
		Opens: since, Due: since, Reason: told.Long, Danger: true, Alarm: &told}
}

// hides tells whether a task makes no sense while the danger lasts.
func (d *danger) hides(t Task) bool {
	if t.State == Waiting {
		return d.alarm.all
	}
	if t.State != Due && t.State != Late && t.State != Held {
		return false
	}
	do := ferment.Act(t.Do)
	return t.Do != Reminder && (d.alarm.all || d.acts[do] || d.alarm.hides[do] || do == d.alarm.do)
}

// instead is a task that waits because of a danger.
func instead(t Task, head string) Task {
	t.State, t.Open, t.Danger, t.Asks = Waiting, false, false, false
	t.Opens, t.Due, t.Closes, t.Until, t.Expected = time.Time{}, time.Time{}, time.Time{}, nil, nil
	t.Reason, t.Frees, t.FreedBy, t.Caution, t.Instead, t.hold = "not while there is danger: "+head, "", time.Time{}, nil, "", nil
	return t
}

func entryThat(says func(*ferment.Entry) bool) func(*planner, int) bool {
	return func(p *planner, i int) bool { return says(p.entries[i]) }
}

func sawIt(word string) func(*planner, int) bool {
	return entryThat(func(e *ferment.Entry) bool { return e.Saw(word) })
}

func (p *planner) isCulture() bool { return p.c.Culture != nil }

// inFizz tells whether there are bottles that gas may build up in.
func (p *planner) inFizz() bool {
	_, bottled := p.c.Last(ferment.Bottle)
	return bottled
}

// atWork tells whether the yeast may still be making gas in its vessel.
func (p *planner) atWork() bool {
	return p.c.Pitch.Known && p.c.Stage != course.Bottled && p.c.Stage != course.Steady && !p.isCulture()
}

// tooHotThen tells whether an entry says that bottles with gas in them are too warm.
func (p *planner) tooHotThen(i int) bool {
	e := p.entries[i]
	if !e.Temperature.Known() || e.Temperature.Value.High <= p.c.Settings.Hottest || e.Did.ApartFromCourse() {
		return false
	}
	for _, b := range shelf.Of(p.c).Batches {
		if !b.Still() && !b.At.After(e.At.Time) {
			return true
		}
	}
	return false
}

func (p *planner) coolThen(i int) bool {
	e := p.entries[i]
	return e.Did == ferment.Chill || e.Temperature.Known() && !e.Did.ApartFromCourse()
}

// cleanThen tells whether somebody looked and no film was there.
func (p *planner) cleanThen(i int) bool { return len(p.entries[i].Seen) > 0 }

func (p *planner) unlidded(i int) bool { return p.entries[i].Airlock != "" }

// shutThen tells whether a medium over pH 4.6 was kept closed: by an entry that says
// so, the pH being that of the last measurement in the same medium.
func (p *planner) shutThen(i int) bool {
	shut, ph := false, measure.PH(0)
	for _, e := range p.entries[:i+1] {
		if e.Did == ferment.Passage {
			shut, ph = false, 0
		}
		if e.PH.Known() {
			ph = e.PH.Value
		}
		shut = shut || e.Did == ferment.Backup || e.Airlock == "closed"
	}
	e := p.entries[i]
	tells := e.PH.Known() || e.Did == ferment.Backup || e.Airlock == "closed"
	return tells && shut && ph > lowAcid
}

func restartedStands(p *planner) (string, bool) {
	return "it works again; closed bottles of it may burst", p.holds(ferment.Condition{Kind: ferment.Restarted, Text: "restarted"})
}

// pressureStands: of what is to be conditioned, no bottle at hand stands the
// pressure.
func pressureStands(p *planner) (string, bool) {
	if !p.fizzes() || !p.c.Alcohol.IsKnown() {
		return "", false
	}
	over, stands := p.overPressure()
	return over, !stands && over != ""
}

// sorbateStands: with bacteria, without sulphite, or before priming sorbate
// does harm.
func sorbateStands(p *planner) (string, bool) {
	switch {
	case p.holds(ferment.Condition{Kind: ferment.BacteriaWorked, Text: "bacteria worked"}):
		return "bacteria have worked in it: with sorbate it smells of geranium", true
	case p.holds(ferment.Condition{Kind: ferment.IsPrimed, Text: "primed"}):
		return "it is primed: sorbate would leave the sugar in the bottles", true
	case len(p.times[string(ferment.Sulphite)]) == 0:
		return "no sulphite is recorded: sorbate alone does not stop yeast", true
	}
	return "", false
}

// coolPlace is what to do with bottles that stand too warm.
const coolPlace = "take the closed crate to a cool place first"

func heatStands(p *planner) (string, bool) {
	t := p.c.Temperature
	bottled, ok := p.c.Last(ferment.Bottle)
	if !ok || !t.IsKnown() || p.c.TemperatureAt.Before(bottled.At.Time) || t.Value.High <= p.c.Settings.Hottest {
		return "", false
	}
	return fmt.Sprintf("the bottles stood at %s, over the %s they are reckoned for", t.Value.High.In(p.units()), p.c.Settings.Hottest.In(p.units())), true
}

// lowAcid is the pH above which a wet medium may not stand closed: 21 CFR
// 114.3, the line for growth of botulinum in foods.
const lowAcid measure.PH = 4.6

func lowAcidStands(p *planner) (string, bool) {
	if !p.c.PH.IsKnown() || p.c.PH.Value <= lowAcid {
		return "", false
	}
	return fmt.Sprintf("the medium stands at pH %s, over %s", p.c.PH.Value, lowAcid), true
}

// alarmSettles is the act by which an entry that ends an alarm settles a step of the
// plan too; empty for none. It is not ok for any other entry.
func alarmSettles(e *ferment.Entry) (do string, ok bool) {
	for i := range dangers {
		d := &dangers[i]
		if step := AlarmStep + d.name; d.alarm == nil || e.Step != step && e.Skipped != step {
			continue
		}
		if d.alarm.passes && e.Skipped == "" {
			return string(e.Did), true
		}
		return "", true
	}
	return "", false
}

// Alarms are what can be told of dangers, in a system of units.
func Alarms(s measure.System) []Alarm {
	var out []Alarm
	for _, d := range dangers {
		if d.alarm != nil {
			out = append(out, d.alarm.In(s))
		}
	}
	return out
}
