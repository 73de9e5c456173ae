package ferment_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
)

func TestHarmless(t *testing.T) {
	for _, c := range []struct{ what, in, out string }{
		{"plain words", "lively, two fingers", "lively, two fingers"},
		{"letters of other scripts", "عسل · мёд · 蜜 · é", "عسل · мёд · 蜜 · é"},
		{"joined emoji", "👩\u200d🌾", "👩\u200d🌾"},
		{"a colour sequence", "a\x1b[31mred", "a�[31mred"},
		{"a one-byte sequence introducer", "a\u009b2Jb", "a�2Jb"},
		{"bell, backspace, delete", "\a\b\x7f", "���"},
		{"line ends and tabs", "a\nb\tc\rd\u2028e", "a b c d e"},
		{"a word turned round", "a\u202egnp.b", "agnp.b"},
		{"isolates and marks", "\u2066a\u2069\u200f", "a"},
		{"broken bytes", "a\xffb", "a�b"},
	} {
		assert.Equal(t, c.out, ferment.Harmless(c.in), c.what)
	}
}
