package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

// AlarmStep is the prefix of an alarm's step: "danger-hard".
const AlarmStep = "danger-"

// danger is something in the record that can do harm and forbids some acts. One with an alarm comes first until an act
// or a typed reason ends it; it never ends by itself.
type danger struct {
	name    string
	acts    []ferment.Act
	stands  func(filling) (why string, stands bool) // why it forbids the acts; nil: while the alarm lasts
	why     string                                  // then why it forbids them; empty if the head says it
	instead string
	frees   string
	alarm   *alarm
}

type alarm struct {
	Alarm
	in     func(*record) bool        // the subjects and stages that can have it
	seen   func(*record, int) bool   // the entry with that index shows it
	do     ferment.Act               // the act that ends it
	over   func(*ferment.Entry) bool // other entries that end it; nil for none
	hides  []ferment.Act             // acts that are pointless meanwhile, besides those that it forbids
	all    bool                      // everything else is pointless
	passes bool                      // the act that ends it also settles the plan's step for it
}

// drill is what to do about a crate that may burst, in full.
const drill = "2. Put on goggles, thick gloves and long sleeves. 3. Close the crate and chill the whole crate at {2 to 4 °C} for 24 hours. " +
	"4. Take one bottle at a time, upright in a bucket under a towel: lift the cap slowly, wait, lift again. " +
	"5. Do not close it again: pour it into a jug under an airlock, or drink it."

var (
	closing = []ferment.Act{ferment.Bottle, ferment.Prime}
	opening = []ferment.Act{ferment.Squeeze, ferment.Open, ferment.Taste, ferment.Move}
)

const (
	keepAway = "keep away, chill the closed crate for 24 hours"
	goggles  = "Wear goggles, thick gloves, long sleeves."
	cold     = "Close the crate. Chill at {2 to 4 °C}, 24 h."
	then     = "After 24 h lift caps slowly, under a towel."
)

// crateAlarm returns the alarm of a crate that may burst.
func crateAlarm(head, risk, first string) Alarm {
	return Alarm{Head: head, Risk: risk, Ends: "the crate is in the cold", Steps: []string{first, goggles, cold, then}, Long: risk + " 1. " + first + " " + drill}
}

var dangers = []*danger{
	{name: "hard", acts: opening, instead: keepAway, frees: string(ferment.Chill), alarm: &alarm{
		Alarm: crateAlarm("soft test bottle is rock hard", "The other bottles of this batch may burst.", "Keep everyone away. Open or shake nothing."),
		in:    (*record).inFizz, seen: entryThat(func(e *ferment.Entry) bool { return e.Feel == "hard" }), do: ferment.Chill, passes: true}},
	{name: "gush", acts: opening, instead: keepAway, frees: string(ferment.Chill), alarm: &alarm{
		Alarm: crateAlarm("a bottle gushed", "The others have the same pressure.", "Keep everyone away. Open no other bottle."),
		in:    (*record).inFizz, seen: entryThat(func(e *ferment.Entry) bool { return e.Hiss.Known() && e.Hiss.Value > gushes }), do: ferment.Chill, passes: true}},
	{name: "sugar-left", acts: opening, instead: keepAway, frees: string(ferment.Chill), alarm: &alarm{
		Alarm: crateAlarm("bottled with sugar left", "If yeast takes it, the bottles may burst.", "Keep everyone away. Open or shake nothing."),
		seen:  (*record).filledSweet, do: ferment.Chill}},
	{name: "bottle-heat", acts: []ferment.Act{ferment.Squeeze, ferment.Open}, stands: filling.heat, instead: coolPlace, frees: ferment.DoTemperature, alarm: &alarm{
		Alarm: Alarm{Head: "bottles too warm for their gas", Risk: "Warm bottles may burst.", Ends: "the crate is cool",
			Steps: []string{"Keep away from the crate. Open nothing.", goggles, "Close the crate. Get it below {22 °C}, slowly."},
			Long: "Warm bottles may burst. 1. Keep away, open nothing. 2. Wear goggles, gloves and long sleeves. 3. Close the crate; cool the room, or move " +
				"the closed crate to a cooler place. 4. Chill it for 24 hours before you open any bottle."},
		in: (*record).inFizz, seen: (*record).tooHot, do: ferment.Move, over: cools, hides: []ferment.Act{ferment.Taste}}},
	{name: "mould", acts: []ferment.Act{ferment.Nutrient, ferment.Rack, ferment.Bottle, ferment.Prime, ferment.Taste, ferment.Honey, ferment.TopUp, ferment.Blend,
		ferment.Fine, ferment.Sulphite, ferment.Sorbate, ferment.Passage, ferment.Starter, ferment.Backup},
		why: "mould was seen in it", instead: "throw all of it away, untasted", alarm: &alarm{
			Alarm: Alarm{Head: "mould in the must", Ends: "all of it is thrown away",
				Steps: []string{"Do not taste it. Do not skim it.", "Throw all of it away.", "Wash and sanitise all that touched it."},
				Long: "Mould in a liquid is in the whole of it. 1. Do not taste, do not skim. 2. Throw all of it away. " +
					"3. Wash, rinse and sanitise jug, bung, airlock and tube."},
			seen: sawIt("mould"), do: ferment.Dump, all: true}},
	{name: "film", acts: []ferment.Act{ferment.Bottle, ferment.Prime, ferment.Blend}, why: "a film was seen on it",
		instead: "leave it under its airlock and find out what grows",
		frees:   string(ferment.Look), alarm: &alarm{
			Alarm: Alarm{Head: "a skin on the surface", Ends: "it is racked from under the skin",
				Steps: []string{"Do not stir it in, do not bottle it.", "Fuzzy or coloured? Throw all of it away.", "White, dry? Smell it, take pH, rack under it."},
				Long: "Do not stir. Fuzzy or coloured growth is mould: throw all of it away. A dry white skin: smell it, take pH, " +
					"rack from under it into a full jug, add sulphite."},
			seen: sawIt("film"), do: ferment.Rack, over: func(e *ferment.Entry) bool { return len(e.Seen) > 0 },
			hides: []ferment.Act{ferment.Taste, ferment.Punch, ferment.Degas, ferment.Aerate, ferment.Nutrient, ferment.Buffer, ferment.Honey}}},
	{name: "lid", acts: []ferment.Act{ferment.Degas, ferment.Punch}, instead: "loosen the lid slowly, face away, and fit an airlock", frees: string(ferment.Look), alarm: &alarm{
		Alarm: Alarm{Head: "closed lid on a working jug", Risk: "A closed jug that ferments breaks.", Ends: "it is under an airlock",
			Steps: []string{"Do not shake or swirl it.", "Face away, loosen the lid slowly.", "Fit an airlock, put a tray under it."},
			Long: "A closed jug that ferments breaks. 1. Do not shake or lift it. 2. Put a towel over it, face away, and loosen the lid slowly " +
				"until it is quiet. 3. Fit an airlock and put a tray under it: it may foam."},
		in: (*record).atWork, seen: entryThat(func(e *ferment.Entry) bool { return e.Airlock == "closed" }), do: ferment.Look, over: func(e *ferment.Entry) bool { return e.Airlock != "" },
		hides: []ferment.Act{ferment.Nutrient, ferment.Aerate, ferment.Buffer}}},
	{name: "jar", acts: []ferment.Act{ferment.Passage, ferment.Starter, ferment.Pitch}, instead: "throw it away and make it fresh, at pH 4.2 or less", alarm: &alarm{
		Alarm: Alarm{Head: "jar kept closed above pH 4.6", Ends: "all of it is thrown away",
			Steps: []string{"Do not taste it.", "Throw it away.", "Make it fresh, at pH 4.2 or less."},
			Long: "A wet medium above pH 4.6, closed and warm, can grow a poison that has no smell. Do not taste. Throw it away; " +
				"boiling again does not make it safe. Make it fresh at pH 4.2 or less, or freeze it."},
		in: (*record).isCulture, seen: (*record).keptShut, do: ferment.Discard, all: true}},
	{name: "restarted", acts: closing, stands: filling.restarted, instead: "fit the airlock, leave it, read gravity again", frees: ferment.DoGravity},
	{name: "bottle-pressure", acts: closing, stands: filling.pressure, instead: "aim at less fizz, or take a stronger bottle"},
	{name: "sorbate", acts: []ferment.Act{ferment.Sorbate}, stands: filling.sorbateHarms, instead: "leave the sorbate out"},
	{name: "low-acid", acts: []ferment.Act{ferment.Backup}, stands: filling.lowAcid, instead: "throw it away, or bring the medium to pH 4.2 or less", frees: ferment.DoPH},
}

// gushes is the hiss, of 0 to 5, over which a bottle gushes (common practice, no source).
const gushes = 4

// stopped returns the danger that stops an act.
func (f filling) stopped(do string) (Hold, bool) {
	for _, d := range dangers {
		if !slices.Contains(d.acts, ferment.Act(do)) {
			continue
		}
		why, stops := "", false
		if d.stands != nil {
			why, stops = d.stands(f)
		} else if _, stops = d.since(f.record); stops {
			why = cmp.Or(d.why, d.head(f.record))
		}
		if stops {
			c := &Caution{Name: d.name, Loud: Stop, Text: why}
			return Hold{name: d.name, verdict: "stop", reason: why, frees: d.frees, danger: c, instead: d.instead}, true
		}
	}
	return Hold{}, false
}

// since returns when an alarm began.
func (d *danger) since(r *record) (since time.Time, on bool) {
	// In order of time: an entry that shows the danger begins the alarm, an act against it or a typed reason ends it,
	// and it may begin again.
	a, step := d.alarm, AlarmStep+d.name
	if a.in != nil && !a.in(r) {
		return time.Time{}, false
	}
	for i, e := range r.entries {
		switch {
		case e.Step == step, e.Skipped == step:
			on = false
		case a.seen(r, i):
			if !on {
				since, on = r.momentOf(e), true
			}
		case e.Did == a.do && a.do != ferment.Look, e.Did == ferment.Discard, a.over != nil && a.over(e):
			on = false
		}
	}
	return since, on
}

// head returns the heading, with what this vessel is or was read at.
func (d *danger) head(r *record) string {
	switch {
	case d.name == "mould" && r.isCulture():
		return "mould on the culture"
	case d.name == "bottle-heat" && r.c.Temperature.IsKnown():
		return fmt.Sprintf("bottles at %s, made for %s", r.c.Temperature.Value.High.In(r.units()), r.c.Settings.Hottest.In(r.units()))
	}
	return d.alarm.Head
}

// alarms returns the tasks of the dangers, and those of the others that are not pointless.
func (r *record) alarms(ts []Task) []Task {
	var out []Task
	for _, d := range dangers {
		if d.alarm == nil {
			continue
		}
		since, on := d.since(r)
		if !on {
			continue
		}
		out = append(out, d.task(r, since))
		ts = slices.DeleteFunc(ts, func(t Task) bool { // what the alarm asks for is not missed
			return t.State == Lapsed && t.Do == string(d.alarm.do) && !t.Due.Before(since)
		})
		for j, t := range ts {
			if d.hides(t) {
				ts[j] = t.pointless("not while there is danger: " + d.head(r))
			}
		}
	}
	return slices.Insert(ts, 0, out...)
}

func (d *danger) task(r *record, since time.Time) Task {
	told, do := d.alarm.In(r.units()), d.alarm.do
	told.Head = d.head(r)
	if r.isCulture() && do == ferment.Dump {
		do = ferment.Discard
		told.Steps = []string{"Do not taste it.", "Throw all of it away.", "Keep no spare jar of it."}
		told.Long += " Throw away spare jars taken since the last clean look, too."
	}
	return Task{Subject: r.c.Ferment.ID, Step: AlarmStep + d.name, Title: told.Head, Occurrence: 1, Do: string(do), State: Due, Open: true,
		Opens: since, Due: since, Reason: told.Long, Danger: true, Alarm: &told}
}

// hides reports whether a task is pointless while the danger lasts.
func (d *danger) hides(t Task) bool {
	switch t.State {
	case Waiting:
		return d.alarm.all
	case Due, Late, Held:
		do := ferment.Act(t.Do)
		return t.Do != Reminder && (d.alarm.all || slices.Contains(d.acts, do) || slices.Contains(d.alarm.hides, do) || do == d.alarm.do)
	}
	return false
}

// entryThat is true of the nth entry if a test of entries is.
func entryThat(says func(*ferment.Entry) bool) func(*record, int) bool {
	return func(r *record, i int) bool { return says(r.entries[i]) }
}

func sawIt(word string) func(*record, int) bool {
	return entryThat(func(e *ferment.Entry) bool { return e.Saw(word) })
}

// inFizz reports whether there are bottles in which gas may build up.
func (r *record) inFizz() bool { return len(r.times[string(ferment.Bottle)]) > 0 }

// filledSweet reports whether an entry is a bottling with sugar left.
func (r *record) filledSweet(i int) bool {
	if r.entries[i].Did != ferment.Bottle {
		return false
	}
	_, sweet := r.c.SugarLeft(r.entries[i].At.Time)
	return sweet
}

// atWork reports whether the yeast may still be making gas in the vessel.
func (r *record) atWork() bool {
	return r.c.Pitch.Known && r.c.Stage != course.Bottled && r.c.Stage != course.Steady && !r.isCulture()
}

// tooHot reports whether an entry shows that bottles with gas are too warm.
func (r *record) tooHot(i int) bool {
	e := r.entries[i]
	if !e.Temperature.Known() || e.Temperature.Value.High <= r.c.Settings.Hottest || e.Did.ApartFromCourse() {
		return false
	}
	return slices.ContainsFunc(shelf.Of(r.c).Batches, func(b shelf.Batch) bool { return !b.Still() && !b.At.After(e.At.Time) })
}

func cools(e *ferment.Entry) bool {
	return e.Did == ferment.Chill || e.Temperature.Known() && !e.Did.ApartFromCourse()
}

// keptShut reports whether a medium over pH 4.6, as last measured, is closed.
func (r *record) keptShut(i int) bool {
	shut, tells, ph := false, false, measure.PH(0)
	for _, e := range r.entries[:i+1] {
		if e.Did == ferment.Passage {
			shut, ph = false, 0
		}
		if e.PH.Known() {
			ph = e.PH.Value
		}
		closes := e.Did == ferment.Backup || e.Airlock == "closed"
		shut, tells = shut || closes, closes || e.PH.Known()
	}
	return tells && shut && ph > lowAcid
}

func (f filling) restarted() (string, bool) {
	return "it ferments again; closed bottles of it may burst", f.is(ferment.Restarted)
}

// pressure: no bottle at hand is made for the pressure of the target.
func (f filling) pressure() (string, bool) {
	over, is, _ := f.atLoad(carbonation.Over)
	return over, is && f.fizzes()
}

// sorbateHarms: with bacteria, without sulphite, or before priming.
func (f filling) sorbateHarms() (string, bool) {
	switch {
	case f.is(ferment.BacteriaWorked):
		return "bacteria have worked in it: with sorbate it smells of geranium", true
	case f.is(ferment.IsPrimed):
		return "it is primed: sorbate would leave the sugar in the bottles", true
	case len(f.times[string(ferment.Sulphite)]) == 0:
		return "no sulphite is recorded: sorbate alone does not stop yeast", true
	}
	return "", false
}

const coolPlace = "take the closed crate to a cool place first"

func (f filling) heat() (string, bool) {
	t := f.c.Temperature
	bottled, ok := f.c.Last(ferment.Bottle)
	if !ok || !t.IsKnown() || f.c.TemperatureAt.Before(bottled.At.Time) || t.Value.High <= f.c.Settings.Hottest {
		return "", false
	}
	return fmt.Sprintf("the bottles were at %s, over the %s they were planned for", t.Value.High.In(f.units()), f.c.Settings.Hottest.In(f.units())), true
}

func (f filling) lowAcid() (string, bool) {
	if !f.c.PH.IsKnown() || f.c.PH.Value <= lowAcid {
		return "", false
	}
	return fmt.Sprintf("the medium is at pH %s, over %s", f.c.PH.Value, lowAcid), true
}

// alarmSettles returns the act of the plan that the entry ending an alarm also settles, if any.
func alarmSettles(e *ferment.Entry) (do string, ok bool) {
	name, ends := strings.CutPrefix(cmp.Or(e.Skipped, e.Step), AlarmStep)
	i := slices.IndexFunc(dangers, func(d *danger) bool { return ends && d.alarm != nil && d.name == name })
	if i >= 0 && dangers[i].alarm.passes && e.Skipped == "" {
		do = string(e.Did)
	}
	return do, i >= 0
}

// BottledCaution returns what to watch on a batch of bottles, more severe with signs in the record: too much pressure
// seen or heard, more than the weakest bottle is made for, or a place that is too warm. Nil for nothing.
func BottledCaution(c *course.Course, s shelf.Shelf, batch int) *Caution {
	b, u := s.Batches[batch], c.Settings.Units
	if sign, has := s.SignOf(c, batch); has {
		said := CautionOf("overpressure-drill", u)
		said.Loud = Stop
		if !sign.Chill.IsZero() {
			said = CautionOf("in-the-cold", u)
			said.Loud = Warn
		}
		said.Text = sign.Says + " on " + dated(sign.At.In(c.Settings.Zone)) + "; " + said.Text
		return &said
	}
	if over, is := c.SugarLeft(b.At); is {
		return &Caution{Name: "bottle-pressure", Loud: Stop, Text: fmt.Sprintf("filled with about %.0f points of sugar left, not stabilised; ", 1000*over) + CautionOf("overpressure-drill", u).Text}
	}
	if b.Still() {
		return nil
	}
	if p := shelf.PressureOf(c, b); p.IsKnown() && p.Value.Strain.IsKnown() && p.Value.Strain.Value.Load() == carbonation.Over {
		return &Caution{Name: "bottle-pressure", Loud: Stop, Text: p.Value.Strain.Value.In(u) + "; " + CautionOf("overpressure-drill", u).Text}
	}
	if why, hot := (filling{record: newRecord(c)}).heat(); hot {
		return &Caution{Name: "bottle-heat", Loud: Stop, Text: why + "; " + coolPlace}
	}
	crate := CautionOf("crate", u)
	crate.Loud = Warn
	if hot := heatFrom(c); !c.Now.Before(hot.AddDate(0, 0, -30)) && c.Settings.Hottest > coolEnough {
		crate.Text = heatWords(c) + "; " + crate.Text
	}
	return &crate
}

func heatWords(c *course.Course) string {
	return fmt.Sprintf("hot weather usually begins in %s, and at %s the pressure is highest: take the closed crate to a cool place before that",
		heatFrom(c).Month(), c.Settings.Hottest.In(c.Settings.Units))
}

// coolEnough is the warmest at which conditioned bottles may stand all year (common practice, no source).
const coolEnough measure.Temperature = 22

// heatFrom returns when hot weather usually begins or, through its three months, began.
func heatFrom(c *course.Course) time.Time {
	month := time.Month(slices.Index(ferment.MonthWords, c.Settings.HotFrom) + 1)
	hot := time.Date(c.Now.Year(), month, 1, 0, 0, 0, 0, c.Now.Location())
	if c.Now.After(hot.AddDate(0, 3, 0)) {
		return hot.AddDate(1, 0, 0)
	}
	return hot
}
