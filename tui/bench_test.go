package tui

import (
	"fmt"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// From a key to a drawn frame, at 140×45 with 40 ferments, should take under 4 ms.
func BenchmarkKeyToFrame(b *testing.B) {
	s := newShelf()
	first := s.cellar.Ferments
	for i := range 37 {
		f := first[i%3]
		f.ID, f.Tag = fmt.Sprintf("more-%d", i), fmt.Sprintf("M%d", i)
		s.cellar.Ferments = append(s.cellar.Ferments, f)
	}
	d := drive(&testing.T{}, s, 140, 45)
	for _, c := range []struct{ name, key string }{{"move", "j"}, {"type", "1"}} {
		b.Run(c.name, func(b *testing.B) {
			if c.name == "type" {
				d.keys("g", "text:1055@2")
			}
			for range b.N {
				m, _ := d.model.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(c.key)})
				_ = m.View()
			}
		})
	}
}
