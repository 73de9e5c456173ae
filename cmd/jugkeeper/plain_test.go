package main

import (
	"bytes"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
)

// TestPlainOutputHasNoSigns: with --plain no command writes a sign, a mark, a colour or a frame. A person's text may
// have other letters; the demo has none.
func TestPlainOutputHasNoSigns(t *testing.T) {
	dir := demoCellar(t)
	for _, line := range []string{
		"", "today", "today --days 30", "today clover", "show clover", "show chestnut-b", "show dandelion", "show buckwheat",
		"compare chestnut-a chestnut-b", "compare clover chestnut-a", "check", "protocol", "export", "version", "help", "help log",
		"work", "work scale from=23bx", "work hydrometer reads=1.046 sample=23C", "work must honey=1kg volume=3L water=18%",
		"work prime volume=3.05L alcohol=11.5% warmest=19C target=5g/L bottle=330mL", "work sulphite ph=3.4 volume=3L",
		"work pressure co2=5g/L alcohol=11% at=20C", "work sorbate volume=3L alcohol=11%", "work mixture alcohol=11%",
		"log clover 1.047@20 ph3.4 19C", "log clover 12", "log chestnut-b nutrient 1.4g -30min", "done buckwheat nutrient", "done clover zzz",
		"skip dandelion started --because away", "today --at 25:00", "nonsense",
	} {
		var out, errs bytes.Buffer
		run(append(strings.Fields(line), "--plain"), around(dir, &out, &errs))
		text := out.String() + errs.String()
		assert.NotEmpty(t, text, line)
		assert.Empty(t, strings.Map(signsOnly, text), line)
	}
}

func signsOnly(r rune) rune {
	if r < unicode.MaxASCII && (r >= ' ' || r == '\n') {
		return -1
	}
	return r
}

func TestTableInSentences(t *testing.T) {
	assert.Equal(t, []string{"gravity: A 1.057; B 1.066; apart 0.009", "", "what differs", "yeast: A dry; B cider; declared", "pH: B 3.4"},
		spoken([][]string{{"", "A", "B", "apart"}, {"gravity", "1.057", "1.066", "0.009"}, nil,
			{"what differs", "A", "B"}, {"yeast", "dry", "cider", "declared"}, {"pH", "", "3.4"}}))
}
