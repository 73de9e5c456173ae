package forecast_test

import (
	"fmt"
	"testing"

	"cellar/jugkeeper/ferment/forecast"
)

func TestLook(t *testing.T) {
	cuts := map[string]func(n int) int{
		"2": func(int) int { return 2 }, "3": func(int) int { return 3 },
		"third": func(n int) int { return (n + 2) / 3 }, "half": func(n int) int { return (n + 1) / 2 },
	}
	for _, name := range []string{"2", "3", "third", "half"} {
		var ours, empty, coverage, series float64
		n, dated, right, eligible := 0.0, 0, 0, 0
		says := map[forecast.Verdict]int{}
		for _, r := range realRuns(t) {
			cut := cuts[name](len(r.points))
			c := r.after(cut)
			f := forecast.Of(c)
			if f.Unknown != "" {
				fmt.Println(r.name, cut, f.Unknown)
				continue
			}
			says[f.Says]++
			in, k := 0.0, 0.0
			last := r.points[cut-1].gravity
			for i := cut; i <= r.done(); i++ {
				p := r.points[i]
				b := f.At(dayAt(p.day))
				ours += score(float64(b.Low), float64(b.High), p.gravity)
				empty += score(float64(c.DryFinish.Value)-0.0065, last+0.002, p.gravity)
				n++
				k++
				if p.gravity >= float64(b.Low) && p.gravity <= float64(b.High) {
					in++
				}
			}
			if k > 0 {
				coverage += in / k
				series++
				eligible++
			}
			if !f.Done.At.IsZero() {
				if k > 0 {
					dated++
					i := r.done()
					a, b := r.points[i-1], r.points[i]
					x := a.day + (b.day-a.day)*(a.gravity-r.finish()-0.004)/(a.gravity-b.gravity)
					ok := !dayAt(x).Before(f.Done.Early) && !dayAt(x).After(f.Done.Late)
					if ok {
						right++
					}
					fmt.Printf("%s cut %d finish %.4f est %.4f (%.4f-%.4f) done %.2f est %.2f..%.2f..%.2f %v stops %.2f\n", r.name, cut, r.finish(), f.Finish, f.Low, f.High, x,
						f.Done.Early.Sub(pitchedAt).Hours()/24, f.Done.At.Sub(pitchedAt).Hours()/24, f.Done.Late.Sub(pitchedAt).Hours()/24, ok, f.Stops)
				}
			} else if k > 0 {
				fmt.Printf("%s cut %d last %.4f finish %.4f est %.4f stops %.2f: %s, %s\n", r.name, cut, last, r.finish(), f.Finish, f.Stops, f.Says, f.Why)
			}
		}
		fmt.Printf("== %s: score %.4f empty %.4f coverage %.3f of %v series; dated %d of %d, right %d; %v\n", name, ours/n, empty/n, coverage/series, series, dated, eligible, right, says)
	}
}

func score(low, high, v float64) float64 {
	s := high - low
	if v < low {
		s += 20 * (low - v)
	}
	if v > high {
		s += 20 * (v - high)
	}
	return s
}
