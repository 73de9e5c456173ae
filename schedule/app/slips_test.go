package app_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	read "cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	bottles "cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// typedAt is a line typed at a moment.
type typedAt struct {
	at   time.Time
	text string
}

// simulated is an invented jug: its must, its pace, and the lines typed. The curve and the errors of reading are
// assumptions, no source.
type simulated struct {
	ferment.Ferment
	from, days float64 // original gravity; days to fall by two thirds
	log        []typedAt
}

// reads returns what a hydrometer shows so many days after the pitch.
func (s simulated) reads(r *rand.Rand, day float64) string {
	left := 1.0
	if day > 0.7 {
		left = math.Exp(-math.Pow((day-0.7)/s.days, 1.15))
	}
	return fmt.Sprintf("%.3f", 0.997+(s.from-0.997)*left+r.NormFloat64()*0.0007)
}

// aTrial returns two jugs of one must on two yeasts, and everything an orderly person types for them: doses by the
// plan, readings, racking, sulphite, bottles.
func aTrial(r *rand.Rand, cellar ferment.Cellar) []*simulated {
	from, litres, warm := 1.075+0.02*r.Float64(), 3.2+0.6*r.Float64(), 18+3*r.Float64()
	var jugs []*simulated
	for i, tag := range []string{"A", "B"} {
		s := &simulated{from: from, days: 3.2 + 1.8*float64(i) + r.Float64()}
		s.Ferment = ferment.Ferment{ID: "jug-" + strings.ToLower(tag), Tag: tag, Protocol: "small-jug", Endings: []ferment.Ending{ferment.Still}, File: "ferments/" + tag + ".yaml",
			Vessel: ferment.Vessel{Kind: "glass jug", Brimful: measure.Give(measure.Volume(4.1), "4.1 L")}, Trial: ferment.Trial{Name: "simulated", Differs: "yeast"},
			Yeast: ferment.Yeast{Name: "yeast " + tag, Tolerance: measure.Give(measure.Strength(14), "14 %")}}
		s.Must.Volume = measure.Give(measure.Volume(litres), fmt.Sprintf("%.2f L", litres))
		s.Must.Gravity, _ = measure.ParseGravity(fmt.Sprintf("%.3f", from))
		say := func(day int, clock, format string, args ...any) {
			at, _ := time.Parse("2006-01-02 15:04", fmt.Sprintf("2026-03-01 %s", clock))
			s.log = append(s.log, typedAt{at.AddDate(0, 0, day).Add(time.Duration(r.IntN(50)) * time.Minute), fmt.Sprintf(format, args...)})
		}
		celsius := func() string { return fmt.Sprintf("%.1fC", warm+r.NormFloat64()*0.7) }
		sample := func() string { return fmt.Sprintf("@%.0f", warm+1+r.NormFloat64()) }
		say(0, "16:30", "mix")
		say(0, "17:30", "%s%s", s.reads(r, 0), sample())
		say(0, "18:30", "pitch 0.9g")
		say(0, "19:30", "aerate")
		say(1, "07:10", "started airlock=working %s", celsius())
		say(1, "18:30", "degas")
		say(1, "19:30", "nutrient")
		for _, day := range []int{2, 3, 5, 7, 10, 14, 21, 30, 45, 60, 75} {
			ph := ""
			if day == 2 || day == 7 || day == 60 {
				ph = fmt.Sprintf(" ph%.1f", 3.4+r.NormFloat64()*0.08)
			}
			say(day, "07:10", "%s%s %s%s", s.reads(r, float64(day)-0.5), sample(), celsius(), ph)
			if day < 6 {
				say(day, "18:30", "degas")
			}
			if day == 2 {
				say(day, "19:30", "nutrient")
			}
			if day == 30 {
				say(day, "18:30", "rack vol%.1fL lost=0.2L lees=1.%dcm", litres-0.3, r.IntN(9))
			}
			if day == 45 {
				say(day, "18:30", "look clear airlock=still smell=clean")
			}
		}
		say(76, "10:00", "sulphite")
		say(78, "18:30", "bottle")
		say(90, "19:30", `open bottle="%s 2" hiss=1`, tag)
		say(120, "19:30", `taste bottle="%s 4" score=7%d`, tag, r.IntN(9))
		jugs = append(jugs, s)
	}
	return jugs
}

// until returns a jug with the first n lines; doses are those of the plan, to a tenth of a gram.
func (s *simulated) until(cellar ferment.Cellar, n int) ferment.Ferment {
	f := s.Ferment
	for i, l := range s.log[:n] {
		if text := strings.Fields(l.text); len(text) == 1 && (text[0] == "nutrient" || text[0] == "sulphite") {
			v := app.Plan(f, cellar, l.at)
			amount := schedule.AmountBy(v.Course, ferment.Act(text[0]))
			if task, ok := app.TaskMeant(v, text[0]); ok && task.Amount != nil && task.Amount.Known {
				amount = task.Amount
			}
			s.log[i].text += fmt.Sprintf(" %.1fg", max(amount.Number, 0.1))
		}
		e, _ := s.entry(s.log[i], len(f.Log))
		f.Log = append(f.Log[:len(f.Log):len(f.Log)], e)
	}
	f.Stamp = uint64(n)
	return f
}

// entry returns a typed line read as the program reads it.
func (s *simulated) entry(l typedAt, order int) (ferment.Entry, error) {
	one, err := read.Parse(l.text, read.Context{Now: l.at, Zone: time.UTC})
	e := one.Entry
	e.Order, e.Line = order, order+1
	if e.Did == ferment.Bottle {
		e.Bottles = []ferment.Bottles{{Kind: "still-wine bottle", Count: 4, Codes: s.Tag + " 1-4", Size: measure.Give(measure.Volume(0.75), "750 mL"), Fizz: measure.Give(measure.Content(0), ferment.NoFizz)}}
	}
	return e, err
}

var aNumber = regexp.MustCompile(`\d+(?:\.\d+)?`)

// slips are typing errors, each applied to a line; false if it cannot be.
var slips = []struct {
	kind string
	make func(*rand.Rand, string) (string, bool)
}{
	{"digit doubled", onNumber(func(r *rand.Rand, n string) string {
		i := digitOf(r, n)
		return n[:i] + n[i:i+1] + n[i:]
	})},
	{"digit dropped", onNumber(func(r *rand.Rand, n string) string {
		i := digitOf(r, n)
		return strings.TrimSuffix(n[:i]+n[i+1:], ".")
	})},
	{"digits swapped", onNumber(func(r *rand.Rand, n string) string {
		digits := []int{}
		for i := range n {
			if n[i] != '.' {
				digits = append(digits, i)
			}
		}
		if len(digits) < 2 {
			return n
		}
		i, b := r.IntN(len(digits)-1), []byte(n)
		b[digits[i]], b[digits[i+1]] = b[digits[i+1]], b[digits[i]]
		return string(b)
	})},
	{"decimal moved", onNumber(func(r *rand.Rand, n string) string {
		v, _ := measure.ParseNumber(n)
		return measure.Of(v*[]float64{10, 0.1}[r.IntN(2)], "").Text
	})},
	{"wrong unit", func(r *rand.Rand, text string) (string, bool) {
		others := map[string][]string{"g": {"oz", "mL", "kg"}, "L": {"gal", "mL"}, "C": {"F"}, "cm": {"in", "mm"}}
		var found [][]int
		for _, m := range regexp.MustCompile(`\d(g|L|C|cm)\b`).FindAllStringSubmatchIndex(text, -1) {
			found = append(found, m[2:4])
		}
		if len(found) == 0 {
			return text, false
		}
		at := found[r.IntN(len(found))]
		with := others[text[at[0]:at[1]]]
		return text[:at[0]] + with[r.IntN(len(with))] + text[at[1]:], true
	}},
	{"wrong jug", func(_ *rand.Rand, text string) (string, bool) { return text, !strings.HasPrefix(text, "bottle") }},
	{"yesterday for today", func(_ *rand.Rand, text string) (string, bool) { return text, true }},
}

func digitOf(r *rand.Rand, n string) int {
	for {
		if i := r.IntN(len(n)); n[i] != '.' {
			return i
		}
	}
}

// onNumber applies a slip to one number of a line; false if nothing changes.
func onNumber(slip func(*rand.Rand, string) string) func(*rand.Rand, string) (string, bool) {
	return func(r *rand.Rand, text string) (string, bool) {
		found := aNumber.FindAllStringIndex(text, -1)
		if len(found) == 0 {
			return text, false
		}
		at := found[r.IntN(len(found))]
		n := text[at[0]:at[1]]
		made := slip(r, n)
		was, _ := measure.ParseNumber(n)
		is, err := measure.ParseNumber(made)
		return text[:at[0]] + made + text[at[1]:], err != nil || is != was
	}
}

// differ reports whether the program would act differently for two logs: stage, gates, doses by more than half,
// bottles.
func differ(a, b app.Vessel) bool {
	if a.Course.Stage != b.Course.Stage || bottles.Of(a.Course).Left() != bottles.Of(b.Course).Left() {
		return true
	}
	acts := []string{"nutrient", "sulphite", "sorbate", "prime", "bottle", "rack"}
	for _, t := range a.Day.Tasks {
		i := slices.IndexFunc(b.Day.Tasks, func(u schedule.Task) bool { return u.Step == t.Step && u.Occurrence == t.Occurrence })
		if !slices.Contains(acts, t.Do) {
			continue
		}
		if i < 0 || b.Day.Tasks[i].State != t.State {
			return true
		}
		if x, y := t.Amount, b.Day.Tasks[i].Amount; x != nil && y != nil && x.Known && y.Known && math.Abs(math.Log(x.Number/y.Number)) > math.Log(1.5) {
			return true
		}
	}
	return false
}

// tally counts the slips of one kind.
type tally struct{ made, asked, bears, caught int }

// TestSlips makes one slip in each of 2,000 invented logs. It must be asked about or refused when typed, or lead to a
// question by the next reading, if it changes what the program would do: stage, gates, doses by more than half,
// bottles. SLIPS=1 prints those that nothing caught.
func TestSlips(t *testing.T) {
	for name, seed := range map[string]uint64{"tuned on": 7, "never seen": 1009} {
		t.Run(name, func(t *testing.T) { slipsOf(t, seed) })
	}
}

func slipsOf(t *testing.T, seed uint64) {
	const logs = 2000
	cellar := holding().cellar
	got, honest := make([]tally, len(slips)), tally{}
	results := make([]struct {
		kind                 int
		ok                   bool
		asked, bears, caught bool
		honestly             []string
		text                 string
	}, logs)
	ferment.Each(logs, func(n int) {
		r, res := rand.New(rand.NewPCG(uint64(n), seed)), &results[n]
		jugs := aTrial(r, cellar)
		for !res.ok {
			mine, other := jugs[0], jugs[1]
			if r.IntN(2) == 0 {
				mine, other = other, mine
			}
			k := r.IntN(len(mine.log))
			before := mine.until(cellar, k+1) // with the planned doses
			at := mine.log[k].at
			before.Log = before.Log[:k]
			beside := other.until(cellar, countBefore(other.log, at))
			snapshot := func(now time.Time, fs ...ferment.Ferment) app.Snapshot {
				s := app.Snapshot{At: now, Cellar: cellar}
				s.Cellar.Ferments = fs
				s.Vessels = append(s.Vessels, app.Plan(fs[0], s.Cellar, now))
				for _, f := range fs[1:] {
					s.Vessels = append(s.Vessels, app.Vessel{Ferment: f, Course: course.Of(f, cellar.Settings, cellar.Settings.Limits, now)})
				}
				return s
			}
			true_, err := mine.entry(mine.log[k], k)
			if err != nil {
				panic(err)
			}
			s := snapshot(at, before, beside)
			res.honestly = app.Says(app.Unlikely(s, s.Vessels[0], true_))
			if r.IntN(20) == 0 { // typed a day late
				late := at.Add(20 * time.Hour)
				all := mine.until(cellar, countBefore(mine.log, late))
				all.Log = slices.Delete(slices.Clone(all.Log), k, min(k+1, len(all.Log)))
				s := snapshot(late, all, beside)
				res.honestly = app.Says(app.Unlikely(s, s.Vessels[0], true_))
			}

			res.kind = n % len(slips)
			kind := slips[res.kind]
			text, can := kind.make(r, mine.log[k].text)
			if !can {
				continue
			}
			res.ok, res.text = true, fmt.Sprintf("%s: %s → %s", kind.kind, mine.log[k].text, text)
			to, v, wrote := before, s.Vessels[0], typedAt{at, text}
			if kind.kind == "wrong jug" {
				s = snapshot(at, beside, before)
				to, v = beside, s.Vessels[0]
			}
			e, err := mine.entry(wrote, len(to.Log))
			if kind.kind == "yesterday for today" {
				e.At = ferment.At(at.Add(-24 * time.Hour))
			}
			if res.asked = err != nil; !res.asked {
				res.asked = len(app.Unlikely(s, v, e)) > 0
			}
			if err != nil {
				res.bears, res.caught = true, true
				continue
			}
			// What it changes an hour later, and whether the next reading shows it.
			with := func(f ferment.Ferment, e ferment.Entry) ferment.Ferment {
				f.Log = append(f.Log[:len(f.Log):len(f.Log)], e)
				return f
			}
			later := at.Add(time.Hour)
			right, slipped := app.Plan(with(before, true_), cellar, later), with(to, e)
			if kind.kind == "wrong jug" {
				right = app.Plan(beside, cellar, later)
			}
			res.bears = differ(right, app.Plan(slipped, cellar, later))
			if a, b := e.Amount, true_.Amount; a.Known() && b.Known() && a.Value() > 0 && math.Abs(math.Log(a.Value()/b.Value())) > math.Log(1.5) {
				res.bears = true
			}
			res.caught = res.asked
			of := mine
			if kind.kind == "wrong jug" {
				of = other
			}
			for i := 0; i < len(of.log) && !res.caught; i++ {
				next, _ := of.entry(of.log[i], len(slipped.Log))
				if of.log[i].at.After(at) {
					s := snapshot(of.log[i].at, slipped)
					if res.caught = len(app.Unlikely(s, s.Vessels[0], next)) > 0; next.HasDensity() {
						break
					}
				}
			}
		}
	})
	asksOf := map[string]int{}
	for _, res := range results {
		g := &got[res.kind]
		g.made++
		honest.made++
		if len(res.honestly) > 0 {
			honest.asked++
			asksOf[res.honestly[0]]++
		}
		if res.asked {
			g.asked++
		}
		if res.bears {
			g.bears++
			if res.caught {
				g.caught++
			} else if os.Getenv("SLIPS") != "" {
				t.Log(res.text)
			}
		}
	}
	all := tally{}
	t.Log("| slip | made | asked about | change a dose, gate, stage or bottle | of these caught |")
	for i, g := range got {
		t.Logf("| %s | %d | %.0f %% | %d | %.1f %% |", slips[i].kind, g.made, share(g.asked, g.made), g.bears, share(g.caught, g.bears))
		all.made, all.asked, all.bears, all.caught = all.made+g.made, all.asked+g.asked, all.bears+g.bears, all.caught+g.caught
	}
	t.Logf("| all | %d | %.0f %% | %d | %.1f %% |", all.made, share(all.asked, all.made), all.bears, share(all.caught, all.bears))
	t.Logf("honest entries asked about: %.1f %% of %d", share(honest.asked, honest.made), honest.made)
	for says, n := range asksOf {
		t.Log(n, says)
	}
	assert.Less(t, share(honest.asked, honest.made), 2.0, "honest entries")
	assert.GreaterOrEqual(t, share(all.caught, all.bears), 98.0, "slips that change something")
}

// countBefore returns how much was typed before a moment.
func countBefore(log []typedAt, at time.Time) int {
	n := slices.IndexFunc(log, func(l typedAt) bool { return !l.at.Before(at) })
	if n < 0 {
		return len(log)
	}
	return n
}

func share(n, of int) float64 { return 100 * float64(n) / float64(max(of, 1)) }
