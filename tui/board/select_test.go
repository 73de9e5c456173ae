package board_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
	"cellar/jugkeeper/tui/theme"
)

func on(s words.Sheet) model { return drawn(theme.Theme{}, s, 80, 24) }

// selected returns the selection in short: "lime-a nutrient 2".
func selected(m model) string {
	l, ok := m.Task()
	if !ok {
		return m.Vessel()
	}
	return m.Vessel() + " " + l.Act
}

func TestSelection(t *testing.T) {
	for _, c := range []struct {
		name string
		keys func(model) model
		want string
		side board.Side
	}{
		{"at first what comes first", func(m model) model { return m }, "lime-a nutrient 2", board.Tasks},
		{"down", func(m model) model { return m.Move(1) }, "lime-b nutrient 2", board.Tasks},
		{"up from the first", func(m model) model { return m.Move(-1) }, "lime-a nutrient 2", board.Tasks},
		{"end", model.End, "heath nutrient 4", board.Tasks},
		{"end and home", func(m model) model { return m.End().Home() }, "lime-a nutrient 2", board.Tasks},
		{"a page is several", func(m model) model { return m.Page(1) }, "heath nutrient 4", board.Tasks},
		{"the other side has the same vessel", func(m model) model { return m.Move(5).SwitchSide() }, "heath degas", board.Vessels},
		{"down among vessels", func(m model) model { return m.SwitchSide().Move(3) }, "bram bottle", board.Vessels},
		{"back to its first task", func(m model) model { return m.SwitchSide().Move(2).SwitchSide() }, "heath degas", board.Tasks},
		{"a vessel with nothing to do", func(m model) model { return m.SwitchSide().End() }, "ivy", board.Vessels},
		{"from there to the first task", func(m model) model { return m.SwitchSide().End().SwitchSide() }, "lime-a nutrient 2", board.Tasks},
		{"by name", func(m model) model { return m.Select("bram") }, "bram bottle", board.Tasks},
		{"by name, without a task", func(m model) model { return m.Select("ivy") }, "ivy", board.Vessels},
		{"a task by name", func(m model) model { return m.SelectTask("heath", "nutrient-4", 1) }, "heath nutrient 4", board.Tasks},
		{"an unknown name", func(m model) model { return m.Select("thyme") }, "lime-a nutrient 2", board.Tasks},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := c.keys(on(morning()))
			assert.Equal(t, c.want, selected(m))
			assert.Equal(t, c.side, m.Side())
		})
	}
}

func TestSelectionStaysWithItsTask(t *testing.T) {
	m := on(morning()).Move(2)
	require.Equal(t, "heath degas", selected(m))
	other := morning()
	slices.Reverse(other.Tasks)
	slices.Reverse(other.Vessels)
	assert.Equal(t, "heath degas", selected(m.SetSheet(other)))
	assert.Equal(t, "heath degas", selected(m.SetSize(60, 15).SetSize(140, 45)))
}

func TestDoneTaskGivesWayToTheNext(t *testing.T) {
	m := on(morning()).SetSheet(kept())
	assert.Equal(t, "lime-b nutrient 2", selected(m))
}

func TestSelectionOfAVesselThatIsGone(t *testing.T) {
	m := on(morning()).SwitchSide().Move(2)
	less := morning()
	less.Vessels = slices.Delete(less.Vessels, 2, 3)
	assert.Equal(t, "bram bottle", selected(m.SetSheet(less)))
}

func TestCalmBoardSelectsAVessel(t *testing.T) {
	m := on(calm())
	assert.Equal(t, board.Vessels, m.Side())
	assert.Equal(t, "LIME-A", m.Vessel())
}

func TestNothingToSelect(t *testing.T) {
	m := on(words.Sheet{}).Move(1).SwitchSide().End().Page(-1)
	assert.Empty(t, m.Vessel())
	_, ok := m.Task()
	assert.False(t, ok)
}

// The line being typed replaces the vessels, and the tasks stay in place.
func TestBelowTheVessels(t *testing.T) {
	m := on(morning())
	before := strings.Split(ansi.Strip(m.View()), "\n")
	after := strings.Split(ansi.Strip(m.Below([]string{"   LIME-A   1046@23", "", "            1.0467  corrected"}).View()), "\n")
	assert.Equal(t, before[:15], after[:15])
	assert.Equal(t, "   LIME-A   1046@23", after[15])
	assert.Equal(t, "            1.0467  corrected", after[17])
	assert.Equal(t, before[23], after[23])
	assert.NotContains(t, strings.Join(after, "\n"), "stage")
	assert.NotContains(t, strings.Join(after, "\n"), "sloe.yaml")
	assert.Equal(t, before, strings.Split(ansi.Strip(m.Above().View()), "\n"))
}

func TestBelowTakesTheRoomItNeeds(t *testing.T) {
	lines := make([]string, 12)
	lines[0], lines[11] = "first", "last"
	view := ansi.Strip(on(morning()).End().Below(lines).View())
	rows := strings.Split(view, "\n")
	assert.Equal(t, "first", rows[11])
	assert.Equal(t, "last", rows[22])
	assert.Contains(t, view, "▌  HEATH    × missed", "the selected task stays in sight")
}

// However tall Below is, one task stays visible above it.
func TestBelowLeavesATask(t *testing.T) {
	lines := slices.Repeat([]string{"below"}, 40)
	rows := strings.Split(ansi.Strip(on(morning()).Below(lines).View()), "\n")
	assert.Contains(t, rows[2], "LIME-A")
	assert.Equal(t, "below", rows[4])
	assert.Equal(t, "below", rows[22])
	assert.Contains(t, rows[23], "reading")
}

// The selection is always in sight, however small the screen.
func TestSelectionStaysInSight(t *testing.T) {
	for _, size := range sizes {
		m := drawn(theme.Theme{}, many(), size[0], size[1])
		for range 30 {
			l, _ := m.Task()
			require.Regexp(t, `(?m)^▌.*`+l.Act+`|^▌.*`+l.Amount.Number, m.View(), "%v %s", size, selected(m))
			m = m.Move(1)
		}
		m = m.SwitchSide().Home()
		for range many().Vessels {
			require.Regexp(t, `(?m)^▌.*(`+strings.ToUpper(m.Vessel())+`)`, m.View(), "%v %s", size, m.Vessel())
			m = m.Move(1)
		}
	}
}
