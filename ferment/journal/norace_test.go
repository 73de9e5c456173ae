//go:build !race

package journal_test

const slowness = 1
