package tui

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/schedule/app"
)

// TestNothingIsSaidWhileTheCellarIsRead: until the files are read the board says so, not that there are no vessels.
func TestNothingIsSaidWhileTheCellarIsRead(t *testing.T) {
	m := New(Options{App: app.New(newShelf()), Cellar: "/cellar", Clock: func() time.Time { return morning }})
	next, _ := m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	view := next.(Model).View()
	assert.Contains(t, view, "Reading the cellar")
	assert.NotContains(t, view, "No vessels")
}
