package guide

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule/app"
	chapters "cellar/jugkeeper/schedule/guide"
	"cellar/jugkeeper/tui/intent"
)

var update = flag.Bool("update", false, "write the goldens anew")

func at(w, h int) view {
	keys := chapters.Chapter{Name: "keys", Title: "what the keys do", Parts: []chapters.Part{{Head: "g", Text: "type a reading"}, {Head: "Space", Text: "done"}}}
	return shownIn(New(keys), app.Snapshot{}, w, h)
}

func do(m view, as ...intent.Action) view {
	m, _ = m.does(as...)
	return m
}

func TestScreens(t *testing.T) {
	for _, chapter := range []string{"keys", "words", "cautions", "urgent", "figures"} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			m := at(size[0], size[1])
			for m.chapters[m.chapter].Name != chapter {
				m = do(m, intent.Next)
			}
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("guide-%s-%dx%d.txt", chapter, size[0], size[1]))
			got := m.screen("Esc back") + "\n"
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, file)
		}
	}
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	for w := 1; w <= 130; w += 3 {
		for h := 1; h <= 50; h += 7 {
			for _, m := range []view{at(w, h), do(at(w, h), intent.Next, intent.Next, intent.PageDown), do(at(w, h), intent.Previous, intent.Bottom)} {
				rows := strings.Split(m.screen("Esc back"), "\n")
				assert.Len(t, rows, h)
				for _, r := range rows {
					assert.LessOrEqual(t, ansi.StringWidth(r), w, "%dx%d", w, h)
				}
			}
		}
	}
}

// Every chapter is named at every width, whichever is open.
func TestAllChaptersAreNamed(t *testing.T) {
	for w := 40; w <= 130; w++ {
		m := at(w, 24)
		for range m.chapters {
			m = do(m, intent.Next)
			named := ansi.Strip(strings.Join(m.names(), " "))
			for _, c := range m.chapters {
				assert.Contains(t, strings.Fields(named), c.Name, "%d columns", w)
			}
		}
	}
}

func TestChaptersWrapAround(t *testing.T) {
	m := at(80, 24)
	for range m.chapters {
		m = do(m, intent.Next)
	}
	assert.Equal(t, at(80, 24).screen(""), m.screen(""))
	assert.Equal(t, do(m, intent.Previous).chapter, len(m.chapters)-1)
}

// The text may be in another chapter.
func TestSeekGoesThroughAllChapters(t *testing.T) {
	m := at(80, 24)
	for _, word := range []string{"infants", "wedmore", "towel", "type a reading"} {
		next, found := m.Seek(m.Frame, word, false)
		require.True(t, found, word)
		m.Model = next.(Model)
		assert.Contains(t, strings.ToLower(m.screen("")), word)
	}
	_, found := m.Seek(m.Frame, "a word that stands nowhere", false)
	assert.False(t, found)
}

func TestEndKeyGoesToTheEnd(t *testing.T) {
	m := do(at(80, 24), intent.Next, intent.Next, intent.Bottom)
	assert.Equal(t, m.screen(""), do(m, intent.Down, intent.PageDown).screen(""))
	assert.NotContains(t, m.screen(""), "more")
}
