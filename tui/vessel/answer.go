package vessel

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

type content struct {
	theme    theme.Theme
	vessel   app.Vessel
	needs    []words.Line // what the day asks for
	now      time.Time
	forecast forecast.Forecast
}

// teller writes a page, in columns or in sentences.
type teller interface {
	heading(name string)
	under(w words.Word, text string) // a text after a word, or after none
	below(text string)               // more rows of it
	need(l words.Line)               // a task for now
	say(text string)                 // a row of text
	entry(e *ferment.Entry)          // an entry of the log
}

// answer writes what the page is opened for: what to do, then how far the ferment is.
func (c content) answer(t teller) {
	needs := slices.DeleteFunc(slices.Clone(c.needs), func(l words.Line) bool { return !l.Word.Wants() })
	for _, l := range needs {
		t.need(l)
	}
	if len(needs) == 0 {
		t.under("", c.nothing())
	}
	if c.vessel.Trouble != "" {
		t.under(words.Warn, c.vessel.Trouble+": it has no plan")
	}
	if says := words.YeastOf(c.vessel); says != "" {
		t.under("", says)
	}
	for _, a := range words.AdviceOf(c.vessel) {
		t.under(a.Mark, c.theme.Bold(a.Says))
		for i, look := range a.Look {
			t.below(strconv.Itoa(i+1) + ". " + look)
		}
	}
	if text := c.course(); text != "" {
		t.under(words.Course, text)
	}
	if c.vessel.Culture != nil {
		for _, f := range words.CultureFacts(c.vessel, c.now) {
			t.under("", f.Name+": "+f.Says)
		}
	}
	if k, n := c.vessel.Course, c.forecast.Next; n.Yeast != "" && len(n.Like) > 0 && k.Pitch.Known && !k.Steady.Open && k.Stage != course.Bottled {
		t.below(fromYours(n, words.Glass(n.Finish, k.Settings)))
	}
}

// fromYours says what ferments of the same yeast did.
func fromYours(n forecast.Next, finish string) string {
	text := fmt.Sprintf("done in %.0f to %.0f days, near %s.", n.Early, n.Late, finish)
	if n.Stopped > 0 {
		text = fmt.Sprintf("%d stopped early; one that does not is ", n.Stopped) + text
	}
	return fmt.Sprintf("From %d of yours with this yeast: ", len(n.Like)) + text
}

// nothing says that there is nothing to do, and what comes next.
func (c content) nothing() string {
	if e, closed := c.vessel.Course.Last(ferment.Close); closed {
		n := shelf.Of(c.vessel.Course).Left()
		return c.theme.Bold("Closed "+words.Date(e.At.Time, c.now)+".") + map[bool]string{true: " Bottles left on the shelf: " + n.String() + "."}[n.Some()]
	}
	text := c.theme.Bold("Nothing to do now.")
	for _, l := range c.plan() {
		if l.Word == words.Later || l.Word == words.Coming {
			return text + " Next: " + words.Join(" ", l.Act, l.Until) + "."
		}
	}
	return text
}

// ahead are the states of tasks in the plan, in the order of the page.
var ahead = []words.Word{words.Option, words.Later, words.Coming, words.Lapsed}

// plan returns the rest of the plan; of what was missed or has no day only one of each kind.
func (c content) plan() []words.Line {
	var lines []words.Line
	for _, w := range ahead {
		for _, t := range c.vessel.Day.Tasks {
			l := words.LineOf(t, c.vessel, c.now)
			undated := w == words.Coming && l.Until == ""
			empty := l.Short == "it has started" || undated && (t.Do == string(ferment.Punch) || t.Do == string(ferment.FruitOut))
			again := (w == words.Lapsed || undated) && slices.ContainsFunc(lines, func(o words.Line) bool { return o.Word == w && o.Act == l.Act })
			if l.Word == w && !again && !empty && !(undated && strings.HasPrefix(t.Reason, "waits until")) {
				lines = append(lines, l)
			}
		}
	}
	return lines
}

func (c content) log(t teller) {
	k := c.vessel.Course
	if len(k.Later) > 0 {
		t.heading("in the future, not counted")
		for _, e := range k.Later {
			t.entry(e)
		}
	}
	t.heading("log, newest first")
	if len(k.Entries) == 0 {
		t.say("nothing yet")
	}
	for _, e := range slices.Backward(k.Entries) {
		t.entry(e)
	}
}

// gates writes the checklists with what is missing, from clearing on, and the limits that are not the usual ones.
func (c content) gates(t teller) {
	if set := c.vessel.Course.Limits.Set; set != "" {
		defer func() {
			t.heading("limits set in cellar.yaml or by the plan")
			t.say(strings.Join(ferment.Map(strings.Split(ferment.Harmless(set), ", "), func(one string) string {
				name, value, _ := strings.Cut(one, " ")
				return name + " " + measure.Converted(value, c.vessel.Course.Settings.Units)
			}), ", "))
		}()
	}
	switch c.vessel.Course.Stage {
	case course.Clearing, course.Steady:
	default:
		return
	}
	shown := slices.DeleteFunc(slices.Clone(c.vessel.Day.Gates), func(g schedule.Gate) bool { return g.Name == ferment.NutrientGate })
	if len(shown) > 0 {
		t.heading("before bottling")
	}
	for _, g := range shown {
		switch {
		case g.Open:
			t.under(words.Open, words.Join(": ", string(g.Name), g.Says))
		case len(g.Unmet) == 0:
			t.under(words.Shut, words.Join(": ", string(g.Name), g.Says))
		default:
			t.under(words.Shut, string(g.Name)+": "+words.Plural(len(g.Unmet), "thing")+" missing")
		}
		for _, u := range g.Unmet {
			t.below(words.Join(": ", u.What, u.Frees))
		}
	}
}

// course says in a sentence where the ferment is going.
func (c content) course() string {
	k := c.vessel.Course
	switch ct := k.CannotTell; {
	case k.Stage == course.Bottled, k.Over(), c.vessel.Culture != nil: // it goes nowhere, or along its path
		return ""
	case ct != nil:
		when := "now"
		if ct.ReadAgain.After(c.now) {
			when = words.When(ct.ReadAgain, c.now)
		}
		return "too early to tell: " + ct.Why + "; take gravity " + when
	case !k.Gravity.IsKnown():
		return "too early to tell: " + k.Gravity.Unknown
	case k.Steady.Open:
		return "gravity steady at " + words.Glass(k.Gravity.Value.Gravity, k.Settings) + " since " + words.Date(k.Steady.First, c.now)
	case c.forecast.Unknown == "":
		return c.expected() + c.off() + ". " + c.readNext()
	case !k.Pace.IsKnown():
		return "too early to tell: " + k.Pace.Unknown
	case k.Pace.Value <= 0:
		return "not falling"
	}
	return "falling " + measure.Decimal(k.Pace.Value, 1) + " points a day" + c.nextBreak()
}

// expected returns what the forecast says about the end.
func (c content) expected() string {
	f := c.forecast
	glass := func(g measure.Gravity) string { return words.Glass(g, c.vessel.Course.Settings) }
	near := glass(f.Finish)
	switch {
	case !f.Near.IsZero():
		return "near its finish since about " + words.Date(f.Near, c.now) + "; it may still fall a little, to " + near
	case f.Says == forecast.NotStarted:
		return "hardly fallen yet"
	case f.Says == forecast.PerhapsStalled:
		return "no change since " + words.Date(f.Rests, c.now) + ": perhaps stalled"
	case f.MayStop > 0:
		return "slowing more than most: it may stop near " + glass(f.MayStop)
	case f.Says == forecast.CannotTell:
		return "too early to tell: " + f.Why
	case f.Done.At.IsZero():
		return "on its way to " + near + " (" + glass(f.Low) + " to " + glass(f.High) + "); " + strings.TrimPrefix(f.Why, "no date: ")
	case f.Done.Early.Before(c.now):
		return "finishes by " + words.Date(f.Done.Late, c.now) + ", near " + near
	}
	return "finishes between " + words.Date(f.Done.Early, c.now) + " and " + words.Date(f.Done.Late, c.now) + ", near " + near
}

// nextBreak says when the next break is reached.
func (c content) nextBreak() string {
	k := c.vessel.Course
	for _, b := range words.Breaks {
		g := k.Break(b.Share)
		if !g.IsKnown() || g.Value >= k.Gravity.Value.Gravity {
			continue
		}
		if e, ok := k.Reaches(g.Value); ok {
			return "; " + b.Name + " of the sugar gone about " + words.When(e.At, c.now) + ", ±" + words.Age(e.Within)
		}
		return ""
	}
	return ""
}

// off returns how the latest readings differ from the forecast.
func (c content) off() string {
	slower, inARow := c.forecast.Deviation()
	if inARow == 0 {
		return ""
	}
	word := "slower"
	if slower < 0 {
		word, slower = "faster", -slower
	}
	text := fmt.Sprintf("; %.0f points %s than forecast", 1000*float64(slower), word)
	if inARow > 1 {
		text += ", " + map[int]string{2: "twice", 3: "three times"}[inARow] + " in a row"
	}
	return text
}

// readNext says when the next reading shows something new, and what all samples of 100 mL come to then.
func (c content) readNext() string {
	text := "Take gravity now"
	if c.forecast.ReadNext.After(c.now) {
		text = "Next useful reading: " + words.Date(c.forecast.ReadNext, c.now)
	}
	if n := len(ferment.Where(c.vessel.Course.Readings, course.Reading.IsMeasured)) + 1; n > 2 {
		text += "; samples will have taken " + (0.1 * measure.Volume(n)).In(c.vessel.Course.Settings.Units)
	}
	return text + "."
}

// figure is a named number, its unit or source, and what it assumes: a footnote.
type figure struct{ name, number, unit, note string }

// of returns a figure, or why it is unknown.
func of[T any](name, unit string, f course.Figure[T], write func(T) string) figure {
	if !f.IsKnown() {
		return figure{name: name, number: words.Unknown, unit: f.Unknown}
	}
	return figure{name, write(f.Value), unit, f.Assumed}
}

func (c content) figureRows(width int) (rows []string) {
	var notes []string
	for _, f := range c.figures() {
		whole, _ := layout.Point(f.number)
		r := layout.Row{}.At(0, f.name).AtPoint(max(13, len(f.name)+1+len(whole)), f.number, c.theme.Bold)
		unit := f.unit
		if f.note != "" {
			i := slices.Index(notes, f.note)
			if i < 0 {
				i, notes = len(notes), append(notes, f.note)
			}
			unit = strings.TrimSpace(unit + " " + superscript(i+1))
		}
		column := max(18, r.End()+1)
		if unit == "" {
			rows = append(rows, r.In(width))
		}
		rows = append(rows, r.Wrapped(column, width, unit, layout.Unstyled)...)
	}
	if len(notes) > 0 {
		rows = append(rows, "")
	}
	for i, n := range notes {
		rows = append(rows, layout.Row{}.At(0, c.theme.Faint(superscript(i+1))).Wrapped(2, width, n, c.theme.Faint)...)
	}
	return rows
}

func (c content) figures() []figure {
	k := c.vessel.Course
	glass := func(g measure.Gravity) string { return words.Glass(g, k.Settings) }
	volume, litre := "", ""
	if k.Volume.IsKnown() {
		volume, litre = k.Volume.Value.Parts(k.Settings.Units)
	}
	share, gone := k.SugarGone.Value.Parts()
	list := []figure{of("gravity", c.when(k.Gravity.Value.At), k.Gravity, func(r course.Reading) string { return glass(r.Gravity) })}
	if now := k.Present; now.IsKnown() && now.Value.Places(4) != k.Gravity.Value.Gravity.Places(4) {
		list = append(list, of("now", "with what went in", now, glass))
	}
	if c.vessel.Culture == nil {
		pace := of("falling", "points/d", k.Pace, func(v float64) string { return measure.Decimal(v, 1) })
		if k.Pace.IsKnown() && !k.PaceSince.IsZero() {
			pace.note = words.Join("; ", "since "+words.When(k.PaceSince, c.now), pace.note)
		}
		original := of("original", originalFrom[k.Original.Source], k.Original.Figure, glass)
		original.note = words.Join("; ", original.note, c.disagree())
		list = append(list, original,
			of("finish", "expected", k.Finish, glass),
			of("alcohol", "% vol", k.Alcohol, func(a measure.Strength) string { return measure.Decimal(float64(a), 1) }),
			of("sugar gone", gone, k.SugarGone, func(course.Gone) string { return share }))
		if k.Stage != course.Bottled && !k.Over() {
			list = append(list, pace, of("volume", litre, k.Volume, func(measure.Volume) string { return volume }))
		}
	}
	if n := k.Nitrogen; n.Wanted.IsKnown() && n.Wanted.Value > 0 {
		f := of("nitrogen", "of "+measure.Decimal(n.Wanted.Value.MilligramsPerLitre(), 0), n.Wanted,
			func(measure.Content) string { return measure.Decimal(n.Given.MilligramsPerLitre(), 0) })
		f.note = words.Join("; ", "mg/L", f.note)
		list = append(list, f)
	}
	if k.PH.IsKnown() {
		list = append(list, of("pH", c.when(k.PHAt), k.PH, measure.PH.String))
	}
	if k.Temperature.IsKnown() {
		number, unit, _ := strings.Cut(k.Temperature.Value.Middle().In(k.Settings.Units), " ")
		list = append(list, of("room", unit+" "+c.when(k.TemperatureAt), k.Temperature, func(measure.Span[measure.Temperature]) string { return number }))
	}
	return slices.DeleteFunc(list, func(f figure) bool {
		return k.Over() && slices.Contains([]string{"finish", "falling", "volume"}, f.name)
	})
}

// disagree returns what other sources of the original gravity say, if it is something else.
func (c content) disagree() string {
	k := c.vessel.Course
	o, text := k.Original, ""
	for _, other := range []struct {
		source course.OriginalSource
		says   course.Figure[measure.Gravity]
	}{{course.FromMasses, o.Masses}, {course.FirstReading, o.First}} {
		// a first reading that was taken after the start may well be lower
		fallen := other.source == course.FirstReading && k.Started.Known && !k.Started.Assumed && len(k.Readings) > 1 && k.Readings[1].At.After(k.Started.At)
		if o.IsKnown() && other.says.IsKnown() && other.says.Value > 0 && other.source != o.Source && !fallen &&
			math.Abs(float64(other.says.Value-o.Value)) > disagreement {
			text = words.Join("; ", text, originalFrom[other.source]+": "+words.Exact(other.says.Value, k.Settings))
		}
	}
	return text
}

// disagreement is how far two sources may be apart: the water in honey makes 0.003.
const disagreement = 0.004

var originalFrom = map[course.OriginalSource]string{
	course.Measured: "measured", course.FromMasses: "worked out from its honey", course.FirstReading: "the first reading",
}

func (c content) when(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return words.When(t, c.now)
}

func superscript(n int) string { return string([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹")[min(n, 9)]) }
