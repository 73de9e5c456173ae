package ferment

import (
	"runtime"
	"sync"
)

// Each does something for every number below n, several at once. What it does
// for one may not touch what it does for another. A panic in one comes out of
// Each.
func Each(n int, do func(i int)) {
	var at sync.Mutex
	var workers sync.WaitGroup
	var trouble any
	next := 0
	take := func() (int, bool) {
		at.Lock()
		defer at.Unlock()
		next++
		return next - 1, next <= n && trouble == nil
	}
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			defer func() {
				if what := recover(); what != nil {
					at.Lock()
					trouble = what
					at.Unlock()
				}
			}()
			for i, ok := take(); ok; i, ok = take() {
				do(i)
			}
		})
	}
	workers.Wait()
	if trouble != nil {
		panic(trouble)
	}
}
