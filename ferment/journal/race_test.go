//go:build race

package journal_test

// slowness is how many times slower the race detector makes a run.
const slowness = 5
