package ferment

import (
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEachOnce(t *testing.T) {
	for _, n := range []int{0, 1, 7, 1000} {
		done := make([]int, n)
		Each(n, func(i int) { done[i]++ })
		for i, times := range done {
			assert.Equal(t, 1, times, i)
		}
	}
}

func TestEachPassesPanicsOn(t *testing.T) {
	var done atomic.Int32
	assert.PanicsWithValue(t, "sour", func() {
		Each(100, func(i int) {
			if i == 3 {
				panic("sour")
			}
			done.Add(1)
		})
	})
	assert.Less(t, done.Load(), int32(100))
}
