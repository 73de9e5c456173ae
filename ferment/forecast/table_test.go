package forecast_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/forecast"
)

// tally counts what the forecasts of a set of runs said, at each reading from the second until the run was done.
type tally struct {
	held, runs                 float64 // of later readings, averaged by run
	heldAfter, after           float64 // of later readings, forecast from the first one after a shock
	miss, ends                 float64 // of the finish, at the half cut
	said, dated, right         float64
	confident, confidentRight  float64
	stalls, confidentOnStalls  float64 // from the reading after a shock on
	usual, untold, stuckFalsly float64 // of dry finishers past a third of their fall
}

func (a *tally) add(r run, shock float64) {
	done := r.done()
	in, later := 0.0, 0.0
	stalls := r.finish() > 1.012
	for n := max(2, r.from); n <= done; n++ {
		f := forecast.Of(r.after(n))
		if f.Unknown != "" {
			continue
		}
		for i := n; i <= done; i++ {
			held := bandAt(f, r.points[i].day).holds(r.points[i].gravity)
			count(&later, true)
			count(&in, held)
			if shock > 0 && r.points[n-1].day > shock {
				count(&a.after, true)
				count(&a.heldAfter, held)
			}
		}
		if n == (done+2)/2 {
			a.miss, a.ends = a.miss+math.Abs(float64(f.Finish)-r.finish()), a.ends+1
		}
		a.said++
		dated := !f.Done.At.IsZero()
		at := dayAt(r.doneOn())
		right := dated && !at.Before(f.Done.Early) && !at.After(f.Done.Late)
		narrow := dated && f.Done.Late.Sub(f.Done.Early) < 7*24*time.Hour
		count(&a.dated, dated)
		count(&a.right, right)
		count(&a.confident, narrow)
		count(&a.confidentRight, narrow && right)
		if stalls && r.points[n-1].day > shock {
			a.stalls++
			count(&a.confidentOnStalls, narrow)
		}
		if fallen := r.points[0].gravity - r.points[n-1].gravity; !stalls && fallen > (r.points[0].gravity-r.finish())/3 {
			a.usual++
			count(&a.untold, f.Says == forecast.CannotTell)
			count(&a.stuckFalsly, f.Says == forecast.PerhapsStalled)
		}
	}
	if later > 0 {
		a.held, a.runs = a.held+in/later, a.runs+1
	}
}

func count(n *float64, is bool) {
	if is {
		*n++
	}
}

// set is a few simulated musts of one kind.
type set struct {
	name  string
	musts []must
}

// sets returns a few musts of each kind, drawn like those of the stalls.
//
// Nothing was tuned on those that are apart: other sugars and nutrients, all with noise of 0.001.
func sets(apart bool) []set {
	sugars, nutrients, noise := []float64{190, 215, 240}, []float64{90, 130}, 0.0
	if apart {
		sugars, nutrients, noise = []float64{180, 200, 228}, []float64{75, 105, 160}, 0.001
	}
	usual := func(change func(*must)) []must {
		var out []must
		for _, sugar := range sugars {
			for _, nitrogen := range nutrients {
				m := must{sugar: sugar, nitrogen: nitrogen, death: 0.05, every: 2, days: 40, noise: noise}
				change(&m)
				out = append(out, m)
			}
		}
		return out
	}
	return []set{
		{"normal", usual(func(*must) {})},
		{"sluggish", usual(func(m *must) { m.nitrogen /= 4; m.days = 80; m.every = 3 })},
		{"cold", usual(func(m *must) { m.temperature = 12; m.days = 60 })},
		{"hot", usual(func(m *must) { m.temperature = 28; m.every = 1 })},
		{"sudden stalls", usual(func(m *must) { m.coldOn = 3; m.death = 1.2; m.every = 1 })},
		{"strong, told too low", usual(func(m *must) { m.sugar += 80; m.limit = 17; m.told = 14 })},
		{"strong, told too high", usual(func(m *must) { m.sugar += 80; m.limit = 13; m.told = 15 })},
		{"twice a week", usual(func(m *must) { m.every = 3.5 })},
		{"noise 0.002", usual(func(m *must) { m.noise = 0.002 })},
		{"offset 0.003", usual(func(m *must) { m.offset = 0.003 })},
	}
}

// others returns courses of four growth curves with drawn paces, lags, wobbles, noise and ends, that go dry, slow to a
// stop or stop suddenly on the given day. Nothing was tuned on them.
func others(stop string) (runs []run, stopped []float64) {
	dice := rand.New(rand.NewPCG(90, 1))
	between := func(a, b float64) float64 { return a + (b-a)*dice.Float64() }
	for i := range 40 {
		original, pace, lag := between(1.070, 1.125), math.Exp(0.5*dice.NormFloat64()), between(0.3, 2)
		end, stays, wobble, phase := 1-(original-1)*0.045+0.002*dice.NormFloat64(), between(0.2, 0.7), between(0, 0.012), between(0, 6)
		left := []func(day float64) float64{
			func(day float64) float64 { // logistic
				k, middle := 0.6*pace, lag+4/pace
				return (1 + math.Exp(-k*middle)) / (1 + math.Exp(k*(day-middle)))
			},
			func(day float64) float64 { // Gompertz
				gone := func(day float64) float64 { return math.Exp(-math.Exp(0.6*pace*(lag-day) + 1)) }
				return (1 - gone(day)) / (1 - gone(0))
			},
			func(day float64) float64 { // constant pace with a soft end
				soft := func(x float64) float64 { return math.Log1p(math.Exp(x / 0.06)) }
				return soft(1-0.1*pace*max(0, day-lag)) / soft(1)
			},
			func(day float64) float64 { return math.Exp(-0.25 * pace * (day - lag*(1-math.Exp(-day/lag)))) }, // first order
		}[i%4]
		r, every, at, last := run{name: fmt.Sprint("other ", i)}, []float64{1, 2, 3, 3.5}[dice.IntN(4)], 0.0, 0.0
		for left(last) > 0.01 {
			last += 0.5
			if left(last) > stays {
				at = last
			}
		}
		for day := 0.0; day <= max(1.6*last, 12*every); day += every {
			rest := left(day) * (1 + wobble*math.Sin(day/2+phase))
			switch stop {
			case "sudden":
				rest = max(rest, stays)
			case "slow":
				rest = stays + (1-stays)*left(day)
			}
			r.points = append(r.points, point{day, math.Round(1000*(end+(original-end)*rest+0.0007*dice.NormFloat64())) / 1000, 0})
		}
		runs, stopped = append(runs, r), append(stopped, at)
	}
	return runs, stopped
}

// TestScores compares the quality of forecasts on each set of runs with its limits and with the table in the README. The
// limits were set before the numbers were known, except that stops are left out before they show, that "cannot tell" is
// allowed for half a run, and that one confident date may be wrong.
func TestScores(t *testing.T) {
	of := map[string]*tally{}
	score := func(name string, shock float64, r run) {
		if of[name] == nil {
			of[name] = &tally{}
		}
		of[name].add(r, shock)
	}
	names := []string{"grape", "agave", "home mead"}
	for i, r := range realRuns(t) {
		score(names[min(i/18, 1)], 0, r)
	}
	for _, r := range homeRuns(t) {
		score("home mead", 0, r)
	}
	for _, apart := range []bool{false, true} {
		for _, s := range sets(apart) {
			if apart {
				s.name += ", apart"
			}
			names = append(names, s.name)
			for _, m := range s.musts {
				score(s.name, m.coldOn, m.ferments())
			}
		}
	}
	for _, o := range []struct{ name, stop string }{{"other curves", ""}, {"other curves, slowing to a stop", "slow"}, {"other curves, stopping suddenly", "sudden"}} {
		names = append(names, o.name)
		runs, stopped := others(o.stop)
		for i, r := range runs {
			shock := 0.0
			if o.stop == "sudden" {
				shock = stopped[i]
			}
			score(o.name, shock, r)
		}
	}
	mark := len(names)
	for i, kind := range jugKinds {
		names = append(names, "jugs: "+kind.name)
		runs, shocks := jugRuns(i, 7, 25)
		for n, r := range runs {
			score("jugs: "+kind.name, shocks[n], r)
		}
	}
	table := "| runs | coverage | finish off by | dated | right | confident | right | on stalls | cannot tell | falsely stuck |\n|" + strings.Repeat("---|", 10) + "\n"
	for i, name := range names {
		a := of[name]
		held := a.held / a.runs
		within := map[bool]string{true: "", false: " *"}[held >= 0.795 && held < 0.975]
		if a.after > 0 {
			within += fmt.Sprintf("; %.0f %% after", 100*a.heldAfter/a.after)
		}
		table += fmt.Sprintf("| %s, %.0f | %.0f %%%s | %.4f | %.0f of %.0f | %.0f | %.0f | %.0f | %s | %s | %.0f |\n", name, a.runs, 100*held, within,
			a.miss/a.ends, a.dated, a.said, a.right, a.confident, a.confidentRight, part(a.confidentOnStalls, a.stalls), part(a.untold, a.usual), a.stuckFalsly)
		if i >= mark { // they have no limits: they show what series are like for which nothing was chosen
			continue
		}
		assert.LessOrEqual(t, a.confidentOnStalls, 0.005*a.stalls, "%s: confident on a stall", name)
		assert.Zero(t, a.stuckFalsly, "%s: a dry ender called stalled", name)
		assert.LessOrEqual(t, a.untold, 0.15*a.usual+0.5, "%s: cannot tell", name)
		assert.GreaterOrEqual(t, a.confidentRight, 0.9*a.confident-1, "%s: confident dates that are right", name)
		// A stop cannot be forecast before it shows.
		if stops := strings.Contains(name, "stall") || strings.Contains(name, "stop"); !stops {
			assert.GreaterOrEqual(t, a.right, 0.9*a.dated, "%s: dates that are right", name)
			assert.Greater(t, held, 0.75, "%s: coverage", name)
		} else if a.after > 0 {
			assert.Greater(t, a.heldAfter/a.after, 0.80, "%s: coverage after the shock", name)
		}
	}
	t.Log(table)
	inReadme(t, "scores", table)
}

// part returns so many of a number, or a dash of none.
func part(n, of float64) string {
	if of == 0 {
		return "–"
	}
	return fmt.Sprintf("%.0f of %.0f", n, of)
}

var update = flag.Bool("update", false, "write the table of the README anew")

// inReadme compares a part of the README of this package with what it should be.
func inReadme(t *testing.T, name, want string) {
	t.Helper()
	const guide = "README.md"
	data, err := os.ReadFile(guide)
	require.NoError(t, err)
	before, rest, found := strings.Cut(string(data), "<!-- "+name+" -->\n")
	got, after, ends := strings.Cut(rest, "<!-- /"+name+" -->")
	require.True(t, found && ends, "there is no part %s", name)
	if *update {
		text := before + "<!-- " + name + " -->\n" + want + "<!-- /" + name + " -->" + after
		require.NoError(t, os.WriteFile(guide, []byte(text), 0o666))
		return
	}
	assert.Equal(t, want, got, "go test ./ferment/forecast -run Scores -update")
}
