//go:build race

package journal

// Slowness is how many times slower the race detector makes a run.
const Slowness = 5
