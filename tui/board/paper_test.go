package board_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
	"cellar/jugkeeper/tui/theme"
)

var gaps = regexp.MustCompile(`\s+`)

// TestPaperKeepsWhatMatters: at every width the amount to add now, the gravities, and an amount in words are there.
func TestPaperKeepsWhatMatters(t *testing.T) {
	s := today(morning())
	s.Tasks = append(s.Tasks, words.Line{Subject: "hawthorn-3", Tag: "hawthorn-3", Word: words.Due, Act: "w2",
		Amount: words.Amount{Words: "10 mL of sediment into 100 mL"}, Until: "by Sat 17 Oct"})
	for width := 30; width <= 130; width++ {
		text := gaps.ReplaceAllString(board.Today(s, width, theme.Theme{}), " ")
		for _, l := range s.Tasks {
			assert.Contains(t, text, l.Tag, "%d columns", width)
			if l.Word == words.Late || l.Word == words.Due {
				assert.Contains(t, text, l.Amount.String(), "%d columns", width)
				assert.Contains(t, text, l.Of, "%d columns", width)
			}
		}
		for _, r := range s.Vessels {
			if !r.Quiet {
				assert.Contains(t, text, r.Gravity, "%d columns", width)
			}
		}
	}
}

// TestBottomLineOfThePaper: honey that does not keep is named on every kind of paper.
func TestBottomLineOfThePaper(t *testing.T) {
	s := today(morning())
	s.Honey = []words.Lot{{Name: "bell-heather-26", Says: "20.4 % water: use it now"}}
	for _, text := range []string{board.Today(s, 80, theme.Theme{}), board.Today(s, 38, theme.Theme{})} {
		assert.Contains(t, gaps.ReplaceAllString(text, " "), "△ bell-heather-26: 20.4 % water: use it now")
	}
	plain := board.Plain(s, 80)
	assert.Contains(t, plain, "honey bell-heather-26: 20.4 % water: use it now")
	assert.Less(t, strings.Index(plain, "honey bell"), strings.Index(plain, "sloe.yaml"))
}
