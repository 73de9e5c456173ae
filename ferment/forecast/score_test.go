package forecast_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"cellar/jugkeeper/ferment/forecast"
)

func TestLook(t *testing.T) {
	cuts := map[string]func(n int) int{
		"2": func(int) int { return 2 }, "3": func(int) int { return 3 },
		"third": func(n int) int { return (n + 2) / 3 }, "half": func(n int) int { return (n + 1) / 2 },
	}
	pooledIn, pooledN := map[string]float64{}, map[string]float64{}
	for _, name := range []string{"2", "3", "third", "half"} {
		var ours, empty, oursAll, emptyAll, coverage, series, n, nAll, covAll, seriesAll float64
		dated, right, eligible := 0, 0, 0
		for _, r := range realRuns(t) {
			if x := os.Getenv("SKIP"); x != "" && strings.HasPrefix(r.name, "S") && strings.HasSuffix(r.name, x) {
				continue
			}
			cut := cuts[name](len(r.points))
			c := r.after(cut)
			f := forecast.Of(c)
			if f.Unknown != "" {
				fmt.Println(r.name, cut, f.Unknown)
				continue
			}
			in, k, inAll, kAll := 0.0, 0.0, 0.0, 0.0
			last := r.points[cut-1].gravity
			for i := cut; i < len(r.points); i++ {
				p := r.points[i]
				b := f.At(dayAt(p.day))
				so, se := score(float64(b.Low), float64(b.High), p.gravity), score(float64(c.DryFinish.Value)-0.0065, last+0.002, p.gravity)
				hit := p.gravity >= float64(b.Low) && p.gravity <= float64(b.High)
				oursAll, emptyAll, nAll, kAll = oursAll+so, emptyAll+se, nAll+1, kAll+1
				if hit {
					inAll++
				}
				if i <= r.done() {
					ours, empty, n, k = ours+so, empty+se, n+1, k+1
					if hit {
						in++
					}
				}
				if os.Getenv("V") != "" && !hit {
					fmt.Printf("%s %s day %.2f: %.4f in %.4f %.4f %.4f\n", name, r.name, p.day, p.gravity, b.Low, b.Middle, b.High)
				}
			}
			if kAll > 0 {
				covAll += inAll / kAll
				seriesAll++
			}
			if k > 0 {
				coverage += in / k
				series++
				eligible++
				pooledIn[r.name] += in
				pooledN[r.name] += k
			}
			if !f.Done.At.IsZero() && k > 0 {
				dated++
				i := r.done()
				a, b := r.points[i-1], r.points[i]
				x := a.day + (b.day-a.day)*(a.gravity-r.finish()-0.004)/(a.gravity-b.gravity)
				ok := !dayAt(x).Before(f.Done.Early) && !dayAt(x).After(f.Done.Late)
				if ok {
					right++
				}
			}
		}
		fmt.Printf("== %s: until done: score %.4f empty %.4f coverage %.3f of %v; all: %.4f %.4f %.3f; dated %d of %d, right %d\n", name, ours/n, empty/n, coverage/series, series,
			oursAll/nAll, emptyAll/nAll, covAll/seriesAll, dated, eligible, right)
	}
	sum := 0.0
	for k, n := range pooledN {
		sum += pooledIn[k] / n
	}
	fmt.Printf("pooled %.3f\n", sum/float64(len(pooledN)))
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
